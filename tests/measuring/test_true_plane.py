"""Angles in the true plane, against cameras that are known and libraries of others."""

from dataclasses import replace
from math import degrees, hypot, radians, sqrt
from typing import Any

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray
from uncertainties import ufloat, umath

from reviewer.measuring import measure
from reviewer.measuring.calibration import Calibration, calibrate
from reviewer.measuring.camera import on_plane
from reviewer.measuring.trueplane import BODY, Line, elevation, places
from reviewer.terms.readings import Clicks, Dimensions, Reading
from tests.measuring.cameras import Athlete, Bars, Camera, Filmed, clicked, filmed

EXACT = 0.001


def read(scene: Filmed, sd: float = EXACT, seed: int = 1, **more: Any) -> Reading:
    return measure(Clicks.from_json(clicked(scene, np.random.default_rng(seed), sd, stated_sd=1.5, **more)))


def value(reading: Reading) -> float:
    return reading.value.thousandths / 1000


def solved(scene: Filmed) -> Calibration:
    points = [(name, (float(x), float(y))) for name, (x, y) in sorted(scene.points().items())]
    return calibrate(points, scene.camera.size, Dimensions(), 1.5)


@pytest.mark.parametrize("yaw", [-35, -20, 0, 20, 35])
@pytest.mark.parametrize("line", ["shoulder-ankle", "hand-ankle", "shoulder-hip"])
def test_exact_clicks_give_the_true_angle_from_any_seat(yaw: float, line: str) -> None:
    for seed in range(3):
        scene = filmed(np.random.default_rng(seed), yaw=yaw)
        assert value(read(scene, line=line)) == pytest.approx(scene.angle(line), abs=0.25)


def test_the_picture_alone_is_degrees_off_where_the_true_plane_is_not() -> None:
    """A cast below horizontal reads 4.7 to 6.5 degrees lower at yaw 35 in a pinhole picture (worked out)."""
    scene = replace(_seen_from(35.0, 6500.0, roll=0.0), athlete=Athlete(-45.0, width=0.0))
    found = read(scene)
    assert -6.5 <= found.naive.thousandths / 1000 - scene.angle() <= -4.7
    flat = replace(scene.athlete, width=1.0)
    assert value(read(replace(scene, athlete=flat))) == pytest.approx(-45.0, abs=0.1)


TABLE = {
    10: (9.963, 9.851, 9.666, 9.408, 8.682, 7.107),
    20: (19.930, 19.720, 19.370, 18.882, 17.495, 14.433),
    30: (29.906, 29.622, 29.147, 28.481, 26.565, 22.208),
    45: (44.891, 44.561, 44.007, 43.219, 40.893, 35.264),
}
"""Degrees from the vertical as seen at yaw 5, 10, 15, 20, 30, 45: tan t' = tan t cos yaw, orthographic."""


@pytest.mark.parametrize(("true", "seen"), TABLE.items())
def test_a_far_camera_foreshortens_as_the_published_table_says(true: int, seen: tuple[float, ...]) -> None:
    """The project's table of foreshortening; a long lens from afar comes near the orthographic limit."""
    for yaw, expected in zip((5, 10, 15, 20, 30, 45), seen, strict=True):
        scene = replace(_seen_from(yaw, 2e6, roll=0.0), athlete=Athlete(90.0 - true, to=1.0, width=0.0))
        alone = read(scene, points=0).naive.thousandths / 1000
        assert 90.0 - alone == pytest.approx(expected, abs=0.01)


def test_a_rolled_camera_adds_its_roll_in_full_and_an_upright_takes_it_away() -> None:
    scene = replace(_seen_from(0.0, 2e6, roll=4.0), athlete=Athlete(-45.0, to=1.0, width=0.0))
    found = read(scene, points=0)
    assert found.naive.thousandths / 1000 == pytest.approx(-49.0, abs=0.01)


def test_the_farther_joints_give_the_same_angle_as_the_nearer_ones() -> None:
    scene = filmed(np.random.default_rng(5), yaw=35)
    document = clicked(scene, np.random.default_rng(1), EXACT, stated_sd=1.5)
    far = {name: [[f"{x:.3f}" for x in scene.joints(1.0)[name]]] for name in document["body"]}
    found = measure(Clicks.from_json(document | {"side": "far", "body": far}))
    assert value(found) == pytest.approx(scene.angle(), abs=0.25)
    wrong = measure(Clicks.from_json(document | {"body": far}))
    assert abs(value(wrong) - scene.angle()) > 2.0


def test_clicks_on_a_level_line_square_on_scatter_as_the_error_formula_says() -> None:
    """u = sqrt(2) s / L: 2 px on 200 px give 0.810 degrees; here s = 1.5 px on the line's own length."""
    scene = replace(_seen_from(0.0, 8000.0, roll=0.0), athlete=Athlete(0.0, width=0.0))
    share = dict(read(scene).budget)[f"{BODY}, 1.500 px stated"].thousandths / 1000
    assert share == pytest.approx(degrees(sqrt(2) * 1.5 / scene.length()), rel=0.05)


