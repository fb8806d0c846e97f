"""Thousands of random keys and clicks on the real window, from a seed: nothing may break, hang or be lost.

``python -m tests.desk.monkey --events 10000 --seed 7`` starts a screen where there is none, prints one JSON
document and exits 1 where anything went wrong.
"""

import argparse
import faulthandler
import json
import os
import random
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from traceback import format_exception
from typing import Any

from PyQt6.QtCore import QEvent, QPoint, QPointF, Qt, QTimer
from PyQt6.QtGui import QWheelEvent
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication, QDialog, QWidget
from PyQt6.sip import isdeleted

from reviewer import actions
from reviewer.casefile import check_chain
from reviewer.desk.application import dressed_application
from reviewer.desk.window import DeskWindow
from reviewer.settings import shipped_keys
from reviewer.terms.callwords import COMMANDS, SETTLED, VERDICT_WORDS
from reviewer.video import SmallStore
from tests.desk.hands import BARE, Hands, Held, Key

PATIENCE = 30
"""Seconds one event may take before the window is said to hang."""
ASIDE = (*range(Key.Key_A, Key.Key_Z + 1), *range(Key.Key_0, Key.Key_9 + 1))
PLAIN = (Key.Key_Return, Key.Key_Escape, Key.Key_Tab, Key.Key_Backtab, Key.Key_Up, Key.Key_Down)
NUMBERS = ("0.1", "0.05", "0.3", "-52", "-38.5", "9.9", "1.2s", "00:00:02:03", "400", "@b", "0")


