"""A merged case, as it was frozen: every later version opens it, and it says what it said."""

from pathlib import Path

from reviewer.casefile import open_case
from reviewer.terms.consents import Consent

CASE = Path(__file__).parent / "merged.v1.case"


def test_ids_that_both_had_are_told_apart_and_work_after_the_merge_means_what_was_shown() -> None:
    """Written by hand: both placed m1 and m2; then the second's m2 was changed, the first's withdrawn."""
    with open_case(CASE, None) as case:
        marks = {mark.id: mark for mark in case.state.marks}
        recordings = [one.sha256 for one in case.state.recordings]
    assert set(marks) == {"m1", "B.m1", "B.m2"}
    assert (marks["B.m2"].element, str(marks["B.m2"].amount)) == ("B.m1", "0.300")
    assert recordings == ["3" * 64, "4" * 64]
    assert (marks["m1"].recording, marks["B.m1"].recording) == (None, "4" * 64)


def test_what_both_said_differently_is_listed() -> None:
    with open_case(CASE, None) as case:
        state = case.state
    assert [(one.what, one.first, one.second, one.stands) for one in state.conflicts] == [
        ("consent", "given for inquiry, teaching", "given for inquiry", "narrower"),
        ("posted score", "8.900", "8.800", "first"),
    ]
    assert (state.permission, state.posted) == (Consent("given", ("inquiry",)), "8.900")


ONE = Path(__file__).parent / "merged.v2.case"


def test_a_merge_that_says_which_marks_are_one_and_whose_faults_are_whose_is_read_so() -> None:
    """Written by hand: both placed the cast m1, at other angles, and a fault m2 without a letter."""
    with open_case(ONE, None) as case:
        marks = {mark.id: mark for mark in case.state.marks}
        conflicts = [(one.where, one.first, one.second) for one in case.state.conflicts]
    assert {name: (mark.element, mark.judge) for name, mark in marks.items()} == {
        "m1": (None, None), "m2": ("m1", "A"), "B.m2": ("m1", "B")
    }  # fmt: skip
    assert conflicts == [("m1", "angle (by eye, deg -20.000)", "angle (by eye, deg -52.000)")]
