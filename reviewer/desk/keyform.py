"""The keys of the desk, to be given to other things; a key that means something else already is refused."""

from PyQt6.QtCore import Qt, pyqtSignal
from PyQt6.QtGui import QKeySequence
from PyQt6.QtWidgets import (
    QAbstractItemView,
    QDialog,
    QHeaderView,
    QKeySequenceEdit,
    QLabel,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from reviewer import actions
from reviewer.actions import KeyUse
from reviewer.desk.bench import Bench
from reviewer.desk.buttons import button
from reviewer.desk.flowing import Flowing
from reviewer.desk.keys import shown
from reviewer.desk.placing import fitting
from reviewer.terms.messages import noted
from reviewer.terms.problems import ReviewerError

WHERE = {
    "anywhere": noted("at any time"),
    "picture": noted("on the picture"),
    "strip": noted("on the strip"),
    "protractor": noted("on the protractor"),
    "covers": noted("while heads are covered"),
    "call": noted("typing a call"),
    "book": noted("in the rule book"),
    "sheet": noted("on the score sheet"),
}
"""While what has the keyboard a key is heard, by the names of the key table."""


class KeyForm(QDialog):
    """Lists every thing to do with its keys, and gives the chosen one others.

    Attributes:
        table: what is done, its keys, and where they are heard.
        pressed: takes the key to be given.
        told: what came of it.

    Signals:
        rebound(): the keys of the bench are others.
    """

    rebound = pyqtSignal()

    def __init__(self, parent: QWidget, bench: Bench) -> None:
        super().__init__(parent)
        self._bench = bench
        self.setWindowTitle(bench.say("Keys of the desk"))
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.table, self.pressed, self.told = QTableWidget(0, 3), QKeySequenceEdit(), QLabel()
        self._arrange()
        self._fill()
        self.resize(fitting(self, 900, 600))

    def _arrange(self) -> None:
        say, table = self._bench.say, self.table
        table.setHorizontalHeaderLabels([say("What it does"), say("Keys"), say("While")])
        table.setAccessibleName(self.windowTitle())
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        table.setTabKeyNavigation(False)
        if (head := table.horizontalHeader()) is not None:
            head.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
            for at in (1, 2):
                head.setSectionResizeMode(at, QHeaderView.ResizeMode.ResizeToContents)
        if (side := table.verticalHeader()) is not None:
            side.hide()
        self.pressed.setMaximumSequenceLength(1)
        self.pressed.setAccessibleName(say("Press the new key here"))
        self.told.setWordWrap(True)
        self.told.setAccessibleName(say("Answer"))
        row, column = Flowing(), QVBoxLayout(self)
        label = QLabel(say("&New key"))
        label.setBuddy(self.pressed)
        row.add(label)
        row.add(self.pressed, takes_room=True)
        for words, does in (
            (say("Only this key"), lambda: self._give(self._typed())),
            (say("This key too"), lambda: self._give(" ".join((*self._chosen().keys, self._typed())))),
            (say("No key"), lambda: self._give("")),
            (say("As shipped"), lambda: self._give(None)),
        ):
            row.add(button(words, does))
        column.addWidget(table)
        column.addLayout(row)
        column.addWidget(self.told)

    def _fill(self) -> None:
        say, at = self._bench.say, max(0, self.table.currentRow())
        uses = self._bench.keyboard.uses
        self.table.setRowCount(len(uses))
        for place, use in enumerate(uses):
            cells = (
                say.word(use.says).rstrip("…"),
                "  ".join(map(shown, use.keys)),
                say.word(WHERE[use.where]),
            )
            for column, words in enumerate(cells):
                self.table.setItem(place, column, QTableWidgetItem(words))
        self.table.selectRow(at)

    def _chosen(self) -> KeyUse:
        return self._bench.keyboard.uses[max(0, self.table.currentRow())]

    def _typed(self) -> str:
        return self.pressed.keySequence().toString(QKeySequence.SequenceFormat.PortableText)

    def _give(self, typed: str | None) -> None:
        use = self._chosen()
        try:
            actions.change_keys(use.does, typed)
        except ReviewerError as refused:
            self.told.setText(self._bench.say.problems(refused.problems))
            return
        except OSError as fault:
            self.told.setText(self._bench.say("Not kept: {why}.", why=fault.strerror or fault))
            return
        self._bench.keyboard = actions.keyboard()
        keys = "  ".join(map(shown, self._bench.keyboard.use(use.does).keys)) or self._bench.say("no key")
        self.told.setText(self._bench.say("{keys}: {does}", keys=keys, does=self._bench.say.word(use.says)))
        self.pressed.clear()
        self._fill()
        self.rebound.emit()