class Monkey:
    """Plays with the desk until its events are done, then ends the loop.

    Attributes:
        failures: what went wrong, in words with the last events before it.
        left: events that are still to come.
    """

    def __init__(self, case: Path, events: int, seed: int) -> None:
        self._case, self.left, self._chance = case, events, random.Random(seed)
        self._busy, self._waited = False, 0
        self._lately: list[str] = []
        self.failures: list[str] = []
        self._desk = self._opened()
        self._keys = [one for use in shipped_keys() for one in use.keys]

    def play(self) -> None:
        """The next event; the one after it is due already, should this one wait for an answer."""
        if self.left <= 0 and not self._busy:
            QApplication.exit()
            return
        QTimer.singleShot(self._chance.choice((0, 0, 0, 3, 20)), self.play)
        faulthandler.dump_traceback_later(PATIENCE, exit=True)
        if self._busy:
            self._give_up_waiting()
            return
        self._busy, self._waited = True, 0
        self.left -= 1
        if not self._desk.isVisible():
            self._desk.deleteLater()
            self._desk = self._opened()
        self._do()
        self._busy = False

    def _give_up_waiting(self) -> None:
        """An event that waits for an answer, as a dialog of files does, gets Esc after a while."""
        self._waited += 1
        if self._waited % 50 == 0:
            self._note("Esc out of what waits")
            self._hands.key(Key.Key_Escape)

    def failed(self, kind: type[BaseException], fault: BaseException, trace: Any) -> None:
        """The hook for what a slot did not catch."""
        said = "".join(format_exception(kind, fault, trace))
        self.failures.append(f"{said}after {self._lately[-12:]}")

    def shown_score(self) -> tuple[Path, str] | None:
        """The case on the desk and the final score on its sheet."""
        audit = self._desk.bench.audit
        return (audit.path, self._desk.argument.final.text()) if audit is not None else None

    def leave(self) -> None:
        """Close the window as its cross does."""
        for one in QApplication.topLevelWidgets():
            one.close()

    def _opened(self) -> DeskWindow:
        desk = DeskWindow("A", store=SmallStore(Path.cwd() / "small", 50_000_000))
        desk.show()
        QTest.qWaitForWindowExposed(desk)
        desk.activateWindow()
        desk.open_case(self._case, None)
        self._hands = Hands(desk)
        return desk

    def _do(self) -> None:
        """One random event, or now and then Esc where a dialog is in front."""
        asked = QApplication.activeModalWidget()
        if asked is not None and self._chance.random() < 0.1:
            self._note("Esc in a dialog")
            asked.activateWindow()
            self._hands.key(Key.Key_Escape)
            return
        ways: tuple[tuple[Callable[[], None], int], ...] = (
            (self._key_of_table, 30),
            (self._call, 12),
            (self._letters, 8),
            (self._plain_key, 14),
            (self._click, 16),
            (self._drag, 8),
            (self._wheel, 5),
            (self._resize, 2),
            (self._other_window, 3),
            (self._wait, 2),
        )
        self._chance.choices([way for way, _ in ways], [often for _, often in ways])[0]()

    def _key_of_table(self) -> None:
        key = self._chance.choice(self._keys)
        self._note(key)
        self._hands.sequence(key)

    def _plain_key(self) -> None:
        key = self._chance.choice(PLAIN)
        self._note(key.name)
        self._hands.key(key, held=self._chance.choice((BARE, BARE, BARE, Held.ShiftModifier)))

    def _letters(self) -> None:
        keys = [Key(self._chance.choice(ASIDE)) for _ in range(self._chance.randint(1, 5))]
        self._note("letters " + "".join(key.name[-1] for key in keys))
        self._hands.key(*keys)

    def _call(self) -> None:
        """A call of words in their places, or in any."""
        book, chance = self._desk.bench.book, self._chance
        if book is None:
            return
        lists = (book.elements, book.faults, book.facts)
        first = [*COMMANDS, *(one.code for listed in lists for one in listed)]
        after = [*VERDICT_WORDS, *SETTLED, *NUMBERS]
        after += [one.code for listed in (book.roles, book.conditions) for one in listed]
        words = [chance.choice(first), *chance.sample(after, chance.randint(0, 2))]
        self._note(f"call {words}")
        if chance.random() < 0.7:
            self._hands.key(Key.Key_Escape, Key.Key_Escape, Key.Key_Return)
        self._hands.type(" ".join(words))
        self._hands.key(Key.Key_Return)

    def _place(self) -> tuple[QWidget, QPoint] | None:
        """A window, mostly the one in front, and a place in it."""
        shown = [one for one in QApplication.topLevelWidgets() if one.isVisible() and one.windowHandle()]
        front = QApplication.activePopupWidget() or QApplication.activeWindow()
        if not shown:
            return None
        near = front is not None and front in shown and self._chance.random() < 0.8
        window = front if near and front is not None else self._chance.choice(shown)
        return window, QPoint(
            self._chance.randrange(max(1, window.width())), self._chance.randrange(max(1, window.height()))
        )

    def _click(self) -> None:
        if (found := self._place()) is not None:
            window, place = found
            self._note(f"click {type(window.childAt(place) or window).__name__}")
            held = self._chance.choice((BARE, BARE, BARE, Held.ControlModifier, Held.ShiftModifier))
            if self._chance.random() < 0.15:
                self._hands.click(window, place, held)
            if not isdeleted(window) and window.windowHandle():
                self._hands.click(window, place, held)

    def _drag(self) -> None:
        if (found := self._place()) is not None:
            window, place = found
            self._note(f"drag {type(window.childAt(place) or window).__name__}")
            self._hands.drag(window, place, *(self._near(window, place) for _ in range(4)))

    def _near(self, window: QWidget, place: QPoint) -> QPoint:
        x, y = (self._chance.randint(-60, 60) for _ in range(2))
        return QPoint(
            max(0, min(window.width() - 1, place.x() + x)), max(0, min(window.height() - 1, place.y() + y))
        )

    def _wheel(self) -> None:
        if (found := self._place()) is None:
            return
        window, place = found
        turned = QPoint(0, self._chance.choice((-240, -120, 120, 240)))
        held = self._chance.choice((BARE, BARE, Held.ControlModifier))
        self._note(f"wheel {type(window.childAt(place) or window).__name__}")
        on = window.childAt(place) or window
        at, none, phase = QPointF(on.mapFrom(window, place)), Qt.MouseButton.NoButton, Qt.ScrollPhase
        here = QPointF(window.mapToGlobal(place))
        wheel = QWheelEvent(at, here, QPoint(), turned, none, held, phase.NoScrollPhase, False)
        QApplication.sendEvent(on, wheel)

    def _resize(self) -> None:
        self._note("resize")
        self._desk.resize(self._chance.randint(900, 1400), self._chance.randint(500, 900))

    def _other_window(self) -> None:
        """Another window in front, or a page closed by its cross."""
        shown = [one for one in QApplication.topLevelWidgets() if one.isVisible()]
        one = self._chance.choice(shown) if shown else None
        self._note(f"in front {type(one).__name__}")
        if isinstance(one, QDialog) and self._chance.random() < 0.5:
            one.close()
        elif one is not None:
            one.activateWindow()

    def _wait(self) -> None:
        self._note("wait")
        QTest.qWait(self._chance.choice((10, 80, 200)))

    def _note(self, what: str) -> None:
        self._lately.append(what)
        del self._lately[:-40]
        print(what, file=sys.stderr)


