"""Rays through spots of the picture, and what a turning of the camera does to them."""

from dataclasses import dataclass
from math import hypot

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Rays:
    """A lens that bends nothing.

    Attributes:
        focal: px.
        middle: of the picture, (2,) px.
    """

    focal: float
    middle: Array

    def sent(self, spots: Array) -> Array:
        """Rays (n, 3) of length 1 through spots (n, 2)."""
        flat = (spots - self.middle) / self.focal
        rays = np.column_stack([flat, np.ones(len(flat))])
        return np.asarray(rays / np.linalg.norm(rays, axis=1, keepdims=True))

    def seen(self, rays: Array) -> Array:
        """Spots (n, 2) of rays (n, 3)."""
        return np.asarray(rays[:, :2] / rays[:, 2:] * self.focal + self.middle)

    def moves(self, spots: Array) -> Array:
        """Pixels right and down by which spots (n, 2) move a radian of turn about each axis: (n, 2, 3)."""
        x, y = ((spots - self.middle) / self.focal).T
        right = np.stack([-x * y, 1 + x**2, -y], axis=1)
        down = np.stack([-1 - y**2, x * y, x], axis=1)
        return np.stack([right, down], axis=1) * self.focal


def rotation_by(angles: Array) -> Array:
    """The rotation (3, 3) about an axis (3,) by its length in radians (Rodrigues)."""
    size = max(hypot(*angles), 1e-12)
    x, y, z = angles / size
    about = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    return np.asarray(np.eye(3) + np.sin(size) * about + (1 - np.cos(size)) * about @ about)
