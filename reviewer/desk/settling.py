"""The page of a settlement: what both sealed sheets say, line beside line, and whose view is taken."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import partial
from typing import TYPE_CHECKING, Any

from PyQt6.QtCore import QModelIndex, Qt
from PyQt6.QtWidgets import (
    QAbstractItemView,
    QDialog,
    QHeaderView,
    QLabel,
    QLineEdit,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from reviewer import actions
from reviewer.desk.angles import angle_words
from reviewer.desk.bench import Bench
from reviewer.desk.buttons import button
from reviewer.desk.calls import short
from reviewer.desk.choosing import file_to_read
from reviewer.desk.flowing import Flowing
from reviewer.desk.footline import FootLine
from reviewer.desk.placing import fitting
from reviewer.desk.rowsmodel import NO_INDEX, RowsModel
from reviewer.terms.marks import Mark
from reviewer.terms.messages import noted
from reviewer.terms.vocabulary import FIRST, NEITHER, SECOND

if TYPE_CHECKING:
    from reviewer.actions import Change

_LINE, _FIRST, _SECOND, _TAKEN = range(4)
_SETTLED = {
    "both": noted("agreed"),
    NEITHER: noted("left out"),
    None: noted("open"),
}
_NO_SETTLEMENT = noted(
    "This case settles nothing. Begin with another judge’s sealed sheet of the same routine."
)


class SettlingPage(QDialog):
    """Shows the lines of the settlement on the desk; each that is taken or opened again is a step of undo.

    Attributes:
        lines: the table.
        because: why a line is opened again.
        takes: buttons that take the first judge's view, the second's, and neither's.
    """

    def __init__(self, parent: QWidget, bench: Bench) -> None:
        super().__init__(parent)
        say = bench.say
        self.setWindowTitle(say("Settle two sealed sheets"))
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._bench, self._views = bench, _Views(bench)
        self.told, self.lines, self.because, self.foot = QLabel(), QTableView(), QLineEdit(), FootLine(say)
        self.takes = [button("", partial(self._take, view)) for view in (FIRST, SECOND, NEITHER)]
        self.opening = button(say("Open it &again"), self._open_again)
        self.beginning = button(say("&Begin with another sheet…"), self._begin)
        self._arrange()
        bench.changed.connect(self.refresh)
        bench.said.connect(self.foot.tell)
        self.resize(fitting(self, 900, 520))
        self.refresh()
        self.lines.setFocus()

    def refresh(self, _: object = None) -> None:
        """Read the settlement again; the keyboard stays on its line."""
        audit, say, at = self._bench.audit, self._bench.say, self.lines.currentIndex().row()
        settles = audit is not None and audit.state.settlement is not None
        found = actions.settlement_document(audit) if audit is not None and settles else None
        self._views.put(found)
        self.told.setText(self._words(found))
        for part in (self.lines, self.because, self.opening, *self.takes):
            part.setVisible(settles)
        self.beginning.setVisible(not settles)
        if found is not None:
            judges = [one["judge"] for one in found["sheets"]]
            labels = [say("Take judge {judge}’s view", judge=judge) for judge in judges]
            for one, words in zip(self.takes, (*labels, say("&Leave it out")), strict=True):
                one.setText(words)
            self.lines.selectRow(max(0, min(at, len(found["lines"]) - 1)))
            self.lines.resizeRowsToContents()

    def _words(self, found: Mapping[str, Any] | None) -> str:
        say = self._bench.say
        if found is None:
            return say(_NO_SETTLEMENT)
        if found["open"]:
            more = noted("Lines open: {count}. There is no settled score before each is settled.")
            return say(more, count=found["open"])
        return say("Every line is settled: {score}.", score=found["final_score"] or "—")

    def _take(self, view: str) -> None:
        line = self._line()
        done = self._bench.say("{line} is settled; undo at the desk takes that back.", line=line)
        self._do(lambda audit: actions.settle_line(audit, line, view), done)

    def _open_again(self) -> None:
        line, why = self._line(), self.because.text()
        done = self._bench.say("{line} is open again.", line=line)
        if self._do(lambda audit: actions.reopen_line(audit, line, why), done):
            self.because.clear()
        else:
            self.because.setFocus()

    def _do(self, doing: Callable[[actions.Audit], Change], done: str) -> bool:
        return self._bench.attempt(lambda: doing(self._bench.open_audit()), done)

    def _begin(self) -> None:
        """Settle the sheet on the desk with another one; the settlement is laid on the desk then."""
        say, bench = self._bench.say, self._bench
        other = file_to_read(self, say("Another judge’s sealed sheet"), say("Cases (*.case)"))
        if other is None:
            return
        own = bench.on_desk().path
        path = own.with_name(f"{own.stem}-settled.case")
        if bench.attempt(lambda: actions.begin_settlement(own, other, path, bench.author).close()):
            bench.opens.emit(path)

    def _line(self) -> str:
        rows, at = self._views.rows, self.lines.currentIndex().row()
        return str(rows[at]["line"]) if 0 <= at < len(rows) else ""

    def _show(self, at: QModelIndex) -> None:
        """Show the frame of the first judge's mark, else of the second's."""
        audit, row = self._bench.audit, self._views.rows[at.row()]
        marks = (Mark.from_json(row[view]) for view in (FIRST, SECOND) if row[view] is not None)
        timed = next(((mark.recording, pts) for mark in marks if (pts := mark.moment()) is not None), None)
        if audit is not None and timed is not None and self._bench.is_here(timed[0]):
            self._bench.wanted.emit(audit.frame_at(timed[1], timed[0]))

    def _arrange(self) -> None:
        say, below, column = self._bench.say, Flowing(), QVBoxLayout(self)
        self.told.setWordWrap(True)
        self.because.setPlaceholderText(say("why it is opened again"))
        self.because.setAccessibleName(say("Why it is opened again"))
        self.because.returnPressed.connect(self._open_again)
        self.lines.setModel(self._views)
        self.lines.setAccessibleName(say("Lines of the settlement; Return shows the frame"))
        self.lines.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.lines.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.lines.setTabKeyNavigation(False)
        self.lines.activated.connect(self._show)
        _columns(self.lines)
        for one in (*self.takes, self.opening):
            below.add(one)
        below.add(self.because, takes_room=True)
        below.add(self.beginning)
        column.addWidget(self.told)
        column.addWidget(self.lines, 1)
        column.addLayout(below)
        column.addWidget(self.foot)


class _Views(RowsModel[Mapping[str, Any]]):
    """The lines of a ``reviewer.settlement/1`` document, in words."""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench.say, ("",) * 4)
        self._bench, self._judges = bench, ["", ""]

    def put(self, found: Mapping[str, Any] | None) -> None:
        """Show this document."""
        say = self._say
        self.beginResetModel()
        self._judges = [one["judge"] for one in found["sheets"]] if found else ["", ""]
        judges = (say("Judge {letter}", letter=letter) for letter in self._judges)
        self._headings = (say("Line"), *judges, say("Settled"))
        self.rows = tuple(found["lines"]) if found else ()
        self.endResetModel()

    def data(self, index: QModelIndex, role: int = Qt.ItemDataRole.DisplayRole) -> str | None:
        """What one cell says, to the eye and to the ear."""
        if role not in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole) or index == NO_INDEX:
            return None
        row = self.rows[index.row()]
        if index.column() in (_FIRST, _SECOND):
            mark = row[FIRST if index.column() == _FIRST else SECOND]
            return " · ".join(self._told(Mark.from_json(mark))) if mark is not None else "—"
        return str(row["line"]) if index.column() == _LINE else self._taken(row)

    def _taken(self, row: Mapping[str, Any]) -> str:
        if row["taken"] in (FIRST, SECOND):
            judge = self._judges[(FIRST, SECOND).index(row["taken"])]
            return self._say("as judge {letter}", letter=judge)
        again = self._say("opened again") if row.get("reopened") else ""
        return ", ".join(filter(None, (self._say.word(_SETTLED[row["taken"]]), again)))

    def _told(self, mark: Mark) -> Iterator[str]:
        """A mark of either sheet: what it is, what it costs, what was found, where it lies."""
        say, audit, pts = self._say, self._bench.audit, mark.moment()
        yield self._bench.name_of(mark)
        if mark.amount is not None:
            yield say.word(short(mark.amount))
        if mark.angle is not None:
            yield angle_words(mark.angle, say)
        book = self._bench.book
        names = {one.code: one.name for one in (*book.roles, *book.conditions)} if book is not None else {}
        yield from (names.get(one, one) for one in (*mark.roles, *mark.conditions))
        if pts is not None and audit is not None and audit.state.recordings:
            yield say("frame {frame}", frame=audit.frame_at(pts, mark.recording))


def _columns(table: QTableView) -> None:
    """Both views share the room; words go on in the next line."""
    if (side := table.verticalHeader()) is not None:
        side.hide()
    if (head := table.horizontalHeader()) is not None:
        head.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        for column in (_FIRST, _SECOND):
            head.setSectionResizeMode(column, QHeaderView.ResizeMode.Stretch)
        head.sectionResized.connect(lambda *_: table.resizeRowsToContents())
    table.setWordWrap(True)
