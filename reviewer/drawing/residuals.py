"""How well a camera fits the apparatus: at each click, where the solved camera would have the point."""

from math import sqrt

from reviewer.drawing.spots import scaled, tenths
from reviewer.terms.exact import Pixels
from reviewer.terms.readings import Reading
from reviewer.terms.shapes import Label, Path, Ring, Segment, Shape, Spot

TIMES = 10
"""How much longer an arrow is than the residual it stands for."""
RING, HEAD, ABOVE, CORNER = 5, 8, -14, (12, 30)
"""Radius of a ring, length of an arrow's head, steps to a name and to the words, in reference pixels."""


def residuals(reading: Reading) -> tuple[Shape, ...]:
    """An arrow at each click to where the point should lie, ten times as long; nothing without a camera.

    A point that was left out is crossed and named; a line in true length leads from it to where the camera
    has the point.
    """
    off = dict(reading.calibration.residuals)
    spots, left_out = dict(reading.clicks.apparatus), left_out_of(reading)
    picture = reading.clicks.picture
    shapes: list[Shape] = []
    for name in sorted(off.keys() & spots.keys()):
        draw = _crossed if name in left_out else _arrow
        shapes += draw(name, spots[name], off[name], picture)
    if not shapes:
        return ()
    corner = Spot(*(scaled(step, picture) for step in CORNER))
    return (*shapes, Label(corner, f"residuals x {TIMES}", "number"))


def left_out_of(reading: Reading) -> frozenset[str]:
    """The points the camera was not solved from: as many as were not used, those farthest off."""
    farthest = sorted(reading.calibration.residuals, key=lambda one: _square(one[1]), reverse=True)
    return frozenset(name for name, _ in farthest[: len(farthest) - reading.calibration.points])


def _arrow(_: str, at: Spot, off: tuple[Pixels, Pixels], picture: tuple[int, int]) -> tuple[Shape, ...]:
    tip = Spot(at.x - off[0] * TIMES, at.y - off[1] * TIMES)
    ring = Ring(at, scaled(RING, picture), "upright")
    head = _head(at, tip, scaled(HEAD, picture))
    return ring, Segment(at, tip, "residual"), *([Path(head, "residual")] if head else ())


def _crossed(name: str, at: Spot, off: tuple[Pixels, Pixels], picture: tuple[int, int]) -> tuple[Shape, ...]:
    should, arm = Spot(at.x - off[0], at.y - off[1]), scaled(RING, picture)
    far = Pixels(round(sqrt(_square(off))))
    return (
        Segment(at, should, "left-out"),
        Ring(at, arm, "left-out"),
        Segment(Spot(at.x - arm, at.y - arm), Spot(at.x + arm, at.y + arm), "left-out"),
        Segment(Spot(at.x - arm, at.y + arm), Spot(at.x + arm, at.y - arm), "left-out"),
        Label(Spot(at.x, at.y + scaled(ABOVE, picture)), f"{name} left out, {tenths(far)} px off", "number"),
    )


def _head(tail: Spot, tip: Spot, size: Pixels) -> tuple[Spot, ...]:
    """The two strokes of an arrow's head, or none where the arrow is shorter than they."""
    across, down = (tip.x - tail.x).thousandths, (tip.y - tail.y).thousandths
    length = sqrt(across * across + down * down)
    if length <= size.thousandths:
        return ()
    along, aside = size.thousandths / length, size.thousandths / length / 2

    def back(side: int) -> Spot:
        x, y = across * along + side * down * aside, down * along - side * across * aside
        return Spot(tip.x - Pixels(round(x)), tip.y - Pixels(round(y)))

    return back(1), tip, back(-1)


def _square(off: tuple[Pixels, Pixels]) -> int:
    return off[0].thousandths ** 2 + off[1].thousandths ** 2
