"""The angle of a body line in the plane at right angles to the rail, and what its uncertainty is made of.

First-order propagation after JCGM 100 (GUM), section 5: derivatives by central differences, independent
sources added in squares.
"""

from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring import body
from reviewer.measuring.calibration import Calibration
from reviewer.measuring.camera import MEASURES, RADIAL, SIZE, on_plane

Array = NDArray[np.float64]

_SPOTS, _WIDTH, _ALONG = slice(SIZE, SIZE + 4), SIZE + 4, SIZE + 5
_STEPS = np.array([1e-5, 1e-5, 1e-5, 1e-5, *([0.5] * 8), 1e-5, *([0.2] * 4), 0.02, 5.0])
BODY, APPARATUS, TOLERANCES, LENS, NEARER = (
    "body clicks",
    "apparatus clicks",
    "apparatus measures",
    "lens",
    "side of the body",
)
"""The sources of a budget, as reports name them."""


@dataclass(frozen=True, slots=True)
class Line:
    """A body line as clicked.

    Attributes:
        joints: names of its two ends.
        spots: (2, 2) px.
        sds: standard uncertainty of each end along one axis, px.
        nearer: -1 for the side nearer to the camera, 1 for the farther one.
        stature: mm.
        stature_doubt: its standard uncertainty, mm.
        to_right: whether the body is cast to the right of the picture.
    """

    joints: tuple[str, str]
    spots: Array
    sds: tuple[float, float]
    nearer: float
    stature: float
    stature_doubt: float
    to_right: bool


@dataclass(frozen=True, slots=True)
class Measured:
    """Degrees of elevation, the parts of its standard uncertainty, and the line's length in mm."""

    degrees: float
    budget: tuple[tuple[str, float], ...]
    length: float

    @property
    def uncertainty(self) -> float:
        """Standard uncertainty in degrees."""
        return sqrt(sum(size * size for _, size in self.budget))


def elevation(line: Line, camera: Calibration) -> Measured:
    """The line's elevation on the side of the cast, in the true plane."""
    start = np.concatenate([camera.camera, line.spots.ravel(), [1.0, 0.0]])
    moved = np.diag(_STEPS)
    around = _degrees(np.concatenate([start + moved, start - moved, start[None]]), line, camera)
    value = float(around[-1])
    half = len(_STEPS)
    slopes = _wrapped(around[:half] - around[half : 2 * half]) / (2 * _STEPS)
    reach = _vectors(start[None], line, camera)[0]
    return Measured(value, tuple(_budget(slopes, line, camera)), float(np.hypot(reach[0], reach[2])))


def _budget(slopes: Array, line: Line, camera: Calibration) -> list[tuple[str, float]]:
    own = slopes[:SIZE]
    spots = slopes[_SPOTS].reshape(2, 2)
    clicks = sqrt(sum(float(np.sum(one**2)) * sd**2 for one, sd in zip(spots, line.sds, strict=True)))
    width = float(slopes[_WIDTH]) * sqrt(body.WIDTH_DOUBT**2 + (line.stature_doubt / line.stature) ** 2)
    beside = sqrt(width**2 + (float(slopes[_ALONG]) * body.ALONG_RAIL) ** 2)
    measures, lens = np.arange(SIZE)[MEASURES], np.array([RADIAL])
    rest = np.setdiff1d(np.arange(SIZE), np.concatenate([measures, lens]))
    return [
        (BODY, clicks),
        (APPARATUS, camera.excess * sqrt(max(float(own @ camera.clicked @ own), 0.0))),
        (TOLERANCES, _of_prior(own, camera, measures)),
        (LENS, _of_prior(own, camera, np.concatenate([lens, rest]))),
        (NEARER, beside),
    ]


def _of_prior(own: Array, camera: Calibration, which: NDArray[np.int_]) -> float:
    """What doubt about some numbers, as known beforehand, adds: their share of the solution's covariance."""
    carried = own @ camera.covariance[:, which] / camera.prior_sd[which]
    return float(np.linalg.norm(carried))


def _degrees(inputs: Array, line: Line, camera: Calibration) -> Array:
    vectors = _vectors(inputs, line, camera)
    across = vectors[:, 0] if line.to_right else -vectors[:, 0]
    return np.asarray(np.degrees(np.arctan2(vectors[:, 2], across)))


def _vectors(inputs: Array, line: Line, camera: Calibration) -> Array:
    """From the first joint to the second, (n, 3) mm, for inputs (n, 19): camera, spots, width, along."""
    halves = np.array([body.HALF_WIDTHS[joint] for joint in line.joints]) * line.stature * line.nearer
    y = inputs[:, _WIDTH, None] * halves + inputs[:, _ALONG, None]
    places = on_plane(inputs[:, :SIZE], inputs[:, _SPOTS].reshape(-1, 2, 2), y, camera.size)
    return np.asarray(places[:, 1] - places[:, 0])


def _wrapped(degrees: Array) -> Array:
    return np.asarray((degrees + 180.0) % 360.0 - 180.0)
