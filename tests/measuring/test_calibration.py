"""The camera solved for: against OpenCV's projection, pose and homographies, and the apparatus norms."""

from collections.abc import Mapping
from dataclasses import replace
from math import exp

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray

from reviewer.measuring import MeasuringError, apparatus
from reviewer.measuring.calibration import Calibration, calibrate, exchanged
from reviewer.measuring.camera import MEASURES, ORIGIN, RADIAL, ROTATION, middle, on_plane, project, rotation
from reviewer.terms.exact import Millimetres
from reviewer.terms.readings import Dimensions
from tests.measuring.cameras import Doubts, Filmed, filmed

Array = NDArray[np.float64]
SIZE = (1280, 720)
LEVEL = Dimensions(spread=Millimetres(1_430_000), spread_kind="centre-level")


def camera(seed: int) -> Array:
    """Thirteen numbers of a camera somewhere before the bars."""
    chance = np.random.default_rng(seed)
    numbers = np.zeros(13)
    numbers[ROTATION] = chance.uniform((-0.6, -0.05, -0.09), (0.6, 0.2, 0.09))
    numbers[3] = np.log(chance.uniform(800, 2500))
    numbers[ORIGIN] = chance.uniform((-500, 800, 5500), (500, 1800, 9000))
    numbers[MEASURES] = (1430, 2500, 1700, 200, 2400)
    numbers[RADIAL] = chance.uniform(-0.05, 0.05)
    return numbers


def by_opencv(numbers: Array, places: Array) -> Array:
    turn, (x, y) = rotation(numbers[ROTATION]), middle(SIZE)
    focal = exp(numbers[3])
    lens = np.array([[focal, 0, x], [0, focal, y], [0, 0, 1]])
    bent = np.array([numbers[RADIAL], 0, 0, 0])
    return np.asarray(cv2.projectPoints(places, cv2.Rodrigues(turn)[0], numbers[ORIGIN], lens, bent)[0])[:, 0]


def spots(scene: Filmed, sd: float = 0.0, seed: int = 0) -> dict[str, tuple[float, float]]:
    chance = np.random.default_rng(seed)
    seen = {name: spot + sd * chance.normal(size=2) for name, spot in sorted(scene.points().items())}
    return {name: (float(x), float(y)) for name, (x, y) in seen.items()}


def solved(clicked: Mapping[str, tuple[float, float]], sd: float = 1.5) -> Calibration:
    return calibrate(tuple(clicked.items()), SIZE, LEVEL, sd)


@pytest.mark.parametrize("seed", range(5))
def test_a_camera_projects_as_opencv_does_distortion_included(seed: int) -> None:
    """Reference: cv2.projectPoints."""
    places = np.random.default_rng(seed).uniform((-500, -1200, 0), (2000, 1200, 2600), (20, 3))
    assert project(camera(seed), places, SIZE) == pytest.approx(by_opencv(camera(seed), places), abs=1e-6)


@pytest.mark.parametrize("seed", range(5))
def test_what_opencv_projects_is_found_again_on_its_plane(seed: int) -> None:
    places = np.random.default_rng(seed).uniform((-500, -1200, 900), (1500, 1200, 2300), (20, 3))
    again = on_plane(camera(seed), by_opencv(camera(seed), places), places[:, 1], SIZE)
    assert again == pytest.approx(places, abs=0.05)


def test_the_near_plane_maps_as_opencvs_homography_does() -> None:
    """Reference: cv2.findHomography of the four near points, the lens straight."""
    numbers = camera(3)
    numbers[RADIAL] = 0.0
    corners = np.array([(0, -1200, 200), (0, -1200, 1680), (1430, -1200, 200), (1430, -1200, 2480.0)])
    matrix = cv2.findHomography(by_opencv(numbers, corners), corners[:, [0, 2]])[0]
    picture = np.array([(500.0, 300.0), (640.0, 420.0), (700.0, 200.0)])
    mapped = cv2.perspectiveTransform(picture[:, None], matrix)[:, 0]
    assert on_plane(numbers, picture, np.full(3, -1200.0), SIZE)[:, [0, 2]] == pytest.approx(mapped, abs=0.01)


@pytest.mark.parametrize("seed", range(4))
def test_the_pose_is_the_one_opencv_solves_for_with_the_same_lens(seed: int) -> None:
    """Reference: cv2.solvePnP, given the measures and the lens that were found."""
    scene = filmed(np.random.default_rng(seed))
    clicked = spots(scene)
    found = solved(clicked, 0.1)
    points = apparatus.points_named(list(clicked), np.array(list(clicked.values())))
    places = apparatus.place(points, found.camera[MEASURES])
    (x, y), focal = middle(SIZE), exp(found.camera[3])
    lens = np.array([[focal, 0, x], [0, focal, y], [0, 0, 1]])
    bent = np.array([found.camera[RADIAL], 0, 0, 0])
    fits, turn, origin = cv2.solvePnP(places, np.array(list(clicked.values())), lens, bent)
    assert fits
    assert cv2.Rodrigues(turn)[0] == pytest.approx(rotation(found.camera[ROTATION]), abs=2e-3)
    assert origin[:, 0] == pytest.approx(found.camera[ORIGIN], abs=15)


