"""What drawn films usually lack, as the scripts of the sample clips draw it, against physics and geometry."""

import sys
from dataclasses import dataclass, field
from math import pi, sqrt
from pathlib import Path

import cv2
import numpy as np
import pytest

CLIPS = Path(__file__).resolve().parents[2] / "sample_clips"
GRAVITY = 9810.0


@pytest.fixture(scope="module", autouse=True)
def _scripts_in_reach():
    """The scripts are run from their folder and are no package: lend them the path for this file only."""
    sys.path.insert(0, str(CLIPS))
    yield
    sys.path.remove(str(CLIPS))


def still(place, times):
    return np.tile(np.asarray(place, dtype=float), (times, 1))


def a_camera():
    from camera import aim

    return aim((640, 480), 700.0, (300.0, 0.0, 1500.0), 7500.0, yaw=-20.0, pitch=2.0, roll=2.0)


def test_a_lens_bends_the_picture_as_opencv_says():
    """Outside: cv2.projectPoints with one coefficient of radial distortion."""
    from lens import bent, straightened

    camera, radial = a_camera(), -0.05
    places = np.random.default_rng(3).uniform([-900, -1200, 200], [1700, 1200, 2600], (50, 3))
    turn, _ = cv2.Rodrigues(camera.R)
    seen, _ = cv2.projectPoints(places, turn, camera.t, camera.K, np.array([radial, 0.0, 0.0, 0.0]))
    straight = camera.project(places)
    assert np.abs(bent(straight, camera, radial) - seen[:, 0]).max() < 1e-6
    assert np.abs(straightened(seen[:, 0], camera, radial) - straight).max() < 1e-3


def test_a_bent_picture_shows_a_spot_where_the_lens_puts_it():
    from lens import bend, bent, sources

    camera, radial = a_camera(), -0.05
    spot = np.array([60.0, 50.0])
    straight = np.zeros((480, 640, 3), np.uint8)
    cv2.circle(straight, (60, 50), 6, (255, 255, 255), -1)
    shown = bend(straight, sources(camera, radial))[..., 0].astype(float)
    y, x = np.mgrid[0:480, 0:640]
    middle = np.array([(x * shown).sum(), (y * shown).sum()]) / shown.sum()
    assert np.hypot(*(bent(spot, camera, radial) - spot)) > 2
    assert middle == pytest.approx(bent(spot, camera, radial), abs=0.1)


def test_what_hangs_swings_as_a_pendulum_does():
    """Outside: a small swing, damped in proportion to its speed, has the angular frequency
    sqrt(g / length - (damping / 2)²) (from memory)."""
    from loose import DRAG, HANGING, STEP, hung

    joint, _, length = HANGING["plait"]
    steps = round(4.0 / STEP)
    moved = np.where(np.arange(steps) < 12, np.arange(steps) * 2.0, 24.0)
    joints = {name: still((0, 0, 1500), steps) for name, _, _ in HANGING.values()}
    joints[joint] = joints[joint] + moved[:, None] * [1.0, 0.0, 0.0]
    found = hung(joints)
    off_plumb = (found["plait-end"] - found["plait-top"])[60:, 0]
    crossed = np.flatnonzero(np.diff(np.sign(off_plumb)))[:3]
    period = 2 * pi / sqrt(GRAVITY / length - (DRAG / STEP / 2) ** 2)
    assert 2 * np.diff(crossed).mean() * STEP == pytest.approx(period, rel=0.05)
    assert np.linalg.norm(found["plait-end"] - found["plait-top"], axis=1) == pytest.approx(length)


