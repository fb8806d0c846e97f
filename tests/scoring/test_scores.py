"""What the demo edition says of marks. Common practice, no source, unless said otherwise."""

from collections.abc import Sequence
from decimal import Decimal
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reviewer import rules, scoring
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.marks import CastAngle, Mark

BOOK = rules.load(rules.find("demo-bars-2"))


def element(name: str, code: str, order: int, **more: object) -> Mark:
    return Mark(name, "element", code, order=order, **more)  # type: ignore[arg-type]


def cast(name: str, order: int, deg: str, u: str | None = None) -> Mark:
    angle = CastAngle("eye", Degrees.parse(deg), None if u is None else Degrees.parse(u))
    return element(name, "cast", order, angle=angle)


def fault(name: str, code: str, amount: str, of: str | None = None, judge: str | None = None) -> Mark:
    return Mark(name, "fault", code, element=of, amount=Points.parse(amount), judge=judge)


def whole(*more: Mark, angle: str = "-40", u: str | None = None) -> tuple[Mark, ...]:
    """A routine that meets everything."""
    return (
        element("e1", "pullover", 1, roles=("mount",)),
        cast("e2", 2, angle, u),
        element("e3", "back-hip-circle", 3),
        element("e4", "front-hip-circle", 4),
        element("e5", "underswing-dismount", 5, roles=("dismount",)),
        *more,
    )


def clauses(marks: Sequence[Mark]) -> list[tuple[str, str]]:
    return [(line.clause, str(line.points)) for line in scoring.score(marks, BOOK).lines]


def final(marks: Sequence[Mark]) -> str:
    return str(scoring.score(marks, BOOK).final_score)


def test_a_routine_that_meets_everything_has_the_full_score() -> None:
    assert clauses(whole()) == []
    assert final(whole()) == "10.000"


@pytest.mark.parametrize(
    ("angle", "lines", "start"),
    [
        ("-45", [], "10.000"),
        ("-45.001", [("cast.tolerance", "-0.100")], "10.000"),
        ("-55", [("cast.tolerance", "-0.100")], "10.000"),
        ("-55.001", [("value-parts", "-0.100"), ("requirement.cast", "-0.500")], "9.400"),
    ],
)
def test_a_cast_earns_down_to_the_edge_of_the_tolerance(
    angle: str, lines: list[tuple[str, str]], start: str
) -> None:
    assert clauses(whole(angle=angle)) == lines
    assert str(scoring.score(whole(angle=angle), BOOK).start_value) == start


def test_a_cast_that_cannot_be_told_scores_for_the_gymnast_and_spans_the_scores() -> None:
    sheet = scoring.score(whole(angle="-54.5", u="1"), BOOK)
    assert str(sheet.final_score) == "9.900"
    assert [str(score) for score in sheet.reachable.scores] == ["9.400", "9.900"]
    assert [decision.marks for decision in sheet.reachable.decisions] == [("e2",)]


def test_without_a_dismount_the_start_value_loses_requirement_part_and_flat_deduction() -> None:
    """0.50 + 0.30, as in the published worked example 9.5 - 0.5 - 0.3 = 8.7; and its value part."""
    marks = whole()[:-1]
    assert clauses(marks) == [
        ("value-parts", "-0.100"),
        ("requirement.dismount", "-0.500"),
        ("no-dismount", "-0.300"),
    ]


def test_a_restricted_element_costs_and_earns_nothing() -> None:
    sheet = scoring.score(whole(element("e6", "giant", 4)), BOOK)
    assert str(sheet.final_score) == "9.500"
    assert [(one.marks, one.reason) for one in sheet.not_earned] == [(("e6",), "restricted")]


def test_a_fall_swallows_the_steps_of_its_landing() -> None:
    marks = whole(fault("f1", "fall", "0.500", "e5"), fault("f2", "medium-step", "0.150", "e5"))
    assert final(marks) == "9.500"


def test_two_judges_are_averaged() -> None:
    marks = whole(fault("f1", "arms-bent", "0.300", "e2", "A"), fault("f2", "arms-bent", "0.100", "e2", "B"))
    sheet = scoring.score(marks, BOOK)
    assert [(one.judge, str(one.score)) for one in sheet.judges] == [("A", "9.700"), ("B", "9.900")]
    assert str(sheet.panel_average) == "9.800"


