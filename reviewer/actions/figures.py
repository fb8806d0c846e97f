"""What a report draws beside its numbers: a reading on its frame, its residuals, and the curve of a track."""

from collections.abc import Mapping
from typing import Any

from reviewer import drawing, measuring
from reviewer.terms.readings import Reading, Requirement
from reviewer.terms.shapes import Shape
from reviewer.terms.times import TimeBase
from reviewer.words import Saying

CURVE = (640, 240)
LETTERS_TO_A_SIDE = 26
"""How many letters' heights the longer side of a residual figure is: it is shown smaller than a still."""


def on_frame(reading: Reading, requirement: Requirement | None, say: Saying) -> tuple[Shape, ...]:
    """The protractor of a reading, in the true plane where its camera is known."""
    return drawing.protractor(reading, requirement, measuring.dial(reading.clicks), say)


def residuals(reading: Reading, say: Saying) -> dict[str, Any] | None:
    """How far each point of the bars lies from where the camera has it; None without a camera.

    As SVG over the part of the picture that holds the bars, given as left, top, width and height in pixels.
    """
    shapes, picture = drawing.residuals(reading, say), reading.clicks.picture
    if not shapes:
        return None
    corner, size = drawing.around(shapes, picture)
    title = say("How the points of reading {name} fit", name=reading.id)
    letters = max(size) / LETTERS_TO_A_SIDE
    return {"part": [*corner, *size], "svg": drawing.svg(shapes, size, title, letters, corner)}


def curve(
    track: Mapping[str, Any], name: str, requirement: Requirement | None, time_base: TimeBase, say: Saying
) -> str:
    """The curve of a ``reviewer.track/1`` document, as SVG."""
    title = say("The angle over time, cast {name}", name=name)
    return drawing.curve_svg(track, requirement, CURVE, time_base, title, say)
