"""From the stored picture to the shown one: quarter turns, mirroring and square pixels."""

import struct
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import cast

import numpy as np
from av.sidedata.sidedata import SideData, Type
from av.video.frame import VideoFrame
from numpy.typing import NDArray

Pixels = NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class Orientation:
    """Where the stored picture's axes point when shown, y down: (1, 0), (-1, 0), (0, 1) or (0, -1)."""

    x: tuple[int, int] = (1, 0)
    y: tuple[int, int] = (0, 1)

    @property
    def sideways(self) -> bool:
        """Whether width and height change places."""
        return self.x[0] == 0

    @property
    def rotation(self) -> int:
        """Degrees clockwise, after mirroring left to right where the picture is mirrored."""
        mirrored = self.x[0] * self.y[1] - self.x[1] * self.y[0] < 0
        along = (-self.x[0], -self.x[1]) if mirrored else self.x
        return {(1, 0): 0, (0, 1): 90, (-1, 0): 180, (0, -1): 270}[along]

    def shown(self, stored: Pixels) -> Pixels:
        """Rows × columns × channels, turned; a view, not a copy."""
        turned = stored.swapaxes(0, 1) if self.sideways else stored
        across, down = (self.y[0], self.x[1]) if self.sideways else (self.x[0], self.y[1])
        return turned[::down, ::across]


def orientation_of(frame: VideoFrame) -> Orientation:
    """The frame's display matrix to the nearest quarter turn (ISO/IEC 14496-12, 8.2.2: 3 × 3, 16.16)."""
    found = cast("Mapping[Type, SideData]", frame.side_data).get(Type.DISPLAYMATRIX)
    if found is None:
        return Orientation()
    a, b, _, c, d = struct.unpack("=5i", bytes(found)[:20])
    if abs(a) + abs(d) >= abs(b) + abs(c):
        return Orientation((_sign(a), 0), (0, _sign(d)))
    return Orientation((0, _sign(b)), (_sign(c), 0))


def _sign(number: int) -> int:
    return -1 if number < 0 else 1


def square_size(coded: tuple[int, int], pixel_aspect: Fraction) -> tuple[int, int]:
    """Width and height with square pixels: every row kept, the width stretched or narrowed."""
    width = Fraction(coded[0]) * pixel_aspect
    return max(1, int(width + Fraction(1, 2))), coded[1]
