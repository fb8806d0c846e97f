"""What a check of the rule book found: a line that sums it up, and problems that lead to their clause."""

from dataclasses import replace
from pathlib import Path

from PyQt6.QtCore import pyqtSignal
from PyQt6.QtWidgets import QLabel, QListWidget, QVBoxLayout, QWidget

from reviewer.actions.ownbooks import OwnBook
from reviewer.terms.problems import Problem
from reviewer.words import Saying

_LINES = 5


class Problems(QWidget):
    """The same as ``reviewer rules check`` says, made anew with each change that is kept.

    Attributes:
        sound: the line.
        listed: the problems.

    Signals:
        led(object): to the clause of this `Problem`.
    """

    led = pyqtSignal(object)

    def __init__(self, say: Saying) -> None:
        super().__init__()
        self._say = say
        self._found: tuple[Problem, ...] = ()
        self.sound, self.listed = QLabel(), QListWidget()
        self.sound.setWordWrap(True)
        self.listed.setWordWrap(True)
        self.listed.setAccessibleName(say("Problems; Return leads to the clause"))
        self.listed.itemActivated.connect(lambda _: self._lead())
        self.listed.itemClicked.connect(lambda _: self._lead())
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.sound)
        column.addWidget(self.listed)

    def show_check(self, own: OwnBook) -> None:
        """Show what a check of this book found."""
        self._found = own.problems
        self.listed.clear()
        self.listed.addItems([self._placed(one) for one in self._found])
        self.listed.setVisible(bool(self._found))
        self.listed.setFixedHeight(self.listed.fontMetrics().lineSpacing() * _LINES)
        self.sound.setText(self._words(own))

    def lead_to_next(self) -> None:
        """Lead to the next problem, after the last to the first."""
        if self._found:
            self.listed.setCurrentRow((self.listed.currentRow() + 1) % len(self._found))
            self._lead()

    def _lead(self) -> None:
        self.led.emit(self._found[self.listed.currentRow()])

    def _words(self, own: OwnBook) -> str:
        checked, say = own.checked, self._say
        if checked.problems:
            return say("The book cannot be used yet. Problems: {count}", count=len(checked.problems))
        if checked.differing:
            return say(
                "The book is sound. Examples run: {cases}; otherwise than written: {count}",
                cases=checked.cases,
                count=len(checked.differing),
            )
        return say("The book is sound. Examples run: {cases}, all as written", cases=checked.cases)

    def _placed(self, problem: Problem) -> str:
        """A problem as it is listed: its file without the folders it lies in."""
        return self._say.problem(replace(problem, where=Path(problem.where).name))
