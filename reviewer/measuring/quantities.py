"""What may be measured of joints that lie in the world: elevations, angles between lines, bends, lengths.

Each quantity takes the joints' places by name, (m, 3) in mm each, for the m cameras (m, 13) they were seen
with: x across in the plane of motion to the right of the picture, y along the rails, z up.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring.camera import MEASURES
from reviewer.terms.bodylines import (
    BENDS,
    FAR,
    FOOT,
    FOOT_AFTER,
    FROM_RAIL,
    LEGS,
    LEVEL,
    STEP,
    UPRIGHT,
    line_joints,
)

Array = NDArray[np.float64]
Places = Mapping[str, Array]

_HIGH_TOP, _LOW_TOP = MEASURES.start + 1, MEASURES.start + 2
_SPREAD = MEASURES.start


@dataclass(frozen=True, slots=True)
class Quantity:
    """Something measured.

    Attributes:
        of: the value, (m,) degrees or mm, of places and cameras.
        turns: whether it is an angle, so that 360 degrees more are the same.
        unsigned: whether its sign says nothing and is dropped once it is known.
        on_mat: whether the points lie on the mat and not in the plane of motion.
    """

    of: Callable[[Places, Array], Array]
    turns: bool = True
    unsigned: bool = False
    on_mat: bool = False


def elevation_of(first: str, second: str, to_right: bool) -> Quantity:
    """From the first joint to the second: 0 level, positive up, on the side of the cast."""
    return Quantity(lambda places, _: _elevation(places, first, second, to_right))


def angle_of(line: str, against: str, to_right: bool) -> Quantity:
    """The angle of a line or the bend of a joint.

    Against the vertical: how far short of upright, on the side of the cast. Against another line: between the
    two, each taken from its first joint to its second.
    """
    if line in BENDS or line == LEGS:
        return _bend(*(BENDS[line] if line in BENDS else line_joints(line)), straight=line in BENDS)
    first, second = line.split("-")
    if against == LEVEL:
        return elevation_of(first, second, to_right)
    if against == UPRIGHT:
        return Quantity(lambda places, _: _turned(90.0 - _elevation(places, first, second, to_right)))
    other = against.split("-")

    def between(places: Places, _: Array) -> Array:
        mine = _elevation(places, first, second, to_right)
        return _turned(mine - _elevation(places, other[0], other[1], to_right))

    return Quantity(between, unsigned=True)


def length_of(line: str, high_rail: bool, across: float) -> Quantity:
    """A length in mm; ``across`` is 1 where the high rail stands to the right of the low one, else -1."""
    if line == STEP:
        return Quantity(lambda places, _: _on_the_mat(places), turns=False, unsigned=True, on_mat=True)
    if line == FROM_RAIL:

        def beside(places: Places, cameras: Array) -> Array:
            rail = across * cameras[:, _SPREAD] if high_rail else 0.0
            return np.asarray(places[FOOT][:, 0] - rail)

        return Quantity(beside, turns=False, unsigned=True, on_mat=True)
    joint, over = line.split("-over-")
    top = _HIGH_TOP if high_rail else _LOW_TOP

    def rise(places: Places, cameras: Array) -> Array:
        below = cameras[:, top] if over == "rail" else places[over][:, 2]
        return np.asarray(places[joint][:, 2] - below)

    return Quantity(rise, turns=False)


def of_both_sides(quantity: Quantity, joints: Sequence[str], share: float = 0.5) -> Quantity:
    """The same of places between both sides of some joints; ``share`` is the far side's, 0.5 the middle."""

    def of(places: Places, cameras: Array) -> Array:
        between = {name: (1 - share) * places[name] + share * places[f"{name}{FAR}"] for name in joints}
        return quantity.of({**places, **between}, cameras)

    return replace(quantity, of=of)


def _elevation(places: Places, first: str, second: str, to_right: bool) -> Array:
    way = places[second] - places[first]
    across = way[:, 0] if to_right else -way[:, 0]
    return np.asarray(np.degrees(np.arctan2(way[:, 2], across)))


def _bend(before: str, at: str, after: str, *, straight: bool) -> Quantity:
    """Between the way to a joint and the way on; or, not ``straight``, between the two ways from it."""

    def bent(places: Places, _: Array) -> Array:
        here = places[at]
        first = here - places[before] if straight else places[before] - here
        second = places[after] - here
        turned = first[:, 0] * second[:, 2] - first[:, 2] * second[:, 0]
        along = first[:, 0] * second[:, 0] + first[:, 2] * second[:, 2]
        return np.asarray(np.degrees(np.arctan2(turned, along)))

    return Quantity(bent, unsigned=True)


def _on_the_mat(places: Places) -> Array:
    way = places[FOOT_AFTER] - places[FOOT]
    return np.asarray(np.hypot(way[:, 0], way[:, 1]))


def _turned(degrees: Array) -> Array:
    return np.asarray((degrees + 180.0) % 360.0 - 180.0)
