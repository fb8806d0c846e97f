"""The field of the posted score: what is typed is entered, however it is left."""

from PyQt6.QtCore import pyqtSignal
from PyQt6.QtGui import QFocusEvent, QKeyEvent
from PyQt6.QtWidgets import QLineEdit

from reviewer.desk.bench import Bench
from reviewer.desk.keys import meant


class PostedField(QLineEdit):
    """Enters what is typed on Return and when the keyboard goes elsewhere; Esc takes it back.

    Signals:
        entered(str): a score as typed.
        left(): back to the picture.
    """

    entered = pyqtSignal(str)
    left = pyqtSignal()

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self._bench, self._kept = bench, ""
        self.returnPressed.connect(self._leave)

    def keep(self, text: str) -> None:
        """What is kept in the case; shown unless something else is being typed."""
        self._kept = text
        if not self.isModified():
            self.setText(text)

    def keyPressEvent(self, event: QKeyEvent | None) -> None:
        """Leave by the key that leaves the sheet; letters and figures are typed."""
        if event is not None and meant(self._bench.keyboard, event, "sheet") == "leave-sheet":
            self.setText(self._kept)
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent | None) -> None:
        """What was typed is entered."""
        super().focusOutEvent(event)
        self._enter()

    def _leave(self) -> None:
        self._enter()
        if self.text() == self._kept:
            self.left.emit()

    def _enter(self) -> None:
        if self.isModified():
            self.setModified(False)
            self.entered.emit(self.text().strip())
