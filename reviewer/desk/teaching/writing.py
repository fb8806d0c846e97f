"""A page on which something is written of the case, on a thread of its own, and may be stopped."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

from PyQt6.QtCore import Qt
from PyQt6.QtGui import QCloseEvent
from PyQt6.QtWidgets import QDialog, QFormLayout, QHBoxLayout, QLabel, QLineEdit, QWidget

from reviewer.desk.bench import Bench
from reviewer.desk.buttons import button
from reviewer.desk.errand import Errand, GoingOn
from reviewer.desk.errors import of_the_system
from reviewer.desk.saidlabel import SaidLabel
from reviewer.terms.problems import ReviewerError


class WritingPage(QDialog):
    """A place to write to, what else is asked, and two buttons; what comes of it is said on the page.

    Attributes:
        place: where it is written.
        told: what comes of it.
        write, stop: the buttons.
    """

    def __init__(self, parent: QWidget, bench: Bench, title: str, place: Path) -> None:
        super().__init__(parent)
        self._bench = bench
        self._errand: Errand | None = None
        self.setWindowTitle(title)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        say = bench.say
        self.place, self.told = QLineEdit(str(place)), SaidLabel()
        self.told.setWordWrap(True)
        self.write, self.stop = button(say("Write it"), self._begin), button(say("Stop"), self._stop)
        self.stop.setEnabled(False)
        self._form = QFormLayout(self)
        self.setMinimumWidth(self.fontMetrics().averageCharWidth() * 70)

    def ask(self, words: str, field: QWidget) -> None:
        """One more thing that is asked, with a letter to reach it by."""
        label = QLabel(words)
        label.setBuddy(field)
        field.setAccessibleName(words.replace("&", ""))
        self._form.addRow(label, field)

    def finish(self, lead: str) -> None:
        """Put words above what is asked, the buttons beneath."""
        above = QLabel(lead)
        above.setWordWrap(True)
        self._form.insertRow(0, above)
        row = QHBoxLayout()
        for one in (self.write, self.stop):
            row.addWidget(one)
        row.addStretch(1)
        self._form.addRow(row)
        self._form.addRow(self.told)

    def make(self, going_on: GoingOn) -> Any:
        """All but the writing, on a thread of its own; asked for once what is asked was read."""
        raise NotImplementedError

    def keep(self, made: Any) -> str:
        """Write what was made, and say where it is."""
        raise NotImplementedError

    def more(self) -> bool:
        """Whether another part is to be made now that one was written."""
        return False

    def discard(self, made: Any) -> None:
        """Let nothing remain of what was made."""

    def advanced_words(self, pictures: int) -> str:
        """How far it is."""
        return self._bench.say("Writing: {count} pictures so far.", count=pictures)

    def stopped_words(self) -> str:
        """What is left where it was stopped."""
        return self._bench.say("Stopped; nothing of it is written.")

    def read(self) -> None:
        """Take down what stands in the fields, before the thread begins."""

    def closeEvent(self, event: QCloseEvent | None) -> None:
        """A page that is closed writes nothing any more."""
        self._stop()
        super().closeEvent(event)

    def _begin(self) -> None:
        if self._errand is None:
            self.read()
            self._start()

    def _start(self) -> None:
        self._errand = Errand(self._made)
        self._errand.advanced.connect(self._advanced)
        self._errand.done.connect(self._done)
        self._errand.failed.connect(self._failed)
        self._errand.start()
        self._advanced(0)
        self._set_going(True)

    def _made(self, going_on: GoingOn) -> Any:
        made = self.make(going_on)
        if not going_on():
            self.discard(made)
        return made

    def _advanced(self, pictures: int) -> None:
        if self._errand is not None:  # what was on its way when it was stopped is let go
            self.told.setText(self.advanced_words(pictures))

    def _done(self, made: Any) -> None:
        if self._errand is None:  # it was on its way when it was stopped
            self.discard(made)
            return
        self._end()
        try:
            told = self.keep(made)
        except (ReviewerError, OSError) as error:
            self.discard(made)
            self._failed(of_the_system(error) if isinstance(error, OSError) else error)
            return
        self._start() if self.more() else self.told.setText(told)

    def _failed(self, error: ReviewerError) -> None:
        self._end()
        self.told.setText(self._bench.say.problems(error.problems))

    def _stop(self) -> None:
        if self._errand is not None:
            self._errand.stop()
            self._end()
            self.told.setText(self.stopped_words())

    def _end(self) -> None:
        if self._errand is not None:
            self._errand.wait()
        self._errand = None
        self._set_going(False)

    def _set_going(self, going: bool) -> None:
        self.write.setEnabled(not going)
        self.stop.setEnabled(going)


def today() -> str:
    """The day it is here: what consent that ends is held against."""
    return date.today().isoformat()


def beside(path: Path, ending: str) -> Path:
    """A place beside a case that nothing stands at."""
    found, number = path.with_name(f"{path.stem}{ending}"), 1
    while found.exists():
        number += 1
        found = path.with_name(f"{path.stem}-{number}{ending}")
    return found
