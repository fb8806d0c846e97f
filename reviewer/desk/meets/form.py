"""A form about a meet: what is asked, a button for each thing to do, and what came of it."""

from collections.abc import Callable

from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import QDialog, QFormLayout, QHBoxLayout, QLabel, QPushButton, QWidget

from reviewer.desk.bench import Bench
from reviewer.desk.buttons import button
from reviewer.desk.errors import of_the_system
from reviewer.desk.saidlabel import SaidLabel
from reviewer.terms.problems import ReviewerError

_LETTERS = 76
"""That a form is wide, at least."""
_TOLD = 6
"""Problems that are told in full."""


class MeetForm(QDialog):
    """Asks, does, and says what came of it; problems in words.

    Attributes:
        told: what came of it.
    """

    def __init__(self, parent: QWidget, bench: Bench, title: str, lead: str) -> None:
        super().__init__(parent)
        self.bench, self.told = bench, SaidLabel()
        self.setWindowTitle(title)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.told.setWordWrap(True)
        self._form = QFormLayout(self)
        above = QLabel(lead)
        above.setWordWrap(True)
        self._form.addRow(above)
        self.setMinimumWidth(self.fontMetrics().averageCharWidth() * _LETTERS)

    def ask(self, words: str, field: QWidget, beside: QPushButton | None = None) -> None:
        """One more thing that is asked, with a letter to reach it by."""
        label, row = QLabel(words), QHBoxLayout()
        label.setBuddy(field)
        field.setAccessibleName(words.replace("&", ""))
        row.addWidget(field, 1)
        if beside is not None:
            row.addWidget(beside)
        self._form.addRow(label, row)

    def heading(self, words: str) -> None:
        """What stands above some of what is asked."""
        label = QLabel(words)
        font = label.font()
        font.setBold(True)
        label.setFont(font)
        self._form.addRow(label)

    def offer(self, words: str, does: Callable[[], str]) -> QPushButton:
        """A button that does something, and says what came of it."""
        made, row = button(words, lambda: self._do(does)), QHBoxLayout()
        row.addWidget(made)
        row.addStretch(1)
        self._form.addRow(row)
        return made

    def finish(self) -> None:
        """Put what came of it beneath all else."""
        self._form.addRow(self.told)

    def _do(self, does: Callable[[], str]) -> None:
        try:
            self.told.setText(does())
        except ReviewerError as error:
            self.told.setText(self._in_words(error))
        except OSError as error:
            self.told.setText(self._in_words(of_the_system(error)))

    def _in_words(self, error: ReviewerError) -> str:
        say, found = self.bench.say, error.problems
        more = len(found) - _TOLD
        told = [say.problem(one) for one in found[:_TOLD]]
        return "\n".join([*told, *([say("And {count} more.", count=more)] if more > 0 else [])])
