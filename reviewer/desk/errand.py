"""One search through the recording off the window's thread, while the judge goes on looking."""

from collections.abc import Callable
from typing import Any

from PyQt6.QtCore import QThread, pyqtSignal

from reviewer.desk.errors import of_the_system
from reviewer.terms.problems import ReviewerError

GoingOn = Callable[[], bool]
"""Asked before each picture; where it says no, the search ends."""


class Errand(QThread):
    """Runs one search once, to its end or until `stop`.

    Signals:
        advanced(int): pictures looked at so far.
        done(object): what was found.
        failed(ReviewerError): nothing could be.
    """

    advanced = pyqtSignal(int)
    done = pyqtSignal(object)
    failed = pyqtSignal(object)

    def __init__(self, search: Callable[[GoingOn], Any]) -> None:
        super().__init__()
        self._search, self._stopped, self._seen = search, False, 0

    def stop(self) -> None:
        """Search no further, and wait until that is so."""
        self._stopped = True
        self.wait()

    def run(self) -> None:
        """The thread."""
        try:
            found = self._search(self._going_on)
        except (ReviewerError, OSError) as error:
            if not self._stopped:
                self.failed.emit(of_the_system(error) if isinstance(error, OSError) else error)
        else:
            if not self._stopped:
                self.done.emit(found)

    def _going_on(self) -> bool:
        self._seen += 1
        self.advanced.emit(self._seen)
        return not self._stopped