@pytest.mark.parametrize("seed", range(4))
def test_the_share_of_the_body_clicks_is_what_uncertainties_propagates(seed: int) -> None:
    """Reference: the package `uncertainties`, through OpenCV's homography of each joint's own plane."""
    scene = filmed(np.random.default_rng(seed))
    camera = solved(scene)
    line = _line(scene)
    ends = [
        _through(_homography(camera, y), ufloat(x, 1.5), ufloat(v, 1.5))
        for (x, v), y in zip(line.spots, _planes(line), strict=True)
    ]
    across = (ends[1][0] - ends[0][0]) * scene.athlete.to
    angle = umath.degrees(umath.atan2(ends[1][1] - ends[0][1], across))
    found = elevation(line, camera)
    assert found.degrees == pytest.approx(angle.nominal_value, abs=0.01)
    assert dict(found.budget)[BODY] == pytest.approx(angle.std_dev, rel=0.005)


def test_the_first_order_budget_agrees_with_monte_carlo() -> None:
    """Reference: propagation of distributions (JCGM 101), numpy's generator, the camera solved for anew."""
    scene = filmed(np.random.default_rng(11), yaw=30)
    trials = [value(read(scene, 1.5, seed)) for seed in range(90)]
    found = dict(read(scene).budget)
    share = hypot(found[f"{BODY}, 1.500 px stated"].thousandths, found["apparatus clicks"].thousandths) / 1000
    assert np.std(trials) == pytest.approx(share, rel=0.25)


def test_the_calibrations_share_agrees_with_monte_carlo() -> None:
    """As above, the clicks on the body exact: what is left is the camera's own doubt."""
    scene = filmed(np.random.default_rng(12), yaw=-35)
    trials = [value(read(scene, 1.5, seed, body_sd=EXACT)) for seed in range(90)]
    assert np.std(trials) == pytest.approx(
        dict(read(scene).budget)["apparatus clicks"].thousandths / 1000, rel=0.25
    )


def test_wrong_measures_shift_the_angle_by_about_their_share() -> None:
    """Monte Carlo over the rails' heights, the mat and the rails' length, all clicks exact."""
    chance, shifts = np.random.default_rng(3), []
    scene = filmed(np.random.default_rng(14), yaw=35)
    for _ in range(60):
        off = chance.triangular(-10, 0, 10, 2), chance.uniform(-10, 10), chance.normal(0, 5)
        bars = replace(
            scene.bars, high=2500 + off[0][0], low=1700 + off[0][1], mat=200 + off[1], length=2400 + off[2]
        )
        other = Filmed(scene.camera, bars, scene.athlete)
        shifts.append(value(read(other)) - other.angle())
    share = dict(read(scene).budget)["apparatus measures"].thousandths / 1000
    assert 0.5 * share < np.std(shifts) < 1.25 * share


def test_a_line_is_as_long_in_millimetres_as_the_body_is() -> None:
    scene = filmed(np.random.default_rng(6), yaw=25, elevation=-40)
    ends = places(_line(scene), solved(scene))
    way = ends["ankle"] - ends["shoulder"]
    assert np.hypot(way[0], way[2]) == pytest.approx(0.78 * 1400, rel=0.01)


def _seen_from(yaw: float, away: float, roll: float) -> Filmed:
    turned = radians(yaw)
    target = np.array([0.0, 0.0, 1500.0])
    eye = target + away * np.array([-np.sin(turned), -np.cos(turned), 0.0])
    return Filmed(Camera(eye, target, roll, 175 * away / 1092), Bars(), Athlete(-45.0))


def _line(scene: Filmed) -> Line:
    spots = np.array([scene.joints()[name] for name in ("shoulder", "ankle")])
    return Line(("shoulder", "ankle"), spots, (1.5, 1.5), -1.0, 1400.0, 0.0, scene.athlete.to > 0)


def _planes(line: Line) -> tuple[float, float]:
    """How far the joints lie from the middle: half a body nearer, as parts of the stature (from memory)."""
    return -0.097 * line.stature, -0.034 * line.stature


def _homography(camera: Calibration, y: float) -> NDArray[np.float64]:
    """From the picture to (x, z) in mm on a plane of the world, straightening what little the lens bends."""
    grid = np.array([(x, v) for x in (300.0, 640.0, 980.0) for v in (180.0, 360.0, 540.0)])
    places = on_plane(camera.camera, grid, np.full(len(grid), y), camera.size)
    return np.asarray(cv2.findHomography(grid, places[:, [0, 2]])[0])


def _through(matrix: NDArray[np.float64], x: Any, v: Any) -> tuple[Any, Any]:
    rows = [row[0] * x + row[1] * v + row[2] for row in matrix.tolist()]
    return rows[0] / rows[2], rows[1] / rows[2]
