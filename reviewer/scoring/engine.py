"""Marks and one edition in, the score sheet out. Pure: nothing else is looked at."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from reviewer.scoring.execution import Execution, execution
from reviewer.scoring.notes import notes
from reviewer.scoring.outcomes import Outcomes, outcomes
from reviewer.scoring.panel import average, courtesy_line, neutral_lines, spreading, with_start
from reviewer.scoring.reaching import favoured, reach, span
from reviewer.scoring.routine import Credit, refusals
from reviewer.scoring.sorting import Sorted, sort_marks
from reviewer.scoring.soundness import unsound
from reviewer.scoring.starting import start_lines
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark, in_routine_order
from reviewer.terms.problems import Problem
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import CastDecided, FullSpeed, JudgeScore, Line, ScoreSheet, Spreading

_NOUGHT = Points(0)
_NO_CREDIT = Credit((), {}, (), (), (), 0)
_NO_OUTCOMES = Outcomes({}, exact=True, moving={})


@dataclass(slots=True)
class Derived:
    """What the stages have derived so far; each fills in its own part."""

    found: Outcomes = _NO_OUTCOMES
    credit: Credit = _NO_CREDIT
    lines: tuple[Line, ...] = ()
    start: Points = _NOUGHT
    executed: tuple[Execution, ...] = ()
    judges: tuple[JudgeScore, ...] = ()
    average: Points = _NOUGHT
    spread: Spreading | None = None
    neutral: Points = _NOUGHT
    final: Points = _NOUGHT


Stage = Callable[[Sorted, Derived, RuleBook], None]


def _recognise(marks: Sorted, derived: Derived, book: RuleBook) -> None:
    derived.found = outcomes(marks, book)


def _credit(marks: Sorted, derived: Derived, book: RuleBook) -> None:
    derived.credit = favoured(marks, derived.found, book)


def _requirements(_: Sorted, derived: Derived, book: RuleBook) -> None:
    derived.lines = start_lines(derived.credit, book)


def _start_value(_: Sorted, derived: Derived, book: RuleBook) -> None:
    derived.start = book.start.points + _sum(derived.lines)


def _execution(marks: Sorted, derived: Derived, book: RuleBook) -> None:
    derived.executed = tuple(
        execution(judge, own, derived.credit, book) for judge, own in marks.faults.items()
    )
    for one in derived.executed:
        derived.lines += one.lines


def _judges_scores(_: Sorted, derived: Derived, book: RuleBook) -> None:
    begin = book.execution_from.points if book.execution_from else derived.start
    derived.judges = tuple(JudgeScore(one.judge, begin + _sum(one.lines)) for one in derived.executed)


def _panel(_: Sorted, derived: Derived, book: RuleBook) -> None:
    scores = [one.score for one in derived.judges]
    derived.average, derived.spread = average(scores, book), spreading(scores, book)


def _neutral(marks: Sorted, derived: Derived, book: RuleBook) -> None:
    lines = neutral_lines(marks.facts, derived.credit, book)
    derived.neutral = _sum(lines)
    derived.lines += lines


def _final(_: Sorted, derived: Derived, book: RuleBook) -> None:
    derived.final = with_start(derived.average, derived.start, book) + derived.neutral


def _courtesy(_: Sorted, derived: Derived, book: RuleBook) -> None:
    lift = courtesy_line(with_start(derived.average, derived.start, book), derived.neutral, book)
    derived.final += _sum(lift)
    derived.lines += lift


STAGES: tuple[tuple[str, Stage], ...] = (
    ("recognise", _recognise),
    ("credit value parts", _credit),
    ("requirements", _requirements),
    ("start value", _start_value),
    ("execution", _execution),
    ("judge's score", _judges_scores),
    ("panel", _panel),
    ("neutral deductions", _neutral),
    ("final", _final),
    ("courtesy floor", _courtesy),
)
"""The stages of a score, in the order they are taken."""


def score(marks: Sequence[Mark], book: RuleBook, judges: Sequence[str] = ()) -> ScoreSheet:
    """The score of these marks, in any order, by this edition; unsound marks are named and left out.

    ``judges``: letters of judges who score also where they deduct nothing.
    """
    ordered = in_routine_order(tuple(marks))
    problems = unsound(ordered, book, judges)
    sound = _sound(ordered, problems, book, judges)
    derived = _derive(sound, book)
    return ScoreSheet(
        rule_book=(book.id, book.sha256),
        chosen=tuple(sorted(book.chosen)),
        start_value=derived.start,
        value_parts=len(derived.credit.earning),
        judges=derived.judges,
        panel_average=derived.average,
        spread=derived.spread,
        final_score=derived.final,
        reachable=reach(sound, derived.found, derived.executed, book),
        lines=derived.lines,
        not_earned=refusals(derived.credit),
        not_taken=tuple(one for executed in derived.executed for one in executed.not_taken),
        notes=notes(sound, derived.credit, derived.spread, book),
        casts=_casts(sound, derived.credit),
        full_speed=_full_speed(sound, book),
        problems=problems,
    )


def sorted_sound(marks: Sequence[Mark], book: RuleBook, judges: Sequence[str] = ()) -> Sorted:
    """The marks that can be scored, in routine order and sorted by what they are."""
    ordered = in_routine_order(tuple(marks))
    return _sound(ordered, unsound(ordered, book, judges), book, judges)


def _sound(
    ordered: Sequence[Mark], problems: Sequence[Problem], book: RuleBook, judges: Sequence[str]
) -> Sorted:
    left_out = {one.where for one in problems}
    return sort_marks([mark for mark in ordered if mark.id not in left_out], book, judges)


def _derive(marks: Sorted, book: RuleBook) -> Derived:
    derived = Derived()
    for _, stage in STAGES:
        stage(marks, derived, book)
    return derived


def _casts(marks: Sorted, earned: Credit) -> tuple[CastDecided, ...]:
    deciding = (mark for mark in marks.elements if mark.id in marks.casts)
    return tuple(
        CastDecided(mark.id, earned.states[mark.id], marks.casts[mark.id], mark.angle) for mark in deciding
    )


def _full_speed(marks: Sorted, book: RuleBook) -> FullSpeed | None:
    """The score without the faults and facts that only slow motion shows; every judge keeps a score."""
    left_out = marks.slowed
    if not left_out:
        return None
    seen = marks.at_full_speed(book)
    derived = _derive(seen, book)
    reachable = span(seen, derived.found, book)
    return FullSpeed(derived.judges, derived.final, tuple(mark.id for mark in left_out), reachable)


def _sum(lines: Sequence[Line]) -> Points:
    return Points(sum(line.points.thousandths for line in lines))
