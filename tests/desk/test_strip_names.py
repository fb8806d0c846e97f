"""Names on the routine strip keep apart, in order and in sight; where not all find room, they are folded."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as some

from reviewer.desk.strip import spread
from reviewer.desk.strip.layout import fitted, laid_out
from reviewer.desk.strip.routine import Routine, Row
from reviewer.desk.strip.scale import Scale, kept

TALL = 17.0
KINDS = some.sampled_from(["element", "fault", "fact", "note", "damage"])


@some.composite
def routines(draw: some.DrawFn) -> Routine:
    """Marks at any time of a recording of 1000 ticks."""
    ticks = sorted(draw(some.lists(some.integers(0, 1000), max_size=120)))
    rows = [Row(draw(KINDS), "words", tick, f"m{at}") for at, tick in enumerate(ticks)]
    return Routine(tuple(rows), (), 0, 1000)


@given(some.lists(some.floats(0, 600), max_size=30))
def test_names_stand_a_line_apart_in_the_order_of_time(places: list[float]) -> None:
    stands = spread(sorted(places), 17, 600)
    assert all(after - before >= 17 - 1e-6 for before, after in pairwise(stands))
    assert all(y <= 600 for y in stands)


def test_names_with_room_stand_where_they_belong() -> None:
    assert spread([10.0, 100.0, 300.0], 17, 600) == [10.0, 100.0, 300.0]


@given(routines(), some.floats(1, 9))
def test_however_many_marks_there_are_no_name_covers_another(routine: Routine, zoom: float) -> None:
    scale = Scale(0, 1000, 20.0, 300.0, zoom)
    names = laid_out(routine, scale, TALL, ())
    stands = [name.stands for name in names]
    assert all(after - before >= TALL - 1e-6 for before, after in pairwise(stands))
    assert all(TALL / 2 - 1e-6 <= y <= scale.whole - TALL / 2 + 1e-6 for y in stands)


@given(routines(), some.floats(1, 9))
def test_every_mark_has_a_name_or_stands_folded_behind_one(routine: Routine, zoom: float) -> None:
    names = laid_out(routine, Scale(0, 1000, 20.0, 300.0, zoom), TALL, ())
    assert [row.mark for name in names for row in (name.row, *name.folded)] == [
        row.mark for row in routine.rows
    ]


def test_the_chosen_mark_has_a_name_where_hardly_any_does() -> None:
    rows = tuple(Row("element", "cast", tick, f"m{tick}") for tick in range(100))
    names = laid_out(Routine(rows, (), 0, 100), Scale(0, 100, 0.0, 60.0), TALL, ("m57",))
    assert len(names) == 3
    assert "m57" in [name.row.mark for name in names]


def test_elements_find_room_before_faults_and_are_thinned_evenly() -> None:
    assert kept([2, 5, 5, 2, 5, 2], 3) == [0, 3, 5]
    assert kept([2] * 8, 4) == [0, 2, 4, 6]


@given(some.integers(-500, 1500), some.floats(1, 50), some.floats(0, 1))
def test_a_place_of_the_view_leads_back_to_its_tick(tick: int, zoom: float, part: float) -> None:
    scale = Scale(-500, 2000, 20.0, 700.0, zoom, part)
    assert scale.tick_at(scale.y_of(tick)) == tick


CIRCLE = ("back-hip-circle", "not-completed", "0.30")


@given(some.integers(1, 50))
def test_what_is_said_of_a_circle_stands_whole_on_the_strip_or_gives_way_to_a_plus(room: int) -> None:
    row = Row("element", " ".join(CIRCLE), 5, "m1", pieces=CIRCLE)
    shown = fitted(
        row, room, len, lambda words, left: words if len(words) <= left else words[: max(0, int(left))]
    )
    name, *said = shown.split(" ")
    kept = [one for one in said if one != "+"]
    assert CIRCLE[0].startswith(name)
    assert kept == list(CIRCLE[1 : 1 + len(kept)])
    assert ("+" in said) == (len(kept) < 2)
