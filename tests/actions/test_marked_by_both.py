"""Two judges' cases merged: what both marked counts once, and each judge's faults stay that judge's."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from reviewer import actions
from reviewer.actions import Audit
from reviewer.casefile import read_events
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.marks import CastAngle, Mark

ROOT = Path(__file__).resolve().parents[2]
CLIP = ROOT / "sample_clips" / "square-on.mp4"
Sheet = Callable[[Audit], None]


def judged(path: Path, author: str, *sheets: Sheet, recording: Path | None = CLIP) -> Path:
    with actions.start_case(
        path, author=author, athlete_code="G-1", consent="given", recording=recording
    ) as audit:
        for sheet in sheets:
            sheet(audit)
    return path


def element(code: str, first: int | None = None, last: int | None = None, **more: Any) -> Sheet:
    """An element from one frame to another; by its order alone without frames."""

    def place(audit: Audit) -> None:
        start, end = (None if frame is None else audit.time(frame).pts for frame in (first, last))
        actions.place_mark(audit, kind="element", code=code, start=start, end=end, **more)

    return place


def fault(code: str, amount: str, on: str | None = "m1", frame: int | None = None, **more: Any) -> Sheet:
    def place(audit: Audit) -> None:
        at = None if frame is None else audit.time(frame).pts
        points = Points.parse(amount)
        actions.place_mark(audit, kind="fault", code=code, amount=points, element=on, at=at, **more)

    return place


def eye(degrees: str) -> CastAngle:
    return CastAngle("eye", Degrees.parse(degrees))


def merged(first: Path, second: Path, name: str = "both.case", author: str = "C", **more: Any) -> Path:
    out = first.parent / name
    actions.merge_cases(first, second, out, author=author, although_other_recording=True, **more)
    return out


def marks_of(path: Path) -> dict[str, Mark]:
    with actions.open_case(path, author=None) as audit:
        return {mark.id: mark for mark in audit.marks}


def codes(path: Path) -> list[str]:
    return sorted(mark.code for mark in marks_of(path).values() if mark.kind == "element")


def warnings(path: Path) -> list[tuple[str, str]]:
    return [(one["code"], one["where"]) for one in actions.score_document(path).get("warnings", [])]


CAST = element("cast", 60, 100, angle=eye("-20"))
ARMS, LEGS = fault("arms-bent", "0.100", frame=70), fault("legs-bent", "0.200", frame=80)


def test_an_element_that_both_marked_counts_once_and_each_judge_keeps_their_faults(tmp_path: Path) -> None:
    first = judged(tmp_path / "a.case", "A", CAST, ARMS)
    second = judged(tmp_path / "b.case", "B", element("cast", 62, 97, angle=eye("-20")), ARMS, LEGS)
    both = merged(first, second)
    marks, alone = marks_of(both), actions.score_document(first)
    assert sorted(marks) == ["B.m2", "m1", "m2", "m3"]
    assert {mark.element for mark in marks.values() if mark.kind == "fault"} == {"m1"}
    assert [marks[name].judge for name in ("m2", "B.m2", "m3")] == ["A", "B", "B"]
    score = actions.score_document(both)
    assert (score["start_value"], score["value_parts"]) == (alone["start_value"], alone["value_parts"])
    taken = [Points.parse(score["start_value"]) - Points.parse(one["score"]) for one in score["judges"]]
    assert list(map(str, taken)) == ["0.100", "0.300"]
    assert (warnings(both), score["problems"]) == ([], [])
    assert actions.verify(both)["same"]


def test_both_orders_of_a_merge_come_to_one_score(tmp_path: Path) -> None:
    first = judged(tmp_path / "a.case", "A", CAST, ARMS, element("back-hip-circle", 110, 140))
    second = judged(tmp_path / "b.case", "B", element("cast", 58, 104, angle=eye("-20")), LEGS)
    there, back = (actions.score_document(merged(*pair, name)) for pair, name in (
        ((first, second), "ab.case"), ((second, first), "ba.case")
    ))  # fmt: skip
    assert there["judges"] == back["judges"]
    assert (there["final_score"], there["value_parts"]) == (back["final_score"], back["value_parts"])


def test_what_both_said_differently_of_it_is_a_conflict_until_the_mark_is_said_anew(tmp_path: Path) -> None:
    first = judged(tmp_path / "a.case", "A", CAST)
    second = judged(
        tmp_path / "b.case", "B", element("cast", 60, 100, angle=eye("-52"), conditions=("spotted",))
    )
    both = merged(first, second)
    with actions.open_case(both, author="C") as audit:
        (one,) = audit.state.conflicts
        assert (one.what, one.where, one.stands) == ("mark", "m1", "first")
        assert ("-20" in one.first, "-52" in one.second, "spotted" in one.second) == (True, True, True)
        assert ("merged-otherwise", "mark m1") in warnings(both)
        actions.change_mark(audit, audit.marks[0])
        assert audit.state.conflicts == ()
        assert audit.marks[0].angle == eye("-20")
        actions.undo(audit)
        assert audit.state.conflicts == (one,)


def test_what_the_first_left_unsaid_the_second_says(tmp_path: Path) -> None:
    first = judged(tmp_path / "a.case", "A", element("cast", 60))
    second = judged(tmp_path / "b.case", "B", CAST)
    both = merged(first, second)
    (mark,) = marks_of(both).values()
    assert mark.angle == eye("-20")
    assert warnings(both) == []


def test_neighbours_of_one_code_are_two_elements(tmp_path: Path) -> None:
    first = judged(tmp_path / "a.case", "A", element("giant", 60, 90))
    second = judged(tmp_path / "b.case", "B", element("giant", 90, 120))
    both = merged(first, second)
    assert codes(both) == ["giant", "giant"]
    assert warnings(both) == [("marked-twice", "m1, B.m1")]


def test_of_three_and_two_neighbours_the_right_ones_are_one(tmp_path: Path) -> None:
    giants = [element("giant", begin, begin + 30) for begin in (60, 90, 120)]
    both = merged(judged(tmp_path / "a.case", "A", *giants), judged(tmp_path / "b.case", "B", *giants[1:]))
    assert sorted(marks_of(both)) == ["m1", "m2", "m3"]
    assert warnings(both) == []


def test_one_movement_that_two_judges_call_differently_is_one_with_a_conflict(tmp_path: Path) -> None:
    first = judged(tmp_path / "a.case", "A", element("back-hip-circle", 60, 100))
    second = judged(tmp_path / "b.case", "B", element("front-hip-circle", 63, 102))
    both = merged(first, second)
    assert codes(both) == ["back-hip-circle"]
    assert warnings(both) == [("merged-otherwise", "mark m1")]


def test_without_times_the_order_decides_where_it_leaves_no_doubt(tmp_path: Path) -> None:
    routine = ["pullover", "cast", "back-hip-circle", "cast", "underswing-dismount"]
    sheet = [element(code, order=place) for place, code in enumerate(routine, start=1)]
    first = judged(tmp_path / "a.case", "A", *sheet, recording=None)
    second = judged(tmp_path / "b.case", "B", *sheet, recording=None)
    both = merged(first, second)
    assert codes(both) == sorted(routine)
    assert warnings(both) == []
    assert actions.score_document(both)["start_value"] == actions.score_document(first)["start_value"]


def test_without_times_what_order_cannot_tell_stays_two_and_is_named(tmp_path: Path) -> None:
    first = judged(
        tmp_path / "a.case", "A", element("pullover", order=1), element("cast", order=2), recording=None
    )
    more = [element(code, order=place) for place, code in enumerate(("pullover", "cast", "cast"), start=1)]
    both = merged(first, judged(tmp_path / "b.case", "B", *more, recording=None))
    assert codes(both) == ["cast", "cast", "cast", "pullover"]
    assert warnings(both) == [("marked-twice", "m2, B.m2, m3")]


def test_exchanged_without_times_neither_is_taken_for_the_other(tmp_path: Path) -> None:
    there, back = ("back-hip-circle", "cast"), ("cast", "back-hip-circle")
    first, second = (
        judged(
            tmp_path / f"{author}.case",
            author,
            *(element(code, order=place) for place, code in enumerate(sheet)),
            recording=None,
        )
        for author, sheet in (("A", there), ("B", back))
    )
    assert len(marks_of(merged(first, second))) == 4


def test_a_fact_that_both_state_is_deducted_once(tmp_path: Path) -> None:
    def fact(audit: Audit) -> None:
        actions.place_mark(audit, kind="fact", code="coach-between-bars", at=audit.time(90).pts)

    first, second = (judged(tmp_path / f"{author}.case", author, fact) for author in "AB")
    assert len(marks_of(merged(first, second))) == 1


def test_one_judges_fault_in_both_cases_is_taken_once_and_amounts_that_differ_are_named(
    tmp_path: Path,
) -> None:
    first = judged(tmp_path / "a.case", "A", CAST, ARMS)
    second = judged(tmp_path / "b.case", "A", CAST, fault("arms-bent", "0.300", frame=72), LEGS)
    found = actions.merge_cases(first, second, tmp_path / "both.case", author="A")
    assert any("deduct as judge A" in one for one in found["remarks"])
    assert found["judges"] == {}
    faults = {
        mark.code: str(mark.amount) for mark in marks_of(tmp_path / "both.case").values() if mark.amount
    }
    assert faults == {"arms-bent": "0.100", "legs-bent": "0.200"}
    (one,) = found["conflicts"]
    assert (one["first"], one["second"]) == ("amount 0.100", "amount 0.300")


def test_letters_on_the_faults_are_kept(tmp_path: Path) -> None:
    first = judged(tmp_path / "a.case", "A", CAST, fault("arms-bent", "0.100", judge="E1"))
    second = judged(tmp_path / "b.case", "B", CAST, fault("arms-bent", "0.300", judge="E2"))
    assert [one["judge"] for one in actions.score_document(merged(first, second))["judges"]] == ["E1", "E2"]


def test_each_may_undo_their_own_and_the_element_stands_while_one_still_says_it(tmp_path: Path) -> None:
    first, second = judged(tmp_path / "a.case", "A", CAST), judged(tmp_path / "b.case", "B", CAST)
    both = merged(first, second)
    for author, left in (("A", ["m1"]), ("B", [])):
        with actions.open_case(both, author=author) as audit:
            actions.undo(audit)
            assert [mark.id for mark in audit.marks] == left
    with actions.open_case(both, author="A") as audit:
        actions.redo(audit)
        assert [mark.id for mark in audit.marks] == ["m1"]


def test_withdrawn_it_is_gone_for_both_and_undo_brings_it_back(tmp_path: Path) -> None:
    both = merged(judged(tmp_path / "a.case", "A", CAST), judged(tmp_path / "b.case", "B", CAST, ARMS))
    with actions.open_case(both, author="C") as audit:
        actions.withdraw_mark(audit, "m1")
        assert [mark.id for mark in audit.marks] == ["m2"]
        actions.undo(audit)
        assert [mark.id for mark in audit.marks] == ["m1", "m2"]


def test_a_fault_placed_later_in_the_second_case_comes_to_the_one_element(tmp_path: Path) -> None:
    first, second = judged(tmp_path / "a.case", "A", CAST, ARMS), judged(tmp_path / "b.case", "B", CAST)
    once = merged(first, second)
    with actions.open_case(second, author="B") as audit:
        LEGS(audit)
        actions.change_mark(
            audit, Mark("m1", "element", "cast", start=audit.marks[0].start, angle=eye("-30"))
        )
    again = merged(once, second, "again.case")
    marks = marks_of(again)
    assert {name: mark.element for name, mark in marks.items()} == {"m1": None, "m2": "m1", "B.m2": "m1"}
    assert (marks["m2"].judge, marks["B.m2"].judge) == ("A", "B")
    assert ("merged-otherwise", "mark m1") in warnings(again)
    assert actions.verify(again)["same"]


@pytest.mark.parametrize("turned", [False, True])
def test_a_third_judge_joins_a_merged_case(tmp_path: Path, turned: bool) -> None:
    first, second, third = (judged(tmp_path / f"{one}.case", one, CAST, ARMS) for one in "ABD")
    pair = (merged(first, second), third)
    every = merged(*(reversed(pair) if turned else pair), "every.case")
    marks = list(marks_of(every).values())
    assert [mark.kind for mark in marks].count("element") == 1
    assert {mark.element for mark in marks if mark.kind == "fault"} == {"m1"}
    assert sorted(mark.judge or "" for mark in marks if mark.kind == "fault") == ["A", "B", "D"]
    assert actions.verify(every)["same"]


def test_both_originals_stay_in_the_chain_and_the_merge_says_the_same_each_time(tmp_path: Path) -> None:
    first, second = (judged(tmp_path / f"{author}.case", author, CAST, ARMS) for author in "AB")
    one, other = merged(first, second, "one.case"), merged(first, second, "other.case")
    events = read_events(one)
    assert {event.body for case in (first, second) for event in read_events(case)} < {e.body for e in events}
    assert events[-1].payload == read_events(other)[-1].payload
    assert events[-1].payload == {"same": [["m1", "B.m1"]], "judges": {"m2": "A", "B.m2": "B"}}
