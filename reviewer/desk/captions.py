"""Words over the picture: beside the body and beside each other, with a thin line to what they belong to."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, product
from math import hypot

from PyQt6.QtCore import QPointF, QRectF, QSizeF, Qt
from PyQt6.QtGui import QFontMetricsF, QPainterPath, QPainterPathStroker

from reviewer.desk.framing import Framing, place_of
from reviewer.terms.shapes import Label, Ring, Segment, Shape, Spot

BODY, JOINT = "body-line", "joint"
THICK = 0.45
"""How thick a body is taken to be, in lengths between its joints farthest apart: head and arms are beside."""
GAP = 4.0
"""Pixels of the screen between words and what they keep off, and from the edge of the view."""
LINES = 14
"""How many lines of words up and down a place is looked for."""
NEAR = 0.8
"""Of a line's height: words no farther from their point need no line to it."""


@dataclass(frozen=True, slots=True)
class Caption:
    """Words with their place in the view.

    Attributes:
        words, style: of the label.
        start: where the words begin, on their base line.
        leader: from the point they belong to, to them; None where they stand beside it.
    """

    words: str
    style: str
    start: QPointF
    leader: tuple[QPointF, QPointF] | None


def captions(
    shapes: Sequence[Shape],
    framing: Framing,
    metrics: QFontMetricsF,
    room: QRectF,
    kept_off: Sequence[QRectF] = (),
) -> tuple[Caption, ...]:
    """The labels among shapes, each at the free place nearest to its point; at the point where none is free.

    ``room`` is the view; ``kept_off`` are parts of it that are covered later.
    """
    body, taken = _body(shapes, framing), list(kept_off)
    found = []
    for label in (one for one in shapes if isinstance(one, Label)):
        at = _at(label.at, framing)
        size = QSizeF(metrics.horizontalAdvance(label.words), metrics.height())
        usual = QRectF(QPointF(at.x(), at.y() - metrics.ascent()), size)
        box = _free(usual, at, body, taken, room)
        taken.append(box)
        start = QPointF(box.left(), box.top() + metrics.ascent())
        found.append(Caption(label.words, label.style, start, _leader(at, box)))
    return tuple(found)


def _body(shapes: Iterable[Shape], framing: Framing) -> QPainterPath:
    """Where the body is, as far as its joints tell; empty without two of them."""
    spots = {spot for shape in shapes for spot in _joints(shape)}
    ends = list(combinations([_at(spot, framing) for spot in spots], 2))
    lines, stroker = QPainterPath(), QPainterPathStroker()
    for first, second in ends:
        lines.moveTo(first)
        lines.lineTo(second)
    stroker.setWidth(max(1.0, THICK * max((_distance(*pair) for pair in ends), default=0.0)))
    stroker.setCapStyle(Qt.PenCapStyle.RoundCap)
    return stroker.createStroke(lines) if ends else lines


def _joints(shape: Shape) -> Iterator[Spot]:
    if isinstance(shape, Ring) and shape.style == JOINT:
        yield shape.centre
    if isinstance(shape, Segment) and shape.style == BODY:
        yield from (shape.start, shape.end)


def _free(usual: QRectF, at: QPointF, body: QPainterPath, taken: Sequence[QRectF], room: QRectF) -> QRectF:
    """The nearest place that covers neither the body nor other words; the usual one if there is none."""
    inner = room.adjusted(GAP, GAP, -GAP, -GAP)
    places = sorted(_places(usual, body.boundingRect(), inner), key=lambda box: _far(at, usual, box))
    free = (
        box
        for box in places
        if not any(box.intersects(other) for other in taken) and not body.intersects(box)
    )
    return next(free, _within(usual, inner))


def _places(usual: QRectF, body: QRectF, inner: QRectF) -> Iterator[QRectF]:
    wide, high = usual.width(), usual.height()
    lefts = [usual.left(), usual.left() - wide, inner.left(), inner.right() - wide]
    tops = [usual.top() + step * high for step in range(-LINES, LINES + 1)]
    if not body.isEmpty():
        lefts += [body.left() - wide - GAP, body.right() + GAP]
        tops += [body.top() - high - GAP, body.bottom() + GAP]
    for left, top in product(lefts, tops):
        yield _within(QRectF(left, top, wide, high), inner)


def _within(box: QRectF, inner: QRectF) -> QRectF:
    """The box moved into the view; its upper left corner where it is larger."""
    left = max(inner.left(), min(box.left(), inner.right() - box.width()))
    top = max(inner.top(), min(box.top(), inner.bottom() - box.height()))
    return QRectF(left, top, box.width(), box.height())


def _far(at: QPointF, usual: QRectF, box: QRectF) -> float:
    """How far words are from their point and, weighing less, from their usual place."""
    return _distance(at, _nearest(at, box)) + 0.25 * _distance(usual.topLeft(), box.topLeft())


def _leader(at: QPointF, box: QRectF) -> tuple[QPointF, QPointF] | None:
    end = _nearest(at, box)
    return (at, end) if _distance(at, end) > NEAR * box.height() else None


def _nearest(at: QPointF, box: QRectF) -> QPointF:
    """The point of a box that is nearest to a point."""
    return QPointF(max(box.left(), min(at.x(), box.right())), max(box.top(), min(at.y(), box.bottom())))


def _distance(first: QPointF, second: QPointF) -> float:
    return hypot(second.x() - first.x(), second.y() - first.y())


def _at(spot: Spot, framing: Framing) -> QPointF:
    return QPointF(*framing.to_view(*place_of(spot)))
