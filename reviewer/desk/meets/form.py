"""A form about a meet: what is asked, a button for each thing to do, and what came of it."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from PyQt6.QtCore import QSize, Qt
from PyQt6.QtGui import QShowEvent
from PyQt6.QtWidgets import QDialog, QFormLayout, QHBoxLayout, QLabel, QLineEdit, QPushButton, QWidget

from reviewer.desk.bench import Bench
from reviewer.desk.buttons import button
from reviewer.desk.errand import Errand, GoingOn
from reviewer.desk.errors import of_the_system
from reviewer.desk.saidlabel import SaidLabel
from reviewer.terms.problems import ReviewerError

Search = Callable[[GoingOn], Any]
Telling = Callable[[Any], str]
_LETTERS = 76
"""That a form is wide, at least."""
_TOLD = 6
"""Problems that are told in full."""


def path_in(line: QLineEdit) -> Path:
    """What is typed, as a path."""
    return Path(line.text().strip()).expanduser()


class MeetForm(QDialog):
    """Asks, does, and says what came of it; problems in words.

    Attributes:
        told: what came of it.
    """

    def __init__(self, parent: QWidget, bench: Bench, title: str, lead: str) -> None:
        super().__init__(parent)
        self.bench, self.told = bench, SaidLabel()
        self._errand: Errand | None = None
        self.setWindowTitle(title)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.told.setWordWrap(True)
        self._form = QFormLayout(self)
        above = QLabel(lead)
        above.setWordWrap(True)
        self._form.addRow(above)
        self.setMinimumWidth(self.fontMetrics().averageCharWidth() * _LETTERS)

    @property
    def busy(self) -> bool:
        """Whether something is under way."""
        return self._errand is not None

    def ask(self, words: str, field: QWidget, beside: QPushButton | None = None) -> None:
        """One more thing that is asked, with a letter to reach it by."""
        label, row = QLabel(words), QHBoxLayout()
        letter = label.fontMetrics().averageCharWidth()  # Qt draws an underlined letter apart, which is wider
        label.setMinimumWidth(label.sizeHint().width() + letter)
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

    def offer_long(self, words: str, does: Callable[[], tuple[Search, Telling]]) -> QPushButton:
        """A button that does something off the window's thread: what it does, and what is said of it."""
        return self.offer(words, lambda: self._run(*does()))

    def finish(self) -> None:
        """Put what came of it beneath all else."""
        self._form.addRow(self.told)

    def showEvent(self, a0: QShowEvent | None) -> None:
        """With room for all words."""
        super().showEvent(a0)
        self._make_room()

    def _make_room(self) -> None:
        """As high as all words need at this width: of wrapped ones Qt takes a few lines for granted."""
        wide, screen = max(self.width(), self._form.sizeHint().width()), self.screen()
        wished = QSize(wide, self._form.totalHeightForWidth(wide))
        self.resize(wished if screen is None else wished.boundedTo(screen.availableGeometry().size()))

    def _do(self, does: Callable[[], str]) -> None:
        try:
            self.tell(does())
        except ReviewerError as error:
            self.tell(self._in_words(error))
        except OSError as error:
            self.tell(self._in_words(of_the_system(error)))

    def _run(self, search: Search, telling: Telling) -> str:
        if self._errand is not None:
            return self.bench.say("Something is under way. Wait until it is done.")
        self._errand = Errand(search)
        self._errand.done.connect(lambda found: self._end(telling(found)))
        self._errand.failed.connect(lambda error: self._end(self._in_words(error)))
        self._errand.start()
        return self.bench.say("At work …")

    def _end(self, words: str) -> None:
        if self._errand is not None:
            self._errand.wait()
        self._errand = None
        self.tell(words)

    def done(self, a0: int) -> None:
        """Not before what is under way is done: half a bag is none."""
        if self._errand is not None:
            self._errand.wait()
        super().done(a0)

    def tell(self, words: str) -> None:
        """Say what came of it, with room for all of it."""
        self.told.setText(words)
        self._make_room()

    def _in_words(self, error: ReviewerError) -> str:
        say, found = self.bench.say, error.problems
        more = len(found) - _TOLD
        told = [say.problem(one) for one in found[:_TOLD]]
        return "\n".join([*told, *([say("And {count} more.", count=more)] if more > 0 else [])])