@pytest.mark.parametrize("seed", range(4))
def test_exact_points_give_the_true_camera(seed: int) -> None:
    scene = filmed(np.random.default_rng(seed))
    found = solved(spots(scene), 0.1)
    assert exp(found.camera[3]) == pytest.approx(scene.camera.focal, rel=0.02)
    assert rotation(found.camera[ROTATION]) == pytest.approx(scene.camera.turn(), abs=5e-3)
    assert found.agrees
    assert found.rms < 0.1


@pytest.mark.parametrize("wider", [-100, 100])
def test_a_spread_that_was_stated_wrong_is_solved_for(wider: float) -> None:
    scene = filmed(np.random.default_rng(8), Doubts(spread=wider), yaw=-20)
    assert solved(spots(scene), 0.5).camera[MEASURES][0] == pytest.approx(1430 + wider, abs=8)


def test_the_stated_covariance_is_how_far_the_camera_scatters() -> None:
    """Monte Carlo (JCGM 101) against first order (JCGM 100): yaw and roll of cameras solved for anew."""
    scene = filmed(np.random.default_rng(21), yaw=15)
    trials = np.array([solved(spots(scene, 1.5, seed)).camera[[0, 2]] for seed in range(90)])
    stated = np.sqrt(np.diag(solved(spots(scene)).clicked)[[0, 2]])
    assert trials.std(axis=0) == pytest.approx(stated, rel=0.25)


def test_residuals_are_of_the_size_of_the_clicks() -> None:
    """Sixteen coordinates and seven numbers that are free leave 9 of 16: the rest is fitted away."""
    scene = filmed(np.random.default_rng(22))
    squares = [solved(spots(scene, 1.5, seed)).rms ** 2 for seed in range(40)]
    assert np.sqrt(np.mean(squares)) == pytest.approx(1.5 * np.sqrt(9 / 16), rel=0.2)


@pytest.mark.parametrize("wrong", ["low-rail-near", "high-foot-far", "high-rail-far"])
def test_one_bad_click_is_found_named_and_left_out(wrong: str) -> None:
    clicked = spots(filmed(np.random.default_rng(9)), 1.0)
    x, y = clicked[wrong]
    found = solved(clicked | {wrong: (x - 70, y + 70)}, 1.0)
    assert found.left_out == (wrong,)
    assert np.hypot(*found.residuals[wrong]) == pytest.approx(99, abs=8)


def test_two_points_that_were_exchanged_are_named() -> None:
    clicked = spots(filmed(np.random.default_rng(10)), 1.0)
    near, far = clicked["low-rail-near"], clicked["low-rail-far"]
    turned = clicked | {"low-rail-near": far, "low-rail-far": near}
    assert exchanged(tuple(turned.items()), SIZE, LEVEL, 1.0) == ("low-rail-far", "low-rail-near")


def test_the_usual_diagonal_is_the_published_level_distance() -> None:
    """Apparatus norms: 1.60 m inside to inside along the diagonal is 1.43 m level between the centres."""
    said = Dimensions(spread=Millimetres(1_600_000))
    assert apparatus.level_spread(said) == pytest.approx(1430, abs=5)
    assert apparatus.level_spread(said) == pytest.approx(np.sqrt(1640**2 - 800**2))


@pytest.mark.parametrize(
    ("spread", "kind", "level"),
    [(1400, "inner-level", 1440), (1430, "centre-level", 1430), (1640, "centre-diagonal", 1431.64)],
)
def test_a_spread_is_converted_however_it_was_measured(spread: int, kind: str, level: float) -> None:
    """Worked by hand: a rail is 40 mm thick, the rails 800 mm apart in height."""
    said = Dimensions(spread=Millimetres(spread * 1000), spread_kind=kind)
    assert apparatus.level_spread(said) == pytest.approx(level, abs=0.01)


def test_the_rails_undersides_are_where_the_norms_have_them() -> None:
    """Published norms: bottom of the rails at 246 and 166 cm, their axes 2 cm higher."""
    names = ["high-rail-near", "low-rail-near"]
    points = apparatus.points_named(names, np.array([[900.0, 100.0], [500.0, 200.0]]))
    heights = apparatus.place(points, apparatus.expected(Dimensions())[0])[:, 2]
    assert heights - 20 == pytest.approx([2460, 1660])


@pytest.mark.parametrize("spread", [0, 100, 800, 5000, 10_000])
def test_a_spread_no_bars_can_be_set_to_is_refused(spread: int) -> None:
    said = replace(LEVEL, spread=Millimetres(spread * 1000))
    with pytest.raises(MeasuringError, match="not one bars can be set to"):
        calibrate(tuple(spots(filmed(np.random.default_rng(1))).items()), SIZE, said, 1.0)
