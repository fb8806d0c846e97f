"""Marks that cannot be scored are all named at once and left out; and what only looks wrong is scored.

By the demo edition (common practice, no source).
"""

from dataclasses import replace
from time import perf_counter
from typing import Any

import pytest

from reviewer import rules, scoring
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.marks import CastAngle, Mark
from reviewer.terms.measures import Measure
from reviewer.terms.provisions import JudgeDecides
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import ScoreSheet

BOOK = rules.load(rules.find("demo-bars-2"))
D, P = Degrees.parse, Points.parse


def element(name: str, code: str, order: int, **more: Any) -> Mark:
    return Mark(name, "element", code, order=order, **more)


def fault(name: str, code: str = "arms-bent", amount: str = "0.100", **more: Any) -> Mark:
    return Mark(name, "fault", code, amount=P(amount), **more)


def eye(degrees: str, spread: str | None = None) -> CastAngle:
    return CastAngle("eye", D(degrees), None if spread is None else D(spread))


WHOLE = (
    element("e1", "pullover", 1, roles=("mount",)),
    element("e2", "cast", 2, angle=eye("-40")),
    element("e3", "back-hip-circle", 3),
    element("e4", "front-hip-circle", 4),
    element("e5", "underswing-dismount", 5, roles=("dismount",)),
)
"""A routine that meets everything: 10.000."""


def scored(*more: Mark, book: RuleBook = BOOK) -> ScoreSheet:
    return scoring.score((*WHOLE, *more), book)


def said(sheet: ScoreSheet) -> list[tuple[str, str]]:
    return [(one.where, one.code) for one in sheet.problems]


def without(book: RuleBook, kind: type[Any]) -> RuleBook:
    return replace(book, as_stated=tuple(one for one in book.as_stated if not isinstance(one, kind)))


BAD: dict[str, tuple[Mark, str]] = {
    "an unknown element": (element("x", "somersault", 9), "unknown-element"),
    "an unknown fault": (fault("x", "sulking"), "unknown-fault"),
    "an unknown fact": (Mark("x", "fact", "rain"), "unknown-fact"),
    "a fault's code on an element": (element("x", "arms-bent", 9), "unknown-element"),
    "an element's code on a fault": (fault("x", "cast"), "unknown-fault"),
    "an unknown kind": (Mark("x", "wish", "cast"), "unknown-kind"),
    "an unknown role": (element("x", "drop-kip", 9, roles=("encore",)), "unknown-word"),
    "an unknown condition": (element("x", "drop-kip", 9, conditions=("levitating",)), "unknown-word"),
    "a role where a condition belongs": (element("x", "drop-kip", 9, conditions=("mount",)), "unknown-word"),
    "an amount between the steps": (fault("x", amount="0.120"), "amount-not-permitted"),
    "an amount above the most": (fault("x", amount="0.350"), "amount-not-permitted"),
    "an amount of nothing": (fault("x", amount="0.000"), "amount-not-permitted"),
    "an amount that gives": (fault("x", amount="-0.100"), "amount-not-permitted"),
    "another amount than the one there is": (fault("x", "fall", "0.300"), "amount-not-permitted"),
    "an absurd amount": (fault("x", amount="999999999.999"), "amount-not-permitted"),
    "no amount": (Mark("x", "fault", "fall"), "amount-not-permitted"),
    "an angle beyond half a turn": (element("x", "cast", 9, angle=eye("180.001")), "no-angle"),
    "an angle below half a turn": (element("x", "cast", 9, angle=eye("-180.001")), "no-angle"),
    "an absurd angle": (element("x", "cast", 9, angle=eye("999999999.999")), "no-angle"),
    "an uncertainty below nought": (element("x", "cast", 9, angle=eye("-45", "-0.001")), "no-uncertainty"),
    "an absurd uncertainty": (element("x", "cast", 9, angle=eye("-45", "180.001")), "no-uncertainty"),
    "an angle on what is no cast": (element("x", "drop-kip", 9, angle=eye("-45")), "no-cast"),
    "a verdict on what is no cast": (
        element("x", "drop-kip", 9, angle=CastAngle("eye", verdict="met")), "no-cast"),
    "a fault on an element that is not there": (fault("x", element="e99"), "no-element"),
    "a fault on a fault": (fault("x", element="x"), "no-element"),
    "an amount on an element": (element("x", "drop-kip", 9, amount=P("0.100")), "no-sense"),
    "a clock on an element": (element("x", "drop-kip", 9, clock=Measure.time("3 s")), "no-sense"),
    "a length on an element": (element("x", "drop-kip", 9, length=Measure.length("9 in")), "no-sense"),
    "a length on a fault": (fault("x", length=Measure.length("9 in")), "no-sense"),
    "a bend below nought": (fault("x", angle=eye("-45")), "no-angle"),
    "roles on a fault": (fault("x", roles=("mount",)), "no-sense"),
    "conditions on a fault": (fault("x", conditions=("spotted",)), "no-sense"),
    "credit for a fault": (fault("x", credit="given"), "no-sense"),
    "a name in tables for a fault": (fault("x", called="4.108"), "no-sense"),
    "an amount on a fact": (Mark("x", "fact", "springboard-left", amount=P("0.300")), "no-sense"),
    "a clock on a fact": (Mark("x", "fact", "exercise-ended", clock=Measure.time("46 s")), "no-sense"),
    "an angle on a fact": (Mark("x", "fact", "springboard-left", angle=eye("-45")), "no-sense"),
}  # fmt: skip


