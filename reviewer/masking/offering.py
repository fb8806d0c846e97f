"""Where a kept detector takes something for an upright face: an offer to a person, who alone decides.

The detector and its model travel inside OpenCV (Viola and Jones, 2001, as its cascades carry it). It knows
upright faces seen from the front or the side, misses turned and inverted heads, and sees faces where there
are none; OpenCV 5 no longer has it.
"""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from reviewer.masking.seeing import cv2
from reviewer.terms.covers import Cover
from reviewer.terms.pictures import Picture

_FRONT, _SIDE = "haarcascade_frontalface_alt2.xml", "haarcascade_profileface.xml"
_STEP, _AGREEING, _LEAST = 1.05, 3, 20
"""From one size to the next, windows that agree, pixels of the smallest face."""
_HEAD = 1.45
"""A head's size to that of the square that the detector takes for its face; by eye."""


def can_offer() -> bool:
    """Whether the detector is there."""
    opencv = cv2()
    return hasattr(opencv, "CascadeClassifier") and hasattr(opencv, "data") and _model(_FRONT).is_file()


def offered(picture: Picture) -> tuple[Cover, ...]:
    """Covers over what looks like upright faces, the leftmost first; none where there is no detector."""
    if not can_offer():
        return ()
    width, height = picture.size
    pixels = np.frombuffer(picture.bgra, np.uint8).reshape(height, width, 4)
    grey = cv2().cvtColor(pixels, cv2().COLOR_BGRA2GRAY)
    found: list[Cover] = []
    for cover in _seen(grey):  # what the model of fronts finds goes before what those of sides find there
        if not any(_same(cover, other) for other in found):
            found.append(cover)
    return tuple(sorted(found, key=lambda one: one.centre.x.thousandths))


def _seen(grey: NDArray[np.uint8]) -> Iterator[Cover]:
    yield from _by(_FRONT, grey)
    yield from _by(_SIDE, grey)
    width = grey.shape[1]
    for cover in _by(_SIDE, np.ascontiguousarray(grey[:, ::-1])):  # its model knows faces that look one way
        x, y = cover.centre.x.thousandths // 1000, cover.centre.y.thousandths // 1000
        half = cover.across.thousandths // 1000
        yield Cover.of_whole(width - 1 - x, y, half, half)


def _by(model: str, grey: NDArray[np.uint8]) -> Iterator[Cover]:
    detector: Any = cv2().CascadeClassifier(str(_model(model)))
    for left, top, wide, high in detector.detectMultiScale(grey, _STEP, _AGREEING, minSize=(_LEAST, _LEAST)):
        half = int(_HEAD * max(wide, high) / 2)
        yield Cover.of_whole(int(left + wide // 2), int(top + high // 2), half, half)


def _model(name: str) -> Path:
    return Path(cv2().data.haarcascades) / name


def _same(one: Cover, other: Cover) -> bool:
    """Whether the middle of either lies in the other."""
    apart = max(
        abs(one.centre.x.thousandths - other.centre.x.thousandths),
        abs(one.centre.y.thousandths - other.centre.y.thousandths),
    )
    return apart < max(one.across.thousandths, other.across.thousandths)
