"""Points and directions in the picture, as floats: pixels, degrees, x right, y down."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

from reviewer.terms.readings import Clicks
from reviewer.terms.shapes import Spot


@dataclass(frozen=True, slots=True)
class Stroke:
    """A straight line from one point to another, in pixels."""

    start: tuple[float, float]
    end: tuple[float, float]

    @property
    def length(self) -> float:
        """Pixels."""
        return math.dist(self.start, self.end)

    @property
    def direction(self) -> float:
        """Degrees anticlockwise from right as seen, in [-180, 180]."""
        return math.degrees(math.atan2(self.start[1] - self.end[1], self.end[0] - self.start[0]))


def point(spot: Spot) -> tuple[float, float]:
    """A spot in pixels."""
    return spot.x.thousandths / 1000, spot.y.thousandths / 1000


def middle(spots: Sequence[Spot]) -> tuple[float, float]:
    """The mean of repeated clicks, in pixels."""
    points = [point(spot) for spot in spots]
    return sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)


def body_line(clicks: Clicks) -> Stroke:
    """From the first joint of the chosen line to the second."""
    body = dict(clicks.body)
    first, second = clicks.line.split("-")
    return Stroke(middle(body[first]), middle(body[second]))


def uprights(clicks: Clicks) -> tuple[tuple[str, Stroke], ...]:
    """Name and line, from foot to rail end, of each upright both of whose points were clicked."""
    at = dict(clicks.apparatus)
    names = [
        (f"{rail}-foot-{end}", f"{rail}-rail-{end}")
        for rail, end in product(("low", "high"), ("near", "far"))
    ]
    return tuple(
        (top, Stroke(point(at[foot]), point(at[top]))) for foot, top in names if {foot, top} <= at.keys()
    )


def lean(upright: Stroke) -> float:
    """Degrees by which an upright leans clockwise from the picture's vertical: the camera's roll."""
    return wrapped(90 - upright.direction)


def mean_direction(angles: Sequence[float]) -> float:
    """The direction of the sum of unit vectors; it knows that 179 and -179 degrees are neighbours."""
    turned = [math.radians(angle) for angle in angles]
    return math.degrees(math.atan2(sum(map(math.sin, turned)), sum(map(math.cos, turned))))


def wrapped(angle: float) -> float:
    """The same direction in (-180, 180]."""
    return angle - 360 * math.ceil((angle - 180) / 360)


def cast_side(clicks: Clicks, level_direction: float) -> str:
    """``left`` or ``right``: as stated, else where the levelled line points (right if straight up or down)."""
    if clicks.cast_to is not None:
        return clicks.cast_to
    return "right" if abs(wrapped(level_direction)) <= 90 else "left"


def elevation(direction: float, side: str) -> float:
    """Elevation on the cast side: 0 level, 90 straight up, above 90 beyond the vertical; (-180, 180]."""
    return wrapped(direction if side == "right" else 180 - direction)
