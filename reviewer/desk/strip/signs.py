"""The shape of each kind of thing on the strip: shape as well as colour tells them apart."""

from PyQt6.QtCore import QPointF, QRectF, Qt
from PyQt6.QtGui import QPainter, QPen, QPolygonF

from reviewer.desk.looks import ELEMENT, FAULT, INK, QUIET, colour
from reviewer.desk.strip.routine import BEGINS, DAMAGE, ENDS, NOTE, Row


def paint_sign(painter: QPainter, row: Row, at: QPointF, unit: float) -> None:
    """Element a bar, fault a wedge, fact a ring, note a leaf, damage hatched, begin and end an angle.

    What does not count is hollow. ``unit`` is the height of a line of words.
    """
    solid = Qt.BrushStyle.SolidPattern if not row.aside else Qt.BrushStyle.NoBrush
    shade = colour({"element": ELEMENT, "fault": FAULT, DAMAGE: FAULT, NOTE: QUIET}.get(row.kind, INK))
    painter.setPen(QPen(shade, unit / 12))
    painter.setBrush(shade)
    brush = painter.brush()
    brush.setStyle(solid)
    painter.setBrush(brush)
    if row.kind == "element":
        painter.drawRect(QRectF(at.x() - unit / 5, at.y() - unit / 3, unit / 3, unit * 2 / 3))
    elif row.kind == "fault":
        painter.drawPolygon(_around(at, unit, (-0.25, -0.25), (0.3, 0), (-0.25, 0.25)))
    elif row.kind == "fact":
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(at, unit / 4.5, unit / 4.5)
    elif row.kind == NOTE:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        leaf = (-0.2, -0.28), (0.08, -0.28), (0.24, -0.1), (0.24, 0.28), (-0.2, 0.28)
        painter.drawPolygon(_around(at, unit, *leaf))
    elif row.kind == DAMAGE:
        painter.setBrush(Qt.BrushStyle.BDiagPattern)
        painter.drawRect(QRectF(at.x() - unit / 3, at.y() - unit / 4, unit * 2 / 3, unit / 2))
    elif row.kind in (BEGINS, ENDS):
        up = 1 if row.kind == BEGINS else -1
        painter.setPen(QPen(shade, unit / 8))
        painter.drawPolyline(_around(at, unit, (0.3, -0.2 * up), (-0.25, -0.2 * up), (-0.25, 0.25 * up)))


def _around(at: QPointF, unit: float, *corners: tuple[float, float]) -> QPolygonF:
    return QPolygonF([at + QPointF(x * unit, y * unit) for x, y in corners])
