"""The look of a limb beside a joint, and where it is found again: turned and moved, never bent.

A strip along the limb is laid onto another picture by least squares (Gauss and Newton, the slopes taken from
the strip), pixels that do not fit given less weight (Tukey's biweight), brightness and contrast free. Of what
stands behind the limb little lies in the strip.
"""

from dataclasses import dataclass
from functools import cached_property
from math import cos, hypot, sin, sqrt

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring.following.seeing import Grey, Patch, median, solved

Array = NDArray[np.float64]

_STEPS, _WEIGHED, _SETTLED, _FAR = 12, 3, 0.04, 24.0
"""Steps of a search at most, those at which it is told anew what fits, px that its last one moves, and px
after which the picture is cut anew."""
_GRID, _ENOUGH = 2.0, 90.0
"""Pixels between the places of a strip: softened pictures hold no more. On a long line they are farther
apart, so many to its length: more add time and no exactness."""
_SWEPT = tuple(step / 50 for step in range(-9, 10))
"""How far aside a limb is looked for, in lengths of the body line (and radians about its other end)."""
_TUKEY = 4.5
"""Standard deviations beyond which a pixel has no say (biweight)."""
_STILLEST = 1.0
"""Grey levels of noise that are always allowed for."""


@dataclass(frozen=True, slots=True)
class Strip:
    """How a strip lies along its limb, in lengths of the body line: towards the body, beyond the joint, and
    to each side.
    """

    inward: float
    beyond: float
    aside: float


TRUNK_END, LIMB_END = Strip(0.2, 0.08, 0.09), Strip(0.3, 0.14, 0.05)
"""Strips of shoulder and hip, and of the thinner limbs (tried out on rendered casts)."""
STRIPS = {"shoulder": TRUNK_END, "hip": TRUNK_END}


@dataclass(frozen=True)
class Laid:
    """A strip laid along a limb.

    Attributes:
        places: about the joint, (n, 2).
        along: the limb's direction, (2,).
        weights: of the places; they add up to 1.
        reach: px of the farthest place.
    """

    places: Array
    along: Array
    weights: Array
    reach: float


@dataclass(frozen=True)
class Look:
    """What a strip looks like in a picture.

    Attributes:
        strip: as it is laid.
        patch: what of the picture lies about it.
        spot, turn: where it is laid, px and radians.
        shades: of its places, (n,).
    """

    strip: Laid
    patch: Patch
    spot: Array
    turn: float
    shades: Array

    @property
    def places(self) -> Array:
        """Of the strip."""
        return self.strip.places

    @property
    def along(self) -> Array:
        """Direction of the limb."""
        return self.strip.along

    @property
    def weights(self) -> Array:
        """Of the strip's places."""
        return self.strip.weights

    @property
    def reach(self) -> float:
        """Pixels of the strip's farthest place."""
        return self.strip.reach

    @cached_property
    def slopes(self) -> Array:
        """Of the shades (5, n), for moving right, down and turning, for contrast and for brightness.

        Worked out when something is looked for by this look, which mostly it is not.
        """
        places, turned = self.places, _turned(self.turn)
        (across, down), at = turned.T, self.spot + places @ turned.T
        around = np.concatenate([at + across, at - across, at + down, at - down])
        sides = self.patch.values(around).reshape(4, -1)
        right, below = (sides[0] - sides[1]) / 2, (sides[2] - sides[3]) / 2
        turning = below * places[:, 0] - right * places[:, 1]
        contrast = self.shades - float(self.weights @ self.shades)
        return np.stack([right, below, turning, contrast, np.ones(len(contrast))])


@dataclass(frozen=True, slots=True)
class Found:
    """Where a look is found: spot in px of the window, turn in radians, and likeness (correlation, to 1)."""

    spot: Array
    turn: float
    likeness: float


def look(grey: Grey, spot: Array, towards: Array, length: float, strip: Strip) -> Look:
    """The look of the limb that leads from a joint at ``spot`` ``towards`` (2, of length 1) the body."""
    places, weights = _laid(towards, length, strip)
    reach = float(np.hypot(*places.T).max())
    return _taken(grey, spot, 0.0, Laid(places, towards, weights, reach))


def taken(like: Look, grey: Grey, spot: Array, turn: float) -> Look:
    """What a picture shows in the strip of a look, laid at a spot and turned."""
    return _taken(grey, spot, turn, like.strip)


