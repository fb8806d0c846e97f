"""Angles and lengths in the plane at right angles to the rail, and what their uncertainty is made of.

First-order propagation after JCGM 100 (GUM), section 5: derivatives by central differences, independent
sources added in squares.
"""

from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring import body
from reviewer.measuring.calibration import Calibration
from reviewer.measuring.camera import MEASURES, ORIGIN, RADIAL, ROTATION, SIZE, on_floor, on_plane, rotation
from reviewer.measuring.errors import MeasuringError
from reviewer.measuring.quantities import Quantity, elevation_of
from reviewer.terms.bodylines import FAR
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem

Array = NDArray[np.float64]

_CAMERA_STEPS = (1e-5, 1e-5, 1e-5, 1e-5, *([0.5] * 8), 1e-5)
_SPOT_STEP, _WIDTH_STEP, _ALONG_STEP = 0.2, 0.02, 5.0
_FARTHEST = 8000.0
"""mm from the low rail's middle beyond which no mat lies (from memory)."""
_MAT_TOP = MEASURES.start + 3
BODY, APPARATUS, TOLERANCES, LENS, NEARER, BLUR = (
    "body clicks",
    "apparatus clicks",
    "apparatus measures",
    "lens",
    "side of the body",
    "motion blur",
)
"""The sources of a budget, as reports name them."""


@dataclass(frozen=True, slots=True)
class Line:
    """Joints as clicked, of which something is measured: the two ends of a line, or more.

    Attributes:
        joints: their names.
        spots: (n, 2) px.
        sds: standard uncertainty of each along one axis, px.
        nearer: -1 for the side nearer to the camera, 1 for the farther one.
        stature: mm.
        stature_doubt: its standard uncertainty, mm.
        to_right: whether the body is cast to the right of the picture.
        blur: px by which each joint is smeared.
    """

    joints: tuple[str, ...]
    spots: Array
    sds: tuple[float, ...]
    nearer: float
    stature: float
    stature_doubt: float
    to_right: bool
    blur: float = 0.0


@dataclass(frozen=True, slots=True)
class Measured:
    """A value in degrees or mm, and the parts of its standard uncertainty."""

    degrees: float
    budget: tuple[tuple[str, float], ...]

    @property
    def uncertainty(self) -> float:
        """Standard uncertainty in the unit of the value."""
        return sqrt(sum(size * size for _, size in self.budget))


def elevation(line: Line, camera: Calibration) -> Measured:
    """The line's elevation on the side of the cast, in the true plane."""
    return measured(line, elevation_of(line.joints[0], line.joints[1], line.to_right), camera)


def measured(line: Line, quantity: Quantity, camera: Calibration) -> Measured:
    """A quantity of the joints, in the true plane or on the mat."""
    start, steps = _inputs(line, camera), _steps(len(line.joints))
    moved, half = np.diag(steps), len(steps)
    inputs = np.concatenate([start + moved, start - moved, start[None]])
    found = _places(inputs, line, camera, quantity.on_mat)
    _refuse_off_the_mat(found[-1], inputs[-1:, :SIZE], quantity)
    around = quantity.of(dict(zip(line.joints, np.moveaxis(found, 1, 0), strict=True)), inputs[:, :SIZE])
    apart = around[:half] - around[half : 2 * half]
    slopes = (wrapped(apart) if quantity.turns else apart) / (2 * steps)
    return Measured(float(around[-1]), tuple(_budget(slopes, line, camera)))


def _refuse_off_the_mat(found: Array, camera: Array, quantity: Quantity) -> None:
    """A MeasuringError for what was clicked above the horizon, or farther off than a hall is long."""
    if not quantity.on_mat:
        return
    before = found @ rotation(camera[0, ROTATION]).T + camera[0, ORIGIN]
    if np.all(before[:, 2] > 0) and np.all(np.hypot(found[:, 0], found[:, 1]) <= _FARTHEST):
        return
    said = message("What was clicked does not lie on the mat.")
    raise MeasuringError(Problem("off-the-mat", "body", said, message("Click where the foot stands on it.")))


def places(line: Line, camera: Calibration) -> dict[str, Array]:
    """Where the joints are in the world, (3,) mm."""
    found = _places(_inputs(line, camera)[None], line, camera, on_mat=False)[0]
    return dict(zip(line.joints, found, strict=True))


def wrapped(degrees: Array) -> Array:
    """Degrees from -180 to 180."""
    return np.asarray((degrees + 180.0) % 360.0 - 180.0)


def _inputs(line: Line, camera: Calibration) -> Array:
    """Camera, spots, width and place along the rail: (13 + 2n + 2,)."""
    return np.concatenate([camera.camera, line.spots.ravel(), [1.0, 0.0]])


def _steps(joints: int) -> Array:
    return np.array([*_CAMERA_STEPS, *([_SPOT_STEP] * 2 * joints), _WIDTH_STEP, _ALONG_STEP])


def _places(inputs: Array, line: Line, camera: Calibration, on_mat: bool) -> Array:
    """The joints in the world, (m, n, 3) mm, for m rows of inputs."""
    spots = inputs[:, SIZE:-2].reshape(len(inputs), -1, 2)
    if on_mat:
        tops = np.broadcast_to(inputs[:, _MAT_TOP, None], spots.shape[:2])
        return on_floor(inputs[:, :SIZE], spots, tops, camera.size)
    halves = np.array([_half_width(joint) for joint in line.joints]) * line.stature * line.nearer
    y = inputs[:, -2, None] * halves + inputs[:, -1, None]
    return on_plane(inputs[:, :SIZE], spots, y, camera.size)


def _half_width(joint: str) -> float:
    """Of the stature; negative for a joint of the side that was not clicked first."""
    side = -1.0 if joint.endswith(FAR) else 1.0
    return side * body.HALF_WIDTHS.get(joint.removesuffix(FAR), 0.0)


def _budget(slopes: Array, line: Line, camera: Calibration) -> list[tuple[str, float]]:
    own, (width, along) = slopes[:SIZE], (float(one) for one in slopes[-2:])
    spots = slopes[SIZE:-2].reshape(-1, 2)
    clicks = sqrt(sum(float(np.sum(one**2)) * sd**2 for one, sd in zip(spots, line.sds, strict=True)))
    smeared = line.blur / sqrt(12) * float(np.linalg.norm(spots))
    wide = width * sqrt(body.WIDTH_DOUBT**2 + (line.stature_doubt / line.stature) ** 2)
    beside = sqrt(wide**2 + (along * body.ALONG_RAIL) ** 2)
    measures, lens = np.arange(SIZE)[MEASURES], np.array([RADIAL])
    rest = np.setdiff1d(np.arange(SIZE), np.concatenate([measures, lens]))
    return [
        (BODY, clicks),
        (APPARATUS, camera.excess * sqrt(max(float(own @ camera.clicked @ own), 0.0))),
        (TOLERANCES, _of_prior(own, camera, measures)),
        (LENS, _of_prior(own, camera, np.concatenate([lens, rest]))),
        (NEARER, beside),
        *([(BLUR, smeared)] if smeared else []),
    ]


def _of_prior(own: Array, camera: Calibration, which: NDArray[np.int_]) -> float:
    """What doubt about some numbers, as known beforehand, adds: their share of the solution's covariance."""
    carried = own @ camera.covariance[:, which] / camera.prior_sd[which]
    return float(np.linalg.norm(carried))
