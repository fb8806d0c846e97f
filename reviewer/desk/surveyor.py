"""The background pass on a thread of its own; it gives way while the judge is looking for something."""

import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from PyQt6.QtCore import QThread, pyqtSignal

from reviewer.terms.problems import ReviewerError
from reviewer.video import Survey

_TOLD = 0.2
"""Seconds between two reports of progress."""


class Surveyor(QThread):
    """Runs one survey to its end, or until `leave`.

    Signals:
        advanced(int, int): frames done and frames in all.
        surveyed(): every frame has been seen.
        failed(ReviewerError): the survey stopped early.
    """

    advanced = pyqtSignal(int, int)
    surveyed = pyqtSignal()
    failed = pyqtSignal(object)

    def __init__(self, survey: Survey, is_busy: Callable[[], bool]) -> None:
        super().__init__()
        self.survey = survey
        self._is_busy = is_busy
        self._leaving = False
        self._told = 0.0

    def leave(self) -> None:
        """Stop, wait until it has, and let go of the small pictures."""
        self.halt()
        self.wait()
        self.survey.close()

    def halt(self) -> None:
        """Stop making small pictures; those that are made stay until `leave`."""
        self._leaving = True

    def run(self) -> None:
        """The thread."""
        try:
            with ThreadPoolExecutor(1) as beside:
                self.survey.run(self._going_on, beside)
        except ReviewerError as error:
            self.failed.emit(error)
        else:
            if self.survey.complete:
                self.surveyed.emit()

    def _going_on(self, done: int, total: int) -> bool:
        while self._is_busy() and not self._leaving:
            time.sleep(0.01)
        now = time.monotonic()
        if now - self._told > _TOLD:
            self._told = now
            self.advanced.emit(done, total)
        return not self._leaving
