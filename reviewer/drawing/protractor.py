"""The protractor over the picture: what was clicked, the true level, the limit, and the angle between."""

from collections.abc import Mapping
from itertools import pairwise

from reviewer.drawing.dialling import along, beyond, flat_dial
from reviewer.drawing.spots import middle, scaled
from reviewer.terms.bodylines import LEVEL, UPRIGHT, line_joints
from reviewer.terms.dials import Dial
from reviewer.terms.exact import Degrees, Pixels
from reviewer.terms.intervals import half_of, tenths, told
from reviewer.terms.readings import Clicks, Reading, Requirement
from reviewer.terms.shapes import Label, Path, Ring, Segment, Shape, Spot
from reviewer.words import Saying

ENGLISH = Saying()

REACH, BEHIND, ARC = 1.25, 0.25, 0.4
"""Lengths of rays, of the reference behind the joint and of the arc's radius, in lengths of the body line."""
RING, ABOVE, BELOW, LINE = 9, -10, 36, 40
"""Radius of a ring, steps down from the reference to the words, and from one line of words to the next, in
pixels of a picture 1280 long."""
FLAT, STANDING, BACK = Degrees(0), Degrees(90_000), Degrees(180_000)


def protractor(
    reading: Reading, requirement: Requirement | None, dial: Dial | None = None, say: Saying = ENGLISH
) -> tuple[Shape, ...]:
    """Shapes of one reading, and of the limit it is held against; numbers only, never the verdict.

    ``dial`` is that of the reading's clicks in the true plane. Without one the angles are laid out in the
    picture, as a camera square on would see them. Bends and angles between two lines are drawn without.
    """
    clicks = reading.clicks
    body = {joint: middle(spots) for joint, spots in clicks.body if spots}
    joints = line_joints(reading.through or clicks.line)
    if len(joints) == 2 and clicks.against in (LEVEL, UPRIGHT):
        first, second = (body[joint] for joint in joints)
        shown = dial or flat_dial(clicks, first, second, _elevation(reading, reading.value))
        line = Segment(first, second, "body-line")
        limits = _limits(shown, requirement, say, clicks.picture) if requirement else ()
        drawn = _on_dial(shown, reading, limits, line, say)
    else:
        drawn = _through(reading, joints, body, say)
    rings = (Ring(spot, scaled(RING, clicks.picture), "joint") for spot in body.values())
    return *_uprights(clicks), *drawn, *rings


def _on_dial(
    dial: Dial, reading: Reading, limits: tuple[Shape, ...], line: Segment, say: Saying
) -> tuple[Shape, ...]:
    """A line against the true level, where limits hold too, or against the true upright."""
    level = reading.clicks.against == LEVEL
    zero = FLAT if level else STANDING
    reference = Segment(beyond(dial, zero - BACK, BEHIND), beyond(dial, zero, REACH), "level")
    return (
        _doubt(dial, reading),
        reference,
        *(limits if level else ()),
        Path(along(dial, zero, _elevation(reading, reading.value), ARC), "body-line"),
        line,
        Label(_beside(dial, zero, reading), _words(reading, say), "number"),
    )


def _through(
    reading: Reading, joints: tuple[str, ...], body: Mapping[str, Spot], say: Saying
) -> tuple[Shape, ...]:
    """The lines a bend or an angle is between, with the number beside the joint they meet at or end in."""
    clicks, pairs = reading.clicks, list(pairwise(joints))
    other = () if len(joints) > 2 else tuple(clicks.against.split("-"))
    at, step = body[joints[1]], scaled(2 * RING, clicks.picture)
    return (
        *(Segment(body[first], body[second], "level") for first, second in pairwise(other)),
        *(Segment(body[first], body[second], "body-line") for first, second in pairs),
        Label(Spot(at.x + step, at.y + step), _words(reading, say), "number"),
    )


def _elevation(reading: Reading, value: Degrees) -> Degrees:
    """Of a value of the reading; against the vertical it says how far short of upright the line is."""
    return STANDING - value if reading.clicks.against == UPRIGHT else value


def _uprights(clicks: Clicks) -> tuple[Segment, ...]:
    spots = dict(clicks.apparatus)
    pairs = ((name.replace("-rail-", "-foot-"), name) for name in sorted(spots) if "-rail-" in name)
    return tuple(Segment(spots[foot], spots[top], "upright") for foot, top in pairs if foot in spots)


def _doubt(dial: Dial, reading: Reading) -> Path:
    """The wedge of the interval of 95 %, to each side at most half-way round."""
    value = reading.value
    ends = (max(value - BACK, reading.interval[0]), min(value + BACK, reading.interval[1]))
    low, high = sorted(_elevation(reading, end) for end in ends)
    return Path((dial.centre, *along(dial, low, high, REACH), dial.centre), "doubt")


def limit_words(requirement: Requirement, say: Saying = ENGLISH) -> tuple[str, ...]:
    """What is written at the limit and, where there is one, at the lower edge of what is tolerated."""
    limit = say("limit {angle}°", angle=tenths(requirement.at_least))
    if not requirement.tolerance:
        return (limit,)
    edge = requirement.at_least - requirement.tolerance
    return limit, say("tolerated {angle}°", angle=tenths(edge))


def _limits(dial: Dial, requirement: Requirement, say: Saying, picture: tuple[int, int]) -> tuple[Shape, ...]:
    """The rays, and over all of them what they are, one line of words below the other."""
    angles = (requirement.at_least, requirement.at_least - requirement.tolerance)
    rays = tuple(zip(("limit", "tolerance"), angles, limit_words(requirement, say), strict=False))
    ends = [beyond(dial, angle, REACH) for _, angle, _ in rays]
    shapes = [Segment(dial.centre, end, style) for (style, _, _), end in zip(rays, ends, strict=True)]
    return *shapes, *_apart(ends, [said for _, _, said in rays], scaled(LINE, picture))


def _apart(ends: list[Spot], said: list[str], line: Pixels) -> tuple[Label, ...]:
    """Words at the ends of rays, the lower ones moved down until no line lies on another."""
    labels: list[Label] = []
    for end, words in sorted(zip(ends, said, strict=True), key=lambda one: one[0].y):
        down = max(end.y, labels[-1].at.y + line) if labels else end.y
        labels.append(Label(Spot(end.x, down), words, "number"))
    return tuple(labels)


def _beside(dial: Dial, zero: Degrees, reading: Reading) -> Spot:
    """Where words about the angle begin: across the reference from the body, at its left end."""
    ends = (beyond(dial, zero, 0.15), beyond(dial, zero, REACH))
    left = min(ends, key=lambda end: end.x)
    step = BELOW if _elevation(reading, reading.value) > FLAT else ABOVE
    return Spot(left.x, left.y + scaled(step, reading.clicks.picture))


def _words(reading: Reading, say: Saying) -> str:
    return say.word(told(reading.value, half_of(reading.value, reading.interval), "°"))
