"""Heads followed on drawn pictures whose truth is known: lost ones are hidden by covers that grow."""

from collections.abc import Callable

import cv2
import numpy as np
import pytest

from reviewer.masking import FARTHEST, follow
from reviewer.terms.covers import Cover, Followed, Placed
from reviewer.terms.pictures import Picture, RecordingFacts
from reviewer.terms.times import TimeBase

SIZE, RATE, RADIUS = (320, 240), 30, 14
HAIR, SHIRT, WALL = (40, 50, 90), (160, 60, 40), (190, 195, 190)
Spot = tuple[float, float]


def facts(frames: int) -> RecordingFacts:
    ticks = tuple(1000 * frame for frame in range(frames))
    return RecordingFacts("", TimeBase(1, 1000 * RATE), ticks, (0,), "index", SIZE, SIZE, 0, "1/1")


def film(
    frames: int, heads: Callable[[int], list[Spot]], hidden: range = range(0)
) -> Callable[[int], Picture]:
    """Pictures of heads over shirts before a wall; a plain board stands before everything in ``hidden``."""
    known = facts(frames)

    def picture(frame: int) -> Picture:
        noise = np.random.default_rng(frame).normal(0, 3, (SIZE[1], SIZE[0], 3))
        drawn = np.full((SIZE[1], SIZE[0], 3), WALL, np.uint8)
        for x, y in heads(frame):
            at = (round(x), round(y))
            cv2.rectangle(drawn, (at[0] - 12, at[1]), (at[0] + 12, at[1] + 50), SHIRT, -1)
            cv2.circle(drawn, at, RADIUS, HAIR, -1)
        if frame in hidden:
            drawn[:] = WALL
        shown = np.clip(drawn + noise, 0, 255).astype(np.uint8)
        whole = cv2.cvtColor(shown, cv2.COLOR_BGR2BGRA)
        return Picture(SIZE, whole.reshape(-1).data, frame, known.time(frame), "bt709", suspect=False)

    return picture


def walking(frame: int) -> Spot:
    return 40 + 4.0 * frame, 100 + 30 * np.sin(frame / 5)


def placed(head: str, *spots: tuple[int, Spot | None]) -> tuple[Placed, ...]:
    return tuple(
        Placed(head, frame, None if at is None else Cover.of_whole(round(at[0]), round(at[1]), 16, 16))
        for frame, at in spots
    )


def hides(cover: Cover | None, at: Spot, radius: float = RADIUS) -> bool:
    if cover is None:
        return False
    x, y = cover.centre.x.thousandths / 1000, cover.centre.y.thousandths / 1000
    return bool(np.hypot(x - at[0], y - at[1]) + radius <= cover.across.thousandths / 1000 + 0.5)


def unhidden(found: Followed, way: Callable[[int], Spot]) -> list[int]:
    return [frame for frame, cover in enumerate(found.covers) if not hides(cover, way(frame))]


def test_one_cover_in_the_middle_is_followed_both_ways() -> None:
    found = follow(placed("a", (20, walking(20))), facts(50), film(50, lambda frame: [walking(frame)]))
    assert unhidden(found, walking) == []
    assert found.lost == ()
    assert max(one.across.thousandths for one in found.covers if one) < 3000 * RADIUS


def test_where_nothing_of_it_is_seen_it_is_lost_and_its_cover_grows_to_all_it_can_have_reached() -> None:
    hidden = range(15, 25)
    look = film(50, lambda frame: [walking(frame)], hidden)
    found = follow(placed("a", (0, walking(0))), facts(50), look)
    assert found.lost == ((15, 24),)
    assert unhidden(found, walking) == []
    sizes = [one.across.thousandths for one in found.covers if one]
    assert sizes[15] < sizes[17] < sizes[19]
    assert sizes[24] < sizes[22] < sizes[20]


def test_after_the_last_sight_of_it_the_cover_grows_to_the_whole_picture() -> None:
    look = film(60, lambda frame: [walking(frame)], range(10, 60))
    found = follow(placed("a", (0, walking(0))), facts(60), look)
    assert found.lost == ((10, 59),)
    last = found.covers[59]
    assert all(hides(last, corner, 0) for corner in ((0, 0), (319, 0), (0, 239), (319, 239)))


def test_a_missing_picture_is_a_lost_one() -> None:
    look = film(30, lambda frame: [walking(frame)])
    found = follow(
        placed("a", (0, walking(0))), facts(30), lambda frame: None if frame == 12 else look(frame)
    )
    assert found.lost == ((12, 12),)
    assert unhidden(found, walking) == []


def test_out_of_sight_nothing_is_covered_until_it_comes_back() -> None:
    frames = film(40, lambda frame: [] if 10 <= frame < 30 else [walking(frame)])
    found = follow(placed("a", (0, walking(0)), (10, None), (30, walking(30))), facts(40), frames)
    assert [cover is None for cover in found.covers] == [10 <= frame < 30 for frame in range(40)]
    assert found.lost == ()


def test_before_the_word_that_it_went_nobody_knows_where_it_was() -> None:
    frames = film(20, lambda frame: [walking(frame)])
    found = follow(placed("a", (5, None), (12, walking(12))), facts(20), frames)
    assert found.lost == ((0, 4),)
    assert all(hides(found.covers[frame], (319, 239), 0) for frame in range(5))


def test_a_bystander_in_the_same_colours_keeps_a_cover_of_its_own() -> None:
    def standing(frame: int) -> Spot:
        return 250, 60 + 0.2 * frame

    frames = film(40, lambda frame: [walking(frame), standing(frame)])
    first = follow(placed("a", (0, walking(0))), facts(40), frames)
    second = follow(placed("b", (0, standing(0))), facts(40), frames)
    assert (unhidden(first, walking), unhidden(second, standing)) == ([], [])


def test_too_far_from_every_cover_it_is_not_followed_but_lost() -> None:
    frames = FARTHEST + 40
    still = (160.0, 120.0)
    kept = film(1, lambda _: [still])(0)
    found = follow(placed("a", (0, still)), facts(frames), lambda _: kept)
    assert found.lost == ((FARTHEST // 2 + 1, frames - 1),)


@pytest.mark.parametrize("frame", [0, 7, 29])
def test_what_was_placed_by_hand_is_covered_at_least_so_far(frame: int) -> None:
    found = follow(placed("a", (frame, walking(frame))), facts(30), film(30, lambda at: [walking(at)]))
    assert hides(found.covers[frame], walking(frame), 16)
