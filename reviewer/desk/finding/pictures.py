"""Small pictures of found passages, made one recording after the other off the window's thread."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from PyQt6.QtCore import QObject, QSize, pyqtSignal
from PyQt6.QtGui import QImage

from reviewer import video
from reviewer.desk.errand import Errand, GoingOn
from reviewer.desk.strip.smalls import fit
from reviewer.terms.problems import ReviewerError

MEMORY = 64 << 20
"""Bytes that a recording may take while its frames are looked up."""
Frames = Sequence[tuple[int, int]]
"""Row and frame of each picture that is wanted of one recording."""


class Pictures(QObject):
    """Makes the pictures that were wanted last.

    Signals:
        came(int, QImage | None): the picture of a row, or None where it cannot be made.
    """

    came = pyqtSignal(int, object)

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._waiting: list[tuple[Path, Frames]] = []
        self._errand: Errand | None = None
        self._size = QSize()

    def want(self, frames: Mapping[Path, Frames], size: QSize) -> None:
        """Make these, in pixels of the screen at most this large, and no others any more."""
        self.leave()
        self._waiting, self._size = list(frames.items()), size
        self._next()

    def leave(self) -> None:
        """Make no more."""
        self._waiting = []
        if self._errand is not None:
            self._errand.stop()
        self._errand = None

    def _next(self) -> None:
        if not self._waiting:
            return
        (path, frames), size = self._waiting.pop(0), self._size
        self._errand = Errand(lambda going_on: _made(path, frames, size, going_on))
        self._errand.done.connect(self._came)
        self._errand.start(Errand.Priority.LowPriority)

    def _came(self, found: Mapping[int, QImage | None]) -> None:
        if self.sender() is not self._errand or self._errand is None:
            return  # of what was wanted before
        self._errand.wait()
        self._errand = None
        for row, image in found.items():
            self.came.emit(row, image)
        self._next()


def _made(path: Path, frames: Frames, size: QSize, going_on: GoingOn) -> dict[int, QImage | None]:
    """The pictures of some frames of one recording, by row; None for each that cannot be shown."""
    made: dict[int, QImage | None] = dict.fromkeys(row for row, _ in frames)
    try:
        with video.open_recording(path, memory=MEMORY) as recording:
            for row, frame in sorted(frames, key=lambda one: one[1]):
                if not going_on():
                    break
                made[row] = fit(recording.picture(frame), size)
    except ReviewerError:
        pass  # those that were made are shown
    return made
