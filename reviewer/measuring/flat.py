"""Angles in the picture, its roll corrected from an upright, where no camera is known.

First-order propagation after JCGM 100 (GUM), section 5.1: independent sources add in squares.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, radians, sqrt
from statistics import fmean

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring.clicking import Joint, apparatus_sd, pixels
from reviewer.measuring.errors import MeasuringError
from reviewer.measuring.quantities import Quantity
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem
from reviewer.terms.readings import Clicks
from reviewer.terms.shapes import Spot

Array = NDArray[np.float64]

ASSUMED_ROLL = 5.0
"""Degrees either way that a camera may be rolled where no upright was clicked (from memory)."""
ASSUMED_YAW = 35.0
"""Degrees either way that a camera may be turned from side-on where it was not solved for (from memory)."""
BLUR = "motion blur"
"""A smear of so many px is where the joint may lie, all places alike: a rectangle (JCGM 100, 4.3.7)."""
SHORTEST = 3.0
"""Pixels below which a line has no direction worth measuring."""
_STEP, _TURN = 0.1, 0.01
"""Pixels and degrees of the central differences."""
_NO_CAMERA = np.zeros((1, 13))


@dataclass(frozen=True, slots=True)
class Roll:
    """Degrees clockwise by which uprights lean, its standard uncertainty, and apparatus points used."""

    lean: float
    uncertainty: float
    points: int


def direction(first: Joint, second: Joint) -> tuple[float, float]:
    """Degrees anticlockwise from the picture's right, and pixels of length, from the first to the second."""
    across, down = second.x - first.x, second.y - first.y
    length = hypot(across, down)
    if length < SHORTEST:
        problem = Problem(
            "no-line", "body", message("The two joints lie on one spot."), message("Click each where it is.")
        )
        raise MeasuringError(problem)
    return degrees(atan2(-down, across)), length


def points_right(turned: float) -> bool:
    """Whether a direction in degrees points to the right."""
    return cos(radians(turned)) >= 0


def roll(clicks: Clicks) -> Roll | None:
    """How far the uprights lean in the picture, averaged; None without an upright."""
    spots = dict(clicks.apparatus)
    found = []
    for foot in (name for name in spots if "-foot-" in name):
        rail = foot.replace("-foot-", "-rail-")
        if rail in spots:
            found.append(_lean(spots[rail], spots[foot], apparatus_sd(clicks)))
    if not found:
        return None
    uncertainty = sqrt(sum(u * u for _, u in found)) / len(found)
    return Roll(fmean(lean for lean, _ in found), uncertainty, 2 * len(found))


def places(joints: Mapping[str, Joint], lean: float = 0.0, squeezed: float = 1.0) -> dict[str, Array]:
    """Joints as if the picture were the plane of motion: (3,) px, across, 0 and up, levelled by ``lean``.

    ``squeezed`` is what is left of a length across.
    """
    turn = radians(lean)
    return {
        name: np.array(
            [
                squeezed * (spot.x * np.cos(turn) + spot.y * np.sin(turn)),
                0.0,
                spot.x * np.sin(turn) - spot.y * np.cos(turn),
            ]
        )
        for name, spot in joints.items()
    }


def value(joints: Mapping[str, Joint], quantity: Quantity, lean: float = 0.0, squeezed: float = 1.0) -> float:
    """An angle in the picture, in degrees."""
    found = {name: spot[None] for name, spot in places(joints, lean, squeezed).items()}
    return float(quantity.of(found, _NO_CAMERA)[0])


def budget(
    joints: Mapping[str, Joint], quantity: Quantity, rolled: Roll | None, blur: float, said: str
) -> list[tuple[str, float]]:
    """What the uncertainty of a picture angle is made of, in degrees."""
    lean = rolled.lean if rolled else 0.0
    slopes = {name: _slope(joints, name, quantity) for name in joints}
    clicked = sqrt(sum((slopes[name] * spot.sd) ** 2 for name, spot in joints.items()))
    turned = abs(
        wrapped(value(joints, quantity, lean + _TURN) - value(joints, quantity, lean - _TURN)) / 2 / _TURN
    )
    if rolled is None:
        assumed = f"camera roll up to {ASSUMED_ROLL:.0f} degrees assumed"
        leaning = (assumed, turned * ASSUMED_ROLL / sqrt(3))
    else:
        leaning = ("upright clicks", turned * rolled.uncertainty)
    smeared = [(BLUR, blur / sqrt(12) * sqrt(sum(slope**2 for slope in slopes.values())))] if blur else []
    yaw = (f"camera yaw up to {ASSUMED_YAW:.0f} degrees assumed", _yaw_share(joints, quantity, lean))
    return [(f"body clicks, {said}", clicked), leaning, yaw, *smeared]


def wrapped(angle: float) -> float:
    """Degrees from -180 to 180."""
    return (angle + 180.0) % 360.0 - 180.0


def _slope(joints: Mapping[str, Joint], name: str, quantity: Quantity) -> float:
    """Degrees per px of a joint, across and down together."""
    spot, parts = joints[name], []
    for across, down in ((_STEP, 0.0), (0.0, _STEP)):
        ends = (
            value(
                {**joints, name: Joint(spot.x + side * across, spot.y + side * down, spot.sd)},
                quantity,
            )
            for side in (1, -1)
        )
        parts.append(wrapped(next(ends) - next(ends)) / 2 / _STEP)
    return hypot(*parts)


def _lean(rail: Spot, foot: Spot, sd: float) -> tuple[float, float]:
    across, up = pixels(rail.x) - pixels(foot.x), pixels(foot.y) - pixels(rail.y)
    length = hypot(across, up)
    if length < SHORTEST:
        problem = Problem(
            "no-upright",
            "points",
            message("Rail end and foot lie on one spot."),
            message("Click them again."),
        )
        raise MeasuringError(problem)
    return degrees(atan2(across, up)), degrees(sqrt(2) * sd / length)


def _yaw_share(joints: Mapping[str, Joint], quantity: Quantity, lean: float) -> float:
    """What an unknown yaw does to a picture angle: lengths across are seen as cos yaw of themselves.

    Orthographic. The largest error is taken as the half-width of a rectangle, since the bias itself is not
    removed.
    """
    stretched = value(joints, quantity, lean, 1 / cos(radians(ASSUMED_YAW)))
    squeezed = value(joints, quantity, lean, cos(radians(ASSUMED_YAW)))
    seen = value(joints, quantity, lean)
    return max(abs(wrapped(stretched - seen)), abs(wrapped(squeezed - seen))) / sqrt(3)
