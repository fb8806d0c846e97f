"""A real desk that works by itself until it is killed, and says on a channel what its screen shows.

``python -m tests.desk.killed CASE SEED``: each line is one JSON document, written out before the paint that
shows it. It never ends by itself.
"""

import json
import random
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

from PyQt6.QtCore import QEvent, QObject, QPoint, QTimer
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication, QFileDialog

from reviewer.desk.application import dressed_application
from reviewer.desk.window import DeskWindow
from tests.desk.hands import Hands, Held, Key

CALLS = ("cast met", "cast -52", "pullover mount", "arms-bent 0.1", "fall", "back-hip-circle", "posted 8.7")
BODY = ((0.45, 0.45), (0.5, 0.35), (0.42, 0.42), (0.3, 0.55))


class Channel(QObject):
    """Tells what is about to be painted, each time it is something else.

    Attributes:
        told: what was told last; empty before the case is shown.
    """

    def __init__(self, desk: DeskWindow) -> None:
        super().__init__(desk)
        self._desk, self.told = desk, ""
        for part in (desk.evidence, desk.strip, desk.argument.final):
            part.installEventFilter(self)

    def eventFilter(self, part: QObject | None, event: QEvent | None) -> bool:
        """Every paint of the picture, the strip and the score."""
        if event is not None and event.type() == QEvent.Type.Paint:
            self._tell()
        return False

    def _tell(self) -> None:
        desk, audit = self._desk, self._desk.bench.audit
        if audit is None or desk.evidence.picture is None:
            return
        on_sheet = {mark for row in desk.argument.rows for mark in row.marks}
        on_strip = {mark.id for mark in desk.bench.marks if desk.strip.place_of(mark.id) is not None}
        said: dict[str, Any] = {
            "writes": audit.author,
            "events": len(audit.case.events),
            "marks": sorted(on_sheet | on_strip),
            "score": desk.argument.final.text(),
            "frame": desk.evidence.picture.frame,
            "rests": not desk.viewing.playing,
        }
        if (line := json.dumps(said)) != self.told:
            self.told = line
            print(line, flush=True)


class Work:
    """Gestures of a judge, one after another, by chance."""

    def __init__(self, desk: DeskWindow, seed: int) -> None:
        self._desk, self._chance, self._hands = desk, random.Random(seed), Hands(desk)

    def go_on(self) -> None:
        """The next gesture, and so on without an end."""
        ways = (self._mark, self._mark, self._move, self._measure, self._undo, self._look, self._report)
        way: Callable[[], None] = self._chance.choice(ways)
        print(json.dumps({"begins": way.__name__}), flush=True)
        way()
        QTimer.singleShot(self._chance.randrange(30), self.go_on)

    def _mark(self) -> None:
        self._hands.key(Key.Key_Return)
        for letter in self._chance.choice(CALLS):
            self._hands.type(letter)
            QTest.qWait(self._chance.randrange(4))
        self._hands.key(Key.Key_Return, Key.Key_Escape)

    def _move(self) -> None:
        """Drag an element's start along the strip."""
        marks = [one for one in self._desk.bench.marks if one.kind == "element"]
        place = self._desk.strip.grip_of(self._chance.choice(marks).id, "start") if marks else None
        if place is not None:
            steps = [QPoint(0, self._chance.randint(-25, 25)) for _ in range(4)]
            self._hands.drag(self._desk.strip, place.toPoint(), *(place.toPoint() + step for step in steps))

    def _measure(self) -> None:
        view = self._desk.evidence
        self._hands.key(Key.Key_Escape, Key.Key_P)
        for x, y in BODY:
            self._hands.click(view, QPoint(int(x * view.width()), int(y * view.height())))
            QTest.qWait(self._chance.randrange(10))
        self._hands.key(Key.Key_Return, Key.Key_Escape)

    def _undo(self) -> None:
        for _ in range(self._chance.randint(1, 4)):
            self._hands.sequence(self._chance.choice(("Ctrl+Z", "Ctrl+Z", "Ctrl+Y")))

    def _look(self) -> None:
        self._hands.key(Key.Key_Escape)
        if self._chance.random() < 0.3:
            self._hands.key(Key.Key_Space)
            QTest.qWait(self._chance.randrange(300))
            self._hands.key(Key.Key_Space)
        for _ in range(self._chance.randint(1, 6)):
            self._hands.key(
                self._chance.choice((Key.Key_Right, Key.Key_Left, Key.Key_PageDown, Key.Key_PageUp))
            )
            QTest.qWait(self._chance.randrange(40))

    def _report(self) -> None:
        if self._chance.random() < 0.5:
            return
        QTimer.singleShot(200, self._name_report)
        self._hands.key(Key.Key_R, held=Held.ControlModifier)

    def _name_report(self) -> None:
        asked = QApplication.activeModalWidget()
        if isinstance(asked, QFileDialog):
            self._hands.key(Key.Key_A, held=Held.ControlModifier)
            self._hands.type(f"finding-{self._chance.randrange(3)}")
            self._hands.key(Key.Key_Return)
            if asked.isVisible():
                self._hands.key(Key.Key_Escape)


def main(case: Path, seed: int) -> None:
    """Open the desk as the command does, and work."""
    application = dressed_application()
    desk = DeskWindow("A")
    channel, work = Channel(desk), Work(desk, seed)
    desk.remembering.put_back()
    desk.show()
    desk.open_case(case, None)
    desk.activateWindow()

    def begun() -> None:
        if not channel.told:
            QTimer.singleShot(20, begun)
        else:
            work.go_on()

    begun()
    application.exec()


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
