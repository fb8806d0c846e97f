"""The order of a routine, of which some times are known, all, or none."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from reviewer.terms.marks import Mark, in_routine_order


def ids(*marks: Mark) -> list[str]:
    return [mark.id for mark in in_routine_order(marks)]


def element(name: str, order: int | None = None, start: int | None = None) -> Mark:
    return Mark(name, "element", "cast", order=order, start=start)


def fault(name: str, on: Mark, at: int | None = None) -> Mark:
    return Mark(name, "fault", "arms-bent", order=on.order, element=on.id, at=at)


def test_a_list_keeps_its_order_while_one_in_its_middle_has_a_time() -> None:
    assert ids(element("m1", 1), element("m2", 2, start=500), element("m3", 3)) == ["m1", "m2", "m3"]


def test_times_decide_between_marks_that_have_them() -> None:
    assert ids(element("m1", 1, start=900), element("m2", 2, start=100), element("m3", 3)) == [
        "m2",
        "m1",
        "m3",
    ]


def test_faults_of_a_list_follow_their_element_in_the_order_they_were_said() -> None:
    first, second = element("m1", 1), element("m3", 2)
    said = (second, fault("m12", first), fault("m2", first), first, fault("m4", second))
    assert ids(*said) == ["m1", "m2", "m12", "m3", "m4"]


def test_what_has_neither_time_nor_order_stands_behind_what_has_a_time() -> None:
    assert ids(element("m9"), element("m2", start=900), element("m1", start=300)) == ["m1", "m2", "m9"]


@given(st.permutations([element(f"m{at}", at) for at in range(6)]), st.sets(st.integers(0, 5)))
def test_frames_given_in_order_never_change_the_order_of_a_list(marks: list[Mark], timed: set[int]) -> None:
    placed = [replace(one, start=int(one.id[1:]) * 100 if one.order in timed else None) for one in marks]
    assert ids(*placed) == [f"m{at}" for at in range(6)]
