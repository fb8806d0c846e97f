"""Places on a dial: at an elevation, so far along its ray."""

from math import atan2, cos, degrees, hypot, radians, sin

from reviewer.terms.dials import ELEVATIONS, STEP, Dial
from reviewer.terms.exact import Degrees, Pixels
from reviewer.terms.readings import Clicks
from reviewer.terms.shapes import Spot

_HALF, _ROUND = 180_000, 360_000


def flat_dial(clicks: Clicks, upper: Spot, lower: Spot, elevation: Degrees) -> Dial:
    """A circle in the picture, turned so that the line from ``upper`` to ``lower`` has its elevation."""
    across, down = (lower.x - upper.x).thousandths, (lower.y - upper.y).thousandths
    turn = 1 if _cast_right(clicks, across) else -1
    level = degrees(atan2(-down, across)) - turn * elevation.thousandths / 1000

    def placed(elevation: Degrees) -> Spot:
        turned, radius = radians(level + turn * elevation.thousandths / 1000), hypot(across, down)
        to_right, up = (Pixels(round(radius * part)) for part in (cos(turned), sin(turned)))
        return Spot(upper.x + to_right, upper.y - up)

    return Dial(upper, tuple((elevation, placed(elevation)) for elevation in ELEVATIONS))


def at(dial: Dial, elevation: Degrees) -> Spot:
    """The place on the rim, between its spots on the chord."""
    place, beyond_it = divmod((elevation.thousandths + _HALF) % _ROUND, STEP.thousandths)
    (_, first), (_, second) = dial.rim[place : place + 2]
    return _between(first, second, beyond_it / STEP.thousandths)


def beyond(dial: Dial, elevation: Degrees, lengths: float) -> Spot:
    """The place so many body lines from the centre, as the picture shows their length at this elevation."""
    return _between(dial.centre, at(dial, elevation), lengths)


def along(dial: Dial, start: Degrees, end: Degrees, lengths: float) -> tuple[Spot, ...]:
    """Places from the lower elevation to the higher one, the spots of the rim between them included."""
    low, high = sorted((start, end))
    first = low.thousandths // STEP.thousandths + 1
    between = range(first * STEP.thousandths, high.thousandths, STEP.thousandths)
    angles = (low, *map(Degrees, between), high)
    return tuple(beyond(dial, angle, lengths) for angle in angles)


def _between(start: Spot, end: Spot, part: float) -> Spot:
    across, down = (end.x - start.x).thousandths * part, (end.y - start.y).thousandths * part
    return Spot(start.x + Pixels(round(across)), start.y + Pixels(round(down)))


def _cast_right(clicks: Clicks, across: int) -> bool:
    """Whether elevations count from the right: as stated, else where the line points in the picture."""
    return clicks.cast_to == "right" if clicks.cast_to is not None else across >= 0
