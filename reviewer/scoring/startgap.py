"""Which clauses would explain that a start value was posted otherwise than the marks have it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, product

from reviewer.scoring.starting import STAGE
from reviewer.terms.exact import Points
from reviewer.terms.messages import Message, message, noted
from reviewer.terms.provisions import NoRole, Required, RestrictedCost, ValueParts
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import Line, ScoreSheet

_MOST_CLAUSES = 3
_MOST_WAYS = 6


@dataclass(frozen=True, slots=True)
class Step:
    """One clause that the panel may have decided otherwise.

    Attributes:
        clause: its id.
        points: what it would move the start value by, each time.
        times: how often.
        why: what would have to be otherwise.
    """

    clause: str
    points: Points
    times: int
    why: Message


def explanations(sheet: ScoreSheet, posted: Points, book: RuleBook) -> tuple[tuple[Step, ...], ...]:
    """The ways of the fewest clauses that lead from the start value of the marks to the one posted.

    Empty where both are equal, and where no way of up to three clauses does. Several ways are several
    possibilities: nobody who only knows a posted number can tell which it was.
    """
    gap = (posted - sheet.start_value).thousandths
    lines = [line for line in sheet.lines if line.stage == STAGE]
    steps = (*_other_lines(lines, book), *_other_clauses(lines, sheet, book))
    towards = [one for one in steps if one.points.thousandths * gap > 0]
    for size in range(1, _MOST_CLAUSES + 1):
        found = [way for some in combinations(towards, size) for way in _reaching(some, gap)]
        if found:
            return tuple(found[:_MOST_WAYS])
    return ()


def _reaching(steps: Sequence[Step], gap: int) -> Iterator[tuple[Step, ...]]:
    """The ways of taking each of some steps at least once that come to the gap."""
    for counts in product(*(range(1, one.times + 1) for one in steps)):
        if sum(one.points.thousandths * times for one, times in zip(steps, counts, strict=True)) == gap:
            yield tuple(
                Step(one.clause, one.points, times, one.why) for one, times in zip(steps, counts, strict=True)
            )


def _other_lines(lines: Sequence[Line], book: RuleBook) -> Iterator[Step]:
    """A line of the sheet that the panel did not take, or did not give."""
    needed = book.one(ValueParts)
    for line in lines:
        if needed is not None and needed.points and line.clause == needed.clause:
            missing = -line.points.thousandths // needed.points.thousandths
            why = message("The panel credited value parts that the marks do not earn.")
            yield Step(line.clause, needed.points, missing, why)
        else:
            taken = line.points < Points(0)
            said = noted("Not taken by the panel: {why}") if taken else noted("Not given by the panel: {why}")
            yield Step(line.clause, -line.points, 1, message(said, why=line.why.words()))


def _other_clauses(lines: Sequence[Line], sheet: ScoreSheet, book: RuleBook) -> Iterator[Step]:
    """A clause that moved nothing on the sheet and that the panel applied."""
    moved = {line.clause for line in lines}
    for one in book.all(Required):
        if one.clause not in moved:
            points = one.points if one.gives else -one.points
            said = noted("The panel gave: {name}.") if one.gives else noted("The panel missed: {name}.")
            yield Step(one.clause, points, 1, message(said, name=one.name))
    needed, restricted = book.one(ValueParts), book.one(RestrictedCost)
    if needed is not None and sheet.value_parts:
        why = message("The panel credited fewer value parts.")
        yield Step(needed.clause, -needed.points, min(needed.number, sheet.value_parts), why)
    if restricted is not None:
        why = message("The panel took an element for a restricted one.")
        yield Step(restricted.clause, -restricted.points, 2, why)
    for rule in book.all(NoRole):
        if rule.clause not in moved:
            why = message("The panel saw no {role} that the division allows.", role=rule.role)
            yield Step(rule.clause, -rule.points, 1, why)
