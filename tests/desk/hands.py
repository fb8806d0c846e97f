"""A judge's hands: keys and mouse as the window system hands them on, heard by what is in front."""

from collections.abc import Callable

from PyQt6.QtCore import QPoint, Qt, QTimer
from PyQt6.QtGui import QGuiApplication, QKeySequence, QWindow
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication, QWidget
from PyQt6.sip import isdeleted

from reviewer import actions
from reviewer.desk.window import DeskWindow
from reviewer.terms.marks import Mark
from tests.desk.conftest import until

Key = Qt.Key
Held = Qt.KeyboardModifier
LEFT, BARE = Qt.MouseButton.LeftButton, Held.NoModifier


def when_asked(does: Callable[[], object]) -> None:
    """Do something as soon as a dialog that waits for an answer is in front."""
    asked = QApplication.activeModalWidget()
    if asked is not None and asked.isActiveWindow():
        does()
    else:
        QTimer.singleShot(50, lambda: when_asked(does))


class Hands:
    """Press and click, and count it.

    Attributes:
        pressed: keys so far, a letter of a word each.
        clicked: clicks, drags and turns of the wheel so far.
    """

    def __init__(self, desk: QWidget) -> None:
        self._desk, self.pressed, self.clicked = desk, 0, 0

    def key(self, *keys: Key, held: Held = BARE) -> None:
        """Keys, one after another."""
        for key in keys:
            self._press(key, held)

    def sequence(self, text: str) -> None:
        """One key by its name, such as ``Ctrl+Z``."""
        pressed = QKeySequence(text)[0]
        self.key(pressed.key(), held=pressed.keyboardModifiers())

    def type(self, words: str) -> None:
        """Letters."""
        for letter in words:
            self._press(letter, BARE)

    def click(self, widget: QWidget, place: QPoint | None = None, held: Held = BARE) -> None:
        """A click on a widget, in its middle or at a place of it."""
        self.drag(widget, place if place is not None else widget.rect().center(), held=held)

    def drag(self, widget: QWidget, *places: QPoint, held: Held = BARE) -> None:
        """Press at the first place, move through the others, let go at the last."""
        self._wake()
        window = widget.window()
        handle = window.windowHandle() if window is not None else None
        assert window is not None
        assert handle is not None
        there = [widget.mapTo(window, place) for place in places]
        self.clicked += 1
        QTest.mousePress(handle, LEFT, held, there[0])
        for place in there[1:]:
            if not isdeleted(handle):
                QTest.mouseMove(handle, place)
        if not isdeleted(handle):  # a press may have closed its window
            QTest.mouseRelease(handle, LEFT, held, there[-1])

    def in_front(self) -> QWindow:
        """The window that hears keys; where a page was closed the desk, as a window manager has it."""
        self._wake()
        popup = QApplication.activePopupWidget()
        front = popup.windowHandle() if popup is not None else QGuiApplication.focusWindow()
        found = front or self._desk.windowHandle()
        assert found is not None
        return found

    def _wake(self) -> None:
        if QApplication.activeWindow() is None and self._desk.isVisible():
            self._desk.activateWindow()
            QTest.qWaitForWindowActive(self._desk, 1000)

    def _press(self, key: Key | str, held: Held) -> None:
        """A key goes down and up; what was in front may be gone in between."""
        QTest.keyPress(self.in_front(), key, held)
        QTest.keyRelease(self.in_front(), key, held)
        self.pressed += 1


def focused(desk: DeskWindow) -> QWidget:
    """What hears keys: a menu that is open, else the widget with the keyboard."""
    return QApplication.activePopupWidget() or QApplication.focusWidget() or desk


def press(desk: DeskWindow, key: Key, held: Held = BARE, times: int = 1) -> None:
    """A key where the keyboard is."""
    for _ in range(times):
        QTest.keyClick(focused(desk), key, held)


def call(desk: DeskWindow, words: str) -> None:
    """A call typed from the picture, and back to the picture."""
    press(desk, Key.Key_Return)
    QTest.keyClicks(focused(desk), words)
    press(desk, Key.Key_Return)
    press(desk, Key.Key_Escape)


def shows(desk: DeskWindow, frame: int) -> bool:
    """Whether this frame is on the screen."""
    return desk.bench.picture is not None and desk.bench.picture.frame == frame


def go(desk: DeskWindow, frame: int) -> None:
    """The way to a frame, typed and waited for."""
    call(desk, f"go {frame}")
    until(lambda: shows(desk, frame))


def marks(desk: DeskWindow) -> tuple[Mark, ...]:
    """The marks on disk, by a second reader."""
    with actions.open_case(desk.bench.on_desk().path, author=None) as reader:
        return reader.marks


def tick(desk: DeskWindow, frame: int) -> int:
    """Where a frame lies in the time of the recording on the screen."""
    assert desk.bench.facts is not None
    return desk.bench.facts.pts[frame]
