"""The routine as a table: the strip's twin for those who listen, or who would rather read rows."""

from collections.abc import Sequence

from PyQt6.QtCore import QEvent, QModelIndex, Qt, pyqtSignal
from PyQt6.QtGui import QKeyEvent
from PyQt6.QtWidgets import QAbstractItemView, QHeaderView, QTableView

from reviewer.desk.rowsmodel import RowsModel
from reviewer.desk.strip.told import COLUMNS, Told
from reviewer.words import Saying

MOVES = (
    Qt.Key.Key_Up,
    Qt.Key.Key_Down,
    Qt.Key.Key_Left,
    Qt.Key.Key_Right,
    Qt.Key.Key_Home,
    Qt.Key.Key_End,
    Qt.Key.Key_PageUp,
    Qt.Key.Key_PageDown,
)
"""Keys that go from row to row and from cell to cell here, whatever the picture makes of them."""
LOOKED_AT = 100
"""Rows whose words decide how wide a column is."""
WIDEST = 33
"""Letters of the widest column, so that frames and times are seen beside long names; a tip tells the row."""


class RoutineModel(RowsModel[Told]):
    """Rows of words for Qt's views and screen readers.

    Attributes:
        rows: what is shown.
    """

    def __init__(self, say: Saying) -> None:
        super().__init__(say, COLUMNS)

    def put(self, rows: Sequence[Told]) -> None:
        """Show these."""
        self.beginResetModel()
        self.rows = tuple(rows)
        self.endResetModel()

    def data(self, index: QModelIndex, role: int = Qt.ItemDataRole.DisplayRole) -> str | None:
        """A cell; its tip is the whole row, since long words are cut."""
        row = self.rows[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return row.cells[index.column()]
        if role == Qt.ItemDataRole.ToolTipRole:
            return " · ".join(cell for cell in row.cells if cell)
        return None


class RoutineTable(QTableView):
    """Shows the rows.

    Signals:
        reached(Told): the keyboard or the mouse has come to this row.
    """

    reached = pyqtSignal(object)

    def __init__(self, say: Saying) -> None:
        super().__init__()
        self.routine = RoutineModel(say)
        self.setModel(self.routine)
        self.setObjectName("routine")
        self.setAccessibleName(say("The routine as a table"))
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setTabKeyNavigation(False)
        self.setWordWrap(False)
        self.setShowGrid(False)
        if (side := self.verticalHeader()) is not None:
            side.hide()
            side.setMinimumSectionSize(1)
            side.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        if (head := self.horizontalHeader()) is not None:
            head.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
            head.setResizeContentsPrecision(LOOKED_AT)
            head.setHighlightSections(False)
        self.dress()

    def dress(self) -> None:
        """Rows as high as the words there are now."""
        if (side := self.verticalHeader()) is not None:
            side.setDefaultSectionSize(round(1.6 * self.fontMetrics().height()))
        if (head := self.horizontalHeader()) is not None:
            head.setMaximumSectionSize(WIDEST * self.fontMetrics().averageCharWidth())

    def put(self, rows: Sequence[Told], chosen: Sequence[str]) -> None:
        """Show these; the keyboard stays on its row, or goes to the first chosen mark's."""
        if tuple(rows) == self.routine.rows:
            self.follow(chosen)
            return
        before, column, at = self.current(), max(0, self.currentIndex().column()), self.currentIndex().row()
        self.routine.put(rows)
        same = next((n for n, row in enumerate(rows) if before and row.key == before.key), None)
        if rows:
            self._go(same if same is not None else max(0, min(at, len(rows) - 1)), column)
        self.follow(chosen)

    def follow(self, chosen: Sequence[str]) -> None:
        """Go to the first chosen mark, unless a chosen one is current already."""
        here = self.current()
        if not chosen or (here is not None and here.mark in chosen):
            return
        first = next((at for at, row in enumerate(self.routine.rows) if row.mark in chosen), None)
        if first is not None:
            self._go(first, max(0, self.currentIndex().column()))

    def current(self) -> Told | None:
        """The row the keyboard is on."""
        at = self.currentIndex().row()
        return self.routine.rows[at] if 0 <= at < len(self.routine.rows) else None

    def currentChanged(self, current: QModelIndex, previous: QModelIndex) -> None:
        """Say which row was reached by key or mouse."""
        super().currentChanged(current, previous)
        row = self.current()
        if row is not None and self.hasFocus() and current.row() != previous.row():
            self.reached.emit(row)

    def event(self, event: QEvent | None) -> bool:
        """Keep the keys that move for the table."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.ShortcutOverride:
            bare = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier == Qt.KeyboardModifier.NoModifier
            if bare and event.key() in MOVES:
                event.accept()
                return True
        return super().event(event)

    def keyboardSearch(self, search: str | None) -> None:
        """Letters are keys here, and search for nothing."""

    def _go(self, row: int, column: int) -> None:
        """Make a row current without having been sent there by a key."""
        self.blockSignals(True)
        self.setCurrentIndex(self.routine.index(row, column))
        self.blockSignals(False)
