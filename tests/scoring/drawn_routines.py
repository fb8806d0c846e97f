"""Whole routines drawn at random: elements with roles and conditions, casts near their edges, faults of
several judges, facts. They need make no sense as gymnastics; the rules must hold all the same.
"""

from dataclasses import dataclass
from typing import TypeVar

from hypothesis import strategies as st

from reviewer.terms.exact import Degrees
from reviewer.terms.marks import EYE_VERDICTS, CastAngle, Mark
from reviewer.terms.provisions import Element, Fault
from reviewer.terms.rulebook import RuleBook

JUDGES = "ABCDE"
SEEN = st.sampled_from([None, None, "full-speed", "slowed"])
Drawn = TypeVar("Drawn")


@dataclass(frozen=True, slots=True)
class Size:
    """How many elements, faults and facts are drawn: at least, and at most."""

    elements: tuple[int, int] = (1, 9)
    faults: tuple[int, int] = (0, 12)
    facts: tuple[int, int] = (0, 3)


@st.composite
def routines(draw: st.DrawFn, book: RuleBook, size: Size = Size()) -> tuple[Mark, ...]:
    """A sound routine of this book."""
    codes = draw(_several(_elements(book), size.elements))
    elements = [draw(_element(book, one, place)) for place, one in enumerate(codes, start=1)]
    judges = JUDGES[: draw(st.integers(1, len(JUDGES)))]
    faults = draw(_several(_faults(book), size.faults))
    marked = [draw(_fault(one, f"f{n}", elements, judges)) for n, one in enumerate(faults)]
    facts = draw(_several(st.sampled_from(book.facts), size.facts))
    said = [Mark(f"a{n}", "fact", one.code, seen=draw(SEEN)) for n, one in enumerate(facts)]
    return (*elements, *marked, *said)


def _several(one: st.SearchStrategy[Drawn], number: tuple[int, int]) -> st.SearchStrategy[list[Drawn]]:
    return st.lists(one, min_size=number[0], max_size=number[1])


def _elements(book: RuleBook) -> st.SearchStrategy[Element]:
    """Casts whose angle decides as often as all other elements together."""
    deciding = [one for one in book.elements if one.decides]
    return st.one_of(st.sampled_from(deciding), st.sampled_from(book.elements))


def _faults(book: RuleBook) -> st.SearchStrategy[Fault]:
    """Faults of several amounts as often as all faults together."""
    several = [one for one in book.faults if not one.flat]
    return st.one_of(st.sampled_from(several), st.sampled_from(book.faults))


@st.composite
def _element(draw: st.DrawFn, book: RuleBook, element: Element, place: int) -> Mark:
    conditions = draw(st.lists(st.sampled_from(book.conditions), max_size=2, unique=True))
    roles = draw(st.lists(st.sampled_from(book.roles), max_size=1))
    return Mark(
        f"e{place}",
        "element",
        element.code,
        order=place,
        roles=tuple(one.code for one in roles),
        conditions=tuple(one.code for one in conditions),
        angle=None if element.angle == "none" else draw(angles(book)),
        called=draw(st.sampled_from([None, f"{element.code} 1", f"{element.code} 2"])),
        credit=draw(st.sampled_from([None, None, None, None, "given", "withheld"])),
    )


@st.composite
def angles(draw: st.DrawFn, book: RuleBook) -> CastAngle:
    """A verdict, or an angle near one of the edges, exact or uncertain."""
    if draw(st.integers(0, 4)) == 4:
        return CastAngle("eye", verdict=draw(st.sampled_from(EYE_VERDICTS)))
    limit = book.cast.at_least
    edge = draw(st.sampled_from([limit, limit - book.cast.tolerance.below]))
    off = draw(st.sampled_from([-4_000, -1_000, -1, 0, 1, 1_000, 4_000]))
    uncertainty = draw(st.sampled_from([Degrees(2_500), Degrees(600), Degrees(0), None]))
    return CastAngle("protractor", edge + Degrees(off), uncertainty)


def bends(fault: Fault) -> list[Degrees | None]:
    """Bends that may be said of a fault: on the limit from which it costs its most, and just short of it."""
    limit = fault.full_from
    return [None] if limit is None else [None, None, limit, limit - Degrees(1)]


@st.composite
def _fault(draw: st.DrawFn, fault: Fault, name: str, elements: list[Mark], judges: str) -> Mark:
    bend = draw(st.sampled_from(bends(fault)))
    most = bend is not None and bend == fault.full_from
    return Mark(
        name,
        "fault",
        fault.code,
        element=draw(st.sampled_from([None, *(one.id for one in elements)])),
        angle=None if bend is None else CastAngle("eye", bend),
        amount=fault.amounts[-1] if most else draw(st.sampled_from(fault.amounts)),
        arguable=draw(st.integers(0, 3)) < 3,
        seen=draw(SEEN),
        judge=draw(st.sampled_from(judges)),
    )
