"""The page of a case's recordings: which there are, which attempt each shows, and which attempt counts."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PyQt6.QtCore import pyqtSignal
from PyQt6.QtWidgets import (
    QAbstractItemView,
    QDialog,
    QHBoxLayout,
    QInputDialog,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.choosing import file_to_read
from reviewer.desk.placing import fitting
from reviewer.terms.intervals import seconds_told
from reviewer.terms.messages import noted

if TYPE_CHECKING:
    from reviewer.actions import Audit, Change

HEADINGS = (
    noted("Recording"),
    noted("Attempt"),
    noted("Counts"),
    noted("Against the first of its attempt"),
    noted("File"),
)


class RecordingsPage(QDialog):
    """Lists the recordings of the case on the desk, and changes what is said of them.

    Signals:
        wanted(str): a recording is to be put on the screen.
    """

    wanted = pyqtSignal(str)

    def __init__(self, parent: QWidget, bench: Bench, kinds: str) -> None:
        super().__init__(parent)
        say = bench.say
        self.setWindowTitle(say("Recordings of this start"))
        self._bench, self._kinds = bench, kinds
        self.table = QTableWidget(0, len(HEADINGS))
        self.table.setHorizontalHeaderLabels([say.word(one) for one in HEADINGS])
        self.table.setAccessibleName(say("Recordings"))
        if (numbers := self.table.verticalHeader()) is not None:
            numbers.hide()
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        column, row = QVBoxLayout(self), QHBoxLayout()
        column.addWidget(self.table)
        for words, doing in (
            (say("Add a recording…"), self._ask_file),
            (say("Put on screen"), self._show),
            (say("Shows another attempt…"), self._ask_attempt),
            (say("Its attempt counts"), self._count),
        ):
            button = QPushButton(words)
            button.clicked.connect(lambda _, run=doing: run())
            row.addWidget(button)
        column.addLayout(row)
        bench.changed.connect(self._refresh)
        self.resize(fitting(self, 760, 300))
        self._refresh()

    def add(self, path: Path, attempt: int) -> bool:
        """Cite one more recording; whether it was done."""
        done = self._bench.say("{file} belongs to the case.", file=path.name)
        return self._do(lambda audit: actions.add_recording(audit, path, attempt), done)

    def _do(self, doing: Callable[[Audit], Change], done: str) -> bool:
        return self._bench.attempt(lambda: doing(self._bench.open_audit()), done)

    def _refresh(self) -> None:
        audit, say = self._bench.audit, self._bench.say
        listed = actions.recordings_document(audit)["recordings"] if audit is not None else []
        self.table.setRowCount(len(listed))
        for at, one in enumerate(listed):
            offset = one["offset"]
            apart = "" if offset is None else say.word(seconds_told(offset["seconds"], offset["u_s"]))
            name = Path(one["where"]).name if one["where"] else say("not found on this computer")
            counts = say("yes") if one["counts"] else say("no")
            for place, words in enumerate((str(one["number"]), str(one["attempt"]), counts, apart, name)):
                self.table.setItem(at, place, QTableWidgetItem(words))
        self.table.resizeColumnsToContents()
        if listed and self.table.currentRow() < 0:
            self.table.selectRow(0)

    def _chosen(self, audit: Audit) -> str:
        return actions.recording_named(audit, str(self.table.currentRow() + 1))

    def _ask_file(self) -> None:
        say = self._bench.say
        path = file_to_read(self, say("Add a recording of this start"), self._kinds)
        if path is None:
            return
        words = say("Which attempt does it show? (1 unless the exercise was repeated)")
        attempt, wanted = QInputDialog.getInt(self, say("Attempt"), words, 1, 1, 9)
        if wanted:
            self.add(path, attempt)

    def _ask_attempt(self) -> None:
        say = self._bench.say
        words = say("Which attempt does it show?")
        attempt, wanted = QInputDialog.getInt(self, say("Attempt"), words, 1, 1, 9)
        if wanted:
            self._do(lambda audit: actions.assign_attempt(audit, self._chosen(audit), attempt), "")

    def _count(self) -> None:
        def counted(audit: Audit) -> Change:
            return actions.count_attempt(audit, audit.cited(self._chosen(audit)).attempt)

        self._do(counted, self._bench.say("The score rests on the marks of that attempt."))

    def _show(self) -> None:
        if self._bench.audit is not None:
            self.wanted.emit(self._chosen(self._bench.audit))
