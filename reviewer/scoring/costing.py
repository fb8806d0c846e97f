"""What a routine cost, kind by kind, from its sheet; and what of its start value rests on one element."""

from collections.abc import Iterable, Iterator, Sequence

from reviewer.scoring.starting import STAGE
from reviewer.scoring.trying import Trial
from reviewer.terms.costs import Cost, Costs, Holding
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message
from reviewer.terms.provisions import Required, ValueParts
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import Line, ScoreSheet


def costs(marks: Sequence[Mark], sheet: ScoreSheet, book: RuleBook) -> Costs:
    """What the routine of these marks cost; ``sheet`` is their score by the book."""
    needed = book.one(ValueParts)
    return Costs(
        certain=_largest_first((*_lost(sheet, STAGE), *_not_given(sheet, book))),
        possible=_largest_first(_taken(sheet, marks)),
        neutral=_largest_first(_lost(sheet, "neutral")),
        judges=len(sheet.judges),
        needed=needed.number if needed is not None else None,
        earned=sheet.value_parts,
        holding=tuple(_holding(marks, sheet, book)),
    )


def value_part_cost(book: RuleBook) -> Points | None:
    """What each missing value part costs; None where the division does not count them."""
    needed = book.one(ValueParts)
    return needed.points if needed is not None else None


def _largest_first(found: Iterable[Cost]) -> tuple[Cost, ...]:
    return tuple(sorted(found, key=lambda one: -one.total.thousandths))


def _lost(sheet: ScoreSheet, stage: str) -> Iterator[Cost]:
    for line in sheet.lines:
        if line.stage == stage and line.points < Points(0):
            lost = -line.points
            yield Cost(line.clause, lost, lost, lost, 0, line.marks, line.why)


def _not_given(sheet: ScoreSheet, book: RuleBook) -> Iterator[Cost]:
    """Requirements that give points where they are met, and were not."""
    given = {line.clause for line in sheet.lines}
    for one in book.all(Required):
        if one.gives and one.clause not in given:
            why = message("{name} is missing.", name=one.name)
            yield Cost(one.clause, one.points, one.points, one.points, 0, (), why)


def _taken(sheet: ScoreSheet, marks: Sequence[Mark]) -> Iterator[Cost]:
    """Deductions for execution: what several judges took for the same on the same element is one."""
    element_of = {mark.id: mark.element or mark.id for mark in marks}
    alike: dict[tuple[str, str], list[Line]] = {}
    for line in sheet.lines:
        if line.stage == "execution" and line.points < Points(0):
            place = element_of.get(line.marks[0], "") if line.marks else ""
            alike.setdefault((line.clause, place), []).append(line)
    for (clause, _), lines in alike.items():
        yield _cost_of(clause, lines)


def _cost_of(clause: str, lines: Sequence[Line]) -> Cost:
    by_judge: dict[str | None, int] = {}
    for line in lines:
        by_judge[line.judge] = by_judge.get(line.judge, 0) - line.points.thousandths
    caused = tuple(dict.fromkeys(mark for line in lines for mark in line.marks))
    least, most, total = min(by_judge.values()), max(by_judge.values()), sum(by_judge.values())
    return Cost(clause, Points(least), Points(most), Points(total), len(by_judge), caused, lines[0].why)


def _holding(marks: Sequence[Mark], sheet: ScoreSheet, book: RuleBook) -> Iterator[Holding]:
    trial = Trial(marks, book, [one.judge for one in sheet.judges])
    elements = [mark for mark in marks if mark.kind == "element"]
    for one in elements:
        own = {mark.id: None for mark in marks if mark.element == one.id}
        rest = [mark for mark in elements if mark.id != one.id]
        without = trial.totals({one.id: None, **own}, rest)
        if without is not None and without.start_value < sheet.start_value:
            yield Holding(one.id, sheet.start_value - without.start_value)
