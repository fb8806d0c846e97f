"""What colours a head has that its surroundings do not have: that stays so however it turns."""

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from reviewer.masking.seeing import Cells, Net, Oval, coloured, cv2, shrunk
from reviewer.terms.pictures import Picture

_SHADES, _HUES = 8, 24
"""Steps of brightness, and of each of the two numbers of colour."""
_INNER, _OUTER, _AROUND = 0.7, 1.05, 3.0
"""In sizes of the cover: up to where it is surely the head, from where and up to where its surroundings."""
_NEAR = 0.8
"""What the near surroundings weigh against the whole picture: neck and arms are taken for a head first."""
_RARE = 1e-3
"""Share of pixels below which nothing is learnt of a colour."""
_MOST = 3.0
"""Logarithm of odds beyond which a colour says no more."""
_DISC, _RING_FROM, _RING_TO, _RING_WEIGHT = 0.65, 0.9, 1.6, 0.4
"""In half sizes of the cover: the disc looked at, and the ring around it that must look otherwise.
Tried out, with the shares above, on the sample clips under covers of 1.15 to 1.6 times the head's size."""


class Colours:
    """The odds that a colour is a head's, learnt from the pictures it was covered on.

    Attributes:
        usual: how a head looked on those pictures: the middle of their `likeness`, or 0.
    """

    def __init__(self, covered: Iterable[tuple[Picture, Oval]]) -> None:
        """``covered``: pictures, and where on each the head is."""
        kept = tuple(covered)
        inside, around, whole = (np.zeros(_SHADES * _HUES * _HUES) for _ in range(3))
        for picture, oval in kept:
            codes, far = _codes(coloured(picture)), _distance(picture.size, oval)
            inside += _counted(codes[far < _INNER])
            around += _counted(codes[(far > _OUTER) & (far < _AROUND)])
            whole += _counted(codes[far > _OUTER])
        other = _NEAR * _shares(around) + (1 - _NEAR) * _shares(whole)
        odds = np.log((_shares(inside) + _RARE) / (other + _RARE))
        self._odds = np.clip(odds, -_MOST, _MOST).astype(np.float32)
        self.usual = float(np.median([self._on_cover(*one) for one in kept])) if kept else 0.0

    def likeness(self, picture: Picture, net: Net, radius: float) -> Cells:
        """How much like a head of half a size each cell's surroundings look."""
        odds = self._odds[_codes(shrunk(picture, net))]
        kernel = _kernel(radius / net.cell)
        return np.asarray(cv2().filter2D(odds, cv2().CV_32F, kernel, borderType=cv2().BORDER_REPLICATE))

    def _on_cover(self, picture: Picture, oval: Oval) -> float:
        net = Net.over(picture.size, oval.radius)
        return float(self.likeness(picture, net, oval.radius)[net.cell_of(oval.x, oval.y)])


def _codes(pixels: NDArray[np.uint8]) -> NDArray[np.intp]:
    """One whole number for each pixel's colour."""
    shade, red, blue = (
        one.astype(np.intp) for one in cv2().split(cv2().cvtColor(pixels, cv2().COLOR_BGR2YCrCb))
    )
    return np.asarray(((shade * _SHADES >> 8) * _HUES + (red * _HUES >> 8)) * _HUES + (blue * _HUES >> 8))


def _distance(size: tuple[int, int], oval: Oval) -> NDArray[np.float64]:
    """How far each pixel is from a cover's middle, in sizes of the cover."""
    rows, columns = np.ogrid[: size[1], : size[0]]
    return np.asarray(np.hypot((columns - oval.x) / oval.across, (rows - oval.y) / oval.down))


def _counted(codes: NDArray[np.intp]) -> NDArray[np.float64]:
    return np.bincount(codes, minlength=_SHADES * _HUES * _HUES).astype(np.float64)


def _shares(counted: NDArray[np.float64]) -> NDArray[np.float64]:
    """Shares of all pixels, neighbouring colours lending each other some."""
    cube = counted.reshape(_SHADES, _HUES, _HUES) / max(float(counted.sum()), 1.0)
    for axis in range(3):
        edged = np.moveaxis(cube, axis, 0)
        before, after = np.concatenate([edged[:1], edged[:-1]]), np.concatenate([edged[1:], edged[-1:]])
        cube = np.moveaxis(0.5 * edged + 0.25 * before + 0.25 * after, 0, axis)
    return cube.ravel()


def _kernel(radius: float) -> NDArray[np.float32]:
    """The mean of a disc less some of the mean of a ring around it, radius in cells."""
    reach = max(1, int(np.ceil(_RING_TO * radius)))
    far = np.hypot(*np.ogrid[-reach : reach + 1, -reach : reach + 1]) / radius
    disc, ring = far <= _DISC, (far > _RING_FROM) & (far <= _RING_TO)
    return np.asarray(disc / disc.sum() - _RING_WEIGHT * ring / max(int(ring.sum()), 1), dtype=np.float32)
