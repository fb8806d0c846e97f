"""The angle of a body line in the picture, its roll corrected from an upright, with its standard uncertainty.

First-order propagation after JCGM 100 (GUM), section 5.1: independent sources add in squares.
"""

from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, radians, sqrt, tan
from statistics import fmean, stdev

from reviewer.measuring.checks import refuse_unmeasurable
from reviewer.measuring.errors import MeasuringError
from reviewer.terms.exact import Degrees, Pixels
from reviewer.terms.problems import Problem
from reviewer.terms.readings import Clicks, Reading
from reviewer.terms.shapes import Spot

ASSUMED_CLICK_SD = 2.0
"""Pixels by which one click scatters when nobody said and nobody clicked twice (from memory)."""
ASSUMED_ROLL = 2.0
"""Degrees either way that a camera may be rolled where no upright was clicked (from memory)."""
ASSUMED_YAW = 15.0
"""Degrees either way that a camera is taken to be turned from side-on; beyond it a picture angle misleads."""
SHORTEST = 3.0
"""Pixels below which a line has no direction worth measuring."""
Z95 = 1.959964
"""Two-sided 95 % point of the normal distribution."""


@dataclass(frozen=True, slots=True)
class _Joint:
    x: float
    y: float
    sd: float


@dataclass(frozen=True, slots=True)
class _Roll:
    """Degrees clockwise by which uprights lean, its standard uncertainty, and apparatus points used."""

    lean: float
    uncertainty: float
    points: int


def measure(clicks: Clicks, pts: int | None = None) -> Reading:
    """The elevation of the body line clicked on one frame.

    0 is level, positive up, on the side to which the body is cast. ``cast_to`` names that side, and a line
    beyond the vertical then reads above 90; without it the side is the one to which the levelled line points.
    """
    refuse_unmeasurable(clicks)
    first, second = (_joint(clicks, name) for name in clicks.line.split("-"))
    direction, length = _direction(first, second)
    roll = _roll(clicks)
    levelled = direction + (roll.lean if roll else 0.0)
    to_right = clicks.cast_to == "right" if clicks.cast_to else cos(radians(levelled)) >= 0
    value, naive = _elevation(levelled, to_right), _elevation(direction, to_right)
    budget = _budget(first, second, length, roll, value, clicks)
    total = sqrt(sum(size * size for _, size in budget))
    return Reading(
        id="",
        pts=pts,
        clicks=clicks,
        value=_degrees(value),
        uncertainty=_degrees(total),
        interval=(_degrees(value - Z95 * total), _degrees(value + Z95 * total)),
        naive=_degrees(naive),
        roll_only=None if roll is None else _degrees(value),
        budget=tuple((source, _degrees(size)) for source, size in budget),
        check=_check(roll),
        calibration_points=0 if roll is None else roll.points,
    )


def _direction(first: _Joint, second: _Joint) -> tuple[float, float]:
    """Degrees anticlockwise from the picture's right, and pixels of length, from the first to the second."""
    across, down = second.x - first.x, second.y - first.y
    length = hypot(across, down)
    if length < SHORTEST:
        problem = Problem("no-line", "body", "The two joints lie on one spot.", "Click each where it is.")
        raise MeasuringError(problem)
    return degrees(atan2(-down, across)), length


def _elevation(direction: float, to_right: bool) -> float:
    """Elevation on the side of the cast, from -180 to 180."""
    return _wrapped(direction if to_right else 180.0 - direction)


def _roll(clicks: Clicks) -> _Roll | None:
    """How far the uprights lean in the picture, averaged."""
    spots = dict(clicks.apparatus)
    found = []
    for foot in (name for name in spots if "-foot-" in name):
        rail = foot.replace("-foot-", "-rail-")
        if rail in spots:
            found.append(_lean(spots[rail], spots[foot], _click_sd(clicks)))
    if not found:
        return None
    uncertainty = sqrt(sum(u * u for _, u in found)) / len(found)
    return _Roll(fmean(lean for lean, _ in found), uncertainty, 2 * len(found))


