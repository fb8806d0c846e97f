"""The protractor over the picture: what was clicked, the true level, the limit, and the angle between."""

import math
from collections.abc import Sequence

from reviewer.terms.exact import Degrees, Pixels
from reviewer.terms.readings import Clicks, Reading, Requirement
from reviewer.terms.shapes import Arc, Label, Ring, Segment, Shape, Spot

REACH, BEHIND, ARC = 1.25, 0.25, 0.4
"""Lengths of rays, of the level behind the joint and of the arc's radius, in lengths of the body line."""
RING, ABOVE, BELOW = 9, -10, 26
"""Radius of a ring, and steps down from the level to the words, in pixels of a picture 1280 long."""


def protractor(reading: Reading, requirement: Requirement | None) -> tuple[Shape, ...]:
    """Shapes of one reading, and of the limit it is held against; numbers only, never the verdict."""
    body = {joint: _middle(spots) for joint, spots in reading.clicks.body if spots}
    upper, lower = (body[joint] for joint in reading.clicks.line.split("-"))
    dial = _Dial(reading, upper, lower)
    return (
        *_uprights(reading.clicks),
        Segment(dial.at(0, -BEHIND), dial.at(0, REACH), "level"),
        *(_limits(dial, requirement) if requirement else ()),
        dial.arc(),
        Segment(upper, lower, "body-line"),
        *(Ring(at, _scaled(RING, reading.clicks.picture), "joint") for at in body.values()),
        Label(dial.beside_level(), _words(reading), "number"),
    )


class _Dial:
    """Elevations around the upper joint, on the side of the cast, turned by the roll."""

    def __init__(self, reading: Reading, upper: Spot, lower: Spot) -> None:
        self._centre, self._picture = upper, reading.clicks.picture
        across, down = (lower.x - upper.x).thousandths, (lower.y - upper.y).thousandths
        self._length = math.hypot(across, down)
        self._value = reading.value.thousandths / 1000
        seen = math.degrees(math.atan2(-down, across))
        self._turn = 1 if _cast_right(reading.clicks, across) else -1
        self._level = seen - self._turn * self._value

    def at(self, elevation: float, lengths: float) -> Spot:
        """The place at an elevation in degrees, so many body lines from the joint."""
        turned = math.radians(self._level + self._turn * elevation)
        reach = self._length * lengths
        across, up = reach * math.cos(turned), reach * math.sin(turned)
        return Spot(self._centre.x + Pixels(round(across)), self._centre.y - Pixels(round(up)))

    def arc(self) -> Arc:
        """From the level to the body line, the short way round."""
        start, end = self._level, self._level + self._turn * self._value
        return Arc(
            self._centre, Pixels(round(ARC * self._length)), _degrees(start), _degrees(end), "body-line"
        )

    def beside_level(self) -> Spot:
        """Where words about the angle begin: on the side of the cast, across the level line from the body."""
        ends = (self.at(0, 0.15), self.at(0, REACH))
        left = min(ends, key=lambda end: end.x)
        return Spot(left.x, left.y + _scaled(BELOW if self._value > 0 else ABOVE, self._picture))


def _cast_right(clicks: Clicks, across: int) -> bool:
    """Whether elevations count from the right: as stated, else where the line points in the picture."""
    return clicks.cast_to == "right" if clicks.cast_to is not None else across >= 0


def _uprights(clicks: Clicks) -> tuple[Segment, ...]:
    at = dict(clicks.apparatus)
    pairs = ((name.replace("-rail-", "-foot-"), name) for name in sorted(at) if "-rail-" in name)
    return tuple(Segment(at[foot], at[top], "upright") for foot, top in pairs if foot in at)


def _limits(dial: _Dial, requirement: Requirement) -> tuple[Shape, ...]:
    lines = [("limit", requirement.at_least)]
    if requirement.tolerance:
        lines.append(("tolerance", requirement.at_least - requirement.tolerance))
    shapes: list[Shape] = []
    for style, angle in lines:
        end = dial.at(angle.thousandths / 1000, REACH)
        shapes += [
            Segment(dial.at(angle.thousandths / 1000, 0), end, style),
            Label(end, f"{style} {_tenths(angle)}°", "number"),
        ]
    return tuple(shapes)


def _words(reading: Reading) -> str:
    return f"{_tenths(reading.value)}° ± {_tenths(reading.uncertainty * 2)}° (k = 2)"


def _tenths(angle: Degrees) -> str:
    """One place, halves away from zero, in whole numbers."""
    size = (abs(angle.thousandths) + 50) // 100
    return f"{'-' if angle.thousandths < 0 and size else ''}{size // 10}.{size % 10}"


def _scaled(pixels: int, picture: tuple[int, int]) -> Pixels:
    return Pixels(pixels * 1000 * max(picture) // 1280)


def _degrees(angle: float) -> Degrees:
    return Degrees(round(1000 * angle))


def _middle(spots: Sequence[Spot]) -> Spot:
    count = len(spots)
    across, down = sum(spot.x.thousandths for spot in spots), sum(spot.y.thousandths for spot in spots)
    return Spot(Pixels((2 * across + count) // (2 * count)), Pixels((2 * down + count) // (2 * count)))
