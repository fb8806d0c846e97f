"""One judge's deductions: scopes, what swallows what, caps, and the cast's tolerance."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from reviewer.scoring.casts import MET, WITHIN
from reviewer.scoring.routine import Credit, Placed, decides
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import Line

STAGE = "execution"


@dataclass(frozen=True, slots=True)
class Group:
    """Faults of which only the largest is taken: all in one scope, or a single one."""

    code: str
    faults: tuple[Mark, ...] = field(default_factory=tuple)


def judges_of(faults: Sequence[Mark]) -> tuple[str, ...]:
    """The judges' letters; one judge is A."""
    return tuple(sorted({mark.judge for mark in faults if mark.judge})) or ("A",)


def best_within(credit: Credit, book: RuleBook) -> Placed | None:
    """The cast that earns only by the tolerance, where none that counts reaches the limit."""
    barred = {role for one in book.requirements if one.role is None for role in one.not_in}
    counting = [
        one for one in credit.counting if decides(one.element) and not barred.intersection(one.mark.roles)
    ]
    if any(one.cast == MET for one in counting):
        return None
    return next((one for one in counting if one.cast == WITHIN), None)


def groups(faults: Sequence[Mark], credit: Credit, book: RuleBook) -> tuple[Group, ...]:
    """One judge's faults that are taken at all, grouped by scope, in the order of the marks."""
    roles = {one.mark.id: one.mark for one in credit.placed}
    within = best_within(credit, book)
    found: dict[tuple[str, ...], list[Mark]] = {}
    for mark in faults:
        spared = within is not None and mark.element == within.mark.id and mark.code in book.cast.spared
        if not spared and not _swallowed(mark, faults, roles, book):
            found.setdefault(_scope(mark, book), []).append(mark)
    return tuple(Group(together[0].code, tuple(together)) for together in found.values())


def execution_lines(judge: str, faults: Sequence[Mark], credit: Credit, book: RuleBook) -> tuple[Line, ...]:
    """The lines of one judge's score."""
    lines = list(_tolerance(judge, credit, book))
    room = {cap.clause: cap.at_most for cap in book.caps}
    for group in groups(faults, credit, book):
        mark = max(group.faults, key=_amount)
        points = _amount(mark)
        for cap in book.caps:
            if group.code in cap.faults:
                points = min(points, room[cap.clause])
                room[cap.clause] = room[cap.clause] - points
        if points:
            fault = book.fault(group.code)
            why = message("{name}.", name=fault.name)
            source = str(book.clause(fault.clause).source)
            lines.append(Line(fault.clause, STAGE, judge, -points, (mark.id,), why, source))
    return tuple(lines)


def _tolerance(judge: str, credit: Credit, book: RuleBook) -> tuple[Line, ...]:
    within = best_within(credit, book)
    if within is None or not book.cast.points:
        return ()
    why = message("The best cast lies within the tolerance below {limit} degrees.", limit=book.cast.at_least)
    clause = book.cast.clause
    source = str(book.clause(clause).source)
    return (Line(clause, STAGE, judge, -book.cast.points, (within.mark.id,), why, source),)


def _swallowed(mark: Mark, faults: Sequence[Mark], placed: Mapping[str, Mark], book: RuleBook) -> bool:
    element = placed.get(mark.element or "")
    if element is None:
        return False
    beside = {other.code for other in faults if other.element == mark.element}
    return any(
        mark.code in rule.faults
        and rule.by in beside
        and (not rule.role or rule.role in element.roles)
        and not set(rule.unless).intersection(element.conditions)
        for rule in book.swallows
    )


def _scope(mark: Mark, book: RuleBook) -> tuple[str, ...]:
    scope = book.fault(mark.code).scope
    if scope == "exercise":
        return (mark.code,)
    if scope == "element" and mark.element is not None:
        return (mark.code, mark.element)
    return (mark.code, mark.element or "", mark.id)


def _amount(mark: Mark) -> Points:
    return mark.amount or Points(0)
