"""A lens that bends straight lines: radial distortion of one number, as OpenCV's camera defines it.

A spot at r focal lengths from the middle is seen at r (1 + k1 r²).
"""

import numpy as np
from brushes import cv2
from camera import Camera
from figure import Array
from solids import Pixels

ROUNDS = 8


def bent(spots: Array, camera: Camera, radial: float) -> Array:
    """Where spots (..., 2) of the straight picture lie in the bent one, px."""
    middle, focal = camera.K[:2, 2], camera.K[0, 0]
    flat = (np.asarray(spots) - middle) / focal
    return np.asarray(middle + focal * flat * (1 + radial * np.sum(flat**2, axis=-1, keepdims=True)))


def straightened(spots: Array, camera: Camera, radial: float) -> Array:
    """The way back, by going it again and again."""
    found = np.asarray(spots, dtype=float)
    for _ in range(ROUNDS):
        found = found + spots - bent(found, camera, radial)
    return found


def sources(camera: Camera, radial: float) -> tuple[Array, Array]:
    """Where in the straight picture each pixel of the bent one comes from: across and down, for `bend`."""
    wide, tall = camera.size
    spots = np.stack(np.meshgrid(np.arange(wide), np.arange(tall)), axis=-1).astype(float)
    across, down = np.moveaxis(straightened(spots, camera, radial), -1, 0)
    return across, down


def bend(picture: Pixels, found: tuple[Array, Array]) -> Pixels:
    """The picture as such a lens gives it, from its `sources`; at its rim the rim goes on."""
    across, down = (one.astype(np.float32) for one in found)
    shown = cv2.remap(picture, across, down, cv2.INTER_CUBIC, borderMode=cv2.BORDER_REPLICATE)
    return np.asarray(shown, dtype=np.uint8)