def numbered() -> list[Mark]:
    """All of them, each under an id of its own."""
    marks = (mark for mark, _ in BAD.values())
    return [
        replace(mark, id=f"x{number}", element=mark.element and f"of x{number}")
        for number, mark in enumerate(marks)
    ]


@pytest.mark.parametrize(("mark", "code"), BAD.values(), ids=BAD)
def test_a_mark_that_cannot_be_scored_is_named_and_left_out(mark: Mark, code: str) -> None:
    sheet = scored(mark)
    assert said(sheet) == [("x", code)]
    assert all(str(one.message) and str(one.remedy) for one in sheet.problems)
    assert str(sheet.final_score) == "10.000"
    assert sheet.lines == ()


def test_all_of_them_are_named_at_once() -> None:
    marks = numbered()
    sheet = scored(*marks)
    assert {one.where for one in sheet.problems} == {mark.id for mark in marks}
    assert str(sheet.final_score) == "10.000"


def test_one_mark_may_have_several_problems() -> None:
    mark = element("x", "drop-kip", 9, roles=("encore",), conditions=("levitating",), amount=P("0.100"))
    assert said(scored(mark)) == [("x", "no-sense"), ("x", "unknown-word"), ("x", "unknown-word")]


def test_two_marks_of_one_id_are_both_left_out() -> None:
    sheet = scored(fault("x"), fault("x", "legs-bent"))
    assert said(sheet) == [("x", "twice"), ("x", "twice")]
    assert sheet.lines == ()


def test_where_several_judges_deduct_each_fault_says_whose_it_is() -> None:
    sheet = scored(fault("x", judge="A"), fault("y", judge="B"), fault("z"))
    assert said(sheet) == [("z", "no-judge")]
    assert [(one.judge, str(one.score)) for one in sheet.judges] == [("A", "9.900"), ("B", "9.900")]


def test_one_judge_may_sign_some_faults_only() -> None:
    sheet = scored(fault("x", judge="B"), fault("y", "legs-bent"))
    assert said(sheet) == []
    assert [(one.judge, str(one.score)) for one in sheet.judges] == [("B", "9.800")]


@pytest.mark.parametrize("credit", ["given", "withheld"])
def test_credit_is_the_judges_only_where_the_book_leaves_it_to_the_judge(credit: str) -> None:
    mark = element("x", "drop-kip", 9, credit=credit)
    assert said(scored(mark)) == []
    assert said(scored(mark, book=without(BOOK, JudgeDecides))) == [("x", "no-credit-by-judge")]


def test_the_order_of_bad_marks_does_not_matter() -> None:
    marks = numbered()
    assert scored(*marks) == scored(*reversed(marks))


def test_a_mark_at_the_end_of_time_is_scored() -> None:
    sheet = scored(fault("x", at=2**63 - 1), fault("y", "legs-bent", at=-(2**63)))
    assert said(sheet) == []
    assert str(sheet.final_score) == "9.800"


@pytest.mark.parametrize(
    ("marks", "final"),
    [
        ((), "5.200"),
        ((Mark("x", "fact", "springboard-left"),), "4.900"),
        ((fault("x", "fall", "0.500"),), "4.700"),
        (tuple(fault(f"x{n}", "fall", "0.500") for n in range(40)), "4.000"),
    ],
    ids=["no marks", "only facts", "only faults", "more faults than points"],
)
def test_a_routine_of_next_to_nothing_has_a_score(marks: tuple[Mark, ...], final: str) -> None:
    """10.000 - 0.500 - 2.000 - 0.300 - 2.000 (fewer than three) = 5.200; never below 4.000."""
    sheet = scoring.score(marks, BOOK)
    assert said(sheet) == []
    assert str(sheet.final_score) == final
    assert sheet.final_score in sheet.reachable.scores


