"""The uneven bars as a body of known size: where its points lie, and how far its measures are trusted.

World coordinates in mm: x across in the plane of motion, to the right of the picture; y along the rails,
away from the camera, 0 in their middle; z up from the floor.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring.errors import MeasuringError
from reviewer.terms.exact import Millimetres
from reviewer.terms.messages import message, spoken
from reviewer.terms.problems import Problem
from reviewer.terms.readings import SPREADS, Dimensions

Array = NDArray[np.float64]

RAIL_DIAMETER, RAIL_LENGTH = 40.0, 2400.0
"""mm; secondary page on written symbols, encyclopaedia page (FACTS: 4 cm, 240 cm)."""
HEIGHT_SD = 10.0 / sqrt(6)
"""mm; heights are set to within 1 cm (published apparatus norms) and aimed at their middle: a triangle
(JCGM 100, 4.3.9)."""
MAT_SD, LENGTH_SD = 10.0 / sqrt(3), 5.0
"""mm; the mat's top is within 1 cm, as a rectangle (JCGM 100, 4.3.7), the rail's length well within it (from
memory)."""
SPREAD_SD, UNKNOWN_SPREAD_SD = 50.0, 150.0
"""mm; a spread entered may be wrong, and one that was not is anywhere it can be set (from memory)."""
USUAL_SPREAD = 1430.0
"""mm level between the rails' centres: 1.60 m inside to inside along the diagonal (published norms)."""
LEAST_SPREAD, MOST_SPREAD = 900.0, 2000.0
"""mm level between centres; the norms allow 130 to 190 cm along the diagonal."""


@dataclass(frozen=True, slots=True)
class Points:
    """Some apparatus points, ready to be placed in the world: arrays of one entry a point.

    Attributes:
        names: such as ``low-rail-near``.
        high, rail, side: 1 where it is of the high rail; 1 where it is a rail's end; -1 near, 1 far.
        across: -1 or 1: on which side of the low rail the high one stands in the picture.
    """

    names: tuple[str, ...]
    high: Array
    rail: Array
    side: Array
    across: float


def points_named(names: Sequence[str], picture: Array) -> Points:
    """The points of these names; ``picture`` (n, 2) tells on which side of the low rail the high one is."""
    parts = [name.split("-") for name in names]
    high = np.array([rail == "high" for rail, _, _ in parts], dtype=float)
    rail = np.array([what == "rail" for _, what, _ in parts], dtype=float)
    side = np.array([-1.0 if side == "near" else 1.0 for _, _, side in parts])
    across = 1.0
    if 0 < high.sum() < len(high):
        across = 1.0 if picture[high == 1, 0].mean() >= picture[high == 0, 0].mean() else -1.0
    return Points(tuple(names), high, rail, side, across)


def place(points: Points, measures: Array) -> Array:
    """World places (..., n, 3) for measures (..., 5): spread, high top, low top, mat top, rail length."""
    spread, high, low, mat, length = (measures[..., k, None] for k in range(5))
    x = points.across * spread * points.high
    y = points.side * length / 2
    top = low + (high - low) * points.high - RAIL_DIAMETER / 2
    z = mat + (top - mat) * points.rail
    return np.stack(np.broadcast_arrays(x, y, z), axis=-1)


def expected(dimensions: Dimensions) -> tuple[Array, Array]:
    """The measures (5,) as stated or as the norms have them, and the standard deviation of each.

    A MeasuringError names a spread that no apparatus can have.
    """
    high, low, mat = (_mm(one) for one in (dimensions.high_top, dimensions.low_top, dimensions.mat_top))
    spread = USUAL_SPREAD if dimensions.spread is None else level_spread(dimensions)
    trusted = UNKNOWN_SPREAD_SD if dimensions.spread is None else SPREAD_SD
    values = np.array([spread, high, low, mat, RAIL_LENGTH])
    return values, np.array([trusted, HEIGHT_SD, HEIGHT_SD, MAT_SD, LENGTH_SD])


def level_spread(dimensions: Dimensions) -> float:
    """The level distance in mm between the rails' centres for a spread however stated."""
    assert dimensions.spread is not None
    between = _mm(dimensions.spread)
    if dimensions.spread_kind.startswith("inner"):
        between += RAIL_DIAMETER
    if dimensions.spread_kind.endswith("diagonal"):
        square = between**2 - _mm(dimensions.high_top - dimensions.low_top) ** 2
        between = sqrt(square) if square > 0 else 0.0
    if not LEAST_SPREAD <= between <= MOST_SPREAD:
        said = message(
            "A spread of {spread} mm, {kind}, is not one bars can be set to.",
            spread=dimensions.spread,
            kind=spoken(dimensions.spread_kind),
        )
        remedy = message(
            "Say how it was measured: one of {spreads}; or leave it out to have it solved for.",
            spreads=", ".join(SPREADS),
        )
        raise MeasuringError(Problem("impossible-spread", "apparatus", said, remedy))
    return between


def _mm(size: Millimetres) -> float:
    return size.thousandths / 1000
