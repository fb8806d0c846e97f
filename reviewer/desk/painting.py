"""Shapes in picture coordinates painted on the screen, in the pens of the common palette."""

from collections.abc import Iterable, Sequence
from functools import singledispatch

from PyQt6.QtCore import QPointF, QRectF, Qt
from PyQt6.QtGui import QColor, QFont, QFontMetricsF, QImage, QPainter, QPainterPath, QPen

from reviewer.desk.captions import captions
from reviewer.desk.framing import Framing, place_of
from reviewer.desk.looks import ELEMENT, SHEET, colour
from reviewer.drawing import PALETTE
from reviewer.terms.covers import Cover
from reviewer.terms.shapes import Label, Path, Ring, Segment, Shape, Spot

CLOSE = 8.0
"""How many times larger than the picture a close-up is."""
_PLAIN = QColor(96, 96, 96)
LARGER = 1.2
"""Size of words over the picture, to that of others."""


def paint(painter: QPainter, framing: Framing, shapes: Iterable[Shape]) -> None:
    """Paint shapes over the picture that `framing` shows; lines keep their width at every zoom."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for shape in shapes:
        _paint(shape, painter, framing)


def paint_beside(
    painter: QPainter, framing: Framing, shapes: Sequence[Shape], room: QRectF, covered: Sequence[QRectF] = ()
) -> None:
    """Paint shapes over a body: their words keep off it, and off what is covered later."""
    paint(painter, framing, (shape for shape in shapes if not isinstance(shape, Label)))
    metrics = QFontMetricsF(_letters(painter))
    for caption in captions(shapes, framing, metrics, room, covered):
        if caption.leader is not None:
            path = QPainterPath(caption.leader[0])
            path.lineTo(caption.leader[1])
            painter.strokePath(path, QPen(QColor("white"), 3))
            painter.strokePath(path, QPen(QColor(PALETTE[caption.style].colour), 1))
        _write(painter, caption.start, caption.words, caption.style)


def paint_close_up(painter: QPainter, picture: QImage, spot: Spot, room: QRectF) -> None:
    """The pixels around a spot, `CLOSE` times as large and unsmoothed, with a cross on the spot itself."""
    across, down = place_of(spot)
    half = room.width() / CLOSE / 2
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, False)
    painter.fillRect(room, QColor("black"))
    painter.drawImage(room, picture, QRectF(across + 0.5 - half, down + 0.5 - half, 2 * half, 2 * half))
    middle, arm = room.center(), room.width() / 2
    for pen in (QPen(QColor("white"), 3), QPen(QColor("black"), 1)):
        painter.setPen(pen)
        for along in (QPointF(1, 0), QPointF(-1, 0), QPointF(0, 1), QPointF(0, -1)):
            painter.drawLine(middle + along * 6, middle + along * arm)
        painter.drawRect(room)


def paint_covers(painter: QPainter, framing: Framing, covers: Iterable[Cover]) -> None:
    """Hide what lies under covers; plain, with a line round each that is seen on any picture."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(QColor("white"), 1.5))
    painter.setBrush(_PLAIN)
    for cover in covers:
        across, down = (size.thousandths / 1000 * framing.scale for size in (cover.across, cover.down))
        painter.drawEllipse(_at(cover.centre, framing), across, down)
    painter.setBrush(Qt.BrushStyle.NoBrush)


def paint_focus(painter: QPainter, room: QRectF) -> None:
    """A line round a part that has the keyboard, a lighter or darker one within: seen on any picture."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for shade, wide, inset in ((SHEET, 2.0, 3.0), (ELEMENT, 2.0, 1.0)):
        pen = QPen(colour(shade), wide)
        pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
        painter.setPen(pen)
        painter.drawRect(room.adjusted(inset, inset, -inset, -inset))


@singledispatch
def _paint(shape: Shape, painter: QPainter, framing: Framing) -> None:
    raise TypeError(shape)


@_paint.register
def _(shape: Segment, painter: QPainter, framing: Framing) -> None:
    _stroke(painter, shape.style, _through((shape.start, shape.end), framing))


@_paint.register
def _(shape: Path, painter: QPainter, framing: Framing) -> None:
    pen, path = PALETTE[shape.style], _through(shape.spots, framing)
    if pen.fill:
        tint = QColor(pen.colour)
        tint.setAlphaF(float(pen.fill))
        painter.fillPath(path, tint)
    _stroke(painter, shape.style, path)


@_paint.register
def _(shape: Ring, painter: QPainter, framing: Framing) -> None:
    path = QPainterPath()
    path.addEllipse(_around(shape.centre, shape.radius.thousandths, framing))
    _stroke(painter, shape.style, path)


@_paint.register
def _(shape: Label, painter: QPainter, framing: Framing) -> None:
    _write(painter, _at(shape.at, framing), shape.words, shape.style)


def _letters(painter: QPainter) -> QFont:
    font = painter.font()
    font.setPointSizeF(LARGER * font.pointSizeF())
    font.setBold(True)
    return font


def _write(painter: QPainter, start: QPointF, words: str, style: str) -> None:
    path = QPainterPath()
    path.addText(start, _letters(painter), words)
    painter.strokePath(path, QPen(QColor("white"), 3.5))
    painter.fillPath(path, QColor(PALETTE[style].colour))


def _stroke(painter: QPainter, style: str, path: QPainterPath) -> None:
    pen = PALETTE[style]
    over = QPen(QColor(pen.colour), float(pen.width))
    over.setCapStyle(Qt.PenCapStyle.FlatCap)
    over.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    if pen.dash:
        over.setDashPattern([length / float(pen.width) for length in pen.dash])
    painter.strokePath(path, QPen(QColor("white"), float(pen.width) + 3))
    painter.strokePath(path, over)


def _through(spots: Sequence[Spot], framing: Framing) -> QPainterPath:
    path = QPainterPath(_at(spots[0], framing))
    for spot in spots[1:]:
        path.lineTo(_at(spot, framing))
    return path


def _at(spot: Spot, framing: Framing) -> QPointF:
    return QPointF(*framing.to_view(*place_of(spot)))


def _around(centre: Spot, radius: int, framing: Framing) -> QRectF:
    at, reach = _at(centre, framing), radius / 1000 * framing.scale
    return QRectF(at.x() - reach, at.y() - reach, 2 * reach, 2 * reach)
