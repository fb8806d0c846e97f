"""The strip as it is painted: seconds, lanes, lines across them, and names tied to their place."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from PyQt6.QtCore import QPointF, QRectF, QSizeF, Qt
from PyQt6.QtGui import QFont, QFontMetricsF, QImage, QPainter, QPen, QPixmap, QPolygonF

from reviewer.desk.looks import CHOSEN, ELEMENT, FAULT, INK, LANE, QUIET, READING, RULE, SHEET, colour, small
from reviewer.desk.strip.columns import Columns
from reviewer.desk.strip.layout import Name, fitted
from reviewer.desk.strip.routine import BEGINS, DAMAGE, ENDS, UNTIMED, Routine, Row
from reviewer.desk.strip.scale import Scale
from reviewer.desk.strip.signs import paint_sign

STEPS = (0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 30, 60, 120, 300, 600, 1200, 3600)
"""Seconds between two that are written."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """What is painted, and where.

    Attributes:
        names: from the routine's beginning on.
        tick_s: length of a tick in seconds, or None without a recording.
        chosen: ids of chosen marks.
        boundary: tick of the chosen mark that keys move, and whether it lies in the elements' lane.
        heading: said above all.
        font: of the words.
    """

    routine: Routine
    names: tuple[Name, ...]
    scale: Scale
    columns: Columns
    tick_s: float | None
    chosen: tuple[str, ...]
    boundary: tuple[int, bool] | None
    heading: str
    font: QFont


def painted(sheet: Sheet, size: QSizeF, ratio: float, pictures: Mapping[float, QImage]) -> QPixmap:
    """The sheet as pixels of the screen; ``pictures`` by the middle of where they lie."""
    drawn = QPixmap((size * ratio).toSize())
    drawn.setDevicePixelRatio(ratio)
    drawn.fill(colour(SHEET))
    painter = QPainter(drawn)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
    painter.setFont(sheet.font)
    _paint_lanes(painter, sheet)
    _paint_pictures(painter, sheet, pictures)
    _paint_times(painter, sheet)
    _paint_marks(painter, sheet)
    for name in sheet.names:
        if sheet.scale.shows(sheet.scale.down(name.stands), sheet.columns.row):
            _paint_name(painter, sheet, name)
    _paint_heading(painter, sheet)
    painter.end()
    return drawn


def _paint_lanes(painter: QPainter, sheet: Sheet) -> None:
    columns, scale = sheet.columns, sheet.scale
    ground = QRectF(columns.lanes, scale.top, columns.lanes_end - columns.lanes, scale.tall)
    painter.fillRect(ground, colour(LANE))
    for row in sheet.routine.rows:
        if row.kind == DAMAGE and row.tick is not None and row.until is not None:
            top, bottom = scale.y_of(row.tick), scale.y_of(row.until)
            stretch = QRectF(columns.lanes, top, ground.width(), max(columns.unit / 5, bottom - top))
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(colour(FAULT))
            painter.setBrush(Qt.BrushStyle.BDiagPattern)
            painter.drawRect(stretch.intersected(ground))


def _paint_pictures(painter: QPainter, sheet: Sheet, pictures: Mapping[float, QImage]) -> None:
    columns = sheet.columns
    for middle, image in pictures.items():
        high = columns.picture_width * image.height() / image.width()
        painter.drawImage(QRectF(columns.pictures, middle - high / 2, columns.picture_width, high), image)


def _paint_times(painter: QPainter, sheet: Sheet) -> None:
    columns, font = sheet.columns, small(sheet.font)
    painter.setFont(font)
    painter.setPen(colour(QUIET))
    for y, words in _times(sheet):
        painter.drawLine(QPointF(columns.lanes, y), QPointF(columns.lanes + 0.2 * columns.unit, y))
        place = QRectF(columns.times - 4 * columns.unit, y - columns.unit / 2, 4 * columns.unit, columns.unit)
        painter.drawText(place, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, words)
    painter.setFont(sheet.font)


def _times(sheet: Sheet) -> Iterator[tuple[float, str]]:
    scale, tick_s = sheet.scale, sheet.tick_s
    if tick_s is None or not sheet.columns.times:
        return
    pixels = scale.whole / (scale.length * tick_s)
    step = next((one for one in STEPS if one * pixels >= 2.4 * sheet.columns.unit), STEPS[-1])
    places = 2 if step < 0.1 else 1 if step < 1 else 0
    at = int(scale.tick_at(scale.top) * tick_s / step)
    last = scale.tick_at(scale.top + scale.tall) * tick_s
    while at * step <= last:
        y = scale.down(scale.along(round(at * step / tick_s)))
        if scale.shows(y):
            yield y, f"{at * step:.{places}f}"
        at += 1


def _paint_marks(painter: QPainter, sheet: Sheet) -> None:
    scale, columns = sheet.scale, sheet.columns
    for row in sorted(sheet.routine.rows, key=lambda row: row.mark in sheet.chosen):
        if row.kind == "element" and row.tick is not None:
            _paint_block(painter, sheet, row, row.tick)
    for row in sheet.routine.rows:
        if row.tick is not None and scale.shows(scale.y_of(row.tick), columns.unit):
            _paint_moment(painter, sheet, row, scale.y_of(row.tick))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(colour(READING), 0.12 * columns.unit))
    for tick in sheet.routine.readings:
        painter.drawEllipse(QPointF(columns.readings, scale.y_of(tick)), *(0.2 * columns.unit,) * 2)
    _paint_boundary(painter, sheet)


def _paint_block(painter: QPainter, sheet: Sheet, row: Row, tick: int) -> None:
    """An element from start to end; without an end it is open below; hollow where it does not count."""
    scale, unit = sheet.scale, sheet.columns.unit
    top = scale.y_of(tick)
    bottom = max(top + unit / 4, scale.y_of(row.until)) if row.until is not None else top + unit / 2
    if bottom < scale.top or top > scale.top + scale.tall:
        return
    block = QRectF(sheet.columns.elements - 0.4 * unit, top, 0.8 * unit, bottom - top)
    chosen = row.mark in sheet.chosen
    painter.setPen(QPen(colour(INK if chosen else ELEMENT if row.aside else SHEET), unit / 12))
    painter.setBrush(Qt.BrushStyle.NoBrush if row.aside else colour(ELEMENT))
    if row.until is None:
        painter.setPen(QPen(colour(INK if chosen else ELEMENT), unit / 8))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        sides = (block.bottomLeft(), block.topLeft(), block.topRight(), block.bottomRight())
        painter.drawPolyline(QPolygonF(sides))
    else:
        painter.drawRoundedRect(block, unit / 8, unit / 8)


def _paint_moment(painter: QPainter, sheet: Sheet, row: Row, y: float) -> None:
    columns = sheet.columns
    if row.kind in (BEGINS, ENDS, "fact"):
        style = Qt.PenStyle.DotLine if row.kind == "fact" else Qt.PenStyle.SolidLine
        painter.setPen(QPen(colour(INK), columns.unit / 12, style))
        painter.drawLine(QPointF(columns.lanes, y), QPointF(columns.lanes_end, y))
    if row.kind not in (BEGINS, ENDS, "element", DAMAGE):
        lane = columns.faults if row.mark is not None else columns.notes
        paint_sign(painter, row, QPointF(lane, y), columns.unit)


def _paint_boundary(painter: QPainter, sheet: Sheet) -> None:
    """The tick that keys move: a bar longer than its lane is wide."""
    if sheet.boundary is None:
        return
    tick, element = sheet.boundary
    y, unit = sheet.scale.y_of(tick), sheet.columns.unit
    middle = sheet.columns.elements if element else sheet.columns.faults
    for shade, wide in ((SHEET, unit / 3), (INK, unit / 6)):
        painter.setPen(QPen(colour(shade), wide, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
        painter.drawLine(QPointF(middle - 0.55 * unit, y), QPointF(middle + 0.55 * unit, y))


def _paint_name(painter: QPainter, sheet: Sheet, name: Name) -> None:
    columns, row, unit = sheet.columns, name.row, sheet.columns.unit
    y = sheet.scale.down(name.stands)
    place = QRectF(columns.names, y - columns.row / 2, columns.width - columns.names - unit / 4, columns.row)
    if row.mark is not None and row.mark in sheet.chosen:
        ground = place.adjusted(-unit / 4, 0, unit / 4, 0)
        painter.fillRect(ground, colour(CHOSEN))
        painter.fillRect(
            QRectF(ground.right() - unit / 5, ground.top(), unit / 5, ground.height()), colour(ELEMENT)
        )
    if row.tick is not None:
        painter.setPen(QPen(colour(RULE), 1))
        belongs = QPointF(columns.lanes_end + 1, sheet.scale.down(name.belongs))
        painter.drawLine(belongs, QPointF(columns.names - unit / 4, y))
    if row.kind != UNTIMED:
        paint_sign(painter, row, QPointF(columns.names + 0.3 * unit, y), unit)
    _paint_words(painter, name, place.adjusted(0.8 * unit, 0, -unit / 5, 0))


def _paint_words(painter: QPainter, name: Name, place: QRectF) -> None:
    """The words, cut off where they are too long, and how many rows stand folded behind them."""
    metrics = QFontMetricsF(painter.font())
    more = f"+{len(name.folded)}" if name.folded else ""
    if more:
        painter.setPen(colour(QUIET))
        painter.drawText(place, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight, more)
        place = place.adjusted(0, 0, -metrics.horizontalAdvance(f"{more} "), 0)
    painter.setPen(colour(INK if name.row.mark is not None else QUIET))
    words = fitted(name.row, place.width(), metrics.horizontalAdvance, _cutting(metrics))
    painter.drawText(place, Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine, words)


def _cutting(metrics: QFontMetricsF) -> Callable[[str, float], str]:
    return lambda words, room: metrics.elidedText(words, Qt.TextElideMode.ElideRight, room)


def _paint_heading(painter: QPainter, sheet: Sheet) -> None:
    columns, font = sheet.columns, small(sheet.font)
    above = QRectF(0, 0, columns.width, sheet.scale.top - columns.unit / 3)
    painter.fillRect(above, colour(SHEET))
    painter.setFont(font)
    painter.setPen(colour(QUIET))
    room = above.adjusted(columns.pictures, 0, -columns.unit / 4, 0)
    words = QFontMetricsF(font).elidedText(sheet.heading, Qt.TextElideMode.ElideRight, room.width())
    painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, words)
