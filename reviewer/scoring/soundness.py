"""Marks that cannot be scored as they stand: all named at once, and left out of the score."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from operator import attrgetter

from reviewer.terms.exact import Degrees
from reviewer.terms.marks import CastAngle, Mark
from reviewer.terms.messages import message, noted, spoken
from reviewer.terms.problems import Problem
from reviewer.terms.provisions import Fault, JudgeDecides
from reviewer.terms.rulebook import RuleBook

_HALF_TURN = Degrees.parse("180")
_ELEMENTS_OWN = {
    "roles": noted("roles"),
    "conditions": noted("conditions"),
    "angle": noted("an angle"),
    "called": noted("a name in tables"),
    "credit": noted("credit"),
}
_FAULTS_OWN = {"amount": noted("an amount"), "clock": noted("a clock")}
_FACTS_OWN = {"length": noted("a length")}
_SENSELESS: Mapping[str, Mapping[str, str]] = {
    "element": _FAULTS_OWN | _FACTS_OWN,
    "fault": {field: words for field, words in _ELEMENTS_OWN.items() if field != "angle"} | _FACTS_OWN,
    "fact": _ELEMENTS_OWN | _FAULTS_OWN,
}
"""Kind of mark to what has no sense beside it: the field and its words."""
_SAID = {kind: attrgetter(*fields) for kind, fields in _SENSELESS.items()}
_UNSAID = {kind: _SAID[kind](Mark("", kind, "")) for kind in _SENSELESS}


def unsound(marks: Sequence[Mark], book: RuleBook, judges: Sequence[str] = ()) -> tuple[Problem, ...]:
    """Every problem of the marks; ``where`` is the mark's id.

    ``judges`` score too where they deduct nothing, so that a fault without a letter may be any one's.
    """
    around = surroundings(marks, book, judges)
    return tuple(problem for mark in marks for problem in problems_of(mark, around, book))


@dataclass(frozen=True, slots=True)
class Surroundings:
    """Looked up of all marks: how often each id stands, known codes, elements, whether judges are several."""

    times: Mapping[str, int]
    known: Mapping[str, Mapping[str, object]]
    elements: set[str]
    several: bool
    ambiguous: frozenset[str]


def surroundings(marks: Sequence[Mark], book: RuleBook, judges: Sequence[str] = ()) -> Surroundings:
    """What each of these marks is checked against."""
    named = {mark.judge for mark in marks if mark.kind == "fault" and mark.judge} | set(judges)
    return Surroundings(
        times=Counter(mark.id for mark in marks),
        known={"element": book.element_of, "fault": book.fault_of, "fact": book.fact_of},
        elements={mark.id for mark in marks if mark.kind == "element"},
        several=len(named) > 1,
        ambiguous=_ambiguous(marks),
    )


def _ambiguous(marks: Sequence[Mark]) -> frozenset[str]:
    """What elements of different codes are called alike."""
    codes: dict[str, set[str]] = {}
    for mark in marks:
        if mark.called is not None:
            codes.setdefault(mark.called, set()).add(mark.code)
    return frozenset(called for called, own in codes.items() if len(own) > 1)


def problems_of(mark: Mark, around: Surroundings, book: RuleBook) -> Iterator[Problem]:
    """Every problem of one mark among others."""
    if around.times[mark.id] > 1:
        yield Problem(
            "twice", mark.id, message("More than one mark has this id."), message("Give each mark its own.")
        )
    if mark.kind not in around.known:
        use = message("Use: {known}.", known=", ".join(around.known))
        yield Problem(
            "unknown-kind", mark.id, message("There is no kind of mark {kind}.", kind=repr(mark.kind)), use
        )
        return
    if _SAID[mark.kind](mark) != _UNSAID[mark.kind]:
        yield from _senseless(mark)
    if mark.code not in around.known[mark.kind]:
        what = message(
            "The edition {edition} has no {kind} {code}.",
            edition=book.id,
            kind=spoken(mark.kind),
            code=repr(mark.code),
        )
        yield Problem(f"unknown-{mark.kind}", mark.id, what, message("See `reviewer rules show`."))
    elif mark.kind == "element":
        if mark.called in around.ambiguous:
            what = message("{called} is said of elements of different codes.", called=repr(mark.called))
            yield Problem(
                "called-alike", mark.id, what, message("Call each element what its table calls it.")
            )
        yield from _of_element(mark, book)
    elif mark.kind == "fault":
        yield from _of_fault(mark, around, book)


def _senseless(mark: Mark) -> Iterator[Problem]:
    said = zip(_SENSELESS[mark.kind].values(), _SAID[mark.kind](mark), _UNSAID[mark.kind], strict=True)
    for words, value, unsaid in said:
        if value != unsaid:
            yield Problem(
                "no-sense",
                mark.id,
                message("No {kind} has {words}.", kind=spoken(mark.kind), words=spoken(words)),
                message("Take it away."),
            )


def _of_element(mark: Mark, book: RuleBook) -> Iterator[Problem]:
    for said, known in ((mark.roles, book.roles), (mark.conditions, book.conditions)):
        for code in said:
            if all(code != one.code for one in known):
                use = message("Use: {known}.", known=", ".join(one.code for one in known))
                yield Problem(
                    "unknown-word", mark.id, message("{code} says nothing here.", code=repr(code)), use
                )
    if mark.credit is not None and book.one(JudgeDecides) is None:
        what = message("This edition does not leave credit to the judge.")
        yield Problem("no-credit-by-judge", mark.id, what, message("Take the decision on its credit away."))
    if mark.angle is None:
        return
    if book.element(mark.code).angle == "none":
        yield Problem(
            "no-cast",
            mark.id,
            message("{code} is no cast and has no angle.", code=mark.code),
            message("Take the angle away."),
        )
    yield from _of_angle(mark, mark.angle)
    if mark.angle.at_full_speed is not None:
        yield from _of_angle(mark, mark.angle.at_full_speed)


def _of_angle(mark: Mark, angle: CastAngle) -> Iterator[Problem]:
    value, spread = angle.value, angle.uncertainty
    if value is not None and not -_HALF_TURN <= value <= _HALF_TURN:
        yield Problem(
            "no-angle",
            mark.id,
            message("{value} degrees is no cast angle.", value=value),
            message("Give -180 to 180 degrees."),
        )
    if spread is not None and not Degrees(0) <= spread <= _HALF_TURN:
        yield Problem(
            "no-uncertainty",
            mark.id,
            message("{spread} degrees is no uncertainty.", spread=spread),
            message("Give 0 to 180 degrees."),
        )


def _of_fault(mark: Mark, around: Surroundings, book: RuleBook) -> Iterator[Problem]:
    permitted = book.fault_of[mark.code].amounts
    if mark.amount not in permitted:
        amounts = ", ".join(map(str, permitted))
        what = message("{amount} is not an amount that {code} may cost.", amount=mark.amount, code=mark.code)
        if mark.amount is None:
            what = message("It does not say what it costs.")
        yield Problem(
            "amount-not-permitted", mark.id, what, message("Use one of: {amounts}.", amounts=amounts)
        )
    yield from _bent(mark, book.fault_of[mark.code])
    if mark.element is not None and mark.element not in around.elements:
        what = message("It belongs to {element}, which is no element here.", element=mark.element)
        yield Problem("no-element", mark.id, what, message("Name an element of this routine, or none."))
    if around.several and mark.judge is None:
        what = message("Several judges are named, and this fault says none.")
        yield Problem("no-judge", mark.id, what, message("Give the letter of the judge whose it is."))


def _bent(mark: Mark, fault: Fault) -> Iterator[Problem]:
    """An angle of a fault: from the book's limit on the fault costs its most."""
    if mark.angle is None:
        return
    if fault.full_from is None or mark.angle.value is None:
        yield Problem(
            "no-sense",
            mark.id,
            message("{code} is not judged by an angle.", code=mark.code),
            message("Take it away."),
        )
    elif not Degrees(0) <= mark.angle.value <= _HALF_TURN:
        yield Problem(
            "no-angle",
            mark.id,
            message("{value} degrees is no bend.", value=mark.angle.value),
            message("Give 0 to 180 degrees."),
        )
    elif mark.angle.value >= fault.full_from and mark.amount != fault.amounts[-1]:
        what = message(
            "Bent by {value} degrees, {limit} or more: it costs {amount}.",
            value=mark.angle.value,
            limit=fault.full_from,
            amount=fault.amounts[-1],
        )
        yield Problem(
            "amount-not-permitted",
            mark.id,
            what,
            message("Use {amount}, or mend the angle.", amount=fault.amounts[-1]),
        )