NOT_BAD: dict[str, tuple[tuple[Mark, ...], str]] = {
    "a fault between elements": ((fault("x"),), "9.900"),
    "a fault between elements, twice": ((fault("x"), fault("y")), "9.800"),
    "touching elements": (
        (element("x", "drop-kip", 9, start=0, end=5), element("y", "drop-kip", 9, start=5, end=9)), "10.000"),
    "overlapping elements": (
        (element("x", "drop-kip", 9, start=0, end=7), element("y", "drop-kip", 9, start=5, end=9)), "10.000"),
    "an element without an end": ((element("x", "drop-kip", 9, start=0),), "10.000"),
    "a verdict by eye": ((element("x", "cast", 9, angle=CastAngle("eye", verdict="not met")),), "10.000"),
    "a cast of which nothing was said": ((element("x", "cast", 9),), "10.000"),
    "an exact half turn": ((element("x", "cast", 9, angle=eye("180")),), "10.000"),
    "an angle of a cast to squat on": ((element("x", "cast-squat-on", 9, angle=eye("-50")),), "10.000"),
    "a fault of nothing": ((fault("x", "chin-on-bar", "0.000"),), "10.000"),
    "a clock on a fall": ((fault("x", "fall", "0.500", clock=Measure.time("46.2 s")),), "9.500"),
    "a clock on a fault without a limit": ((fault("x", clock=Measure.time("46.2 s")),), "9.900"),
    "a length of a fact": ((Mark("x", "fact", "springboard-left", length=Measure.length("1 m")),), "9.700"),
    "a fact of an element": ((Mark("x", "fact", "springboard-left", element="e1"),), "9.700"),
    "a fault by nobody in particular": ((fault("x", judge=None),), "9.900"),
    "a role that is not listed for an element": (
        (element("x", "drop-kip", 9, roles=("dismount",)),), "10.000"),
}  # fmt: skip


@pytest.mark.parametrize(("marks", "final"), NOT_BAD.values(), ids=NOT_BAD)
def test_what_is_not_bad_input_is_scored(marks: tuple[Mark, ...], final: str) -> None:
    sheet = scored(*marks)
    assert said(sheet) == []
    assert str(sheet.final_score) == final


def long_routine(marks: int) -> list[Mark]:
    """Casts that cannot be told, each with arms bent, a small step and a hop."""
    found: list[Mark] = []
    for number in range(marks // 4):
        name = f"e{number}"
        found += [
            element(name, "cast", number, angle=eye("-54.5", "1")),
            fault(f"a{number}", element=name),
            fault(f"s{number}", "small-step", element=name),
            fault(f"h{number}", "hop", element=name),
        ]
    return found


def test_ten_thousand_marks_are_scored_within_seconds() -> None:
    """Bounds, as more casts are open than can be followed up; two seconds on a quiet machine."""
    marks = long_routine(10_000)
    begun = perf_counter()
    sheet = scoring.score(marks, BOOK)
    assert perf_counter() - begun < 60
    assert not sheet.reachable.exact
    assert sheet.reachable.low <= sheet.final_score <= sheet.reachable.high


def test_ten_thousand_bad_marks_are_all_named() -> None:
    marks = [fault(f"x{number}", "sulking") for number in range(10_000)]
    begun = perf_counter()
    sheet = scoring.score(marks, BOOK)
    assert perf_counter() - begun < 30
    assert len(sheet.problems) == 10_000


def test_the_panel_named_beside_the_marks_makes_a_fault_without_a_letter_ambiguous_too() -> None:
    sheet = scoring.score([*WHOLE, fault("z")], BOOK, ("A", "B"))
    assert said(sheet) == [("z", "no-judge")]
    assert [one.judge for one in sheet.judges] == ["A", "B"]
    assert {one.score for one in sheet.judges} == {sheet.start_value}


def test_beside_one_lettered_judge_the_unlettered_faults_are_that_judges_and_the_sheet_says_so() -> None:
    sheet = scored(fault("x", judge="B"), fault("y"))
    assert sheet.problems == ()
    assert [(one.judge, str(one.score)) for one in sheet.judges] == [("B", "9.800")]
    (note,) = [one for one in sheet.notes if one.code == "judge-unsaid"]
    assert note.marks == ("y",)
    assert "judge B" in note.why.words()
    assert all(one.code != "judge-unsaid" for one in scored(fault("x"), fault("y")).notes)
