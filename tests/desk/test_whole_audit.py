"""Whole audits of the sample routine in the real window, once by keys and once by the mouse alone.

From the recording to the report, posted events only; the ledger must be the one that the command line derives
from the same case, and from the same marks typed there. How many keys and clicks it took is printed (`-s`).
"""

import json
import time
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any, TypeVar

import pytest
from click.testing import CliRunner
from PyQt6.QtCore import QPoint
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QCheckBox,
    QComboBox,
    QLineEdit,
    QListWidget,
    QMenu,
    QPushButton,
    QWidget,
)

from reviewer.cli.program import program
from reviewer.desk.window import DeskWindow
from tests.desk.conftest import SQUARE_ON, until
from tests.desk.hands import Hands, Held, Key, when_asked

BODY = {"hand": (436, 340), "shoulder": (469, 252), "hip": (411, 321), "ankle": (331, 426)}
"""Where the joints stand on frame 346, in pixels of the picture (annotations/square-on.marks.json)."""


@dataclass(frozen=True)
class Seen:
    """One mark of the routine: what is typed for it, its frames, and how the command line is told."""

    typed: str
    frame: int
    end: int | None
    command: str


ROUTINE = (
    Seen("pullover mo", 144, 216, "element pullover --role mount"),
    Seen("cast met", 236, 264, "element cast --by-eye met"),
    Seen("back-h", 265, 312, "element back-hip-circle"),
    Seen("legs-apart 0.1", 288, None, "fault legs-apart --amount 0.1 --element m3"),
    Seen("cast", 324, 360, "element cast --by-eye -51"),
    Seen("arms-bent 0.1", 346, None, "fault arms-bent --amount 0.1 --element m5"),
    Seen("cast-squat-on jump-to-h", 380, 486, "element cast-squat-on --with jump-to-high-bar"),
    Seen("tap-s", 487, 555, "element tap-swing"),
    Seen("long-hang-pu", 556, 625, "element long-hang-pullover"),
    Seen("cast met", 645, 678, "element cast --by-eye met"),
    Seen("underswing-dismount di", 679, 738, "element underswing-dismount --role dismount"),
    Seen("medium-step 0.15", 738, None, "fault medium-step --amount 0.15 --element m11"),
)
Kind = TypeVar("Kind", bound=QWidget)
MEASURED = 346
FACT = "springboard-left"


@pytest.fixture
def recording(tmp_path: Path) -> Path:
    """The sample recording under a name of its own."""
    clip = tmp_path / "routine.mp4"
    clip.symlink_to(SQUARE_ON)
    return clip


@pytest.fixture
def opened(window: DeskWindow, recording: Path) -> DeskWindow:
    """The desk as ``reviewer desk --recording routine.mp4`` opens it."""
    window.open_recording(recording)
    until(lambda: window.bench.picture is not None)
    return window


def test_a_routine_is_audited_by_keys_alone(opened: DeskWindow, recording: Path, tmp_path: Path) -> None:
    keys, begun = Keys(opened), time.monotonic()
    keys.start()
    each = [keys.mark(seen) for seen in ROUTINE]
    keys.measure()
    keys.finish()
    keys.report()
    seconds = time.monotonic() - begun
    print(f"by keys: {keys.hands.pressed} keys, {keys.hands.clicked} clicks, {seconds:.0f} s; a mark: {each}")
    assert keys.hands.clicked == 0
    assert_whole(opened, recording, tmp_path)


def test_a_routine_is_audited_by_the_mouse_alone(opened: DeskWindow, recording: Path, tmp_path: Path) -> None:
    mouse, begun = Mouse(opened), time.monotonic()
    mouse.start()
    each = [mouse.mark(seen) for seen in ROUTINE]
    mouse.measure()
    mouse.finish()
    mouse.report()
    seconds = time.monotonic() - begun
    letters, clicks = mouse.hands.pressed, mouse.hands.clicked
    print(f"by mouse: {clicks} clicks, {letters} letters in fields, {seconds:.0f} s; a mark: {each}")
    assert_whole(opened, recording, tmp_path)