def run(events: int, seed: int, folder: Path) -> dict[str, Any]:
    """Let it play in a folder; what came of it."""
    case = folder / "square-on.case"
    subprocess.run(
        [sys.executable, "-m", "reviewer", "demo", "-o", folder, "--no-window"],
        check=True,
        stdout=subprocess.DEVNULL,
    )
    QApplication.setAttribute(Qt.ApplicationAttribute.AA_DontUseNativeDialogs)
    application, begun = dressed_application(), time.monotonic()
    application.setQuitOnLastWindowClosed(False)
    monkey = Monkey(case, events, seed)
    before, sys.excepthook = sys.excepthook, monkey.failed
    try:
        QTimer.singleShot(0, monkey.play)
        application.exec()
        faulthandler.cancel_dump_traceback_later()
        QTest.qWait(500)
        shown = monkey.shown_score()
        monkey.leave()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    finally:
        sys.excepthook = before
    cases = sorted(folder.rglob("*.case"))
    wrong = [f"{monkey.left} events were not played"] if monkey.left else []
    wrong += [*monkey.failures, *(said for one in cases for said in _amiss(one)), *_other_score(shown)]
    seconds = round(time.monotonic() - begun, 1)
    return {"events": events, "seed": seed, "seconds": seconds, "cases": len(cases), "failures": wrong}


def _amiss(case: Path) -> list[str]:
    """What is wrong with the chain of a case."""
    with actions.open_case(case, author=None) as audit:
        return [f"{case}: {problem}" for problem in check_chain(audit.case.events)]


def _other_score(shown: tuple[Path, str] | None) -> list[str]:
    """The score on the screen held against a fresh `reviewer score`."""
    if shown is None:
        return []
    case, score = shown
    told = json.loads(_reviewer("score", "--json", str(case)))
    return [] if told["final_score"] == score else [f"{case}: {score} shown, {told['final_score']} derived"]


def _reviewer(*command: str) -> bytes:
    """What a command says, run in a process of its own."""
    return subprocess.run(
        [sys.executable, "-m", "reviewer", *command], capture_output=True, check=False
    ).stdout


def main() -> int:
    """Read the command line; the exit code."""
    reading = argparse.ArgumentParser(prog="python -m tests.desk.monkey")
    reading.add_argument("--events", type=int, default=10_000)
    reading.add_argument("--seed", type=int, default=1)
    asked = reading.parse_args()
    faulthandler.enable()
    with tempfile.TemporaryDirectory() as name:
        _apart(Path(name))
        told = run(asked.events, asked.seed, Path(name) / "demo")
    print(json.dumps(told, indent=1))
    return 1 if told["failures"] else 0


def _apart(folder: Path) -> None:
    """Home, settings, memories and passing files of this process in a folder of its own."""
    places = {
        "HOME": "home",
        "TMPDIR": "tmp",
        "REVIEWER_SETTINGS": "s/settings.toml",
        "REVIEWER_DESK": "s/d.json",
    }
    for variable, place in places.items():
        os.environ[variable] = str(folder / place)
    for place in ("home", "tmp", "demo"):
        (folder / place).mkdir()
    tempfile.tempdir = None
    os.chdir(folder / "home")


if __name__ == "__main__":
    sys.exit(main())
