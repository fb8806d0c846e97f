"""What holds of every score, whatever was marked, by each shipped edition that has cases of its own."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import ROUND_FLOOR, Decimal
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from reviewer import rules, scoring
from reviewer.scoring import outcomes
from reviewer.scoring.casts import cast_states
from reviewer.terms.marks import CastAngle, Mark
from reviewer.terms.provisions import Cap, CastTolerance, OneError, PanelSize, Swallow, TimeLimit
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import Line, ScoreSheet
from tests.scoring.drawn_routines import Size, routines

NAMES = ("demo-bars-2", "international-bars")
BOOKS = {name: rules.load(rules.find(name)) for name in NAMES}
READ_AGAIN = {name: rules.parse(book.text, name) for name, book in BOOKS.items()}
each_edition = pytest.mark.parametrize("book", BOOKS.values(), ids=BOOKS)
usual = settings(deadline=None, max_examples=50, suppress_health_check=list(HealthCheck))
VERDICTS = {"met": "met", "within": "within tolerance", "short": "not met", "not seen": "not seen"}
THOUSANDTH = Decimal("0.001")


@each_edition
@usual
@given(st.data(), st.randoms(use_true_random=False))
def test_the_order_of_marks_never_matters(book: RuleBook, data: st.DataObject, chance: Random) -> None:
    marks = list(data.draw(routines(book)))
    sheet = scoring.score(marks, book)
    chance.shuffle(marks)
    assert scoring.score(marks, book) == sheet


@each_edition
@usual
@given(st.data())
def test_scoring_again_gives_the_same_sheet(book: RuleBook, data: st.DataObject) -> None:
    """By the same book read again from its file: nothing that was kept in memory makes a difference."""
    marks = data.draw(routines(book))
    assert scoring.score(marks, READ_AGAIN[book.id]) == scoring.score(marks, book)


@each_edition
@usual
@given(st.data())
def test_one_more_fault_that_no_other_clause_cites_never_raises_the_score(
    book: RuleBook, data: st.DataObject
) -> None:
    marks = data.draw(routines(book))
    cited = _cited(book)
    fault = data.draw(st.sampled_from([one for one in book.faults if one.code not in cited]))
    judges = sorted({mark.judge for mark in marks if mark.judge}) or [None]
    ids = [mark.id for mark in marks if mark.kind == "element"]
    one_more = Mark(
        "one-more",
        "fault",
        fault.code,
        element=data.draw(st.sampled_from([None, *ids])),
        amount=data.draw(st.sampled_from(fault.amounts)),
        judge=data.draw(st.sampled_from(judges)),
    )
    before, after = scoring.score(marks, book), scoring.score((*marks, one_more), book)
    assert after.problems == ()
    assert after.final_score <= before.final_score


@each_edition
@usual
@given(st.data())
def test_the_score_is_among_the_reachable(book: RuleBook, data: st.DataObject) -> None:
    sheet = scoring.score(data.draw(routines(book)), book)
    assert sheet.problems == ()
    _assert_within(sheet)


@each_edition
@usual
@given(st.data())
def test_the_score_lies_within_its_bounds_where_only_bounds_are_given(
    book: RuleBook, data: st.DataObject
) -> None:
    marks = data.draw(routines(book))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(outcomes, "MOST_COMBINATIONS", 1)
        sheet = scoring.score(marks, book)
    _assert_within(sheet)


@each_edition
@usual
@given(st.data())
def test_without_anything_left_open_there_is_one_score(book: RuleBook, data: st.DataObject) -> None:
    marks = [_settled(mark, book) for mark in data.draw(routines(book))]
    sheet = scoring.score(marks, book)
    assert sheet.reachable.scores == (sheet.final_score,)
    assert sheet.reachable.exact
    assert sheet.reachable.decisions == ()


@each_edition
@usual
@given(st.data())
def test_lines_add_up_from_the_start_through_judges_and_panel_to_the_final_score(
    book: RuleBook, data: st.DataObject
) -> None:
    """Reference: Python's `decimal`. What an average does not bring out is cut, as both editions say."""
    sheet = scoring.score(data.draw(routines(book, Size(faults=(0, 20)))), book)
    start = _decimal(book.start.points) + _sum(sheet.lines, "start-value")
    begin = start if book.execution_from is None else _decimal(book.execution_from.points)
    judges = [begin + _sum(sheet.lines, "execution", one.judge) for one in sheet.judges]
    middle = _middle(judges, book)
    average = (sum(middle, Decimal(0)) / len(middle)).quantize(THOUSANDTH, ROUND_FLOOR)
    reached = average if book.execution_from is None else start + average
    final = reached + _sum(sheet.lines, "neutral") + _sum(sheet.lines, "courtesy")
    assert _decimal(sheet.start_value) == start
    assert [_decimal(one.score) for one in sheet.judges] == judges
    assert _decimal(sheet.panel_average) == average
    assert _decimal(sheet.final_score) == final
    assert book.courtesy is not None
    assert final >= _decimal(book.courtesy.points)


def _assert_within(sheet: ScoreSheet) -> None:
    reachable = sheet.reachable
    assert reachable.low <= sheet.final_score <= reachable.high
    if reachable.exact:
        assert sheet.final_score in reachable.scores
        assert (reachable.low, reachable.high) == (reachable.scores[0], reachable.scores[-1])


def _cited(book: RuleBook) -> set[str]:
    """Faults that another clause than their own speaks of."""
    cited = {code for one in (*book.all(Cap), *book.all(OneError)) for code in one.faults}
    cited |= {code for one in book.all(Swallow) for code in (one.by, *one.faults)}
    cited |= {code for one in book.all(CastTolerance) for code in one.spared}
    return cited | {code for one in book.all(TimeLimit) for code in one.after}


def _settled(mark: Mark, book: RuleBook) -> Mark:
    """The same with its amount beyond dispute, and its cast in the best state left open."""
    if mark.kind != "element" or not book.element(mark.code).decides:
        return replace(mark, arguable=False)
    angle = mark.angle or CastAngle("eye")
    return replace(mark, angle=replace(angle, verdict=VERDICTS[cast_states(mark, book.cast)[0]]))


def _middle(scores: Sequence[Decimal], book: RuleBook) -> list[Decimal]:
    size = next((one for one in book.all(PanelSize) if one.judges == len(scores)), None)
    if size is None or size.middle is None:
        return list(scores)
    out = (len(scores) - size.middle) // 2
    return sorted(scores)[out : len(scores) - out]


def _sum(lines: Sequence[Line], stage: str, judge: str | None = None) -> Decimal:
    own = (one for one in lines if one.stage == stage and one.judge == judge)
    return sum((_decimal(one.points) for one in own), Decimal(0))


def _decimal(points: object) -> Decimal:
    return Decimal(str(points))
