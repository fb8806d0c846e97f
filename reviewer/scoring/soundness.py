"""Marks that cannot be scored as they stand: all named at once, and left out of the score."""

from collections import Counter
from collections.abc import Iterator, Sequence

from reviewer.terms.exact import Degrees
from reviewer.terms.marks import Mark
from reviewer.terms.problems import Problem
from reviewer.terms.rulebook import RuleBook

_HALF_TURN = Degrees.parse("180")


def unsound(marks: Sequence[Mark], book: RuleBook) -> tuple[Problem, ...]:
    """Every problem of the marks; ``where`` is the mark's id."""
    return tuple(problem for mark in marks for problem in _problems(mark, marks, book))


def _problems(mark: Mark, marks: Sequence[Mark], book: RuleBook) -> Iterator[Problem]:
    if Counter(one.id for one in marks)[mark.id] > 1:
        yield Problem("twice", mark.id, "More than one mark has this id.", "Give each mark its own.")
    if mark.code not in _codes(mark.kind, book):
        what = f"The edition {book.id} has no {mark.kind} {mark.code!r}."
        yield Problem(f"unknown-{mark.kind}", mark.id, what, "See `reviewer rules show`.")
    elif mark.kind == "element":
        yield from _of_element(mark, book)
    elif mark.kind == "fault":
        yield from _of_fault(mark, marks, book)


def _codes(kind: str, book: RuleBook) -> set[str]:
    if kind == "element":
        return {one.code for one in book.elements}
    return {one.code for one in book.faults} if kind == "fault" else {one.code for one in book.facts}


def _of_element(mark: Mark, book: RuleBook) -> Iterator[Problem]:
    for said, known in ((mark.roles, book.roles), (mark.conditions, book.conditions)):
        codes = [one.code for one in known]
        for code in said:
            if code not in codes:
                yield Problem(
                    "unknown-word", mark.id, f"{code!r} says nothing here.", f"Use: {', '.join(codes)}."
                )
    if mark.angle is None:
        return
    if book.element(mark.code).angle == "none":
        yield Problem("no-cast", mark.id, f"{mark.code} is no cast and has no angle.", "Take the angle away.")
    value, spread = mark.angle.value, mark.angle.uncertainty
    if value is not None and not -_HALF_TURN <= value <= _HALF_TURN:
        yield Problem("no-angle", mark.id, f"{value} degrees is no cast angle.", "Give -180 to 180 degrees.")
    if spread is not None and not Degrees(0) <= spread <= _HALF_TURN:
        yield Problem(
            "no-uncertainty", mark.id, f"{spread} degrees is no uncertainty.", "Give 0 to 180 degrees."
        )


def _of_fault(mark: Mark, marks: Sequence[Mark], book: RuleBook) -> Iterator[Problem]:
    permitted = book.fault(mark.code).amounts
    if mark.amount not in permitted:
        amounts = ", ".join(str(amount) for amount in permitted)
        what = f"{mark.amount} is not an amount that {mark.code} may cost."
        yield Problem("amount-not-permitted", mark.id, what, f"Use one of: {amounts}.")
    elements = {one.id for one in marks if one.kind == "element"}
    if mark.element is not None and mark.element not in elements:
        what = f"It belongs to {mark.element}, which is no element here."
        yield Problem("no-element", mark.id, what, "Name an element of this routine, or none.")
    several = {one.judge for one in marks if one.kind == "fault" and one.judge}
    if len(several) > 1 and mark.judge is None:
        what = "Several judges are named, and this fault says none."
        yield Problem("no-judge", mark.id, what, "Say whose it is.")
