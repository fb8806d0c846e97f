"""Pictures off the window's thread: one thread owns the recording, opens it, seeks in it and plays it.

When nothing is asked of it, it reads on in the direction the judge travels.
"""

import time
from collections.abc import Callable, Iterator
from pathlib import Path
from threading import Condition

from PyQt6.QtCore import QThread, pyqtSignal

from reviewer.desk.pace import Pace, Passage, Punctuality
from reviewer.desk.runahead import RunAhead
from reviewer.desk.surveyor import Surveyor
from reviewer.terms.messages import noted
from reviewer.terms.pictures import Picture
from reviewer.terms.problems import ReviewerError
from reviewer.video import Recording, SmallStore, Survey, open_recording

Order = Callable[[], None]

_SETTLED = 0.06
"""Seconds without a newer wish before a picture that takes decoding is begun, where a small one stands in."""
_LATE = 0.25
"""Seconds playing may fall behind before something gives way."""
_BUSY = 0.15
"""Seconds after a wish during which the background pass stands still."""
_PAUSE = 0.3
"""Seconds that the last picture stays before a passage begins anew."""
_SLOWER = noted("Shown slower than asked: this computer cannot decode as fast.")
_SMALLER = noted("Shown in small pictures: this computer cannot decode the full ones as fast.")
_END = object()


