"""Joints followed through the recording off the window's thread, while the judge goes on looking."""

from collections.abc import Sequence
from pathlib import Path

from PyQt6.QtCore import QThread, pyqtSignal

from reviewer import actions
from reviewer.terms.problems import ReviewerError
from reviewer.terms.readings import Clicks


class Follower(QThread):
    """Follows clicks once, to the end or until `stop`.

    Signals:
        advanced(int): frames looked at so far.
        followed(object): the track as a document.
        failed(ReviewerError): nothing can be followed.
    """

    advanced = pyqtSignal(int)
    followed = pyqtSignal(object)
    failed = pyqtSignal(object)

    def __init__(self, recording: Path, clicks: Sequence[Clicks], span_ms: int) -> None:
        super().__init__()
        self.clicks, self.span_ms = tuple(clicks), span_ms
        self._recording, self._stopped, self._seen = recording, False, 0

    def stop(self) -> None:
        """Follow no further, and wait until that is so."""
        self._stopped = True
        self.wait()

    def run(self) -> None:
        """The thread."""
        try:
            found = actions.follow_on(self._recording, self.clicks, self.span_ms, self._going_on)
        except ReviewerError as error:
            if not self._stopped:
                self.failed.emit(error)
        else:
            if not self._stopped:
                self.followed.emit(found)

    def _going_on(self) -> bool:
        self._seen += 1
        self.advanced.emit(self._seen)
        return not self._stopped
