"""The protractor: angles and lengths of clicked joints, in the true plane where the camera can be solved for.

Otherwise in the picture, levelled by an upright where there is one, with all that it may be wrong by.
"""

from dataclasses import replace
from math import isfinite, sqrt

from reviewer.measuring import body
from reviewer.measuring.asking import Asked, asked_angle, asked_length, is_length
from reviewer.measuring.calibration import Calibration
from reviewer.measuring.camera import FOCAL, RADIAL
from reviewer.measuring.checks import refuse_unmeasurable
from reviewer.measuring.coverage import factor95
from reviewer.measuring.errors import MeasuringError
from reviewer.measuring.judging import GOOD, check_of, doubt_of_lengths, doubt_of_line, doubt_of_picture
from reviewer.measuring.quantities import of_both_sides
from reviewer.measuring.trueplane import Measured
from reviewer.measuring.views import View
from reviewer.terms.exact import Degrees, Millimetres, Pixels
from reviewer.terms.messages import message, noted, spoken
from reviewer.terms.problems import Problem
from reviewer.terms.readings import UNKNOWN_LENS, Calibrated, Clicks, Length, Lens, Reading

SIDES = "both sides, not quite even"
_STEEPEST = 180.0
_LONGEST = 999_999.0
_IS_ANGLE = noted("{line} is an angle.")
_IS_LENGTH = noted("{line} is a length.")


def measure(clicks: Clicks, pts: int | None = None) -> Reading:
    """The angle asked for by the clicks on one frame.

    Of a line it is the elevation: 0 is level, positive up, on the side to which the body is cast. ``cast_to``
    names that side, and a line beyond the vertical then reads above 90; without it the side is the one to
    which the levelled line points. A bend is 0 where the joint is straight.
    """
    refuse_unmeasurable(clicks)
    _refuse_kind(clicks, length=False)
    view = View(clicks)
    asked = asked_angle(view)
    found = _with_both_sides(view, asked, view.measured(asked.clicked, asked.of_middles))
    total, low, high = _interval(view, found)
    value, low, high = (
        _unsigned(found.degrees, low, high) if asked.quantity.unsigned else (found.degrees, low, high)
    )
    roll_only = view.seen(asked.clicked, asked.of_middles, view.lean)
    naive = view.seen(asked.clicked, asked.of_middles)
    if asked.quantity.unsigned:
        roll_only, naive = abs(roll_only), abs(naive)
    return Reading(
        id="",
        pts=pts,
        clicks=clicks,
        value=_degrees(value),
        uncertainty=_degrees(min(total, _STEEPEST)),
        interval=(_degrees(max(low, -360.0)), _degrees(min(high, 360.0))),
        naive=_degrees(naive),
        roll_only=None if view.rolled is None else _degrees(roll_only),
        budget=tuple((source, _degrees(min(size, _STEEPEST))) for source, size in found.budget),
        calibration=_calibrated(
            view, asked.through, asked.doubt, doubt_of_line(clicks, asked.through, value)
        ),
        through=asked.through,
    )


def length(clicks: Clicks) -> Length:
    """The length asked for by the clicks on one frame; it takes a solved camera."""
    refuse_unmeasurable(clicks)
    _refuse_kind(clicks, length=True)
    view = View(clicks)
    if view.camera is None:
        said = message("The clicked points of the bars do not give the camera, and so no length.")
        raise MeasuringError(
            Problem("no-camera", "points", said, message("Click six or more points of the bars."))
        )
    asked = asked_length(view)
    found = view.measured(asked.joints, asked.quantity)
    total, low, high = _interval(view, found)
    value, low, high = (
        _unsigned(found.degrees, low, high) if asked.quantity.unsigned else (found.degrees, low, high)
    )
    return Length(
        clicks=clicks,
        value=_millimetres(value),
        uncertainty=_millimetres(total),
        interval=(_millimetres(low), _millimetres(high)),
        budget=tuple((source, _millimetres(size)) for source, size in found.budget),
        calibration=_calibrated(view, asked.through, asked.doubt),
    )


def _with_both_sides(view: View, asked: Asked, found: Measured) -> Measured:
    """What the two sides differ by lies evenly to both sides of the middle, but for a part of it."""
    if not asked.both:
        return found
    near, far = (
        view.measured(asked.clicked, of_both_sides(asked.quantity, asked.both, share)).degrees
        for share in (0.0, 1.0)
    )
    apart = abs((far - near + 180.0) % 360.0 - 180.0)
    return replace(found, budget=(*found.budget, (SIDES, body.UNEVEN * apart / 2)))


def _refuse_kind(clicks: Clicks, *, length: bool) -> None:
    if is_length(clicks.line) != length:
        said = message(_IS_ANGLE if length else _IS_LENGTH, line=spoken(clicks.line))
        remedy = message("Ask for an angle in degrees.") if length else message("Ask for a length in mm.")
        raise MeasuringError(Problem("other-kind", f"line {clicks.line}", said, remedy))


def _interval(view: View, found: Measured) -> tuple[float, float, float]:
    """Standard uncertainty, and the ends of the interval of 95 %."""
    total = found.uncertainty
    half = factor95(total, found.budget[0][1], view.scatter.freedoms) * total
    return total, found.degrees - half, found.degrees + half


def _unsigned(value: float, low: float, high: float) -> tuple[float, float, float]:
    """A size whose sign says nothing, with its interval from 0 up."""
    half = (high - low) / 2
    return abs(value), max(abs(value) - half, 0.0), abs(value) + half


def _calibrated(view: View, through: str, *doubts: str | None) -> Calibrated:
    camera, rolled = view.camera, view.rolled
    lengths = None if camera is None else doubt_of_lengths(view.clicks, through, view.places())
    doubtful = [one for one in (doubt_of_picture(view.clicks), *doubts, lengths) if one is not None]
    said = [*doubtful, check_of(view.clicks, camera, rolled is not None)]
    checked = "; ".join(one for one in said if one != GOOD) or GOOD
    if camera is None:
        points = 0 if rolled is None else rolled.points
        return Calibrated(points, None, (), checked, doubtful=bool(doubtful))
    residuals = tuple((name, (_pixels(x), _pixels(y))) for name, (x, y) in sorted(camera.residuals.items()))
    points = len(residuals) - len(camera.left_out)
    return Calibrated(points, _pixels(camera.rms), residuals, checked, _lens(camera), bool(doubtful))


def _lens(camera: Calibration) -> Lens:
    """Focal length and distortion as solved for, for another recording of the same camera."""
    focal = float(camera.camera[FOCAL])
    doubt_of_focal, doubt_of_radial = (sqrt(float(camera.covariance[k, k])) for k in (FOCAL, RADIAL))
    if not all(isfinite(one) for one in (focal, doubt_of_focal, doubt_of_radial)) or focal > 13:
        return UNKNOWN_LENS
    size = min(2.718281828459045**focal, _LONGEST)
    return Lens(
        (_pixels(size), _pixels(min(size * doubt_of_focal, _LONGEST))),
        (round(float(camera.camera[RADIAL]) * 1_000_000), round(doubt_of_radial * 1_000_000)),
    )


def _degrees(size: float) -> Degrees:
    return Degrees(round(size * 1000)) if isfinite(size) else Degrees(180_000)


def _millimetres(size: float) -> Millimetres:
    if not isfinite(size):
        return Millimetres(round(_LONGEST) * 1000)
    return Millimetres(round(max(-_LONGEST, min(size, _LONGEST)) * 1000))


def _pixels(size: float) -> Pixels:
    return Pixels(round(size * 1000))
