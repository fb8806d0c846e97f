"""Pictures as the follower sees them: grey, cut to where the body can be, softened, at most so large.

cv2 is imported when first needed, and the environment it changes is put back: its variables would lead a
window toolkit in the same process to the wrong plugins.
"""

import os
from dataclasses import dataclass
from functools import cache
from types import ModuleType
from typing import Self

import numpy as np
from numpy.typing import NDArray

from reviewer.terms.pictures import Picture

Array = NDArray[np.float64]

LARGEST_LINE = 300.0
"""Pixels of body line beyond which pictures are followed at half, a third … of their size."""
_REACH = 1.2
"""How far around the clicks the body is looked for, in lengths of what was clicked."""
_SOFTNESS = 1.2
"""Standard deviation in px of the softening that takes noise and steps of pixels away."""
_FLOW_WINDOW, _FLOW_REACH, _CORNERS = 21, 140, 40
"""Pixels: the window of optical flow, how far around spots it looks at the pictures; corners kept."""
_TURNED_BACK = ("QT_QPA_PLATFORM_PLUGIN_PATH", "QT_QPA_FONTDIR", "LD_LIBRARY_PATH")


@cache
def cv2() -> ModuleType:
    """OpenCV, the environment left as it was."""
    before = {name: os.environ.get(name) for name in _TURNED_BACK}
    import cv2 as opencv

    for name, value in before.items():
        os.environ.pop(name, None)
        if value is not None:
            os.environ[name] = value
    return opencv


