"""Bars clicked once and carried along with a camera that a hand turns."""

from collections.abc import Iterator
from dataclasses import replace
from math import cos, radians, sin

import numpy as np
import pytest
from numpy.typing import NDArray

from reviewer.measuring import carried
from reviewer.terms.exact import Pixels
from reviewer.terms.pictures import Picture
from reviewer.terms.readings import Clicks
from reviewer.terms.shapes import Spot
from tests.measuring.drawn_casts import SIZE, DrawnCast

FOCAL = 1.3 * max(SIZE)
BARS = {"low-rail-near": (150.0, 120.0), "low-foot-near": (160.0, 400.0), "high-rail-far": (520.0, 90.0)}
Array = NDArray[np.float64]


def turned(degrees_a_frame: float) -> DrawnCast:
    """A film whose camera pans and rolls evenly from frame to frame, in its place."""
    inside = np.array([[FOCAL, 0, (SIZE[0] - 1) / 2], [0, FOCAL, (SIZE[1] - 1) / 2], [0, 0, 1.0]])

    def moved(frame: int) -> Array:
        pan, roll = radians(degrees_a_frame * frame), radians(0.3 * degrees_a_frame * frame)
        about = np.array([[cos(pan), 0, sin(pan)], [0, 1, 0], [-sin(pan), 0, cos(pan)]])
        lean = np.array([[cos(roll), -sin(roll), 0], [sin(roll), cos(roll), 0], [0, 0, 1]])
        return np.asarray(inside @ lean @ about @ np.linalg.inv(inside))

    return DrawnCast(lambda frame: -60 + frame, moved=moved)


def clicks(film: DrawnCast, frame: int) -> Clicks:
    """The rod's ends and three points of the bars, as the camera shows them on a frame."""
    spots = tuple((name, seen(film, place, frame)) for name, place in sorted(BARS.items()))
    return replace(film.clicks(frame), apparatus=spots)


def seen(film: DrawnCast, place: tuple[float, float], frame: int) -> Spot:
    x, y, depth = film.moved(frame) @ np.array([*place, 1.0])
    return Spot(*(Pixels(round(1000 * at / depth)) for at in (x, y)))


def between(film: DrawnCast, first: int, last: int) -> Iterator[Picture]:
    for frame in range(first, last + 1):
        shown = film.picture(frame)
        assert shown is not None
        yield shown


def apart(one: Spot, other: Spot) -> float:
    return float(np.hypot((one.x - other.x).thousandths, (one.y - other.y).thousandths)) / 1000


@pytest.mark.parametrize(("here", "there"), [(2, 14), (14, 2)], ids=["onwards", "backwards"])
def test_bars_lie_where_the_turned_camera_shows_them(here: int, there: int) -> None:
    film = turned(0.3)
    found = carried(clicks(film, here), between(film, *sorted((here, there))), onwards=there > here)
    assert found.lost_on is None
    assert found.turned == pytest.approx(12 * 0.3 * np.sqrt(1 + 0.3**2), abs=0.15)
    assert not found.stands
    for name, spot in found.points:
        assert apart(spot, seen(film, BARS[name], there)) < 1.0


def test_a_camera_on_a_stand_is_said_to_stand_and_moves_nothing() -> None:
    film = DrawnCast(lambda frame: -60 + frame)
    found = carried(clicks(film, 3), between(film, 3, 12), onwards=True)
    assert found.stands
    assert found.points == clicks(film, 3).apparatus


def test_a_camera_that_is_lost_carries_nothing_and_names_the_frame() -> None:
    film = replace(turned(0.3), hidden=frozenset({9}))
    blank = Picture(SIZE, bytes(4 * SIZE[0] * SIZE[1]), 9, film.facts.time(9), "bt709", False)
    pictures = (blank if one.frame == 9 else one for one in between(turned(0.3), 2, 14))
    found = carried(clicks(film, 2), pictures, onwards=True)
    assert found.lost_on == 9
    assert found.points == ()