def edge(found: Look) -> float:
    """How much a strip changes from side to side of its limb: root mean square, grey levels a pixel."""
    across = found.along[0] * found.slopes[1] - found.along[1] * found.slopes[0]
    return sqrt(float(found.weights @ across**2))


def swept(wanted: Look, grey: Grey, spot: Array, turn: float, length: float) -> tuple[Array, float]:
    """Where to begin the search when nothing else is known: aside, turned as about the body's other end."""
    aside = _turned(turn) @ np.array([-wanted.along[1], wanted.along[0]])
    begun = [(spot + aside * (share * length), turn - share) for share in _SWEPT]
    return max(begun, key=lambda one: likeness(wanted, grey, *one))


def _taken(grey: Grey, spot: Array, turn: float, strip: Laid) -> Look:
    patch = Patch.about(grey, spot, strip.reach + 1)
    shades = patch.values(spot + strip.places @ _turned(turn).T)
    return Look(strip, patch, spot, turn, shades)


def find(wanted: Look, grey: Grey, spot: Array, turn: float, steps: int = _STEPS) -> Found:
    """Where the look lies in a picture, searched for from a spot and a turn."""
    patch, begun = Patch.about(grey, spot, wanted.reach + _FAR), spot
    trusted: Array | None = None
    for step in range(steps):
        turned = _turned(turn)
        off = patch.values(spot + wanted.places @ turned.T) - wanted.shades
        if trusted is None or step < _WEIGHED:
            trusted = wanted.slopes * _trust(off, wanted.weights)
        move = _step(wanted.slopes, off, trusted)
        spot, turn = spot + turned @ move[:2], turn + float(move[2])
        if hypot(move[0], move[1]) < _SETTLED and abs(move[2]) < _SETTLED / 10:
            break
        if hypot(*(spot - begun)) > _FAR:
            patch, begun = Patch.about(grey, spot, wanted.reach + _FAR), spot
    return Found(spot, turn, alike(wanted, patch.values(spot + wanted.places @ _turned(turn).T)))


def likeness(wanted: Look, grey: Grey, spot: Array, turn: float) -> float:
    """Correlation, weighted, of a look with what a picture shows there."""
    patch = Patch.about(grey, spot, wanted.reach)
    return alike(wanted, patch.values(spot + wanted.places @ _turned(turn).T))


def alike(wanted: Look, shades: Array) -> float:
    """Correlation, weighted, of a look with shades (n,) of the same strip."""
    weights = wanted.weights
    ours, theirs = (one - float(weights @ one) for one in (wanted.shades, shades))
    weighed = weights * ours
    sizes = float(weighed @ ours) * float(weights @ theirs**2)
    return float(weighed @ theirs) / (sqrt(sizes) + 1e-9)


def _trust(off: Array, weights: Array) -> Array:
    """Weights of a strip's places, (n,): none for what does not fit, as where something stands before it."""
    beside = off - median(off)
    spread = 1.4826 * median(np.abs(beside)) + _STILLEST
    kept: Array = weights * np.maximum(1 - (beside / (_TUKEY * spread)) ** 2, 0) ** 2
    return kept


def _step(slopes: Array, off: Array, trusted: Array) -> Array:
    """How to move and turn so that the picture comes to look like the strip; ``trusted`` slopes weigh."""
    normal = trusted @ slopes.T
    normal.flat[:: len(normal) + 1] += 1e-6 * normal[2, 2] + 1e-9
    return -solved(normal, trusted @ off)[:3]


def _laid(towards: Array, length: float, strip: Strip) -> tuple[Array, Array]:
    """Places (n, 2) of a strip's pixels about its joint, and their weights: less at its rim."""
    reach = int(np.ceil(max(strip.inward, strip.beyond, strip.aside) * length)) + 1
    side = np.arange(-reach, reach + 1, max(_GRID, length / _ENOUGH))
    x, y = np.meshgrid(side, side)
    places = np.stack([x.ravel(), y.ravel()], axis=1)
    along, aside = places @ towards / length, places @ np.array([-towards[1], towards[0]]) / length
    within = (along <= strip.inward) & (along >= -strip.beyond) & (np.abs(aside) <= strip.aside)
    along, aside = along[within], aside[within]
    far = np.where(along > 0, along / (0.7 * strip.inward), along / (0.9 * strip.beyond))
    weights = np.exp(-0.5 * (aside / (0.75 * strip.aside)) ** 2 - 0.5 * far**2)
    return places[within], weights / weights.sum()


def _turned(angle: float) -> Array:
    return np.array([[cos(angle), -sin(angle)], [sin(angle), cos(angle)]])
