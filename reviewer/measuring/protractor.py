"""The protractor: the elevation of a body line, in the true plane where the camera can be solved for.

Otherwise in the picture, levelled by an upright where there is one, with all that it may be wrong by.
"""

from functools import lru_cache
from math import isfinite, sqrt

import numpy as np

from reviewer.measuring import body, flat
from reviewer.measuring.calibration import FEWEST, Calibration, calibrate
from reviewer.measuring.checks import refuse_unmeasurable
from reviewer.measuring.clicking import apparatus_sd, joint, pixels, scatter
from reviewer.measuring.coverage import factor95
from reviewer.measuring.judging import GOOD, check_of, doubt_of_line, doubt_of_picture, refuse_misfit
from reviewer.measuring.trueplane import BODY, Line, Measured, elevation
from reviewer.terms.exact import Degrees, Pixels
from reviewer.terms.readings import Calibrated, Clicks, Dimensions, Reading

_STEEPEST = 180.0


def measure(clicks: Clicks, pts: int | None = None) -> Reading:
    """The elevation of the body line clicked on one frame.

    0 is level, positive up, on the side to which the body is cast. ``cast_to`` names that side, and a line
    beyond the vertical then reads above 90; without it the side is the one to which the levelled line points.
    """
    refuse_unmeasurable(clicks)
    first, second = (joint(clicks, name) for name in clicks.line.split("-"))
    seen, length = flat.direction(first, second)
    rolled, scattered = flat.roll(clicks), scatter(clicks)
    levelled = seen + (rolled.lean if rolled else 0.0)
    to_right = clicks.cast_to == "right" if clicks.cast_to else flat.points_right(levelled)
    roll_only = flat.elevation(levelled, to_right)
    camera = _camera(clicks)
    if camera is None:
        budget = flat.budget(first, second, length, rolled, roll_only, scattered.said)
        value, reach = roll_only, None
    else:
        found = _in_true_plane(clicks, camera, to_right)
        budget = [(f"{BODY}, {scattered.said}" if name == BODY else name, u) for name, u in found.budget]
        value, reach = found.degrees, found.length
    total = sqrt(sum(size * size for _, size in budget))
    half = factor95(total, budget[0][1], scattered.freedoms) * total
    return Reading(
        id="",
        pts=pts,
        clicks=clicks,
        value=_degrees(value),
        uncertainty=_degrees(min(total, _STEEPEST)),
        interval=(_degrees(max(value - half, -360.0)), _degrees(min(value + half, 360.0))),
        naive=_degrees(flat.elevation(seen, to_right)),
        roll_only=None if rolled is None else _degrees(roll_only),
        budget=tuple((source, _degrees(min(size, _STEEPEST))) for source, size in budget),
        calibration=_calibrated(clicks, camera, rolled, doubt_of_line(clicks, value, reach)),
    )


def _camera(clicks: Clicks) -> Calibration | None:
    """The camera of the apparatus points; None where they are too few."""
    if len(clicks.apparatus) < FEWEST:
        return None
    spots = tuple((name, (pixels(spot.x), pixels(spot.y))) for name, spot in clicks.apparatus)
    found = _solved(spots, clicks.picture, clicks.dimensions, apparatus_sd(clicks))
    refuse_misfit(clicks, found)
    return found


@lru_cache(maxsize=64)
def _solved(
    spots: tuple[tuple[str, tuple[float, float]], ...],
    picture: tuple[int, int],
    dimensions: Dimensions,
    click_sd: float,
) -> Calibration:
    """The camera of these points: the same while it stands still, and while a joint is dragged."""
    return calibrate(spots, picture, dimensions, click_sd)


def _in_true_plane(clicks: Clicks, camera: Calibration, to_right: bool) -> Measured:
    first, second = clicks.line.split("-")
    ends = [joint(clicks, name) for name in (first, second)]
    stature = body.USUAL_STATURE if clicks.height is None else clicks.height.thousandths / 1000
    return elevation(
        Line(
            joints=(first, second),
            spots=np.array([[end.x, end.y] for end in ends]),
            sds=(ends[0].sd, ends[1].sd),
            nearer=-1.0 if clicks.side == "near" else 1.0,
            stature=stature,
            stature_doubt=body.STATURE_DOUBT if clicks.height is None else 0.0,
            to_right=to_right,
        ),
        camera,
    )


def _calibrated(
    clicks: Clicks, camera: Calibration | None, rolled: flat.Roll | None, doubt: str | None
) -> Calibrated:
    doubts = [doubt_of_picture(clicks), doubt, check_of(clicks, camera, rolled is not None)]
    checked = "; ".join(one for one in doubts if one not in (None, GOOD)) or GOOD
    if camera is None:
        return Calibrated(0 if rolled is None else rolled.points, None, (), checked)
    residuals = tuple((name, (_pixels(x), _pixels(y))) for name, (x, y) in sorted(camera.residuals.items()))
    return Calibrated(len(residuals) - len(camera.left_out), _pixels(camera.rms), residuals, checked)


def _degrees(size: float) -> Degrees:
    return Degrees(round(size * 1000)) if isfinite(size) else Degrees(180_000)


def _pixels(size: float) -> Pixels:
    return Pixels(round(size * 1000))
