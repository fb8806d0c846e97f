"""A camera as thirteen numbers, and what it makes of points: pinhole with one radial term.

Numbers: yaw, pitch, roll (radians), natural logarithm of the focal length (px), the world's origin in the
camera's frame (mm, 3), then the apparatus' measures (mm, 5), then the radial distortion k1. Yaw is positive
towards +x, pitch looking down, roll turns the picture clockwise. The camera's frame is that of OpenCV:
x right, y down, z forward.
"""

from dataclasses import dataclass
from typing import Self

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

ROTATION, FOCAL, ORIGIN, MEASURES, RADIAL = slice(0, 3), 3, slice(4, 7), slice(7, 12), 12
SIZE = 13
_INVERSIONS = 8


def rotation(angles: Array) -> Array:
    """World to camera, (..., 3, 3), for yaw, pitch and roll (..., 3) in radians."""
    (yaw, pitch, roll), (side, dip, lean) = (
        np.moveaxis(np.cos(angles), -1, 0),
        np.moveaxis(np.sin(angles), -1, 0),
    )
    right = np.stack([yaw, side, np.zeros_like(yaw)], axis=-1)
    down = np.stack([dip * side, -dip * yaw, -pitch], axis=-1)
    ahead = np.stack([-pitch * side, pitch * yaw, -dip], axis=-1)
    roll, lean = roll[..., None], lean[..., None]
    return np.stack([roll * right - lean * down, lean * right + roll * down, ahead], axis=-2)


def project(camera: Array, places: Array, size: tuple[int, int]) -> Array:
    """Picture points (..., n, 2) in pixels of world places (..., n, 3) in mm, for cameras (..., 13)."""
    seen = places @ np.swapaxes(rotation(camera[..., ROTATION]), -1, -2) + camera[..., None, ORIGIN]
    flat = seen[..., :2] / seen[..., 2:]
    bent = 1.0 + camera[..., RADIAL, None, None] * np.sum(flat**2, axis=-1, keepdims=True)
    focal = np.exp(camera[..., FOCAL, None, None])
    return np.asarray(focal * flat * bent + middle(size))


def middle(size: tuple[int, int]) -> Array:
    """The picture's middle in pixels, (0, 0) being the centre of the top-left one."""
    return np.array([(size[0] - 1) / 2, (size[1] - 1) / 2])


def on_plane(camera: Array, picture: Array, y: Array, size: tuple[int, int]) -> Array:
    """World places (..., n, 3) where rays through picture points (..., n, 2) meet planes at y (..., n)."""
    return _met(camera, picture, y, size, axis=1)


@dataclass(frozen=True, slots=True)
class Standing:
    """One camera whose turning is worked out once, to be asked for many points.

    Attributes:
        turn: world to camera, (3, 3).
        eye: where it stands, (3,) mm.
        focal, radial: of its lens, px and as such.
        middle: of the picture, (2,) px.
    """

    turn: Array
    eye: Array
    focal: float
    radial: Array
    middle: Array

    @classmethod
    def of(cls, camera: Array, size: tuple[int, int]) -> Self:
        """A camera of thirteen numbers."""
        turn = rotation(camera[ROTATION])
        eye = -turn.T @ camera[ORIGIN]
        return cls(turn, eye, float(np.exp(camera[FOCAL])), camera[RADIAL], middle(size))

    def on_plane(self, picture: Array, y: Array) -> Array:
        """As the function of this name, for picture points (..., n, 2)."""
        flat = _straightened((picture - self.middle) / self.focal, self.radial)
        rays = flat @ self.turn[:2] + self.turn[2]
        reach = (y - self.eye[1]) / rays[..., 1]
        return np.asarray(self.eye + reach[..., None] * rays)


def on_floor(camera: Array, picture: Array, z: Array, size: tuple[int, int]) -> Array:
    """World places (..., n, 3) where rays through picture points (..., n, 2) meet levels at z (..., n)."""
    return _met(camera, picture, z, size, axis=2)


def _met(camera: Array, picture: Array, at: Array, size: tuple[int, int], axis: int) -> Array:
    turn = rotation(camera[..., ROTATION])
    eye = -np.einsum("...ji,...j->...i", turn, camera[..., ORIGIN])
    flat = _straightened(
        (picture - middle(size)) / np.exp(camera[..., FOCAL, None, None]), camera[..., RADIAL]
    )
    rays = np.concatenate([flat, np.ones_like(flat[..., :1])], axis=-1) @ turn
    reach = (at - eye[..., None, axis]) / rays[..., axis]
    return np.asarray(eye[..., None, :] + reach[..., None] * rays)


def _straightened(bent: Array, radial: Array) -> Array:
    """Undo the radial term by fixed-point steps, as for any small distortion."""
    flat = bent
    for _ in range(_INVERSIONS):
        flat = bent / (1.0 + radial[..., None, None] * np.sum(flat**2, axis=-1, keepdims=True))
    return flat
