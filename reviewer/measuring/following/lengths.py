"""Lengths between joints in the plane of motion, as they were on the clicked frame and as they come out."""

from collections.abc import Iterator, Mapping
from math import degrees

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring.following import body
from reviewer.measuring.following.sight import Sight

Array = NDArray[np.float64]

Places = Mapping[str, Array]


class Lengths:
    """What the clicked frame says of lengths.

    ``stiff`` are those that never change, ``line`` the line's own.
    """

    def __init__(self, sight: Sight, spots: Mapping[str, Array]) -> None:
        self._ends = tuple(sight.clicks.line.split("-"))
        places = sight.places(spots)
        self._stiff = {pair: _between(places, *pair) for pair in _stiff(places)}
        self._line = _between(places, *self._ends)
        self._last = 1.0
        shown = float(np.hypot(*(spots[self._ends[1]] - spots[self._ends[0]])))
        self._doubt = 3 * sight.click_sd * self._line / shown
        self._exact = sight.camera is not None

    def wrong(self, places: Places, seconds: float) -> list[tuple[str, str]]:
        """Pairs of joints whose distance cannot be; the line's own ends where it is the line's."""
        pairs = [pair for pair in _stiff(places) if self._cannot_be(places, pair)]
        share = _between(places, *self._ends) / self._line
        changed = abs(share - self._last) > 0.02 + body.LINE_CHANGE * seconds
        if self._exact and (changed or not body.SHORTEST_LINE <= share <= body.LONGEST_LINE):
            pairs.append((self._ends[0], self._ends[1]))
        self._last = share
        return pairs

    def _cannot_be(self, places: Places, pair: tuple[str, str]) -> bool:
        if not self._exact or pair not in self._stiff:
            return False
        was = self._stiff[pair]
        return abs(_between(places, *pair) - was) > body.STIFF * was + self._doubt


def flexion(places: Places) -> float | None:
    """Degrees by which the hips are bent; None where shoulder, hip and knee are not all there."""
    if not {"shoulder", "hip", "knee"} <= set(places):
        return None
    trunk, thigh = places["hip"] - places["shoulder"], places["knee"] - places["hip"]
    cosine = float(trunk @ thigh) / max(float(np.hypot(*trunk) * np.hypot(*thigh)), 1e-9)
    return degrees(float(np.arccos(np.clip(cosine, -1, 1))))


def _stiff(places: Places) -> Iterator[tuple[str, str]]:
    return (pair for pair in body.SEGMENTS if pair[0] in places and pair[1] in places)


def _between(places: Places, first: str, second: str) -> float:
    return float(np.hypot(*(places[second] - places[first])))
