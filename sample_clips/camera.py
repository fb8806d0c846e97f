"""A pinhole camera in the convention of OpenCV: x right, y down, z forward.

(0, 0) is the centre of the top-left pixel.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Camera:
    """`K`, `R` (world to camera) and `t` of a picture `size` (width, height) as displayed; angles in degrees.

    yaw: how far the camera stands off square-on, positive towards +x; pitch: looking down; roll: picture
    turned clockwise when positive.
    """

    size: tuple[int, int]
    K: Array
    R: Array
    t: Array
    yaw: float
    pitch: float
    roll: float

    def project(self, points: Array) -> Array:
        """Pixels (..., 2) of world points (..., 3) in mm."""
        seen = np.asarray(points) @ self.R.T + self.t
        flat = seen @ self.K.T
        return np.asarray(flat[..., :2] / flat[..., 2:])

    def depth(self, points: Array) -> Array:
        """Distance (...) in mm along the optical axis."""
        return np.asarray(np.asarray(points) @ self.R[2] + self.t[2])


def _turn(axis: int, degrees: float) -> Array:
    c, s = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    i, j = [k for k in range(3) if k != axis]
    matrix = np.eye(3)
    matrix[i, i] = matrix[j, j] = c
    matrix[i, j], matrix[j, i] = -s, s
    return matrix


def aim(
    size: tuple[int, int],
    focal_px: float,
    target: tuple[float, float, float],
    distance: float,
    yaw: float = 0.0,
    pitch: float = 0.0,
    roll: float = 0.0,
) -> Camera:
    """A camera `distance` mm from `target`, which it shows in the middle of the picture."""
    square_on = np.array([[1.0, 0.0, 0.0], [0.0, 0.0, -1.0], [0.0, 1.0, 0.0]])
    rotation = _turn(2, roll) @ _turn(0, pitch) @ square_on @ _turn(2, -yaw)
    t = np.array([0.0, 0.0, distance]) - rotation @ np.array(target)
    cx, cy = (size[0] - 1) / 2, (size[1] - 1) / 2
    inside = np.array([[focal_px, 0.0, cx], [0.0, focal_px, cy], [0.0, 0.0, 1.0]])
    return Camera(size, inside, rotation, t, yaw, pitch, roll)
