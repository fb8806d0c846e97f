"""How a row of the score sheet is set: the reason first, then what must be read whole, and one quiet line.

Words are laid out once for each width and font, so that a sheet of hundreds of rows is shown anew at once.
"""

from dataclasses import dataclass

from PyQt6.QtCore import QModelIndex, QPointF, QRect, Qt
from PyQt6.QtGui import QFont, QFontMetrics, QPainter, QStaticText, QTextOption
from PyQt6.QtWidgets import QAbstractItemView, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from reviewer.desk.ledger import Row
from reviewer.desk.looks import (
    CHOSEN,
    ELEMENT,
    FAULT,
    INK,
    PAPER,
    PROBLEM,
    QUIET,
    SHEET,
    colour,
    small,
)
from reviewer.desk.sheetmodel import POINTS, REASON, SheetModel, points_of

_SIDE = 6
_WIDEST = "−10.000"
_MOST_LAID = 4000
"""Words kept laid out; a column that is dragged wider has them at every width it goes through."""
_FEWEST = 14
"""Letters of a reason that a line has at least."""
_ON_PAPER = ("total", "heading")
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


@dataclass(slots=True)
class _Type:
    """Fonts of one size, and the words laid out in them so far."""

    usual: QFont
    bold: QFont
    lesser: QFont
    laid: dict[tuple[str, str, int], QStaticText]
    advances: dict[str, int]