def test_a_rail_gives_way_by_her_weight_and_springs_with_her():
    """Outside: Newton's second law; thrown up at half of g she presses with one and a half weights."""
    from bending import STEP, sagged

    names = [f"{joint}-{side}" for joint in ("shoulder", "hip", "knee") for side in ("near", "far")]
    times = np.arange(0, 1, STEP)
    rest = sagged({name: still((0, 0, 1500), len(times)) for name in names}, 50.0)
    assert rest == pytest.approx(still((0, 0, -50.0), len(times)))
    rising = still((0, 0, 1500), len(times)) + (GRAVITY / 4 * times**2)[:, None] * [0.0, 0.0, 1.0]
    pressed = sagged(dict.fromkeys(names, rising), 50.0)
    assert pressed[len(times) // 2] == pytest.approx([0.0, 0.0, -75.0], abs=0.1)


def test_a_rail_bends_as_a_beam_held_at_its_ends():
    """Outside: loaded in its middle, at a quarter of its span a beam gives way 11/16 as far (from memory)."""
    from gym import apparatus
    from gym_measures import LOW, RAIL_LENGTH

    ends = np.concatenate([s.centres for s in apparatus(np.array([0.0, 0.0, -64.0])) if s.gloss == 0.8])
    low = ends[ends[:, 0] == LOW[0]]
    fallen = {round(float(y)): LOW[1] - float(z) for _, y, z in low}
    assert fallen[round(RAIL_LENGTH / 2)] == pytest.approx(0.0)
    assert fallen[0] == pytest.approx(64.0, abs=1.5)
    there = min(fallen, key=lambda y: abs(y + RAIL_LENGTH / 4))
    share = 1 - abs(there) / (RAIL_LENGTH / 2)
    assert fallen[there] == pytest.approx(64 * (1.5 * share - 0.5 * share**3), abs=0.5)
    assert (ends[ends[:, 0] != LOW[0]][:, 2] == ends[ends[:, 0] != LOW[0]][0, 2]).all()


@dataclass
class Falling:
    """A film, as far as rows are concerned, of a spot that crosses the picture at a constant speed."""

    camera: object
    step: float
    frames: int
    empty: np.ndarray = field(default_factory=lambda: np.zeros((480, 640, 3), np.uint8))

    def joints(self):
        places = np.zeros((self.frames, 3))
        places[:, 0], places[:, 2] = self.step * np.arange(self.frames), 1900.0
        return {"spot": places}

    def picture(self, index):
        return np.full((480, 640, 3), 10 * index, np.uint8)


def test_rows_read_later_saw_later():
    """The first row is read half a readout before the frame's moment, the last half a readout after it."""
    from rolling import STEP, RowByRow, pictures_about

    readout, each = 0.02, 2 * pictures_about(0.02) + 1
    read = RowByRow(Falling(a_camera(), 0.0, each), readout)
    rows = read.picture(0)[:, 0, 0].astype(float) / 10
    reach = readout / STEP / 2
    assert rows[[0, 240, 479]] == pytest.approx([each // 2 - reach, each // 2, each // 2 + reach], abs=0.15)
    assert (np.diff(rows) >= 0).all()


def test_a_joint_is_seen_at_the_moment_its_row_is_read():
    """Outside: plain kinematics, place = speed x lateness of the row."""
    from rolling import STEP, RowByRow, pictures_about

    readout, each = 0.02, 2 * pictures_about(0.02) + 1
    camera, step = a_camera(), 8.0
    ((x, y),) = RowByRow(Falling(camera, step, each), readout).spots("spot")
    late = (y / 479 - 0.5) * readout / STEP
    there = camera.project(np.array([step * (each // 2 + late), 0.0, 1900.0]))
    assert [x, y] == pytest.approx(there, abs=0.05)
    assert abs(late) > 0.3


def test_times_that_come_unevenly_are_the_frames_own():
    from fractions import Fraction

    from truth import Timing

    timing = Timing(Fraction(1, 1000), 33, (0, 33, 83, 100, 150), begun=2.0)
    assert [timing.at(frame) for frame in range(5)] == [0, 33, 83, 100, 150]
    assert [timing.frame(seconds) for seconds in (1.0, 2.03, 2.09, 2.14, 9.0)] == [0, 1, 2, 4, 4]
