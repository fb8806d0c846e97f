"""The passages of a clip set, to be put in order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from PyQt6.QtCore import QObject, Qt, pyqtSignal
from PyQt6.QtWidgets import QListWidget, QListWidgetItem, QWidget

from reviewer.desk.buttons import button
from reviewer.desk.flowing import Flowing
from reviewer.words import Saying

_FEWEST, _MOST = 3, 8
"""Rows that are in sight at once."""


class Listed(NamedTuple):
    """A passage: its case, its mark, and what it is called on the list."""

    case: Path
    mark: str
    words: str


class PassageList(QObject):
    """Passages in their order, and buttons that change it.

    Attributes:
        list: the widget.
        buttons: earlier, later, leave out.

    Signals:
        chosen(str): the keyboard is on another passage; its own words.
    """

    chosen = pyqtSignal(str)

    def __init__(self, say: Saying, passages: Sequence[Listed]) -> None:
        super().__init__()
        self.list, self.buttons = QListWidget(), QWidget()
        for number, one in enumerate(passages):
            entry = QListWidgetItem(one.words)
            entry.setData(Qt.ItemDataRole.UserRole, number)
            self.list.addItem(entry)
        self._passages, self._own = tuple(passages), dict[int, str]()
        line = self.list.fontMetrics().lineSpacing()
        self.list.setMinimumHeight(line * _FEWEST)
        self.list.setMaximumHeight(line * _MOST)
        row = Flowing(8)
        row.add(button(say("Ear&lier"), lambda: self.move(-1)))
        row.add(button(say("Late&r"), lambda: self.move(1)))
        row.add(button(say("Leave it o&ut"), self.leave_out))
        self.buttons.setLayout(row)
        self.list.currentItemChanged.connect(lambda *_: self.chosen.emit(self._own.get(self._current(), "")))
        self.list.setCurrentRow(0)

    @property
    def clips(self) -> tuple[tuple[Path, str, Mapping[str, Any]], ...]:
        """Case, mark and what is said otherwise, in the order of the list."""
        found = []
        for row in range(self.list.count()):
            number = _number(self.list.item(row))
            own = self._own.get(number, "").strip()
            one = self._passages[number]
            found.append((one.case, one.mark, {"caption": own} if own else {}))
        return tuple(found)

    def say_of_current(self, words: str) -> None:
        """Words of one's own for the passage the keyboard is on."""
        self._own[self._current()] = words

    def _current(self) -> int:
        return _number(self.list.currentItem())

    def move(self, by: int) -> None:
        """Put the passage the keyboard is on so many places later."""
        row = self.list.currentRow()
        if row >= 0 and 0 <= row + by < self.list.count():
            self.list.insertItem(row + by, self.list.takeItem(row))
            self.list.setCurrentRow(row + by)

    def leave_out(self) -> None:
        """Show it not at all."""
        self.list.takeItem(self.list.currentRow())


def _number(entry: QListWidgetItem | None) -> int:
    """The place of a passage as it was handed in; -1 where there is none."""
    return -1 if entry is None else int(entry.data(Qt.ItemDataRole.UserRole))
