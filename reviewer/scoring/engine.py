"""Marks and one edition in, the score sheet out. Pure: nothing else is looked at."""

from collections.abc import Mapping, Sequence

from reviewer.scoring.casts import cast_states
from reviewer.scoring.execution import execution_lines, judges_of
from reviewer.scoring.panel import average, courtesy_line, neutral_lines
from reviewer.scoring.reaching import Case, reach
from reviewer.scoring.routine import credit, decides, place
from reviewer.scoring.soundness import unsound
from reviewer.scoring.starting import start_lines
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark, in_routine_order
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import JudgeScore, Line, ScoreSheet


def score(marks: Sequence[Mark], book: RuleBook) -> ScoreSheet:
    """The score of these marks, in any order, by this edition; unsound marks are named and left out."""
    problems = unsound(in_routine_order(tuple(marks)), book)
    left_out = {problem.where for problem in problems}
    sound = in_routine_order(tuple(mark for mark in marks if mark.id not in left_out))
    open_casts = _open_casts(sound, book)
    earned = credit(place(sound, book, {name: states[0] for name, states in open_casts.items()}), book)
    faults = _by_judge(sound)
    starting = start_lines(earned, book)
    start = book.start.points + _sum(starting)
    executed = {judge: execution_lines(judge, own, earned, book) for judge, own in faults.items()}
    judges = tuple(JudgeScore(judge, start + _sum(lines)) for judge, lines in executed.items())
    mean = average([one.score for one in judges], book.panel)
    neutral = neutral_lines(_facts(sound), len(earned.value_parts), book)
    courtesy = courtesy_line(mean + _sum(neutral), book)
    return ScoreSheet(
        rule_book=(book.id, book.sha256),
        start_value=start,
        value_parts=len(earned.value_parts),
        judges=judges,
        panel_average=mean,
        final_score=mean + _sum(neutral) + _sum(courtesy),
        reachable=reach(open_casts, faults, book, lambda states: _case(sound, book, states)),
        lines=(*starting, *(line for lines in executed.values() for line in lines), *neutral, *courtesy),
        not_earned=earned.not_earned,
        problems=problems,
    )


def _case(marks: Sequence[Mark], book: RuleBook, states: Mapping[str, str]) -> Case:
    """What one choice of cast states comes to, before the judges' discretion."""
    earned = credit(place(marks, book, states), book)
    start = book.start.points + _sum(start_lines(earned, book))
    taken = _sum(neutral_lines(_facts(marks), len(earned.value_parts), book))

    def final(mean: Points) -> Points:
        return mean + taken + _sum(courtesy_line(mean + taken, book))

    return earned, start, final


def _open_casts(marks: Sequence[Mark], book: RuleBook) -> dict[str, tuple[str, ...]]:
    return {
        mark.id: cast_states(mark, book.cast)
        for mark in marks
        if mark.kind == "element" and decides(book.element(mark.code))
    }


def _by_judge(marks: Sequence[Mark]) -> dict[str, tuple[Mark, ...]]:
    faults = [mark for mark in marks if mark.kind == "fault"]
    letters = judges_of(faults)
    return {
        letter: tuple(mark for mark in faults if (mark.judge or letters[0]) == letter) for letter in letters
    }


def _facts(marks: Sequence[Mark]) -> tuple[Mark, ...]:
    return tuple(mark for mark in marks if mark.kind == "fact")


def _sum(lines: Sequence[Line]) -> Points:
    return Points(sum(line.points.thousandths for line in lines))
