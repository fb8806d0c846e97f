"""Pictures off the window's thread: one thread owns the recording, opens it, seeks in it and plays it."""

import time
from collections.abc import Callable
from pathlib import Path
from threading import Condition

from PyQt6.QtCore import QThread, pyqtSignal

from reviewer.terms.pictures import Picture
from reviewer.terms.problems import ReviewerError
from reviewer.video import Recording, open_recording

Order = Callable[[], None]


class Projector(QThread):
    """Decodes what the window asks for; the latest wish replaces those not yet begun.

    Signals:
        opened(RecordingFacts): a recording is open; its first picture follows.
        shown(Picture): a picture to be put on the screen; answer with `taken`.
        ended(): playing has come to the last frame or was stopped by a fault.
        failed(ReviewerError): what was asked cannot be done.
    """

    opened = pyqtSignal(object)
    shown = pyqtSignal(object)
    ended = pyqtSignal()
    failed = pyqtSignal(object)

    def __init__(self) -> None:
        super().__init__()
        self._bell = Condition()
        self._opening: Order | None = None
        self._wish: Order | None = None
        self._halted = False
        self._leaving = False
        self._on_its_way = 0
        self._recording: Recording | None = None

    def open(self, path: Path) -> None:
        """Open a recording in place of the one that is open."""
        self._ask(opening=lambda: self._open(path))

    def show_frame(self, frame: int) -> None:
        """Show one frame; stops playing."""
        self._ask(wish=lambda: self._show(frame))

    def play(self, first: int) -> None:
        """Show the frames from this one on, each at its own time."""
        self._ask(wish=lambda: self._play(first))

    def halt(self) -> None:
        """Stop playing at the picture on the screen."""
        self._ask()

    def leave(self) -> None:
        """End the thread and close the recording."""
        with self._bell:
            self._leaving = True
            self._bell.notify_all()
        self.wait()

    def taken(self) -> None:
        """The window has put the last picture on the screen; until then playing sends no other."""
        with self._bell:
            self._on_its_way = max(0, self._on_its_way - 1)

    def run(self) -> None:
        """The thread: one order after another until `leave`."""
        while (order := self._next()) is not None:
            try:
                order()
            except ReviewerError as error:
                self.failed.emit(error)
        if self._recording is not None:
            self._recording.close()

    def _ask(self, *, opening: Order | None = None, wish: Order | None = None) -> None:
        with self._bell:
            self._opening = opening or self._opening
            self._wish = wish
            self._halted = True
            self._bell.notify_all()

    def _next(self) -> Order | None:
        with self._bell:
            self._bell.wait_for(lambda: bool(self._leaving or self._opening or self._wish))
            if self._leaving:
                return None
            self._halted = False
            order = self._opening or self._wish
            if self._opening is not None:
                self._opening = None
            else:
                self._wish = None
            return order

    def _open(self, path: Path) -> None:
        fresh = open_recording(path)
        if self._recording is not None:
            self._recording.close()
        self._recording = fresh
        self.opened.emit(fresh.facts)

    def _show(self, frame: int) -> None:
        if self._recording is not None:
            self._send(self._recording.picture(frame))

    def _play(self, first: int) -> None:
        if self._recording is None:
            return
        try:
            self._run_through(self._recording, first)
        finally:
            self.ended.emit()

    def _run_through(self, recording: Recording, first: int) -> None:
        last = len(recording.facts.pts) - 1
        began = time.monotonic() - recording.facts.time(first).milliseconds() / 1000
        for picture in recording.pictures(first, last + 1):
            if self._stopped_before(began + picture.time.milliseconds() / 1000):
                return
            if not self._on_its_way or picture.frame == last:
                self._send(picture)

    def _stopped_before(self, due: float) -> bool:
        with self._bell:
            return self._bell.wait_for(
                lambda: self._halted or self._leaving, timeout=max(0.0, due - time.monotonic())
            )

    def _send(self, picture: Picture) -> None:
        with self._bell:
            self._on_its_way += 1
        self.shown.emit(picture)