def _check(roll: _Roll | None) -> str:
    turned = f"camera yaw not corrected, trusted within {ASSUMED_YAW:.0f} degrees of side-on"
    return f"no upright, roll not corrected; {turned}" if roll is None else f"roll only: {turned}"


def _lean(rail: Spot, foot: Spot, sd: float) -> tuple[float, float]:
    across, up = _pixels(rail.x) - _pixels(foot.x), _pixels(foot.y) - _pixels(rail.y)
    length = hypot(across, up)
    if length < SHORTEST:
        problem = Problem("no-upright", "points", "Rail end and foot lie on one spot.", "Click them again.")
        raise MeasuringError(problem)
    return degrees(atan2(across, up)), degrees(sqrt(2) * sd / length)


def _budget(
    first: _Joint,
    second: _Joint,
    length: float,
    roll: _Roll | None,
    value: float,
    clicks: Clicks,
) -> list[tuple[str, float]]:
    body = degrees(hypot(first.sd, second.sd) / length)
    known = f"body clicks, {_spread_said(clicks)}"
    turned = _yaw_share(value)
    if roll is None:
        leaning = (f"camera roll up to {ASSUMED_ROLL:.0f} degrees assumed", ASSUMED_ROLL / sqrt(3))
    else:
        leaning = ("upright clicks", roll.uncertainty)
    return [(known, body), leaning, (f"camera yaw up to {ASSUMED_YAW:.0f} degrees assumed", turned)]


def _yaw_share(value: float) -> float:
    """What an unknown yaw does to a picture angle: tan t' = tan t / cos yaw, t from level (orthographic).

    The largest error is taken as the half-width of a rectangle, since the bias itself is not removed.
    """
    nearest = abs((value + 90.0) % 180.0 - 90.0)
    if nearest > 89.9:
        return 0.0
    seen = degrees(atan2(tan(radians(nearest)), cos(radians(ASSUMED_YAW))))
    return abs(seen - nearest) / sqrt(3)


def _joint(clicks: Clicks, name: str) -> _Joint:
    """The mean of a joint's clicks, and the standard uncertainty of that mean."""
    spots = dict(clicks.body)[name]
    xs, ys = [_pixels(spot.x) for spot in spots], [_pixels(spot.y) for spot in spots]
    return _Joint(fmean(xs), fmean(ys), _click_sd(clicks) / sqrt(len(spots)))


def _click_sd(clicks: Clicks) -> float:
    """Pixels; what repeated clicks show, else what was stated, else the assumption."""
    pooled = _pooled_sd(clicks)
    if pooled is not None:
        return pooled
    return ASSUMED_CLICK_SD if clicks.click_sd is None else _pixels(clicks.click_sd)


def _spread_said(clicks: Clicks) -> str:
    if _pooled_sd(clicks) is not None:
        return "spread of repeated clicks"
    return "2 px assumed" if clicks.click_sd is None else f"{clicks.click_sd} px stated"


def _pooled_sd(clicks: Clicks) -> float | None:
    """Spread of repeated clicks, all joints and directions pooled; None where none was clicked twice."""
    squares, freedoms = 0.0, 0
    for _, spots in clicks.body:
        if len(spots) > 1:
            for side in ([_pixels(spot.x) for spot in spots], [_pixels(spot.y) for spot in spots]):
                squares += stdev(side) ** 2 * (len(spots) - 1)
                freedoms += len(spots) - 1
    return sqrt(squares / freedoms) if freedoms and squares else None


def _pixels(size: Pixels) -> float:
    return size.thousandths / 1000


def _wrapped(angle: float) -> float:
    return (angle + 180.0) % 360.0 - 180.0


def _degrees(size: float) -> Degrees:
    return Degrees(round(size * 1000))
