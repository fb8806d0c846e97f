"""What a calibration is worth, in a word a judge can act on: ``good``, or what is wrong and why."""

from collections.abc import Mapping
from math import hypot

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring import body
from reviewer.measuring.calibration import FEWEST, Calibration, exchanged
from reviewer.measuring.clicking import pixels
from reviewer.measuring.errors import MeasuringError
from reviewer.measuring.flat import ASSUMED_YAW
from reviewer.terms.bodylines import BENDS, LEGS, LEVEL
from reviewer.terms.messages import Message, message, spoken
from reviewer.terms.problems import Problem
from reviewer.terms.readings import Clicks

Array = NDArray[np.float64]

GOOD = "good"
MOST_EXCESS = 3.0
"""Times larger than the clicks explain beyond which no angle is given."""
BEYOND_VERTICAL = 105.0
"""Degrees either way beyond which a body is not cast but upside down or to the other side (from memory)."""


def check_of(clicks: Clicks, camera: Calibration | None, has_upright: bool) -> str:
    """``good``, or what the camera's correction lacks."""
    if camera is None:
        turned = f"camera yaw not corrected, taken to be up to {ASSUMED_YAW:.0f} degrees"
        kept = f"roll only: {turned}" if has_upright else f"no upright, roll not corrected; {turned}"
        few = len(clicks.apparatus)
        if few == 1:
            return f"{kept}; one point does not give the camera, click six or more"
        return f"{kept}; {few} points do not give the camera, click six or more" if few else kept
    if camera.left_out:
        name = camera.left_out[0]
        return f"{name} lies {hypot(*camera.residuals[name]):.0f} px from where it can be and was left out"
    if not camera.agrees:
        return f"{_worst(camera)}, more than clicks explain; the uncertainty is raised to cover it"
    if len(camera.residuals) == FEWEST:
        return "four points: nothing checks a wrong click or a wrong assumption"
    return GOOD


def doubt_of_line(clicks: Clicks, through: str, degrees: float) -> str | None:
    """What no cast is like, so that the joints or the side named are doubtful; None if nothing.

    ``through`` are the line's joints.
    """
    if through in BENDS or through == LEGS:
        return None
    if clicks.against == LEVEL and not -BEYOND_VERTICAL <= degrees <= BEYOND_VERTICAL:
        said = "its first joint, and not on the side named" if clicks.cast_to else "its first joint"
        return (
            f"the line points back from {said}: see which joint is which and to which side the body is cast"
        )
    return None


def doubt_of_lengths(clicks: Clicks, through: str, places: Mapping[str, Array]) -> str | None:
    """That two joints clicked lie as no body has them, (3,) mm each in the true plane; None if nothing.

    Also of joints that nothing is measured of: a click gone wrong shows in the next one's distance.
    ``through`` is what is measured.
    """
    stature = None if clicks.height is None else clicks.height.thousandths / 1000
    shortest, tallest = body.STATURES if stature is None else (stature, stature)
    whom = "an athlete" if stature is None else f"an athlete of {stature:.0f} mm"
    for line, (folded, most) in body.LENGTHS.items():
        least = body.STRETCHED.get(line, folded) if line == through else folded
        first, second = line.split("-")
        if first in places and second in places:
            way = places[second] - places[first]
            length = hypot(way[0], way[2])
            if not least * shortest <= length <= most * tallest:
                said = f"{first} to {second} is {length:.0f} mm long, which it cannot be on {whom}"
                return f"{said}: see joints, height and points"
    return None


def doubt_of_picture(clicks: Clicks) -> str | None:
    """That the picture clicked on is not to be relied on; None where nothing says so."""
    if not clicks.suspect:
        return None
    return "the picture is damaged, what it shows may be of another moment: measure on a frame that is whole"


def refuse_misfit(clicks: Clicks, camera: Calibration) -> None:
    """A MeasuringError where the points cannot be those of the bars; two that were exchanged are named."""
    if camera.agrees or camera.excess <= MOST_EXCESS:
        return
    spots = [(name, (pixels(spot.x), pixels(spot.y))) for name, spot in clicks.apparatus]
    pair = exchanged(spots, camera.size, clicks.dimensions, camera.click_sd) if len(spots) > FEWEST else None
    if pair is not None:
        said, remedy = (
            message("{one} and {other} seem to be exchanged.", one=spoken(pair[0]), other=spoken(pair[1])),
            message("Click each where its name says."),
        )
        raise MeasuringError(Problem("points-exchanged", "points", said, remedy))
    said = message("The points do not fit the apparatus: {worst}.", worst=_worst(camera))
    remedy = message("Click the points again, or say how the bars are set.")
    raise MeasuringError(Problem("points-do-not-fit", "points", said, remedy))


def _worst(camera: Calibration) -> Message:
    worst = max(camera.residuals, key=lambda name: hypot(*camera.residuals[name]))
    size = f"{hypot(*camera.residuals[worst]):.0f}"
    return message("{point} lies {size} px off", point=spoken(worst), size=size)
