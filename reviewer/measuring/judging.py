"""What a calibration is worth, in a word a judge can act on: ``good``, or what is wrong and why."""

from math import hypot

from reviewer.measuring.calibration import CHECKED_FROM, FEWEST, Calibration, exchanged
from reviewer.measuring.clicking import pixels
from reviewer.measuring.flat import ASSUMED_YAW
from reviewer.terms.readings import Clicks

GOOD = "good"


def check_of(clicks: Clicks, camera: Calibration | None, has_upright: bool) -> str:
    """``good``, or what the camera's correction lacks."""
    if camera is None:
        turned = f"camera yaw not corrected, taken to be up to {ASSUMED_YAW:.0f} degrees"
        return f"roll only: {turned}" if has_upright else f"no upright, roll not corrected; {turned}"
    if camera.left_out:
        name = camera.left_out[0]
        return f"{name} lies {hypot(*camera.residuals[name]):.0f} px from where it can be and was left out"
    if not camera.agrees:
        return _disagreement(clicks, camera)
    if len(camera.residuals) == FEWEST:
        return "four points: nothing checks a wrong click or a wrong assumption"
    return GOOD


def _disagreement(clicks: Clicks, camera: Calibration) -> str:
    spots = [(name, (pixels(spot.x), pixels(spot.y))) for name, spot in clicks.apparatus]
    pair = None
    if len(spots) >= CHECKED_FROM:
        pair = exchanged(spots, camera.size, clicks.dimensions, camera.click_sd)
    if pair is not None:
        return f"{pair[0]} and {pair[1]} seem to be exchanged"
    worst = max(camera.residuals, key=lambda name: hypot(*camera.residuals[name]))
    off = hypot(*camera.residuals[worst])
    return f"the points do not fit the apparatus: {worst} lies {off:.0f} px off, more than clicks explain"
