"""What a judge may suppose of a mark or clause, and one fact that may be charged twice.

The case is the worked example, 6.200 by the demo edition; instants are ticks of the sample clip, 30 frames a
second, so that seven frames are 233 ms and eight 267 ms.
"""

from collections.abc import Iterator
from pathlib import Path

import pytest

from reviewer import actions
from reviewer.actions import Audit
from reviewer.terms.exact import Points
from tests.actions.small_routine import begin, events

CLIP = Path(__file__).parents[2] / "sample_clips" / "square-on.mp4"


@pytest.fixture
def audit(tmp_path: Path) -> Iterator[Audit]:
    with actions.open_case(begin(tmp_path / "small.case"), author="A") as opened:
        yield opened


def said(audit: Audit, mark: str) -> list[str]:
    return [one.why.words() for one in actions.alternatives(audit, mark)]


def test_a_fault_may_cost_every_other_amount_of_its_clause_or_not_be_there(audit: Audit) -> None:
    assert said(audit, "m4") == [
        *(f"It costs {amount}." for amount in ("0.050", "0.150", "0.200", "0.250", "0.300")),
        "It is not there.",
    ]


def test_a_cast_may_be_seen_otherwise_and_goes_with_its_faults(audit: Audit) -> None:
    found = said(audit, "m2")
    assert found[:2] == ["The cast reaches the limit.", "The cast lies within the tolerance."]
    assert found[-1] == "It is not there, nor are its faults."


def test_a_fact_may_only_be_absent_and_what_is_no_mark_nothing(audit: Audit) -> None:
    assert said(audit, "m5") == ["It is not there."]
    assert said(audit, "m99") == []


def test_everything_offered_can_be_supposed_and_nothing_of_it_is_written(audit: Audit) -> None:
    before = events(audit.path)
    for mark in audit.marks:
        for one in actions.alternatives(audit, mark.id):
            assert actions.supposed_sheet(audit, one.supposed).problems == ()
    assert events(audit.path) == before


def test_several_things_are_supposed_together(audit: Audit) -> None:
    """The fault at 0.300 costs 0.200 more, the springboard taken away gives 0.300 back."""
    costs = next(one for one in actions.alternatives(audit, "m4") if "0.300" in one.why.words())
    gone = actions.alternatives(audit, "m5")[-1]
    found = actions.supposed_sheet(audit, actions.together([costs, gone]))
    assert found.final_score == Points.parse("6.300")


def test_a_clause_is_read_the_way_it_is_not_read_now(audit: Audit) -> None:
    other = actions.other_reading(audit, "few-value-parts")
    assert actions.supposed_sheet(audit, other.supposed).final_score == Points.parse("8.200")
    actions.choose_interpretation(audit, "few-value-parts", "other")
    back = actions.other_reading(audit, "few-value-parts")
    assert actions.supposed_sheet(audit, back.supposed).final_score == Points.parse("6.200")


def test_readings_are_listed_where_they_matter_or_were_chosen(audit: Audit) -> None:
    listed = [one.clause for one in actions.left_open(audit)]
    assert "few-value-parts" in listed
    assert "panel.of-three" not in listed
    actions.choose_interpretation(audit, "panel.of-three", "other")
    assert "panel.of-three" in [one.clause for one in actions.left_open(audit)]


@pytest.fixture
def timed(tmp_path: Path) -> Iterator[Audit]:
    """A case on the sample clip with a mount at its first frame."""
    path = tmp_path / "timed.case"
    with actions.start_case(path, author="A", athlete_code="G-12", consent="given", recording=CLIP) as opened:
        place(opened, "element", "pullover", 0, roles=("mount",))
        yield opened


def place(audit: Audit, kind: str, code: str, frame: int, **also: object) -> None:
    moment = "start" if kind == "element" else "at"
    actions.place_mark(audit, kind=kind, code=code, **{moment: audit.cited_pts[frame]}, **also)  # type: ignore[arg-type]


def fall(audit: Audit, frame: int, judge: str | None = None) -> None:
    place(audit, "fault", "fall", frame, element="m1", amount=Points.parse("0.500"), judge=judge)


@pytest.mark.parametrize(("apart", "warned"), [(0, True), (7, True), (8, False)])
def test_one_fault_marked_twice_at_nearly_one_instant_is_warned_of(
    timed: Audit, apart: int, warned: bool
) -> None:
    fall(timed, 10)
    fall(timed, 10 + apart)
    assert bool(actions.charged_twice(timed)) == warned


def test_what_two_judges_charge_is_not_charged_twice(timed: Audit) -> None:
    fall(timed, 10, "A")
    fall(timed, 10, "B")
    assert actions.charged_twice(timed) == ()


def test_what_a_rule_takes_once_an_element_is_not_charged_twice(timed: Audit) -> None:
    for amount in ("0.100", "0.200"):
        place(timed, "fault", "arms-bent", 10, element="m1", amount=Points.parse(amount))
    assert actions.charged_twice(timed) == ()


def test_without_times_one_fault_twice_on_one_element_is_warned_of(audit: Audit) -> None:
    for _ in range(2):
        actions.place_mark(audit, kind="fault", code="fall", element="m2", amount=Points.parse("0.500"))
    (found,) = actions.charged_twice(audit)
    assert found.marks == ("m6", "m7")
    assert found.why.words() == "Fall is charged twice on one element."
