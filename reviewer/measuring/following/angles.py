"""The angles of a body line on many frames at once: each value exact, most of its doubt carried along.

What apparatus, lens and the side of the body add to an angle's uncertainty hardly changes while the line
turns by a few degrees, and takes many times as long to work out as the angle. So it is worked out anew where
the line has turned on, and taken in proportion between. The value and the clicks' share are worked out on
every frame (JCGM 100, section 5: derivatives by central differences).
"""

from collections.abc import Mapping, Sequence
from math import hypot, sqrt

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring.following.sight import Angle, Sight

Array = NDArray[np.float64]
Located = tuple[Mapping[str, Array], Mapping[str, float]]
"""Joints in px of the clicked frame's camera, and the standard uncertainty of each along one axis."""

_STEP = 0.2
"""Pixels by which an end is moved to see how far the line turns."""
_MOVES = _STEP * np.concatenate([np.zeros((1, 4)), np.eye(4), -np.eye(4)]).reshape(9, 2, 2)
_TURNED = 10.0
"""Degrees by which a line turns before the rest of its doubt is worked out anew."""


def angles(sight: Sight, located: Sequence[Located]) -> list[Angle]:
    """The line's elevation on each frame, in order of time."""
    if sight.camera is None or not located:
        return [sight.angle(spots, sds) for spots, sds in located]
    ends = np.array([[spots[name] for name in sight.ends] for spots, _ in located])
    around = sight.elevations(ends[:, None] + _MOVES)
    slopes = _wrapped(around[:, 1:5] - around[:, 5:]) / (2 * _STEP)
    doubts = np.array([[sds[name] for name in sight.ends for _ in "xy"] for _, sds in located])
    clicks = np.sqrt(np.sum((slopes * doubts) ** 2, axis=1))
    rest = _rest(sight, located, around[:, 0])
    return [
        Angle(float(value), hypot(own, other), float(own))
        for value, own, other in zip(around[:, 0], clicks, rest, strict=True)
    ]


def _rest(sight: Sight, located: Sequence[Located], degrees: Array) -> Array:
    """What all but the clicks add, (n,) degrees."""
    worked = [0]
    for at in range(1, len(degrees)):
        if at == len(degrees) - 1 or abs(_wrapped(degrees[at + 1] - degrees[worked[-1]])) > _TURNED:
            worked.append(at)
    found = [sight.angle(*located[at]) for at in worked]
    sizes = [sqrt(max(one.uncertainty**2 - one.of_clicks**2, 0.0)) for one in found]
    return np.interp(np.arange(len(degrees)), worked, sizes)


def _wrapped(degrees: Array) -> Array:
    return np.asarray((degrees + 180.0) % 360.0 - 180.0)
