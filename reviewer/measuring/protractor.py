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


def measure(clicks: Clicks, pts: int | None = None) -> Reading:
    """The elevation of the body line clicked on one frame.

    0 is level, positive up, on the side to which the body is cast. ``cast_to`` names that side; without it the
    side is the one the line points to, and a line beyond the vertical reads as if cast the other way.
    """
    refuse_unmeasurable(clicks)
    first, second = (_joint(clicks, name) for name in clicks.line.split("-"))
    naive, length = _elevation(first, second, clicks.cast_to)
    side = _side(first, second, clicks.cast_to)
    roll = _roll(clicks)
    value = naive if roll is None else _wrapped(naive + side * roll[0])
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
        check="no upright: roll not corrected" if roll is None else "roll only: camera yaw not corrected",
        calibration_points=0 if roll is None else roll[2],
    )


def _elevation(first: _Joint, second: _Joint, cast_to: str | None) -> tuple[float, float]:
    across, down = second.x - first.x, second.y - first.y
    length = hypot(across, down)
    if length < SHORTEST:
        problem = Problem(
            "no-line", "body", "The two joints lie on one spot.", "Click each joint where it is."
        )
        raise MeasuringError(problem)
    return degrees(atan2(-down, across * _side(first, second, cast_to))), length


def _side(first: _Joint, second: _Joint, cast_to: str | None) -> int:
    """1 where the body is cast to the right of the picture, -1 to the left."""
    if cast_to is not None:
        return 1 if cast_to == "right" else -1
    return 1 if second.x >= first.x else -1


def _roll(clicks: Clicks) -> tuple[float, float, int] | None:
    """Degrees clockwise by which uprights lean in the picture, its standard uncertainty, and points used."""
    spots = dict(clicks.apparatus)
    found = []
    for foot in (name for name in spots if "-foot-" in name):
        rail = foot.replace("-foot-", "-rail-")
        if rail in spots:
            found.append(_lean(spots[rail], spots[foot], _click_sd(clicks)))
    if not found:
        return None
    mean = fmean(lean for lean, _ in found)
    return mean, sqrt(sum(u * u for _, u in found)) / len(found), 2 * len(found)


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
    roll: tuple[float, float, int] | None,
    value: float,
    clicks: Clicks,
) -> list[tuple[str, float]]:
    body = degrees(hypot(first.sd, second.sd) / length)
    known = "body clicks" if clicks.click_sd or _pooled_sd(clicks) else "body clicks, 2 px assumed"
    turned = _yaw_share(value)
    if roll is None:
        leaning = (f"camera roll up to {ASSUMED_ROLL:.0f} degrees assumed", ASSUMED_ROLL / sqrt(3))
    else:
        leaning = ("upright clicks", roll[1])
    return [(known, body), leaning, (f"camera yaw up to {ASSUMED_YAW:.0f} degrees assumed", turned)]


def _yaw_share(value: float) -> float:
    """What an unknown yaw does to a picture angle: tan t' = tan t · cos yaw (orthographic), taken as a half-width.

    The error runs from none to the largest, so a rectangle of that width: largest / sqrt(12) about its middle; the
    bias is not removed, so the whole is taken as largest / sqrt(3).
    """
    nearest = abs((value + 90.0) % 180.0 - 90.0)
    if nearest > 89.9:
        return 0.0
    true = degrees(atan2(tan(radians(nearest)), cos(radians(ASSUMED_YAW))))
    return abs(true - nearest) / sqrt(3)


def _joint(clicks: Clicks, name: str) -> _Joint:
    """The mean of a joint's clicks, and the standard uncertainty of that mean."""
    spots = dict(clicks.body)[name]
    xs, ys = [_pixels(spot.x) for spot in spots], [_pixels(spot.y) for spot in spots]
    return _Joint(fmean(xs), fmean(ys), _click_sd(clicks) / sqrt(len(spots)))


def _click_sd(clicks: Clicks) -> float:
    if clicks.click_sd is not None:
        return _pixels(clicks.click_sd)
    return _pooled_sd(clicks) or ASSUMED_CLICK_SD


def _pooled_sd(clicks: Clicks) -> float | None:
    """Spread of repeated clicks, all joints and both directions pooled; None where nothing was clicked twice."""
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