class Projector(QThread):
    """Decodes what the window asks for; the latest wish replaces those not yet begun.

    Attributes:
        punctuality: how well what is being played, or was last, kept to its time.

    Signals:
        opened(RecordingFacts): a recording is open; its first picture follows.
        shown(Picture): a picture to be put on the screen; answer with `taken`.
        ended(Passage, str): playing a passage has ended; why, where it could not go on as asked.
        failed(ReviewerError): what was asked cannot be done.
        surveying(int, int): frames the background pass has done, and frames in all.
        surveyed(): it has seen every frame.
    """

    opened = pyqtSignal(object)
    shown = pyqtSignal(object)
    ended = pyqtSignal(object, str)
    failed = pyqtSignal(object)
    surveying = pyqtSignal(int, int)
    surveyed = pyqtSignal()

    def __init__(self, memory: int, store: SmallStore | None) -> None:
        super().__init__()
        self._memory, self._store = memory, store
        self._bell = Condition()
        self._opening: Order | None = None
        self._wish: Order | None = None
        self._halted = False
        self._leaving = False
        self.punctuality = Punctuality()
        self._asked, self._at_work = 0.0, False
        self._recording: Recording | None = None
        self._surveyor: Surveyor | None = None
        self._idle: Iterator[None] = iter(())

    @property
    def recording(self) -> Recording | None:
        """The recording that is open; only what is safe from any thread may be asked of it."""
        return self._recording

    def open(self, path: Path, stream: int = 0) -> None:
        """Open a recording in place of the one that is open."""
        self._ask(opening=lambda: self._open(path, stream))

    def small(self, frame: int) -> Picture | None:
        """The small picture of a frame where there is one; from any thread, at once."""
        surveyor = self._surveyor
        return surveyor.survey.picture(frame) if surveyor is not None else None

    def show_frame(self, frame: int, step: int, *, settle: bool = False) -> None:
        """Show one frame; stops playing. ``step`` is the direction of travel.

        With ``settle`` a picture stands in already, and wishes may follow each other quickly.
        """
        self._ask(wish=lambda: self._show(frame, step, settle))

    def examine(self, frame: int) -> None:
        """Search what a frame rests on for errors, and show it again as what it then is."""
        self._ask(wish=lambda: self._examine(frame))

    def read_on(self, frame: int, step: int) -> None:
        """Read on from a frame that is on the screen already."""
        self._ask(wish=lambda: self._read_on(frame, step))

    def play(self, passage: Passage) -> None:
        """Show the frames of a passage, each at its own time."""
        self._ask(wish=lambda: self._play(passage))

    def halt(self) -> None:
        """Stop playing at the picture on the screen."""
        self._ask()

    def stop_survey(self) -> None:
        """Make no more small pictures of this recording."""
        if self._surveyor is not None:
            self._surveyor.halt()

    def leave(self) -> None:
        """End the threads and close the recording."""
        with self._bell:
            self._leaving = True
            self._bell.notify_all()
        self.wait()

    def taken(self) -> None:
        """The window has put the last picture on the screen; until then playing sends no other."""
        with self._bell:
            self.punctuality.came(time.monotonic())

    def run(self) -> None:
        """The thread: one order after another until `leave`, and between them reading on."""
        while not self._leaving:
            order = self._next(waiting=not self._goes_on_idly())
            if order is not None:
                self._carry_out(order)
        self._let_go()

    def _carry_out(self, order: Order) -> None:
        self._at_work = True
        try:
            order()
        except ReviewerError as error:
            self.failed.emit(error)
        finally:
            self._at_work = False

    def _is_busy(self) -> bool:
        return self._at_work or time.monotonic() - self._asked < _BUSY

    def _goes_on_idly(self) -> bool:
        """One step of reading on; whether there may be more."""
        try:
            return next(self._idle, _END) is not _END
        except ReviewerError:
            self._idle = iter(())  # whoever asks for that frame will be told
            return False

    def _ask(self, *, opening: Order | None = None, wish: Order | None = None) -> None:
        with self._bell:
            self._opening = opening or self._opening
            self._wish = wish
            self._halted = True
            self._asked = time.monotonic()
            self._bell.notify_all()

    def _next(self, *, waiting: bool) -> Order | None:
        with self._bell:
            if waiting:
                self._bell.wait_for(lambda: bool(self._leaving or self._opening or self._wish))
            if self._leaving:
                return None
            order = self._opening or self._wish
            if order is None:
                return None
            self._halted = False
            if self._opening is not None:
                self._opening = None
            else:
                self._wish = None
            return order

    def _open(self, path: Path, stream: int) -> None:
        fresh = open_recording(path, memory=self._memory, stream=stream)
        self._let_go()
        self._recording = fresh
        self.opened.emit(fresh.facts)
        if self._store is not None:
            self._survey(Survey(fresh, self._store))

    def _survey(self, survey: Survey) -> None:
        surveyor = Surveyor(survey, self._is_busy)
        surveyor.advanced.connect(self.surveying)
        surveyor.surveyed.connect(self.surveyed)
        surveyor.failed.connect(self.failed)
        self._surveyor = surveyor
        surveyor.start(QThread.Priority.LowestPriority)

    def _let_go(self) -> None:
        self._idle = iter(())
        if self._surveyor is not None:
            self._surveyor.leave()
        if self._recording is not None:
            self._recording.close()
        self._surveyor = self._recording = None

    def _show(self, frame: int, step: int, settle: bool) -> None:
        recording = self._recording
        if recording is None:
            return
        if not recording.is_decoded(frame):
            if settle and self._stopped_before(time.monotonic() + _SETTLED):
                return
            for _ in recording.read(frame, frame):
                if self._is_stopped():
                    return
        self._send(recording.picture(frame))
        self._read_on(frame, step)

    def _examine(self, frame: int) -> None:
        if self._recording is not None:
            self._send(self._recording.evidence(frame))

    def _read_on(self, frame: int, step: int) -> None:
        if self._recording is not None:
            self._idle = self._recording.prepare(frame, step)

    def _play(self, passage: Passage) -> None:
        why = ""
        with self._bell:
            self.punctuality.begin()
        self._idle = iter(())
        try:
            if self._recording is not None:
                with RunAhead(self._recording, passage, self._bell) as ahead:
                    why = self._run_through(self._recording, ahead, passage)
        finally:
            self.ended.emit(passage, why)

    def _run_through(self, recording: Recording, ahead: RunAhead, passage: Passage) -> str:
        """Play; what could not be done as asked, in words."""
        frame, small, why = passage.first, False, ""
        pace: Pace | None = None
        while True:
            picture = self.small(frame) if small else self._in_time(ahead, frame)
            now = time.monotonic()
            if pace is not None and now - pace.moment(frame) > _LATE:
                small, why = self._slower(passage)
                pace = pace if passage.punctual else None
            pace = pace or Pace(recording.facts, passage, frame, now)
            if picture is not None and (not self.punctuality.on_its_way or frame == passage.end):
                self._send(picture, pace.moment(frame))
            if frame == passage.end and not passage.goes_round:
                return why
            if frame == passage.end:
                self._stopped_before(now + _PAUSE)
                frame, pace = passage.beginning, None
            elif not self._stopped_before(pace.moment(frame + passage.step)):
                frame = pace.next(frame, time.monotonic())
            if self._is_stopped():
                return why

    def _slower(self, passage: Passage) -> tuple[bool, str]:
        """What gives way where decoding is too slow: the size of the pictures, or else the speed."""
        if self.small(passage.first) is not None and self.small(passage.end) is not None:
            return True, _SMALLER
        return False, "" if passage.punctual else _SLOWER

    def _in_time(self, ahead: RunAhead, frame: int) -> Picture | None:
        """The picture of a frame once it is ready; None where there is none or playing was stopped."""
        ahead.ask(frame)
        with self._bell:
            self._bell.wait_for(lambda: self._is_stopped() or ahead.has(frame))
        return None if self._is_stopped() else ahead.picture(frame)

    def _is_stopped(self) -> bool:
        return self._halted or self._leaving

    def _stopped_before(self, due: float) -> bool:
        with self._bell:
            return self._bell.wait_for(self._is_stopped, timeout=max(0.0, due - time.monotonic()))

    def _send(self, picture: Picture, due: float | None = None) -> None:
        with self._bell:
            self.punctuality.sent(due)
        self.shown.emit(picture)
