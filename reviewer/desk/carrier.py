"""The bars carried to the frame on the screen, off the window's thread."""

from pathlib import Path

from PyQt6.QtCore import QThread, pyqtSignal

from reviewer import actions
from reviewer.terms.problems import ReviewerError
from reviewer.terms.readings import Clicks


class Carrier(QThread):
    """Looks once where the bars clicked on one frame lie on another, to the end or until `stop`.

    Signals:
        carried(object): where they lie.
        failed(ReviewerError): that cannot be told.
    """

    carried = pyqtSignal(object)
    failed = pyqtSignal(object)

    def __init__(self, recording: Path, clicks: Clicks, frame: int) -> None:
        super().__init__()
        self.frame = frame
        self._recording, self._clicks, self._stopped = recording, clicks, False

    def stop(self) -> None:
        """Look no further, and wait until that is so."""
        self._stopped = True
        self.wait()

    def run(self) -> None:
        """The thread."""
        try:
            found = actions.carry_bars(self._recording, self._clicks, self.frame, lambda: not self._stopped)
        except ReviewerError as error:
            if not self._stopped:
                self.failed.emit(error)
        else:
            if not self._stopped:
                self.carried.emit(found)
