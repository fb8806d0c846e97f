"""Residuals as drawn: how far each click lies from where the camera has the point."""

from dataclasses import replace
from math import hypot

import numpy as np
import pytest

from reviewer.drawing import around, residuals
from reviewer.measuring import measure
from reviewer.terms.exact import Pixels
from reviewer.terms.readings import Clicks, Reading
from reviewer.terms.shapes import Label, Ring, Segment, Shape, Spot
from tests.measuring.cameras import Filmed, clicked, filmed

OFF = 40


def scene() -> Filmed:
    """A camera from which all eight points lie in the picture."""
    chance = np.random.default_rng(3)
    return next(
        one for one in iter(lambda: filmed(chance, yaw=20.0, roll=2.0), None) if len(one.points()) == 8
    )


def reading(sd: float = 1.0, spoilt: str = "") -> Reading:
    """Eight points clicked with a spread of ``sd`` px, one of them 40 px beside where it is."""
    clicks = Clicks.from_json(clicked(scene(), np.random.default_rng(5), sd))
    points = tuple(
        (n, replace(at, x=at.x + Pixels(OFF * 1000)) if n == spoilt else at) for n, at in clicks.apparatus
    )
    return measure(replace(clicks, apparatus=points))


def drawn(shapes: tuple[Shape, ...], style: str) -> list[Segment]:
    return [one for one in shapes if isinstance(one, Segment) and one.style == style]


def seen(name: str) -> tuple[float, float]:
    x, y = scene().points()[name]
    return float(x), float(y)


def numbers(spot: Spot) -> tuple[float, float]:
    return spot.x.thousandths / 1000, spot.y.thousandths / 1000


def test_each_arrow_is_ten_times_the_residual_and_says_so() -> None:
    found = reading()
    shapes = residuals(found)
    arrows = {one.start: one for one in drawn(shapes, "residual")}
    for name, (x, y) in found.calibration.residuals:
        spot = dict(found.clicks.apparatus)[name]
        assert arrows[spot].end == Spot(spot.x - x * 10, spot.y - y * 10)
    assert len(arrows) == 8
    assert [one.words for one in shapes if isinstance(one, Label)] == ["arrows drawn 10 times as long"]


def test_a_tenth_along_an_arrow_the_point_is_nearer_to_where_it_was_seen() -> None:
    """Against OpenCV's projectPoints: the eight clicks scatter by 3 px, the solved camera averages that."""
    found = reading(sd=3.0)
    of_clicks, of_camera = [], []
    for name, spot in found.clicks.apparatus:
        (arrow,) = [one for one in drawn(residuals(found), "residual") if one.start == spot]
        start, end = np.array(numbers(arrow.start)), np.array(numbers(arrow.end))
        of_clicks.append(hypot(*(start - seen(name))))
        of_camera.append(hypot(*(start + (end - start) / 10 - seen(name))))
    assert np.sqrt(np.mean(np.square(of_camera))) < np.sqrt(np.mean(np.square(of_clicks)))


@pytest.mark.parametrize(
    ("name", "words"),
    [("high-rail-near", "near end of the high rail"), ("low-foot-far", "far foot of the low bar")],
)
def test_a_point_that_was_left_out_is_crossed_named_and_led_to_its_place(name: str, words: str) -> None:
    found = reading(spoilt=name)
    shapes, spot = residuals(found), dict(found.clicks.apparatus)[name]
    assert name in found.calibration.check
    (said,) = [one.words for one in shapes if isinstance(one, Label) and "left out" in one.words]
    assert said.startswith(words)
    lines = drawn(shapes, "left-out")
    (lead,) = [one for one in lines if one.start == spot]
    assert len(lines) == 3
    assert hypot(*np.subtract(numbers(lead.end), seen(name))) < 10
    assert len(drawn(shapes, "residual")) == 7
    assert any(isinstance(one, Ring) and one.centre == spot and one.style == "left-out" for one in shapes)


def test_the_part_that_is_shown_holds_every_click_and_arrow_and_lies_in_the_picture() -> None:
    shapes = residuals(reading(sd=3.0))
    (left, top), (wide, high) = around(shapes, (1280, 720))
    assert left >= 0
    assert top >= 0
    assert left + wide <= 1280
    assert top + high <= 720
    for line in drawn(shapes, "residual"):
        for x, y in (numbers(line.start), numbers(line.end)):
            assert left < x < left + wide
            assert top < y < top + high


def test_without_a_camera_there_are_no_residuals() -> None:
    clicks = reading().clicks
    assert residuals(measure(replace(clicks, apparatus=clicks.apparatus[:2]))) == ()
