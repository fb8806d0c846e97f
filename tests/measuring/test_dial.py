"""The dial of a reading, held against places in the world that OpenCV projects into the picture."""

from dataclasses import replace
from math import atan2, cos, degrees, hypot, radians, sin

import numpy as np
import pytest

from reviewer.drawing import protractor
from reviewer.drawing.dialling import at
from reviewer.measuring import dial, measure
from reviewer.terms.exact import Degrees, Pixels
from reviewer.terms.readings import Clicks, Requirement
from reviewer.terms.shapes import Segment, Spot
from tests.measuring.cameras import ALONG_BODY, HALF_WIDTHS, Athlete, Bars, Camera, Filmed, clicked

LIMITS = (-45, -55)
REQUIREMENT = Requirement(Degrees.parse("-45"), Degrees.parse("10"))


def scene(yaw: float, elevation: float = -20.0, radial: float = 0.0, to: float = -1.0) -> Filmed:
    """A cast filmed from 7 m, the camera turned by ``yaw`` degrees and rolled by 3."""
    target, turned = np.array([300.0, 0.0, 1500.0]), radians(yaw)
    eye = target + 7000.0 * np.array([-sin(turned), -cos(turned), 0.05])
    return Filmed(Camera(eye, target, 3.0, 1120.0, radial), Bars(), Athlete(elevation, to))


def clicks_of(filmed: Filmed, **more: object) -> Clicks:
    """Clicks without an error, to thousandths of a pixel."""
    found = Clicks.from_json(clicked(filmed, np.random.default_rng(1), 0.0, stated_sd=0.1))
    return replace(found, **more)  # type: ignore[arg-type]


def true_spot(filmed: Filmed, elevation: float) -> tuple[float, float]:
    """Where the ankle of this athlete would be seen at another elevation of the body line, the shoulder kept.

    World geometry of the scene and OpenCV's projectPoints.
    """
    athlete = filmed.athlete
    shoulder = athlete.joints(filmed.bars.low)["shoulder"]
    length = ALONG_BODY["ankle"] * athlete.stature
    aside = (HALF_WIDTHS["shoulder"] - HALF_WIDTHS["ankle"]) * athlete.stature
    turned = radians(elevation)
    way = np.array([athlete.to * length * cos(turned), aside, length * sin(turned)])
    (spot,) = filmed.camera.sees((shoulder + way)[None])
    return float(spot[0]), float(spot[1])


def pixels(spot: Spot) -> tuple[float, float]:
    return spot.x.thousandths / 1000, spot.y.thousandths / 1000


def off_ray(ray: Segment, place: tuple[float, float]) -> float:
    """Pixels from a place to the line of a ray."""
    (ax, ay), (bx, by) = pixels(ray.start), pixels(ray.end)
    return abs((bx - ax) * (place[1] - ay) - (by - ay) * (place[0] - ax)) / hypot(bx - ax, by - ay)


def turned_from(ray: Segment, place: tuple[float, float]) -> float:
    """Degrees in the picture between a ray and the way from its beginning to a place."""
    (ax, ay), (bx, by) = pixels(ray.start), pixels(ray.end)
    apart = degrees(atan2(by - ay, bx - ax) - atan2(place[1] - ay, place[0] - ax))
    return abs((apart + 180) % 360 - 180)


def rays(clicks: Clicks, *, in_true_plane: bool) -> dict[float, Segment]:
    """The rays drawn at the limit and at the end of the tolerance, by elevation."""
    found = protractor(measure(clicks), REQUIREMENT, dial(clicks) if in_true_plane else None)
    drawn = {one.style: one for one in found if isinstance(one, Segment)}
    return dict(zip(LIMITS, (drawn["limit"], drawn["tolerance"]), strict=True))


@pytest.mark.parametrize("to", [-1.0, 1.0])
@pytest.mark.parametrize("yaw", [-30, 0, 30])
def test_a_limit_lies_where_the_body_would_be_seen_at_it(yaw: float, to: float) -> None:
    filmed = scene(yaw, to=to)
    for elevation, ray in rays(clicks_of(filmed), in_true_plane=True).items():
        assert off_ray(ray, true_spot(filmed, elevation)) < 0.5


def test_a_limit_lies_right_through_a_lens_that_bends() -> None:
    filmed = scene(30, radial=-0.03)
    for elevation, ray in rays(clicks_of(filmed), in_true_plane=True).items():
        assert off_ray(ray, true_spot(filmed, elevation)) < 0.5


@pytest.mark.parametrize(("yaw", "least"), [(30, 3.0), (-30, 8.0)])
def test_turning_in_the_picture_would_put_the_limit_degrees_away(yaw: float, least: float) -> None:
    """A body line at 12 degrees, levelled in the picture so that it reads true: the same truth as above."""
    filmed = scene(yaw, 12.0)
    drawn = rays(clicks_of(filmed), in_true_plane=False)
    assert min(turned_from(ray, true_spot(filmed, elevation)) for elevation, ray in drawn.items()) > least


@pytest.mark.parametrize("yaw", [-30, 0, 30])
@pytest.mark.parametrize("elevation", [-62.0, -20.0, 12.0, 95.0])
def test_the_body_line_meets_the_rim_at_its_value(yaw: float, elevation: float) -> None:
    clicks = clicks_of(scene(yaw, elevation))
    found, value = dial(clicks), measure(clicks).value
    assert found is not None
    assert value.thousandths / 1000 == pytest.approx(elevation, abs=0.01)
    assert hypot(*np.subtract(pixels(at(found, value)), pixels(dict(clicks.body)["ankle"][0]))) < 0.15


def test_without_a_camera_there_is_no_dial() -> None:
    clicks = clicks_of(scene(0))
    assert dial(replace(clicks, apparatus=())) is None
    assert dial(replace(clicks, apparatus=clicks.apparatus[:3])) is None


def test_points_that_cannot_be_the_bars_give_no_dial() -> None:
    clicks = clicks_of(scene(0))
    names, spots = zip(*clicks.apparatus, strict=True)
    assert dial(replace(clicks, apparatus=tuple(zip(names, spots[::-1], strict=True)))) is None


def test_a_line_to_the_lowest_part_has_the_dial_of_the_part_that_was_found() -> None:
    clicks = clicks_of(scene(30))
    body = dict(clicks.body)
    asked = replace(clicks, line="shoulder-lowest", body=(*clicks.body, ("hip", body["ankle"])))
    assert measure(asked).through.startswith("shoulder-")
    found = dial(asked)
    assert found is not None
    assert found.centre == body["shoulder"][0]


def test_a_bend_has_no_dial() -> None:
    clicks = clicks_of(scene(30))
    body = dict(clicks.body)
    spots = (("elbow", body["ankle"]), ("hand", (true_hand(),)), ("shoulder", body["shoulder"]))
    assert dial(replace(clicks, line="elbow-bend", body=spots)) is None


def true_hand() -> Spot:
    x, y = scene(30).joints()["hand"]
    return Spot(Pixels(round(1000 * float(x))), Pixels(round(1000 * float(y))))
