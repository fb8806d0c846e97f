"""Where the window stood and where each case was left, so that a judge goes on where they stopped."""

from collections.abc import Callable
from pathlib import Path
from typing import Protocol

from PyQt6.QtCore import QByteArray, QObject, QPoint
from PyQt6.QtWidgets import QMainWindow, QMenu, QSplitter

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.evidence import EvidenceView
from reviewer.desk.looks import AROUND, hex_of
from reviewer.desk.viewing import Viewing


class Remembered(Protocol):
    """A part of the window with something to remember."""

    def kept(self) -> str:
        """It, as text."""
        ...

    def put_back(self, text: str) -> None:
        """Let it be as it was; empty or strange text changes nothing."""
        ...


class Remembering(QObject):
    """Keeps what is worth remembering, each time a picture comes to rest and when a mark is made.

    It is on disk at once: a window that dies is found again at the same frame.
    """

    def __init__(self, window: QMainWindow, bench: Bench, viewing: Viewing) -> None:
        super().__init__(window)
        self._window, self._bench, self._viewing = window, bench, viewing
        self.kept = actions.recall()
        self._parts: dict[str, Remembered] = {}
        viewing.opened.connect(self._opened)
        viewing.looked.connect(lambda _: self.keep_place())
        viewing.shown.connect(lambda _: self._rested())
        viewing.played.connect(lambda playing: None if playing else self._rested())
        bench.changed.connect(self._changed)

    def also(self, name: str, part: Remembered) -> None:
        """Keep what a part of the window wants remembered, under a name."""
        self._parts[name] = part

    def left_at(self, path: Path) -> actions.LeftAt | None:
        """Where a case or a recording was left, by its file."""
        return self.kept.left_at(path.resolve())

    def keep_place(self) -> None:
        """Remember what is open and which frame is on the screen."""
        path = self._bench.audit.path if self._bench.audit else self._bench.recording
        if path is None:
            return
        frame = self._bench.picture.frame if self._bench.picture else 0
        looked = tuple(sorted(self._bench.looked))
        left = actions.LeftAt(str(path.resolve()), self._bench.on_screen, frame, looked)
        self._keep(self.kept.now_at(left))

    def keep_window(self) -> None:
        """Remember where the window and its parts stand."""
        places = {"window": self._window.saveGeometry()}
        places |= {one.objectName(): one.saveState() for one in self._splitters()}
        written = {name: bytes(place.toBase64().data()).decode("ascii") for name, place in places.items()}
        written |= {name: part.kept() for name, part in self._parts.items()}
        written["picture"] = picture_place(self._window)
        self._keep(actions.Remembered(written, self.kept.recent))

    def put_back(self) -> None:
        """Let the window and its parts stand where they did."""
        places = {name: QByteArray.fromBase64(text.encode()) for name, text in self.kept.window.items()}
        if "window" in places:
            self._window.restoreGeometry(places["window"])
        for one in self._splitters():
            if one.objectName() in places:
                one.restoreState(places[one.objectName()])
        for name, part in self._parts.items():
            part.put_back(self.kept.window.get(name, ""))

    def offer_in(self, menu: QMenu, opens: Callable[[Path], object]) -> None:
        """Offer what was opened lately after the first line of a menu."""
        recent = QMenu(self._bench.say("Opened lately"), menu)
        menu.insertMenu(menu.actions()[1], recent)
        menu.aboutToShow.connect(lambda: self._offer(recent))
        recent.triggered.connect(lambda chosen: opens(Path(chosen.data())))

    def _opened(self) -> None:
        """A look at full speed that was taken earlier is known again, also where nothing was called in it."""
        path = self._bench.audit.path if self._bench.audit else self._bench.recording
        left = self.left_at(path) if path is not None else None
        self._bench.looked |= set(left.looked) if left is not None else set()

    def _offer(self, menu: QMenu) -> None:
        """Put what was opened lately into a menu, each time it is shown."""
        menu.clear()
        for left in self.kept.recent:
            path = Path(left.path)
            if path.exists() and (action := menu.addAction(f"{path.name}   {path.parent}")) is not None:
                action.setData(left.path)
        menu.setEnabled(not menu.isEmpty())

    def _changed(self, what: frozenset[str]) -> None:
        """A mark was made; where another case is laid, the picture on the screen is not yet its own."""
        if "case" not in what:
            self.keep_place()

    def _rested(self) -> None:
        if not self._viewing.playing and self._bench.picture is not None:
            self.keep_place()

    def _keep(self, what: actions.Remembered) -> None:
        if what != self.kept:
            self.kept = what
            actions.remember(what)

    def _splitters(self) -> list[QSplitter]:
        return [one for one in self._window.findChildren(QSplitter) if one.objectName()]


def picture_place(window: QMainWindow) -> str:
    """Where the picture lies in the window and the colour around it, for the first look of the next time."""
    picture = window.findChild(EvidenceView)
    assert picture is not None
    corner = picture.mapTo(window, QPoint(0, 0))
    return f"{corner.x()} {corner.y()} {picture.width()} {picture.height()} {hex_of(AROUND)}"
