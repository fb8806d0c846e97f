"""The page of a case's recordings: which there are, which attempt each shows, and which attempt counts."""

from collections.abc import Callable
from pathlib import Path

from PyQt6.QtCore import pyqtSignal
from PyQt6.QtWidgets import (
    QAbstractItemView,
    QDialog,
    QFileDialog,
    QHBoxLayout,
    QInputDialog,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from reviewer import actions
from reviewer.actions import Audit, Change
from reviewer.desk.bench import Bench
from reviewer.terms.intervals import seconds_told

HEADINGS = ("Recording", "Attempt", "Counts", "Against the first of its attempt", "File")


class RecordingsPage(QDialog):
    """Lists the recordings of the case on the desk, and changes what is said of them.

    Signals:
        wanted(str): a recording is to be put on the screen.
    """

    wanted = pyqtSignal(str)

    def __init__(self, parent: QWidget, bench: Bench, kinds: str) -> None:
        super().__init__(parent)
        self.setWindowTitle("Recordings of this start")
        self._bench, self._kinds = bench, kinds
        self.table = QTableWidget(0, len(HEADINGS))
        self.table.setHorizontalHeaderLabels(HEADINGS)
        self.table.setAccessibleName("Recordings")
        if (numbers := self.table.verticalHeader()) is not None:
            numbers.hide()
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        column, row = QVBoxLayout(self), QHBoxLayout()
        column.addWidget(self.table)
        for words, doing in (
            ("Add a recording…", self._ask_file),
            ("Put on screen", self._show),
            ("Shows another attempt…", self._ask_attempt),
            ("Its attempt counts", self._count),
        ):
            button = QPushButton(words)
            button.clicked.connect(lambda _, run=doing: run())
            row.addWidget(button)
        column.addLayout(row)
        bench.changed.connect(self._refresh)
        self.resize(760, 300)
        self._refresh()

    def add(self, path: Path, attempt: int) -> bool:
        """Cite one more recording; whether it was done."""
        done = f"{path.name} belongs to the case."
        return self._do(lambda audit: actions.add_recording(audit, path, attempt), done)

    def _do(self, doing: Callable[[Audit], Change], done: str) -> bool:
        return self._bench.attempt(lambda: doing(self._bench.open_audit()), done)

    def _refresh(self) -> None:
        audit = self._bench.audit
        listed = actions.recordings_document(audit)["recordings"] if audit is not None else []
        self.table.setRowCount(len(listed))
        for at, one in enumerate(listed):
            offset = one["offset"]
            apart = "" if offset is None else seconds_told(offset["seconds"], offset["u_s"])
            name = Path(one["where"]).name if one["where"] else "not found on this computer"
            counts = "yes" if one["counts"] else "no"
            for place, words in enumerate((str(one["number"]), str(one["attempt"]), counts, apart, name)):
                self.table.setItem(at, place, QTableWidgetItem(words))
        self.table.resizeColumnsToContents()
        if listed and self.table.currentRow() < 0:
            self.table.selectRow(0)

    def _chosen(self, audit: Audit) -> str:
        return actions.recording_named(audit, str(self.table.currentRow() + 1))

    def _ask_file(self) -> None:
        name, _ = QFileDialog.getOpenFileName(self, "Add a recording of this start", "", self._kinds)
        if not name:
            return
        words = "Which attempt does it show? (1 unless the exercise was repeated)"
        attempt, wanted = QInputDialog.getInt(self, "Attempt", words, 1, 1, 9)
        if wanted:
            self.add(Path(name), attempt)

    def _ask_attempt(self) -> None:
        attempt, wanted = QInputDialog.getInt(self, "Attempt", "Which attempt does it show?", 1, 1, 9)
        if wanted:
            self._do(lambda audit: actions.assign_attempt(audit, self._chosen(audit), attempt), "")

    def _count(self) -> None:
        def counted(audit: Audit) -> Change:
            return actions.count_attempt(audit, audit.cited(self._chosen(audit)).attempt)

        self._do(counted, "The score rests on the marks of that attempt.")

    def _show(self) -> None:
        if self._bench.audit is not None:
            self.wanted.emit(self._chosen(self._bench.audit))
