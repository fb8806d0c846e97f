"""The score sheet: the argument. Its lines in a table, the final score above, the posted score beside."""

from PyQt6.QtCore import QEvent, QModelIndex, QObject, QRectF, QSize, Qt, pyqtSignal
from PyQt6.QtGui import QKeyEvent, QPainter, QTextDocument
from PyQt6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QLineEdit,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.calls import CallError
from reviewer.desk.ledger import Row, posted_words, reachable_words, rows_of
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
    hex_of,
)
from reviewer.terms.exact import Points
from reviewer.terms.problems import Problem

ROW = Qt.ItemDataRole.UserRole


class ReasonDelegate(QStyledItemDelegate):
    """Paints the reason and, smaller beneath it, stage, clause and source."""

    def paint(self, painter: QPainter | None, option: QStyleOptionViewItem, index: QModelIndex) -> None:
        """Paint one cell."""
        row: Row = index.data(ROW)
        if painter is None:
            return
        painter.save()
        painter.fillRect(option.rect, colour(_ground(row, bool(index.data(ROW + 1)))))
        painter.translate(option.rect.x(), option.rect.y())
        document = self._document(row, index.column(), option.rect.width())
        document.drawContents(painter, QRectF(0, 0, option.rect.width(), option.rect.height()))
        painter.restore()
        if index.data(ROW + 1) and index.column() == 0:
            painter.fillRect(option.rect.x(), option.rect.y(), 3, option.rect.height(), colour(ELEMENT))

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex) -> QSize:
        """As high as the wrapped words need."""
        table = self.parent()
        wide = table.columnWidth(index.column()) if isinstance(table, QTableWidget) else option.rect.width()
        size = self._document(index.data(ROW), index.column(), wide).size()
        return QSize(int(size.width()), int(size.height()) + 2)

    def _document(self, row: Row, column: int, wide: int) -> QTextDocument:
        document = QTextDocument()
        document.setDocumentMargin(4)
        document.setHtml(_points(row) if column == 0 else _reason(row))
        document.setTextWidth(wide)
        return document


