"""Names on the routine strip keep apart, in order and in sight."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as some

from reviewer.desk.strip import spread


@given(some.lists(some.floats(0, 600), max_size=30))
def test_names_stand_a_line_apart_in_the_order_of_time(places: list[float]) -> None:
    stands = spread(sorted(places), 17, 600)
    assert all(after - before >= 17 - 1e-6 for before, after in pairwise(stands))
    assert all(y <= 600 for y in stands)


def test_names_with_room_stand_where_they_belong() -> None:
    assert spread([10.0, 100.0, 300.0], 17, 600) == [10.0, 100.0, 300.0]
