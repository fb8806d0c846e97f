"""How well a camera fits the apparatus: at each click, where the solved camera would have the point."""

from collections.abc import Iterable, Sequence
from math import sqrt

from reviewer.drawing.spots import scaled
from reviewer.terms.exact import Pixels
from reviewer.terms.intervals import tenths
from reviewer.terms.readings import Reading
from reviewer.terms.shapes import Label, Path, Ring, Segment, Shape, Spot
from reviewer.words import Saying

_ENGLISH = Saying()

TIMES = 10
"""How much longer an arrow is than the residual it stands for."""
RING, CROSS, HEAD, ABOVE, AROUND = 4, 8, 6, -16, 64
"""Radius of a ring and of a crossed one, length of an arrow's head, step to a name, and room around all
clicks with their arrows, in pixels of a picture 1280 long."""


def residuals(reading: Reading, say: Saying = _ENGLISH) -> tuple[Shape, ...]:
    """An arrow at each click to where the point should lie, ten times as long; nothing without a camera.

    A point that was left out is crossed and named; a line in true length leads from it to where the camera
    has the point.
    """
    off = dict(reading.calibration.residuals)
    spots, left_out = dict(reading.clicks.apparatus), left_out_of(reading)
    picture = reading.clicks.picture
    shapes: list[Shape] = []
    for name in sorted(off.keys() & spots.keys()):
        if name in left_out:
            shapes += _crossed(say.word(name), spots[name], off[name], picture, say)
        else:
            shapes += _arrow(spots[name], off[name], picture)
    if not shapes:
        return ()
    corner = Spot(*(Pixels(1000 * side) for side in around(shapes, picture)[0]))
    return (*shapes, Label(corner, say("arrows drawn {times} times as long", times=TIMES), "number"))


def around(shapes: Iterable[Shape], picture: tuple[int, int]) -> tuple[tuple[int, int], tuple[int, int]]:
    """The corner and the size of the part of the picture that holds the lines among some shapes."""
    room = scaled(AROUND, picture).thousandths
    ends = [spot for one in shapes if isinstance(one, Segment) for spot in (one.start, one.end)]
    left, top = (min(sizes) - room for sizes in _sides(ends))
    right, bottom = (max(sizes) + room for sizes in _sides(ends))
    corner = max(left // 1000, 0), max(top // 1000, 0)
    end = min(right // 1000, picture[0]), min(bottom // 1000, picture[1])
    return corner, (max(end[0] - corner[0], 1), max(end[1] - corner[1], 1))


def left_out_of(reading: Reading) -> frozenset[str]:
    """The points the camera was not solved from: as many as were not used, those farthest off."""
    farthest = sorted(reading.calibration.residuals, key=lambda one: _square(one[1]), reverse=True)
    return frozenset(name for name, _ in farthest[: len(farthest) - reading.calibration.points])


def _arrow(at: Spot, off: tuple[Pixels, Pixels], picture: tuple[int, int]) -> tuple[Shape, ...]:
    tip = Spot(at.x - off[0] * TIMES, at.y - off[1] * TIMES)
    ring = Ring(at, scaled(RING, picture), "residual")
    head = _head(at, tip, scaled(HEAD, picture))
    return ring, Segment(at, tip, "residual"), *([Path(head, "residual")] if head else ())


def _crossed(
    name: str, at: Spot, off: tuple[Pixels, Pixels], picture: tuple[int, int], say: Saying
) -> tuple[Shape, ...]:
    should, arm = Spot(at.x - off[0], at.y - off[1]), scaled(CROSS, picture)
    far = tenths(Pixels(round(sqrt(_square(off)))))
    said = say("{point} left out, {far} px off", point=name, far=far)
    return (
        Segment(at, should, "left-out"),
        Ring(at, arm, "left-out"),
        Segment(Spot(at.x - arm, at.y - arm), Spot(at.x + arm, at.y + arm), "left-out"),
        Segment(Spot(at.x - arm, at.y + arm), Spot(at.x + arm, at.y - arm), "left-out"),
        Label(Spot(at.x, at.y + scaled(ABOVE, picture)), said, "number"),
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


def _sides(spots: Sequence[Spot]) -> tuple[list[int], list[int]]:
    return [spot.x.thousandths for spot in spots], [spot.y.thousandths for spot in spots]


def _square(off: tuple[Pixels, Pixels]) -> int:
    return off[0].thousandths ** 2 + off[1].thousandths ** 2