@dataclass(frozen=True, slots=True)
class Grey:
    """A softened grey picture."""

    whole: NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class Window:
    """The part of the picture that is followed in, and how much smaller it is made.

    Attributes:
        corner: x and y of its top-left pixel in the picture.
        size: width and height in pixels of the picture.
        shrunk: whole number of pixels of the picture to one of the window, each way.
        edges: width and height of the whole picture.
    """

    corner: tuple[int, int]
    size: tuple[int, int]
    shrunk: int
    edges: tuple[int, int]

    @classmethod
    def around(cls, spots: Array, length: float, picture: tuple[int, int]) -> Self:
        """The window for a body whose clicked joints (n, 2) lie ``length`` px apart at most."""
        low = np.clip(spots.min(axis=0) - _REACH * length, 0, None).astype(int)
        high = np.minimum(spots.max(axis=0) + _REACH * length + 1, picture).astype(int)
        wide, tall = (int(side) for side in high - low)
        return cls((int(low[0]), int(low[1])), (wide, tall), max(1, -int(-length // LARGEST_LINE)), picture)

    def grey(self, picture: Picture) -> Grey:
        """What of a picture lies in the window."""
        wide, tall = picture.size
        (x, y), (across, down) = self.corner, self.size
        rows = np.frombuffer(picture.bgra, np.uint8).reshape(tall, wide, 4)[y : y + down]
        if 2 * across > wide:  # whole rows are turned grey quicker than most of each
            grey = cv2().cvtColor(rows, cv2().COLOR_BGRA2GRAY)[:, x : x + across]
        else:
            grey = cv2().cvtColor(rows[:, x : x + across], cv2().COLOR_BGRA2GRAY)
        if self.shrunk > 1:
            smaller = (max(1, across // self.shrunk), max(1, down // self.shrunk))
            grey = grey[: smaller[1] * self.shrunk, : smaller[0] * self.shrunk]
            grey = cv2().resize(grey, smaller, interpolation=cv2().INTER_AREA)
        return Grey(np.asarray(cv2().GaussianBlur(grey, (5, 5), _SOFTNESS), dtype=np.uint8))

    def inward(self, spot: Array) -> Array:
        """From pixels of the picture to pixels of the window."""
        return np.asarray((spot - self.corner + 0.5) / self.shrunk - 0.5)

    def outward(self, spot: Array) -> Array:
        """From pixels of the window to pixels of the picture."""
        return np.asarray((spot + 0.5) * self.shrunk - 0.5 + self.corner)

    def holds(self, spot: Array) -> bool:
        """Whether a spot of the window lies in the picture, and in the window."""
        x, y = self.outward(spot)
        (left, top), (wide, tall) = self.corner, self.size
        return bool(left <= x <= left + wide - 1 and top <= y <= top + tall - 1)


def values(grey: Grey, spots: Array) -> Array:
    """Whole grey values (n,) at spots (n, 2), between pixels linearly; beyond the edge the edge goes on."""
    at = spots.astype(np.float32)[None]  # one row: OpenCV takes four times as long over a column
    found = cv2().remap(grey.whole, at, None, cv2().INTER_LINEAR, borderMode=cv2().BORDER_REPLICATE)
    return np.asarray(found[0], dtype=np.float64)


@dataclass(frozen=True, slots=True)
class Patch:
    """A part of a grey picture, in broken numbers.

    Attributes:
        corner: x and y of its top-left pixel in the grey picture, (2,).
        shades: of its pixels.
    """

    corner: Array
    shades: NDArray[np.float32]

    @classmethod
    def about(cls, grey: Grey, spot: Array, reach: float) -> Self:
        """What lies within ``reach`` px of a spot, each way."""
        tall, wide = grey.whole.shape
        x, y = float(spot[0]), float(spot[1])
        left, top = (min(max(int(at - reach) - 1, 0), end - 1) for at, end in ((x, wide), (y, tall)))
        right, under = max(int(x + reach) + 3, left + 1), max(int(y + reach) + 3, top + 1)
        shades = grey.whole[top:under, left:right].astype(np.float32)
        return cls(np.array([left, top], dtype=np.float64), shades)

    def values(self, spots: Array) -> Array:
        """Grey values (n,) at spots (n, 2) of the picture, as `values` gives them, but broken."""
        at = (spots - self.corner).astype(np.float32)[None]
        found = cv2().remap(self.shades, at, None, cv2().INTER_LINEAR, borderMode=cv2().BORDER_REPLICATE)
        return np.asarray(found[0], dtype=np.float64)


def median(sizes: Array) -> float:
    """One of the middle values; numpy's own checks take longer than the sorting."""
    middle = len(sizes) // 2
    return float(np.partition(sizes, middle)[middle])


def solved(square: Array, right: Array) -> Array:
    """The solution (n,) of a symmetric positive system, (n, n) and (n,): numpy takes four times as long."""
    _, found = cv2().solve(square, right, flags=cv2().DECOMP_CHOLESKY)
    return np.asarray(found[:, 0], dtype=np.float64)


def flow(before: Grey, after: Grey, spots: Array, guess: Array | None = None, levels: int = 3) -> Array:
    """Where optical flow (pyramids after Lucas and Kanade) takes spots (n, 2) from one picture to another.

    ``guess`` is where to begin, ``levels`` how often the pictures are halved to see far movements.
    """
    settled = (cv2().TERM_CRITERIA_EPS | cv2().TERM_CRITERIA_COUNT, 20, 0.03)
    around = np.vstack([spots, *([] if guess is None else [guess])])
    left, top = np.clip(around.min(axis=0) - _FLOW_REACH, 0, None).astype(int)
    right, under = (around.max(axis=0) + _FLOW_REACH).astype(int)
    at, begun = (
        None if one is None else (one - (left, top)).astype(np.float32).reshape(-1, 1, 2)
        for one in (spots, guess)
    )
    found, _, _ = cv2().calcOpticalFlowPyrLK(
        before.whole[top:under, left:right],
        after.whole[top:under, left:right],
        at,
        begun,
        winSize=(_FLOW_WINDOW, _FLOW_WINDOW),
        maxLevel=levels,
        criteria=settled,
        flags=0 if guess is None else cv2().OPTFLOW_USE_INITIAL_FLOW,
    )
    return np.asarray(np.array([left, top]) + found.reshape(-1, 2), dtype=np.float64)


def corners(grey: Grey) -> Array:
    """Corners (n, 2) that can be found again, well apart."""
    half = np.ascontiguousarray(grey.whole[::2, ::2])
    found = cv2().goodFeaturesToTrack(half, _CORNERS, 0.02, max(4.0, min(half.shape) / 16))
    return np.zeros((0, 2)) if found is None else 2 * np.asarray(found, dtype=np.float64).reshape(-1, 2)
