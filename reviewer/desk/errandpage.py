"""A page beside the window with one errand at a time, which goes with the window."""

from collections.abc import Callable
from typing import Any

from PyQt6.QtCore import QEvent, QObject, Qt
from PyQt6.QtGui import QCloseEvent
from PyQt6.QtWidgets import QDialog, QWidget

from reviewer.desk.bench import Bench
from reviewer.desk.errand import Errand, GoingOn
from reviewer.desk.footline import FootLine
from reviewer.terms.problems import ReviewerError


class ErrandPage(QDialog):
    """Runs errands off the window's thread, and says on its foot what comes of them.

    Attributes:
        foot: what came of the last thing that was done.
    """

    def __init__(self, parent: QWidget, bench: Bench, title: str) -> None:
        super().__init__(parent)
        self._bench, self.foot = bench, FootLine(bench.say)
        self._errand: Errand | None = None
        parent.installEventFilter(self)
        self.setWindowTitle(title)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)

    @property
    def busy(self) -> bool:
        """Whether an errand is under way."""
        return self._errand is not None

    def run(self, does: Callable[[GoingOn], Any], done: Callable[[Any], None], words: str) -> None:
        """Begin an errand in place of the one before; ``words`` stand on the foot until it tells its own."""
        self.stop()

        def ended(found: Any) -> None:
            self._end()
            done(found)

        self._errand = Errand(does)
        self._errand.advanced.connect(self._advanced)
        self._errand.done.connect(ended)
        self._errand.failed.connect(self._failed)
        self._errand.start()
        self.foot.tell(words, False)

    def stop(self) -> None:
        """Go no further with the errand."""
        if self._errand is not None:
            self._errand.stop()
        self._errand = None

    def progress_words(self, count: int) -> str:
        """How far the errand is, after so many of its steps."""
        raise NotImplementedError

    def stopped_words(self) -> str:
        """What is left of an errand that was stopped."""
        raise NotImplementedError

    def was_stopped(self) -> None:
        """Show what there is now."""

    def refuse(self, error: ReviewerError) -> None:
        """Say why something could not be done."""
        self.foot.tell(self._bench.say.problems(error.problems), True)

    def eventFilter(self, a0: QObject | None, a1: QEvent | None) -> bool:
        """Go with the window."""
        if a0 is self.parentWidget() and a1 is not None and a1.type() == QEvent.Type.Close:
            self.close()
        return super().eventFilter(a0, a1)

    def closeEvent(self, a0: QCloseEvent | None) -> None:
        """Stop what is under way."""
        self.stop()
        super().closeEvent(a0)

    def reject(self) -> None:
        """Esc stops what is under way; without that it closes the page."""
        if not self.busy:
            super().reject()
            return
        words = self.stopped_words()
        self.stop()
        self.was_stopped()
        self.foot.tell(words, False)

    def _advanced(self, count: int) -> None:
        if self.busy:  # what was on its way when it was stopped is let go
            self.foot.tell(self.progress_words(count), False)

    def _failed(self, error: ReviewerError) -> None:
        self._end()
        self.refuse(error)

    def _end(self) -> None:
        if self._errand is not None:
            self._errand.wait()
        self._errand = None