class ArgumentView(QWidget):
    """The sheet of the case on the desk.

    Signals:
        picked(tuple): ids of the marks behind a line that was activated.
    """

    picked = pyqtSignal(object)

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self._bench = bench
        self.rows: tuple[Row, ...] = ()
        self.final, self.reachable, self.against = QLabel(), QLabel(), QLabel()
        self.posted = QLineEdit()
        self.table = QTableWidget(0, 2)
        self.setAccessibleName("Score sheet")
        self._dress()
        self._arrange()
        self.table.cellClicked.connect(lambda row, _: self._pick(row))
        self.posted.returnPressed.connect(self._enter_posted)
        self.refresh()

    def refresh(self) -> None:
        """Read the sheet again; it is derived from the marks each time."""
        audit = self._bench.audit
        sheet = audit.sheet if audit else None
        self.rows = rows_of(sheet, self._bench.whereabouts) if sheet else ()
        self.final.setText(str(sheet.final_score) if sheet else "—")
        self.final.setAccessibleDescription(f"Final score {self.final.text()}")
        self.reachable.setText(
            reachable_words(sheet) if sheet else "The score stands here once a case is open."
        )
        self.against.setText(posted_words(sheet, audit.posted) if sheet and audit else "")
        self.posted.setEnabled(audit is not None and audit.author is not None)
        if not self.posted.hasFocus():
            self.posted.setText(str(audit.posted) if audit and audit.posted is not None else "")
        self._fill()

    def highlight(self) -> None:
        """Show which lines rest on the chosen marks."""
        chosen, first = set(self._bench.chosen), None
        for at, row in enumerate(self.rows):
            lit = bool(chosen & set(row.marks))
            first = at if lit and first is None else first
            for column in (0, 1):
                if (cell := self.table.item(at, column)) is not None:
                    cell.setData(ROW + 1, lit)
        if first is not None and (cell := self.table.item(first, 1)) is not None:
            self.table.scrollToItem(cell)

    def eventFilter(self, watched: QObject | None, event: QEvent | None) -> bool:
        """Enter on a row of the table goes to its frame."""
        pressed = event.key() if isinstance(event, QKeyEvent) else None
        if (
            event
            and event.type() == QEvent.Type.KeyPress
            and pressed in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        ):
            self._pick(self.table.currentRow())
            return True
        return super().eventFilter(watched, event)

    def _dress(self) -> None:
        self.final.setObjectName("final")
        self.final.setAccessibleName("Final score")
        self.reachable.setWordWrap(True)
        self.against.setWordWrap(True)
        self.posted.setPlaceholderText("8.900")
        self.posted.setAccessibleName("Posted score")
        self.posted.setMaximumWidth(80)
        table = self.table
        table.setAccessibleName("Lines of the score sheet")
        table.setHorizontalHeaderLabels(["Points", "Reason, clause and source"])
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        table.setItemDelegate(ReasonDelegate(table))
        table.setShowGrid(False)
        table.setTabKeyNavigation(False)
        table.installEventFilter(self)
        if (side := table.verticalHeader()) is not None:
            side.hide()
        if (head := table.horizontalHeader()) is not None:
            head.setSectionResizeMode(1, QHeaderView.ResizeMode.Stretch)
            head.sectionResized.connect(lambda *_: table.resizeRowsToContents())
        table.setColumnWidth(0, 70)

    def _arrange(self) -> None:
        heading, label = QLabel("Final score"), QLabel("Posted")
        heading.setObjectName("heading")
        label.setBuddy(self.posted)
        above = QHBoxLayout()
        above.addWidget(self.final)
        above.addStretch()
        above.addWidget(label)
        above.addWidget(self.posted)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 6, 8, 6)
        column.setSpacing(3)
        column.addWidget(heading)
        column.addLayout(above)
        column.addWidget(self.reachable)
        column.addWidget(self.against)
        column.addWidget(self.table, 1)

    def _fill(self) -> None:
        self.table.setRowCount(len(self.rows))
        for at, row in enumerate(self.rows):
            for column, words in enumerate((row.points, f"{row.words}. {row.beneath}")):
                cell = QTableWidgetItem(words)
                cell.setData(ROW, row)
                cell.setData(Qt.ItemDataRole.AccessibleTextRole, words)
                self.table.setItem(at, column, cell)
        self.table.resizeRowsToContents()
        self.highlight()

    def _pick(self, at: int) -> None:
        if 0 <= at < len(self.rows) and self.rows[at].marks:
            self.picked.emit(self.rows[at].marks)

    def _enter_posted(self) -> None:
        typed = self.posted.text().strip()
        self._bench.attempt(
            lambda: actions.enter_posted(self._bench.open_audit(), _score(typed)),
            f"Posted score {typed} kept.",
        )


def _score(typed: str) -> Points:
    try:
        return Points.parse(typed)
    except ValueError:
        raise CallError(
            Problem("unreadable-score", "posted score", f"{typed!r} is no score.", "Type it such as 8.900.")
        ) from None


_SIGNS = {"problem": "!", "not earned": "○", "not taken": "○", "remark": "?"}


def _ground(row: Row, lit: bool) -> str:
    if lit:
        return CHOSEN
    return PROBLEM if row.kind == "problem" else PAPER if row.kind == "total" else SHEET


def _points(row: Row) -> str:
    weight = 600 if row.kind == "total" else 400
    sign = _SIGNS.get(row.kind, row.points)
    tint = hex_of(FAULT if row.kind == "problem" else INK)
    return f"<div align='right' style='font-weight:{weight};color:{tint}'>{sign}</div>"


def _reason(row: Row) -> str:
    weight = 600 if row.kind == "total" else 400
    beneath = (
        f"<br><span style='color:{hex_of(QUIET)};font-size:small'>{_safe(row.beneath)}</span>"
        if row.beneath
        else ""
    )
    words = f"<span style='font-weight:{weight}'>{_safe(row.words)}</span>"
    return f"<div style='color:{hex_of(INK)}'>{words}{beneath}</div>"


def _safe(words: str) -> str:
    return words.replace("&", "&amp;").replace("<", "&lt;")