class Keys:
    """A judge who never touches the mouse."""

    def __init__(self, desk: DeskWindow) -> None:
        self.desk, self.hands = desk, Hands(desk)

    def start(self) -> None:
        """The form, with consent given."""
        self.hands.sequence("Ctrl+N")
        self._to("Consent to this recording")
        self.hands.key(Key.Key_Down, Key.Key_Return)
        until(lambda: self.desk.bench.audit is not None)

    def mark(self, seen: Seen) -> int:
        """Go there, say it, and say where it ends; keys that the mark itself took."""
        self.go(seen.frame)
        before = self.hands.pressed
        self._say(seen.typed)
        took = self.hands.pressed - before
        if seen.end is not None:
            self.go(seen.end)
            self.hands.type("]")
        return took

    def go(self, frame: int) -> None:
        """A frame by its number."""
        self._say(f"go {frame}")
        until(lambda: shown(self.desk) == frame)

    def measure(self) -> None:
        """The protractor: each joint put down and moved to its place."""
        self.go(MEASURED)
        self.hands.key(Key.Key_Escape, Key.Key_P)
        until(lambda: self.desk.bench.picture is not None and self.desk.bench.picture.stands_for is None)
        for joint, (x, y) in BODY.items():
            self.hands.key(Key.Key_C)
            spot = self.desk.protractor.spots[joint]
            self._move(round((x - spot.x.thousandths / 1000) / 10), Key.Key_Right, Key.Key_Left)
            self._move(round((y - spot.y.thousandths / 1000) / 10), Key.Key_Down, Key.Key_Up)
        self.hands.key(Key.Key_Return)

    def finish(self) -> None:
        """A fact, the posted score, an inquiry and its answer."""
        self.hands.key(Key.Key_F9)
        self._to(name_of_fact(self.desk))
        self.hands.key(Key.Key_Space, Key.Key_Escape)
        self.hands.sequence("Ctrl+E")
        self.hands.type("8.9")
        self.hands.key(Key.Key_Return)
        assert self.desk.evidence.hasFocus()
        self.hands.sequence("Ctrl+I")
        self._to("Time after the score was shown")
        self.hands.type("45 s")
        self._to("In these words")
        self.hands.type("the start value")
        self._press("File it")
        self._press("Answer q1")
        self.hands.key(Key.Key_Escape)

    def report(self) -> None:
        """The folder that is proposed."""
        when_asked(lambda: self.hands.key(Key.Key_Return))
        self.hands.sequence("Ctrl+R")

    def _say(self, words: str) -> None:
        if not self.desk.entry.hasFocus():
            self.hands.key(Key.Key_Return)
        self.hands.type(words)
        self.hands.key(Key.Key_Return)

    def _move(self, steps: int, on: Key, back: Key) -> None:
        far = Held.AltModifier | Held.ShiftModifier
        self.hands.key(*[on if steps > 0 else back] * abs(steps), held=far)

    def _to(self, name: str) -> None:
        """Tab until a control has the keyboard."""
        QTest.qWait(20)
        for _ in range(80):
            if called(QApplication.focusWidget()) == name:
                return
            self.hands.key(Key.Key_Tab)
        raise AssertionError(f"Tab never comes to {name}")

    def _press(self, name: str) -> None:
        self._to(name)
        self.hands.key(Key.Key_Space)


