"""The desk's window on a real screen, with every paint of the picture noted."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from tempfile import mkdtemp
from time import perf_counter

from PyQt6.QtCore import QEventLoop, QTimer, pyqtBoundSignal
from PyQt6.QtGui import QPaintEvent
from PyQt6.QtTest import QTest

from reviewer.desk.application import dressed_application
from reviewer.desk.window import DeskWindow
from reviewer.terms.pictures import Picture
from reviewer.video import MEMORY, SmallStore
from tests.benchmarks.clips import Setting

SIZE, DISK = (1280, 800), 1 << 32
A_PICTURE = 16.7
"""Milliseconds of a picture at 60 a second."""


class LateError(Exception):
    """What was waited for did not come in time."""


@dataclass(frozen=True, slots=True)
class Paint:
    """A paint of the picture: the moment it returned, the frame, and whether the full picture was painted."""

    moment: float
    frame: int
    full: bool


class Desk:
    """The window with one recording open.

    Attributes:
        window: the window itself.
        paints: every paint of a picture so far.
    """

    def __init__(self, window: DeskWindow) -> None:
        self.window = window
        self.paints: list[Paint] = []
        self._surveyed = False
        self._paint = window.evidence.paintEvent
        window.evidence.paintEvent = self._noted  # type: ignore[method-assign]
        window.viewing.surveyed.connect(self._note_survey)

    @property
    def picture(self) -> Picture:
        """What is on the bench."""
        picture = self.window.bench.picture
        assert picture is not None
        return picture

    @property
    def frames(self) -> int:
        """How many the recording has."""
        facts = self.window.bench.facts
        assert facts is not None
        return len(facts.pts)

    def open(self, path: Path) -> None:
        """Open a recording and wait for its background pass to end; `LateError`."""
        self.window.open_path(path)
        until(lambda: self.window.bench.picture is not None, 60)
        until(lambda: self._surveyed, 300)

    def show(self, frame: int) -> None:
        """Go to a frame and wait for its full picture; `LateError`."""
        self.window.viewing.seek(frame)
        until(lambda: self.picture.frame == frame and self.picture.stands_for is None, 30)

    def is_decoded(self, frame: int) -> bool:
        """Whether a frame waits in memory."""
        recording = self.window.viewing._projector.recording
        return recording is not None and recording.is_decoded(frame)

    def latency(
        self, act: Callable[[], object], seen: Callable[[Paint], bool], seconds: float
    ) -> float | None:
        """Milliseconds from an input to the return of the paint it asked for; None for one too late."""
        before, begun = len(self.paints), perf_counter()
        act()
        while perf_counter() - begun < seconds:
            QTest.qWait(1)  # works through all events at once, then sleeps
            found = next((paint for paint in self.paints[before:] if seen(paint)), None)
            if found is not None:
                return 1000 * (found.moment - begun)
        return None

    def _noted(self, event: QPaintEvent | None) -> None:
        self._paint(event)
        shown = self.window.evidence.picture
        if shown is not None:
            self.paints.append(Paint(perf_counter(), shown.frame, shown.stands_for is None))

    def _note_survey(self) -> None:
        self._surveyed = True


@contextmanager
def desk(setting: Setting) -> Iterator[Desk]:
    """An empty desk on the screen, at the front; closed afterwards."""
    application = dressed_application()
    window = DeskWindow("A", MEMORY, SmallStore(Path(mkdtemp(dir=setting.scratch)), DISK))
    window.resize(*SIZE)
    window.show()
    if not QTest.qWaitForWindowExposed(window):
        raise LateError("the window did not appear")
    window.activateWindow()
    if not QTest.qWaitForWindowActive(window):
        raise LateError("the window did not become active")
    window.evidence.setFocus()
    try:
        yield Desk(window)
    finally:
        window.close()
        application.processEvents()


def until(seen: Callable[[], bool], seconds: float) -> None:
    """Let the window work until something is so; `LateError`. A loop without sleep would starve decoding."""
    end = perf_counter() + seconds
    while not seen():
        if perf_counter() > end:
            raise LateError(f"not seen within {seconds} s")
        QTest.qWait(5)


def work_through(seconds: float, ends: pyqtBoundSignal) -> None:
    """Let the window work as by itself, for so long or until a signal; `QTest.qWait` would sleep between."""
    loop = QEventLoop()
    ends.connect(loop.quit)
    QTimer.singleShot(int(1000 * seconds), loop.quit)
    loop.exec()
    ends.disconnect(loop.quit)


def rest(moment: float) -> None:
    """Let the window work until a moment."""
    while perf_counter() < moment:
        QTest.qWait(1)
