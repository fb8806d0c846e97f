"""How far shapes reach over a picture, with their pens and words: rather too far than too little."""

from collections.abc import Iterator, Sequence

from reviewer.drawing.spots import REFERENCE
from reviewer.drawing.vector import ENLARGED, LETTER_HEIGHT, LETTER_WIDTH
from reviewer.terms.shapes import Label, Path, Ring, Segment, Shape, Spot

_AROUND = 12
"""Pixels of a picture 1280 long that a pen and its halo reach to each side at most."""
_WIDER = 1.2
"""Times that a letter may be wider than it is taken to be."""

Box = tuple[float, float, float, float]
"""Left, top, right and bottom, in pixels."""


def part_of(
    shapes: Sequence[Shape], picture: tuple[int, int], shown: tuple[int, int]
) -> tuple[int, int, int, int]:
    """Left, top, right and bottom of all shapes, in pixels of the picture as shown; left and top are even."""
    boxes = [box for shape in shapes for box in _boxes(shape, picture)]
    across, down = shown[0] / picture[0], shown[1] / picture[1]
    margin = _AROUND * max(picture) / REFERENCE
    left, top = (min(box[side] for box in boxes) - margin for side in (0, 1))
    right, bottom = (max(box[side] for box in boxes) + margin for side in (2, 3))
    begin = _inside(left * across, shown[0] - 2) // 2 * 2, _inside(top * down, shown[1] - 2) // 2 * 2
    end = _inside(right * across + 1, shown[0]), _inside(bottom * down + 1, shown[1])
    return *begin, max(end[0], begin[0] + 2), max(end[1], begin[1] + 2)


def _inside(place: float, most: int) -> int:
    return max(0, min(int(place), most))


def _boxes(shape: Shape, picture: tuple[int, int]) -> Iterator[Box]:
    if isinstance(shape, Label):
        yield _of_words(shape, picture)
        return
    reach = shape.radius.thousandths / 1000 if isinstance(shape, Ring) else 0.0
    for spot in _spots(shape):
        x, y = spot.x.thousandths / 1000, spot.y.thousandths / 1000
        yield x - reach, y - reach, x + reach, y + reach


def _spots(shape: Segment | Path | Ring) -> tuple[Spot, ...]:
    if isinstance(shape, Segment):
        return shape.start, shape.end
    return shape.spots if isinstance(shape, Path) else (shape.centre,)


def _of_words(label: Label, picture: tuple[int, int]) -> Box:
    """Where words may lie that were moved into the picture."""
    letters = LETTER_HEIGHT * max(picture) / REFERENCE
    room, wide = letters * ENLARGED, letters * LETTER_WIDTH * len(label.words)
    x, y = label.at.x.thousandths / 1000, label.at.y.thousandths / 1000
    left = max(0.0, min(x, picture[0] - wide * ENLARGED))
    down = max(room, min(y, picture[1] - room / 3))
    return min(left, x), down - letters, max(left, 0.0) + wide * _WIDER, down + letters / 2
