"""Which frame is asked for and which is on the screen: seeking, stepping, playing."""

from pathlib import Path

from PyQt6.QtCore import QObject, pyqtSignal

from reviewer.desk.bench import Bench
from reviewer.desk.projector import Projector
from reviewer.terms.pictures import Picture, RecordingFacts
from reviewer.terms.problems import ReviewerError


class Viewing(QObject):
    """Asks the projector for pictures and lays what comes on the bench.

    Attributes:
        playing: whether pictures follow each other by themselves.

    Signals:
        opened(): a recording is open.
        shown(Picture): another picture is on the bench.
        played(bool): playing began or ended.
    """

    opened = pyqtSignal()
    shown = pyqtSignal(object)
    played = pyqtSignal(bool)

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.playing = False
        self._bench = bench
        self._aim: int | None = None
        self._projector = Projector()
        self._projector.opened.connect(self._opened)
        self._projector.shown.connect(self._shown)
        self._projector.ended.connect(lambda: self._play(False))
        self._projector.failed.connect(self._failed)
        self._projector.start()

    def load(self, path: Path | None) -> None:
        """Take the recording off the bench and open another, where there is one."""
        self._play(False)
        self._bench.facts, self._bench.recording, self._bench.picture, self._aim = None, path, None, None
        if path is not None:
            self._projector.open(path)

    def leave(self) -> None:
        """End the thread that decodes."""
        self._projector.leave()

    def seek(self, frame: int) -> None:
        """Ask for a frame of the recording; outside it, for the nearest."""
        if self._bench.facts is not None:
            self._play(False)
            self._aim = max(0, min(self._last(), frame))
            self._projector.show_frame(self._aim)

    def seek_last(self) -> None:
        """Ask for the last frame."""
        self.seek(self._last())

    def step(self, frames: int) -> None:
        """Frames on (or back, negative) from the one asked for last, or else from the one on screen."""
        if self._bench.picture is not None:
            self.seek((self._aim if self._aim is not None else self._bench.picture.frame) + frames)

    def play_or_stop(self) -> None:
        """Play from the frame on screen, from the start when it is the last; or stop."""
        if self.playing:
            self.stop()
        elif self._bench.picture is not None:
            frame = self._bench.picture.frame
            self._aim = None
            self._play(True)
            self._projector.play(0 if frame >= self._last() else frame)

    def stop(self) -> None:
        """Stop playing; the picture on screen stays."""
        if self.playing:
            self._play(False)
            self._projector.halt()

    def _last(self) -> int:
        return len(self._bench.facts.pts) - 1 if self._bench.facts else 0

    def _play(self, playing: bool) -> None:
        self.playing = playing
        self.played.emit(playing)

    def _opened(self, facts: RecordingFacts) -> None:
        self._bench.facts = facts
        self.opened.emit()
        self.seek(0)

    def _shown(self, picture: Picture) -> None:
        self._projector.taken()
        if self._bench.facts is None:
            return
        if picture.frame == self._aim:
            self._aim = None
        self._bench.picture = picture
        self.shown.emit(picture)

    def _failed(self, error: ReviewerError) -> None:
        if self._bench.facts is None:
            self._bench.recording = None
        self._aim = None
        self._bench.say_problems(error)