class Typesetting(QStyledItemDelegate):
    """Paints the cells of the sheet, and says how high a row is."""

    def __init__(self, view: QAbstractItemView) -> None:
        super().__init__(view)
        self._view = view
        self.dress(view.font())

    def dress(self, font: QFont) -> None:
        """Set everything in this font from now on."""
        bold = QFont(font)
        bold.setWeight(QFont.Weight.DemiBold)
        self._type = _Type(QFont(font), bold, small(font), {}, {})
        self._usual, self._lesser = QFontMetrics(self._type.bold), QFontMetrics(self._type.lesser)

    def points_width(self) -> int:
        """As wide as the longest number of points, in pixels."""
        return self._usual.horizontalAdvance(_WIDEST) + 2 * _SIDE

    def least_reason(self) -> int:
        """What a reason needs to be read at all, in pixels."""
        return _FEWEST * self._usual.averageCharWidth()

    def height(self, row: Row, wide: int) -> int:
        """Of a row whose reason has this much room, in pixels."""
        least = self._usual.height() + (self._lesser.height() if row.span else 0)
        words = self._laid(row.words, _face(row), wide).size().height()
        more = self._laid(row.more, "lesser", wide).size().height() if row.more else 0
        quiet = self._quiet_lines(row, wide) * self._lesser.height()
        return max(least, int(words + more + 0.99) + quiet) + 2 * self._above()

    def paint(self, painter: QPainter | None, option: QStyleOptionViewItem, index: QModelIndex) -> None:
        """Paint one cell."""
        model = index.model()
        if painter is None or not isinstance(model, SheetModel):
            return
        row, lit, rect = model.rows[index.row()], index.row() in model.lit, option.rect
        painter.save()
        painter.setClipRect(rect)
        painter.fillRect(rect, colour(_ground(row, lit)))
        if index.column() == REASON:
            self._reason(painter, row, rect)
        else:
            self._points(painter, row, rect, supposed=index.column() != POINTS)
        if lit and index.column() == POINTS:
            painter.fillRect(rect.x(), rect.y(), 3, rect.height(), colour(ELEMENT))
        if option.state & QStyle.StateFlag.State_Selected and self._view.hasFocus():
            self._frame(painter, rect, index)
        painter.restore()

    def _reason(self, painter: QPainter, row: Row, rect: QRect) -> None:
        left, wide, top = rect.x() + _SIDE, rect.width() - 2 * _SIDE, float(rect.y() + self._above())
        for words, face in ((row.words, _face(row)), (row.more, "lesser")):
            if words:
                laid = self._laid(words, face, wide)
                painter.setFont(self._font(face))
                painter.setPen(colour(INK))
                painter.drawStaticText(QPointF(left, top), laid)
                top += laid.size().height()
        self._quietly(painter, row, QRect(left, int(top + 0.99), wide, self._lesser.height()))

    def _quietly(self, painter: QPainter, row: Row, line: QRect) -> None:
        """Where it lies, and at the right, or beneath where both have no room, what it rests on."""
        painter.setFont(self._type.lesser)
        painter.setPen(colour(QUIET))
        two = self._quiet_lines(row, line.width()) == 2
        room = line.width() - (0 if two else self._rests(row))
        where = self._lesser.elidedText(row.where, Qt.TextElideMode.ElideRight, room)
        painter.drawText(line, _LEFT, where)
        rests = self._lesser.elidedText(row.rests, Qt.TextElideMode.ElideRight, line.width())
        painter.drawText(line.translated(0, line.height() if two else 0), _RIGHT, rests)

    def _quiet_lines(self, row: Row, wide: int) -> int:
        if not (row.where and row.rests):
            return 1 if row.where or row.rests else 0
        place = row.where.partition(" · ")[0]
        return 1 if self._advance(f"{place}…") + self._rests(row) <= wide else 2

    def _rests(self, row: Row) -> int:
        return self._advance(row.rests) + 2 * _SIDE if row.rests else 0

    def _advance(self, words: str) -> int:
        found = self._type.advances.get(words)
        if found is None:
            found = self._type.advances[words] = self._lesser.horizontalAdvance(words)
        return found

    def _points(self, painter: QPainter, row: Row, rect: QRect, *, supposed: bool) -> None:
        words = row.supposed if supposed else points_of(row)
        inner = rect.adjusted(_SIDE, self._above(), -_SIDE, 0)
        line = QRect(inner.x(), inner.y(), inner.width(), self._usual.height())
        marked = row.kind in ("problem", "warning")
        painter.setPen(colour(FAULT if marked and not supposed else INK))
        painter.setFont(self._type.bold if supposed or marked else self._font(_face(row)))
        elided = painter.fontMetrics().elidedText(words, Qt.TextElideMode.ElideRight, inner.width())
        painter.drawText(line, _RIGHT, elided)
        if row.span and not supposed:
            painter.setFont(self._type.lesser)
            painter.setPen(colour(QUIET))
            beneath = line.translated(0, line.height())
            beneath.setHeight(self._lesser.height())
            painter.drawText(beneath.adjusted(-_SIDE, 0, 0, 0), _RIGHT, row.span)

    def _frame(self, painter: QPainter, rect: QRect, index: QModelIndex) -> None:
        """The row that the keys act on."""
        painter.setClipping(False)
        edge = colour(ELEMENT)
        painter.fillRect(rect.x(), rect.y(), rect.width(), 2, edge)
        painter.fillRect(rect.x(), rect.bottom() - 1, rect.width(), 2, edge)
        if index.column() == POINTS:
            painter.fillRect(rect.x(), rect.y(), 2, rect.height(), edge)
        if index.column() == REASON:
            painter.fillRect(rect.right() - 1, rect.y(), 2, rect.height(), edge)

    def _above(self) -> int:
        return self._lesser.height() // 4

    def _font(self, face: str) -> QFont:
        return {"bold": self._type.bold, "lesser": self._type.lesser}.get(face, self._type.usual)

    def _laid(self, words: str, face: str, wide: int) -> QStaticText:
        key = (words, face, wide)
        found = self._type.laid.get(key)
        if found is None:
            if len(self._type.laid) > _MOST_LAID:
                self._type.laid.clear()
            found = self._type.laid[key] = _lay_out(words, self._font(face), wide)
        return found


def reason_room(column: int) -> int:
    """How much of a column's width is for words, in pixels."""
    return column - 2 * _SIDE


def _lay_out(words: str, font: QFont, wide: int) -> QStaticText:
    text, wrapping = QStaticText(words), QTextOption()
    wrapping.setWrapMode(QTextOption.WrapMode.WrapAtWordBoundaryOrAnywhere)
    text.setTextFormat(Qt.TextFormat.PlainText)
    text.setTextOption(wrapping)
    text.setTextWidth(max(1, wide))
    text.prepare(font=font)
    return text


def _face(row: Row) -> str:
    return "bold" if row.kind in _ON_PAPER else "usual"


def _ground(row: Row, lit: bool) -> str:
    if lit:
        return CHOSEN
    return PROBLEM if row.kind in ("problem", "warning") else PAPER if row.kind in _ON_PAPER else SHEET
