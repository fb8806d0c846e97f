"""Lines and choices of the rule-book form."""

from collections.abc import Sequence

from PyQt6.QtCore import QEvent, QModelIndex, QStringListModel, Qt, pyqtSignal
from PyQt6.QtGui import QKeyEvent, QKeySequence, QWheelEvent
from PyQt6.QtWidgets import QComboBox, QCompleter, QLineEdit


class Line(QLineEdit):
    """A line that leaves undo and redo to the book where it has nothing of its own to take back."""

    def event(self, event: QEvent | None) -> bool:
        """Leave those keys alone then."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.ShortcutOverride:
            undo = event.matches(QKeySequence.StandardKey.Undo) and not self.isUndoAvailable()
            redo = event.matches(QKeySequence.StandardKey.Redo) and not self.isRedoAvailable()
            if undo or redo:
                event.ignore()
                return True
        return super().event(event)


class Choice(QComboBox):
    """One of a closed list; turning the wheel over it changes nothing unless it has the keyboard.

    Signals:
        entered(): Return was pressed.
    """

    entered = pyqtSignal()

    def __init__(self) -> None:
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(10)

    def keyPressEvent(self, event: QKeyEvent | None) -> None:
        """Return is for the form, not for the list."""
        if event is not None and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.entered.emit()
        else:
            super().keyPressEvent(event)

    def wheelEvent(self, event: QWheelEvent | None) -> None:
        """Leave the wheel to the page."""
        if event is not None and not self.hasFocus():
            event.ignore()
        else:
            super().wheelEvent(event)


class ListCompleter(QCompleter):
    """Completes the last word of a list with commas."""

    def __init__(self, words: Sequence[str], line: QLineEdit) -> None:
        super().__init__(line)
        self.setModel(QStringListModel(list(words), self))
        self.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        line.setCompleter(self)

    def splitPath(self, path: str | None) -> list[str]:
        """What is looked for: the last word."""
        return [(path or "").rpartition(",")[2].strip()]

    def pathFromIndex(self, index: QModelIndex) -> str:
        """The whole line with the word in the place of the last."""
        line, word = self.widget(), super().pathFromIndex(index)
        before = line.text().rpartition(",")[0] if isinstance(line, QLineEdit) else ""
        return f"{before}, {word}" if before else word
