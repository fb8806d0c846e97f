"""The lines of the score sheet, each as high as its words need, at any width and size of words."""

from collections.abc import Sequence

from PyQt6.QtCore import QEvent, QModelIndex, Qt, pyqtSignal
from PyQt6.QtGui import QContextMenuEvent, QKeyEvent
from PyQt6.QtWidgets import QAbstractItemView, QHeaderView, QTableView

from reviewer.desk.bench import Bench
from reviewer.desk.keys import meant
from reviewer.desk.ledger import Row
from reviewer.desk.sheetmodel import POINTS, REASON, SUPPOSED, SheetModel
from reviewer.desk.typesetting import Typesetting, reason_room


class SheetTable(QTableView):
    """Shows the rows; says which thing of the key table is asked for on the row the keyboard is on.

    Signals:
        asked(str): a thing to do, by its name in the key table.
    """

    asked = pyqtSignal(str)

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self._bench = bench
        self.sheet = SheetModel(bench.say)
        self.setModel(self.sheet)
        self._type = Typesetting(self)
        self.setItemDelegate(self._type)
        self.setAccessibleName(bench.say("Lines of the score sheet"))
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.setShowGrid(False)
        self.setTabKeyNavigation(False)
        self._set_columns()
        self.clicked.connect(lambda _: self.asked.emit("line-frame"))

    def put(self, rows: Sequence[Row], *, supposing: bool) -> None:
        """Show these rows, with the column of what is supposed or without it."""
        self.setColumnHidden(SUPPOSED, not supposing)
        self._keep_room()
        self.sheet.put(rows)
        self.settle()

    def light(self, marks: Sequence[str]) -> None:
        """Show which lines rest on these marks, and the first of them where none is in sight already."""
        first, here = self.sheet.light(marks), self.current()
        from_here = self.hasFocus() and here is not None and set(marks) <= set(here.marks)
        if first is not None and not from_here:
            self.scrollTo(self.sheet.index(first, REASON))

    def current(self) -> Row | None:
        """The row the keyboard is on."""
        at = self.currentIndex().row()
        return self.sheet.rows[at] if 0 <= at < len(self.sheet.rows) else None

    def settle(self, column: int | None = None) -> None:
        """Give each row the height its words need; rows that have it are left alone.

        ``column``: width of the reason's column where Qt does not answer with the new one yet.
        """
        wide = reason_room(self.columnWidth(REASON) if column is None else column)
        for at, row in enumerate(self.sheet.rows):
            height = self._type.height(row, wide)
            if self.rowHeight(at) != height:
                self.setRowHeight(at, height)

    def dress(self) -> None:
        """Set everything in the font there is now."""
        self._type.dress(self.font())
        for column in (POINTS, SUPPOSED):
            self.setColumnWidth(column, self._points_width(column))
        self._keep_room()
        self.settle()
        if (port := self.viewport()) is not None:
            port.update()

    def changeEvent(self, event: QEvent | None) -> None:
        """Larger or smaller words need other rows."""
        super().changeEvent(event)
        if event is not None and event.type() == QEvent.Type.FontChange and hasattr(self, "_type"):
            self.dress()

    def keyPressEvent(self, event: QKeyEvent | None) -> None:
        """What the key table says is done on a line; arrows move among the lines."""
        does = meant(self._bench.keyboard, event, "sheet") if event is not None else ""
        if does:
            self.asked.emit(does)
        else:
            super().keyPressEvent(event)

    def keyboardSearch(self, search: str | None) -> None:
        """Letters are keys here, and search for nothing."""

    def contextMenuEvent(self, event: QContextMenuEvent | None) -> None:
        """What else might be so in the line beneath the pointer, or in the current one by the menu key."""
        if event is None:
            return
        under = self.indexAt(event.pos()) if event.reason() == event.Reason.Mouse else QModelIndex()
        if under.isValid():
            self.setCurrentIndex(under)
        self.asked.emit("otherwise")

    def _keep_room(self) -> None:
        """Never let the points leave no room for the reason."""
        columns = (POINTS,) if self.isColumnHidden(SUPPOSED) else (POINTS, SUPPOSED)
        self.setMinimumWidth(sum(map(self._points_width, columns)) + self._type.least_reason())

    def _points_width(self, column: int) -> int:
        """Room for the points, and for what stands above them."""
        above = self.sheet.headerData(column, Qt.Orientation.Horizontal)
        wide = self.fontMetrics().horizontalAdvance(f"  {above}  ")
        return max(self._type.points_width(), wide)

    def _set_columns(self) -> None:
        if (side := self.verticalHeader()) is not None:
            side.hide()
            side.setMinimumSectionSize(1)
            side.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        if (head := self.horizontalHeader()) is not None:
            head.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
            head.setSectionResizeMode(REASON, QHeaderView.ResizeMode.Stretch)
            head.setHighlightSections(False)
            head.sectionResized.connect(lambda at, _, wide: self.settle(wide) if at == REASON else None)
        self.setColumnHidden(SUPPOSED, True)
        self.dress()
