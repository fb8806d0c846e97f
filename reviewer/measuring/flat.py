"""The angle of a body line in the picture, its roll corrected from an upright, where no camera is known.

First-order propagation after JCGM 100 (GUM), section 5.1: independent sources add in squares.
"""

from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, radians, sqrt, tan
from statistics import fmean

from reviewer.measuring.clicking import Joint, apparatus_sd, pixels
from reviewer.measuring.errors import MeasuringError
from reviewer.terms.problems import Problem
from reviewer.terms.readings import Clicks
from reviewer.terms.shapes import Spot

ASSUMED_ROLL = 5.0
"""Degrees either way that a camera may be rolled where no upright was clicked (from memory)."""
ASSUMED_YAW = 35.0
"""Degrees either way that a camera may be turned from side-on where it was not solved for (from memory)."""
SHORTEST = 3.0
"""Pixels below which a line has no direction worth measuring."""


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
        problem = Problem("no-line", "body", "The two joints lie on one spot.", "Click each where it is.")
        raise MeasuringError(problem)
    return degrees(atan2(-down, across)), length


def elevation(turned: float, to_right: bool) -> float:
    """Elevation on the side of the cast, from -180 to 180."""
    return wrapped(turned if to_right else 180.0 - turned)


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


def budget(
    first: Joint, second: Joint, length: float, found: Roll | None, value: float, said: str
) -> list[tuple[str, float]]:
    """What the uncertainty of a picture angle is made of, in degrees."""
    body = degrees(hypot(first.sd, second.sd) / length)
    if found is None:
        leaning = (f"camera roll up to {ASSUMED_ROLL:.0f} degrees assumed", ASSUMED_ROLL / sqrt(3))
    else:
        leaning = ("upright clicks", found.uncertainty)
    turned = (f"camera yaw up to {ASSUMED_YAW:.0f} degrees assumed", _yaw_share(value))
    return [(f"body clicks, {said}", body), leaning, turned]


def wrapped(angle: float) -> float:
    """Degrees from -180 to 180."""
    return (angle + 180.0) % 360.0 - 180.0


def _lean(rail: Spot, foot: Spot, sd: float) -> tuple[float, float]:
    across, up = pixels(rail.x) - pixels(foot.x), pixels(foot.y) - pixels(rail.y)
    length = hypot(across, up)
    if length < SHORTEST:
        problem = Problem("no-upright", "points", "Rail end and foot lie on one spot.", "Click them again.")
        raise MeasuringError(problem)
    return degrees(atan2(across, up)), degrees(sqrt(2) * sd / length)


def _yaw_share(value: float) -> float:
    """What an unknown yaw does to a picture angle: tan t' = tan t / cos yaw, t from level (orthographic).

    The largest error is taken as the half-width of a rectangle, since the bias itself is not removed.
    """
    nearest = abs((value + 90.0) % 180.0 - 90.0)
    if nearest > 89.9:
        return 0.0
    seen = degrees(atan2(tan(radians(nearest)), cos(radians(ASSUMED_YAW))))
    return abs(seen - nearest) / sqrt(3)