class Mouse:
    """A judge who uses the keyboard for letters in fields alone."""

    def __init__(self, desk: DeskWindow) -> None:
        self.desk, self.hands = desk, Hands(desk)

    def start(self) -> None:
        """The form, with consent given."""
        self._menu("Case", "Start a case")
        self._choose(the(QComboBox, "Consent to this recording"), "given")
        self.hands.click(the(QPushButton, "Start"))
        until(lambda: self.desk.bench.audit is not None)

    def mark(self, seen: Seen) -> int:
        """Go there, click what is offered, tick roles; clicks that the mark itself took."""
        self._go(seen.frame)
        before = self.hands.clicked
        first, *others = seen.typed.split()
        self.hands.click(self.desk.entry)
        self.hands.type(first[:4])
        self._offered(first)
        for word in others:
            self._add(word)
        took = self.hands.clicked - before
        if seen.end is not None:
            self._go(seen.end)
            self.hands.click(the(QPushButton, "Ends here"))
        return took

    def measure(self) -> None:
        """The protractor by clicks."""
        self._go(MEASURED)
        self.hands.click(the(QPushButton, "Protractor"))
        until(lambda: self.desk.bench.picture is not None and self.desk.bench.picture.stands_for is None)
        for x, y in BODY.values():
            place = self.desk.evidence.framing.to_view(x, y)
            self.hands.click(self.desk.evidence, QPoint(round(place[0]), round(place[1])))
        self.hands.click(the(QPushButton, "Keep it"))

    def finish(self) -> None:
        """A fact, the posted score, an inquiry and its answer."""
        self._menu("Say", "Facts of the exercise")
        self.hands.click(the(QCheckBox, name_of_fact(self.desk)), QPoint(10, 10))
        cross()
        self.hands.click(self.desk.argument.posted)
        self.hands.type("8.9")
        self.hands.click(self.desk.entry)
        self._menu("Case", "Inquiries about this score")
        self.hands.click(the(QLineEdit, "In these words"))
        self.hands.type("the start value")
        self.hands.click(the(QPushButton, "File it"))
        self.hands.click(the(QPushButton, "Answer q1"))
        cross()

    def report(self) -> None:
        """The folder that is proposed."""
        when_asked(lambda: self.hands.click(the(QPushButton, "Write")))
        self._menu("Case", "Write the report")

    def _go(self, frame: int) -> None:
        """Click along the strip, then step to the very frame."""
        facts, strip = self.desk.bench.facts, self.desk.strip
        assert facts is not None
        place = QPoint(12, round(strip.y_of(facts.pts[frame])))
        at = facts.frame_at(strip.scale.tick_at(place.y()))
        self.hands.click(strip, place)
        until(lambda: shown(self.desk) == at)
        while at != frame:
            at += 1 if at < frame else -1
            self.hands.click(the(QPushButton, "Frame ▸" if at > shown(self.desk) else "◂ Frame"))
            until(lambda wanted=at: shown(self.desk) == wanted)  # type: ignore[misc]

    def _offered(self, word: str) -> None:
        texts = [one.text for one in self.desk.offered.words]
        assert any(one.startswith(word) for one in texts), texts
        at = next(at for at, one in enumerate(texts) if one.startswith(word))
        self._pick(self.desk.offered, at)

    def _pick(self, listed: QListWidget, row: int) -> None:
        port = listed.viewport()
        assert port is not None
        self.hands.click(port, listed.visualItemRect(listed.item(row)).center())

    def _add(self, word: str) -> None:
        """An amount that is offered, a verdict from its list, or a tick."""
        if word[0].isdigit():
            if self.desk.entry.text():  # a fault of one amount was said at once
                self._offered(word)
        elif word == "met":
            self._choose(the(QComboBox, "Verdict by eye"), "met")
        else:
            boxes = [one for one in here(QCheckBox) if one.toolTip().startswith(word)]
            self.hands.click(boxes[0], QPoint(10, boxes[0].height() // 2))

    def _choose(self, box: QComboBox, text: str) -> None:
        self.hands.click(box)
        view = box.view()
        assert view is not None
        until(view.isVisible)
        port, model = view.viewport(), box.model()
        assert port is not None
        assert model is not None
        self.hands.click(port, view.visualRect(model.index(box.findText(text), 0)).center())

    def _menu(self, heading: str, line: str) -> None:
        bar = self.desk.menuBar()
        assert bar is not None
        action = next(one for one in bar.actions() if one.text().replace("&", "") == heading)
        self.hands.click(bar, bar.actionGeometry(action).center())
        menu = action.menu()
        assert isinstance(menu, QMenu)
        until(menu.isVisible)
        wanted = next(one for one in menu.actions() if one.text().replace("&", "").startswith(line))
        self.hands.click(menu, menu.actionGeometry(wanted).center())
        QTest.qWait(50)


def shown(desk: DeskWindow) -> int:
    """The frame on the screen."""
    return desk.bench.picture.frame if desk.bench.picture is not None else -1


def called(widget: QWidget | None) -> str:
    """The name of a control, or its words."""
    if widget is None:
        return ""
    words = widget.text() if isinstance(widget, QAbstractButton) else ""
    return widget.accessibleName() or words


def front() -> QWidget:
    """The window in front; the desk where a page was closed."""
    desks = (one for one in QApplication.topLevelWidgets() if isinstance(one, DeskWindow) and one.isVisible())
    return QApplication.activeModalWidget() or QApplication.activeWindow() or next(desks)


def cross() -> None:
    """The cross of the page in front: it is the window manager's, and a bare screen has none to click."""
    front().close()


def here(kind: type[Kind]) -> list[Kind]:
    """Controls of a kind that are seen in the window in front."""
    return [one for one in front().findChildren(kind) if one.isVisible()]


def the(kind: type[Kind], name: str) -> Kind:
    """The control of a kind and a name, or of these words."""
    found = [one for one in here(kind) if name in (called(one), getattr(one, "text", str)())]
    assert found, [called(one) for one in here(kind)]
    return found[0]


def name_of_fact(desk: DeskWindow) -> str:
    """The fact in the edition's words."""
    assert desk.bench.book is not None
    return next(one.name for one in desk.bench.book.facts if one.code == FACT)


def assert_whole(desk: DeskWindow, recording: Path, folder: Path) -> None:
    """The sheet on the desk is the command line's, and a report with the answered inquiry lies beside."""
    case = recording.with_suffix(".case")
    until(lambda: (folder / "routine.report" / "report.html").exists(), 30)
    audit = desk.bench.audit
    assert audit is not None
    assert audit.state.inquiries
    assert str(audit.posted) == "8.900"
    derived = answered("score", case)
    assert desk.argument.final.text() == derived["final_score"]
    on_sheet = [(figure(row.points), row.marks) for row in desk.argument.rows if row.kind == "line"]
    assert on_sheet == [(figure(line["points"]), tuple(line["marks"])) for line in derived["lines"]]
    assert ledger(derived) == ledger(answered("score", typed_again(recording, folder)))


def figure(points: str) -> Decimal:
    """Points as a number, however they are set."""
    return Decimal(points.replace("−", "-"))


def ledger(derived: dict[str, Any]) -> list[tuple[Any, ...]]:
    """What a score rests on, line by line."""
    lines = [(one["clause"], one["stage"], one["points"], one["marks"]) for one in derived["lines"]]
    missed = [(one["clause"], one["reason"], one["marks"]) for one in derived["not_earned"]]
    return [*lines, *missed, derived["start_value"], derived["final_score"]]


def typed_again(recording: Path, folder: Path) -> Path:
    """The same marks in a case of their own, by the command line."""
    case = folder / "typed.case"
    ran("start", case, "--recording", recording, "--athlete-code", "G-07", "--consent", "given")
    for seen in ROUTINE:
        until_frame = ["--end-frame", seen.end] if seen.end is not None else []
        ran("marks", "add", case, *seen.command.split(), "--frame", seen.frame, *until_frame)
    ran("marks", "add", case, "fact", FACT)
    return case


def answered(command: str, case: Path) -> dict[str, Any]:
    """What a command says as a document."""
    told: dict[str, Any] = json.loads(ran(command, case, "--json"))
    return told


def ran(*words: object) -> str:
    """A command in this process; what it printed."""
    done = CliRunner().invoke(program, [str(word) for word in words])
    assert done.exit_code == 0, done.output
    return done.stdout
