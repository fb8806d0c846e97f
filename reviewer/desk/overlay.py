"""What lies over the picture of a reading that is being taken."""

from collections.abc import Mapping

from reviewer import drawing, measuring
from reviewer.desk.points import APPARATUS
from reviewer.terms.exact import Pixels
from reviewer.terms.readings import Length, Reading, Requirement
from reviewer.terms.shapes import Ring, Shape, Spot
from reviewer.words import Saying

RING = Pixels(7000)


def rings(spots: Mapping[str, Spot]) -> tuple[Shape, ...]:
    """Points that give no reading yet."""
    return tuple(Ring(spot, RING, "joint") for spot in spots.values())


def overlay(
    found: Reading | Length, spots: Mapping[str, Spot], limit: Requirement | None, say: Saying
) -> tuple[Shape, ...]:
    """The whole protractor with its limit, or a length, and rings around the points of the bars."""
    if isinstance(found, Length):
        drawn = drawing.length(found, say)
    else:
        dial = measuring.dial(found.clicks)
        drawn = (*drawing.protractor(found, limit, dial, say), *drawing.residuals(found, say))
    lone = [spots[step] for step in APPARATUS if step in spots]
    return (*drawn, *(Ring(spot, RING, "upright") for spot in lone))
