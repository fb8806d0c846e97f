"""Entries of a list in a clause, such as elements: one added by its code, one taken out."""

from PyQt6.QtCore import pyqtSignal
from PyQt6.QtWidgets import QHBoxLayout, QPushButton, QWidget

from reviewer.desk.books.lines import Line
from reviewer.desk.buttons import button
from reviewer.words import Saying


class Out(QPushButton):
    """Stays pressed while an entry is to go.

    Signals:
        turned(str, bool): the entry at this place is to go, or to stay.
    """

    turned = pyqtSignal(str, bool)

    def __init__(self, say: Saying, place: str, out: bool, words: str = "") -> None:
        super().__init__(words or say("Take out"))
        self.setAccessibleName(words or say("Take out {what}", what=place.rpartition(".")[2]))
        self.setAutoDefault(False)
        self.setCheckable(True)
        self.setChecked(out)
        self.toggled.connect(lambda out: self.turned.emit(place, out))


class AddEntry(QWidget):
    """A line for the code of a new entry.

    Signals:
        added(str, str): to the list at this place, under this code.
    """

    added = pyqtSignal(str, str)

    def __init__(self, say: Saying, place: str) -> None:
        super().__init__()
        self._place = place
        words = {"roles": say("Code of a new role"), "conditions": say("Code of a new condition")}
        self.code = Line()
        self.code.setPlaceholderText(words.get(place, say("Code of a new element")))
        self.code.setAccessibleName(self.code.placeholderText())
        self.code.returnPressed.connect(self._add)
        add = button(say("Add"), self._add)
        add.setAccessibleName(say("Add: {what}", what=self.code.placeholderText()))
        across = QHBoxLayout(self)
        across.setContentsMargins(0, 0, 0, 0)
        across.addWidget(self.code, 1)
        across.addWidget(add)

    def _add(self) -> None:
        if code := self.code.text().strip():
            self.added.emit(self._place, code)
