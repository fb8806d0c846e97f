"""The protractor over the picture: what was clicked, the true level, the limit, and the angle between."""

from reviewer.drawing.dialling import along, beyond, flat_dial
from reviewer.drawing.spots import middle, scaled, tenths
from reviewer.terms.dials import Dial
from reviewer.terms.exact import Degrees
from reviewer.terms.readings import Clicks, Reading, Requirement
from reviewer.terms.shapes import Label, Path, Ring, Segment, Shape, Spot

REACH, BEHIND, ARC = 1.25, 0.25, 0.4
"""Lengths of rays, of the level behind the joint and of the arc's radius, in lengths of the body line."""
RING, ABOVE, BELOW = 9, -10, 26
"""Radius of a ring, and steps down from the level to the words, in pixels of a picture 1280 long."""
LEVEL, BACK = Degrees(0), Degrees(180_000)


def protractor(
    reading: Reading, requirement: Requirement | None, dial: Dial | None = None
) -> tuple[Shape, ...]:
    """Shapes of one reading, and of the limit it is held against; numbers only, never the verdict.

    ``dial`` is that of the reading's clicks in the true plane. Without one the angles are laid out in the
    picture, as a camera square on would see them.
    """
    body = {joint: middle(spots) for joint, spots in reading.clicks.body if spots}
    upper, lower = (body[joint] for joint in reading.clicks.line.split("-"))
    shown = dial or flat_dial(reading, upper, lower)
    return (
        *_uprights(reading.clicks),
        _doubt(shown, reading),
        Segment(beyond(shown, BACK, BEHIND), beyond(shown, LEVEL, REACH), "level"),
        *(_limits(shown, requirement) if requirement else ()),
        Path(along(shown, LEVEL, reading.value, ARC), "body-line"),
        Segment(upper, lower, "body-line"),
        *(Ring(spot, scaled(RING, reading.clicks.picture), "joint") for spot in body.values()),
        Label(_beside_level(shown, reading), _words(reading), "number"),
    )


def _uprights(clicks: Clicks) -> tuple[Segment, ...]:
    spots = dict(clicks.apparatus)
    pairs = ((name.replace("-rail-", "-foot-"), name) for name in sorted(spots) if "-rail-" in name)
    return tuple(Segment(spots[foot], spots[top], "upright") for foot, top in pairs if foot in spots)


def _doubt(dial: Dial, reading: Reading) -> Path:
    """The wedge of the interval of 95 %, at most all the way round."""
    low, high = (max(-BACK, min(end, BACK)) for end in reading.interval)
    return Path((dial.centre, *along(dial, low, high, 1.0), dial.centre), "doubt")


def _limits(dial: Dial, requirement: Requirement) -> tuple[Shape, ...]:
    lines = [("limit", requirement.at_least)]
    if requirement.tolerance:
        lines.append(("tolerance", requirement.at_least - requirement.tolerance))
    shapes: list[Shape] = []
    for style, angle in lines:
        end = beyond(dial, angle, REACH)
        shapes += [Segment(dial.centre, end, style), Label(end, f"{style} {tenths(angle)}°", "number")]
    return tuple(shapes)


def _beside_level(dial: Dial, reading: Reading) -> Spot:
    """Where words about the angle begin: on the side of the cast, across the level line from the body."""
    ends = (beyond(dial, LEVEL, 0.15), beyond(dial, LEVEL, REACH))
    left = min(ends, key=lambda end: end.x)
    step = BELOW if reading.value > LEVEL else ABOVE
    return Spot(left.x, left.y + scaled(step, reading.clicks.picture))


def _words(reading: Reading) -> str:
    return f"{tenths(reading.value)}° ± {tenths(reading.uncertainty * 2)}° (k = 2)"
