"""A length over the picture: the points it is between, and how long it is."""

from reviewer.drawing.spots import middle, scaled
from reviewer.terms.bodylines import line_joints
from reviewer.terms.intervals import half_of, told
from reviewer.terms.readings import Length
from reviewer.terms.shapes import Label, Ring, Segment, Shape, Spot
from reviewer.words import Saying

ENGLISH = Saying()

RING = 9
"""Radius of a ring in pixels of a picture 1280 long."""


def length(found: Length, say: Saying = ENGLISH) -> tuple[Shape, ...]:
    """Shapes of one length; numbers only."""
    clicks = found.clicks
    ends = [
        middle(spots) for joint in line_joints(clicks.line) for name, spots in clicks.body if name == joint
    ]
    step = scaled(2 * RING, clicks.picture)
    words = say.word(told(found.value, half_of(found.value, found.interval), " mm"))
    between = (Segment(ends[0], ends[1], "body-line"),) if len(ends) > 1 else ()
    return (
        *between,
        *(Ring(end, scaled(RING, clicks.picture), "joint") for end in ends),
        Label(Spot(ends[-1].x + step, ends[-1].y + step), words, "number"),
    )
