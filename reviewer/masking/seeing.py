"""Pictures as the follower of heads sees them: colours in a coarse net of cells.

cv2 is imported when first needed, and the environment it changes is put back: its variables would lead a
window toolkit in the same process to the wrong plugins.
"""

import os
from dataclasses import dataclass, replace
from functools import cache
from math import ceil
from types import ModuleType

import numpy as np
from numpy.typing import NDArray

from reviewer.terms.covers import Cover
from reviewer.terms.pictures import Picture

Cells = NDArray[np.float32]
"""One number for each cell of the net, (rows, columns)."""
Thin = NDArray[np.float16]
"""The same in half precision, as it is kept for every frame of a run."""

_TURNED_BACK = ("QT_QPA_PLATFORM_PLUGIN_PATH", "QT_QPA_FONTDIR", "LD_LIBRARY_PATH")
_CELLS, _MOST_CELLS = 6, 60_000
"""Cells to half of a head's size; and in a whole picture, since a net is kept for every frame of a run."""


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
class Oval:
    """A cover in pixels as numbers that are reckoned with: its middle and its half sizes."""

    x: float
    y: float
    across: float
    down: float

    @classmethod
    def of(cls, cover: Cover) -> "Oval":
        """A cover as numbers."""
        sizes = (cover.centre.x, cover.centre.y, cover.across, cover.down)
        return cls(*(size.thousandths / 1000 for size in sizes))

    @property
    def radius(self) -> float:
        """Half of its larger size: a head turns."""
        return max(self.across, self.down)

    def grown(self, times: float) -> "Oval":
        """The same so many times as large."""
        return replace(self, across=times * self.across, down=times * self.down)


@dataclass(frozen=True, slots=True)
class Net:
    """The net of square cells laid over a picture.

    Attributes:
        cell: pixels from one to the next.
        shape: rows and columns.
    """

    cell: int
    shape: tuple[int, int]

    @classmethod
    def over(cls, picture: tuple[int, int], radius: float) -> "Net":
        """The net for a head of half a size in a picture of width and height."""
        cell = max(1, round(radius / _CELLS), ceil((picture[0] * picture[1] / _MOST_CELLS) ** 0.5))
        return cls(cell, (max(1, picture[1] // cell), max(1, picture[0] // cell)))

    def empty(self) -> Cells:
        """Nothing in any cell."""
        return np.zeros(self.shape, np.float32)

    def cell_of(self, x: float, y: float) -> tuple[int, int]:
        """Row and column of the cell a spot lies in; beyond the edge, the one at the edge."""
        row, column = (round((at + 0.5) / self.cell - 0.5) for at in (y, x))
        return min(max(row, 0), self.shape[0] - 1), min(max(column, 0), self.shape[1] - 1)

    def spots(self, rows: NDArray[np.intp], columns: NDArray[np.intp]) -> NDArray[np.float32]:
        """Middles (n, 2), x and y in pixels, of cells."""
        cells = np.stack([columns, rows], axis=1)
        return np.asarray((cells + 0.5) * self.cell - 0.5, dtype=np.float32)


def coloured(picture: Picture) -> NDArray[np.uint8]:
    """Blue, green, red of a picture, (height, width, 3)."""
    wide, tall = picture.size
    pixels = np.frombuffer(picture.bgra, np.uint8).reshape(tall, wide, 4)
    return np.asarray(cv2().cvtColor(pixels, cv2().COLOR_BGRA2BGR))


def shrunk(picture: Picture, net: Net) -> NDArray[np.uint8]:
    """The mean colour of each cell, (rows, columns, 3)."""
    rows, columns = net.shape
    whole = coloured(picture)[: rows * net.cell, : columns * net.cell]
    return np.asarray(cv2().resize(whole, (columns, rows), interpolation=cv2().INTER_AREA))
