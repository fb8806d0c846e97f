"""What a calibration is worth, in a word a judge can act on: ``good``, or what is wrong and why."""

from math import hypot

from reviewer.measuring.calibration import FEWEST, Calibration, exchanged
from reviewer.measuring.clicking import pixels
from reviewer.measuring.errors import MeasuringError
from reviewer.measuring.flat import ASSUMED_YAW
from reviewer.terms.problems import Problem
from reviewer.terms.readings import Clicks

GOOD = "good"
MOST_EXCESS = 3.0
"""Times larger than the clicks explain beyond which no angle is given."""


def check_of(clicks: Clicks, camera: Calibration | None, has_upright: bool) -> str:
    """``good``, or what the camera's correction lacks."""
    if camera is None:
        turned = f"camera yaw not corrected, taken to be up to {ASSUMED_YAW:.0f} degrees"
        return f"roll only: {turned}" if has_upright else f"no upright, roll not corrected; {turned}"
    if camera.left_out:
        name = camera.left_out[0]
        return f"{name} lies {hypot(*camera.residuals[name]):.0f} px from where it can be and was left out"
    if not camera.agrees:
        return f"{_worst(camera)}, more than clicks explain; the uncertainty is raised to cover it"
    if len(camera.residuals) == FEWEST:
        return "four points: nothing checks a wrong click or a wrong assumption"
    return GOOD


def refuse_misfit(clicks: Clicks, camera: Calibration) -> None:
    """A MeasuringError where the points cannot be those of the bars; two that were exchanged are named."""
    if camera.agrees or camera.excess <= MOST_EXCESS:
        return
    spots = [(name, (pixels(spot.x), pixels(spot.y))) for name, spot in clicks.apparatus]
    pair = exchanged(spots, camera.size, clicks.dimensions, camera.click_sd) if len(spots) > FEWEST else None
    if pair is not None:
        said, remedy = f"{pair[0]} and {pair[1]} seem to be exchanged.", "Click each where its name says."
        raise MeasuringError(Problem("points-exchanged", "points", said, remedy))
    said = f"The points do not fit the apparatus: {_worst(camera)}."
    remedy = "Click the points again, or say how the bars are set."
    raise MeasuringError(Problem("points-do-not-fit", "points", said, remedy))


def _worst(camera: Calibration) -> str:
    worst = max(camera.residuals, key=lambda name: hypot(*camera.residuals[name]))
    return f"{worst} lies {hypot(*camera.residuals[worst]):.0f} px off"