def test_marks_that_cannot_be_scored_are_all_named_and_left_out() -> None:
    bad = (
        fault("f1", "arms-bent", "0.120", "e2"),
        fault("f2", "no-such", "0.100"),
        fault("f3", "legs-bent", "0.100", "e99"),
        element("e7", "no-such", 7),
        element("e8", "giant", 8, roles=("encore",)),
        cast("e9", 9, "999"),
    )
    sheet = scoring.score(whole(*bad), BOOK)
    assert {problem.where for problem in sheet.problems} == {"f1", "f2", "f3", "e7", "e8", "e9"}
    assert str(sheet.final_score) == "10.000"


up_to = st.sampled_from([one for one in BOOK.faults if not one.flat])
faults = st.lists(
    up_to.flatmap(lambda one: st.tuples(st.just(one.code), st.sampled_from(one.amounts))), max_size=6
)


@settings(deadline=None)
@given(faults, st.integers(-70, -30), st.randoms())
def test_order_never_matters_and_the_score_is_among_the_reachable(
    drawn: list[tuple[str, Points]], angle: int, chance: Random
) -> None:
    marks = list(whole(angle=str(angle)))
    marks += [fault(f"f{n}", code, str(amount), "e3") for n, (code, amount) in enumerate(drawn)]
    sheet = scoring.score(marks, BOOK)
    chance.shuffle(marks)
    assert scoring.score(marks, BOOK) == sheet
    assert sheet.final_score in sheet.reachable.scores
    assert sheet.reachable.low <= sheet.final_score <= sheet.reachable.high


@settings(deadline=None)
@given(faults)
def test_the_ledger_adds_up_as_decimals_do(drawn: list[tuple[str, Points]]) -> None:
    """Reference: Python's `decimal`."""
    marks = whole(*(fault(f"f{n}", code, str(amount), "e3") for n, (code, amount) in enumerate(drawn)))
    sheet = scoring.score(marks, BOOK)
    total = Decimal("10.0") + sum((Decimal(str(line.points)) for line in sheet.lines), Decimal(0))
    assert Decimal(str(sheet.final_score)) == total


def test_beyond_argument_there_is_one_score() -> None:
    mark = Mark("f1", "fault", "arms-bent", element="e2", amount=Points.parse("0.100"), arguable=False)
    assert [str(score) for score in scoring.score(whole(mark), BOOK).reachable.scores] == ["9.900"]


def test_a_cast_called_at_full_speed_and_measured_later_scores_by_the_call_there_and_by_the_reading() -> None:
    called = element("e2", "cast", 2, angle=CastAngle("eye", verdict="met"), seen="full-speed")
    measured = called.found_later(CastAngle("protractor", Degrees.parse("-65"), Degrees.parse("0.3")))
    seen = tuple(measured if mark.id == "e2" else mark for mark in whole())
    found, by_eye = scoring.score(seen, BOOK), scoring.score(whole(), BOOK)
    assert found.final_score == scoring.score(whole(angle="-65"), BOOK).final_score < by_eye.final_score
    assert found.full_speed is not None
    assert found.full_speed.final_score == by_eye.final_score
    assert found.full_speed.left_out == ("e2",)


def test_what_was_called_at_full_speed_outlives_every_later_reading_and_the_document() -> None:
    called = element("e2", "cast", 2, angle=CastAngle("eye", verdict="met"), seen="full-speed")
    first = called.found_later(CastAngle("protractor", Degrees.parse("-65")))
    again = first.found_later(CastAngle("protractor", Degrees.parse("-50")))
    assert Mark.from_json(again.to_json()) == again
    assert again.seen == "full-speed"
    assert again.angle is not None
    assert again.angle.at_full_speed == called.angle


def test_of_a_cast_called_without_a_word_at_full_speed_the_reading_is_seen_slowed_down() -> None:
    bare = element("e2", "cast", 2, seen="full-speed")
    assert bare.found_later(CastAngle("protractor", Degrees.parse("-65"))).seen == "slowed"


def test_a_fault_called_at_full_speed_stays_called_when_its_bend_is_measured_and_is_argued_about_there() -> (
    None
):
    called = Mark("f1", "fault", "arms-bent", element="e2", amount=Points.parse("0.300"), seen="full-speed")
    measured = called.found_later(CastAngle("protractor", Degrees.parse("95")))
    assert (measured.seen, measured.amount) == ("full-speed", called.amount)
    sheet = scoring.score(whole(measured), BOOK)
    assert [str(score) for score in sheet.reachable.scores] == ["9.700"], "a bend of 90 leaves nothing open"
    assert sheet.full_speed is not None
    assert str(sheet.full_speed.final_score) == "9.700"
    assert sheet.full_speed.reachable.scores == scoring.score(whole(called), BOOK).reachable.scores
