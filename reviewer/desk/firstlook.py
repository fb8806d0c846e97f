"""The first picture of a recording, shown while the desk behind it is still being built.

A judge who opens a file sees it at once. Nothing can be done with this picture: the desk takes its place as
soon as it has the same frame from its own reading of the file. Only what this needs is loaded here.
"""

from collections.abc import Sequence
from pathlib import Path

from PyQt6.QtCore import QByteArray, QCoreApplication, QEventLoop, QRect, Qt, QTimer, pyqtSignal
from PyQt6.QtGui import QColor, QImage, QPainter, QPaintEvent
from PyQt6.QtWidgets import QApplication, QWidget

from reviewer.actions import Remembered, recall
from reviewer.video.glimpse import Glimpse, glimpse

LONGEST_MS = 500
"""How long is waited for the screen; the desk comes in any case."""
AT_FIRST = (0, 22, 630, 500, "#C9C7BF")
"""Left, top, width and height of the picture's place in the window, and the colour around it."""


class FirstLook(QWidget):
    """A window that stands where the desk will, with the picture where its picture will be.

    Signals:
        painted(): the picture is on the screen.
    """

    painted = pyqtSignal()

    def __init__(self, seen: Glimpse, remembered: Remembered, application: QCoreApplication) -> None:
        super().__init__()
        self._application = application  # which lives as long as somebody holds it
        self._bytes = seen.bgra
        size = (seen.width, seen.height, seen.stride)
        self._image = QImage(self._bytes, *size, QImage.Format.Format_RGB32)
        *place, around = _place(remembered)
        self._room, self._around = QRect(*place), QColor(around)
        self.setWindowTitle("reviewer")
        self.resize(1280, 800)
        if (where := remembered.window.get("window")) is not None:
            self.restoreGeometry(QByteArray.fromBase64(where.encode()))

    def paintEvent(self, event: QPaintEvent | None) -> None:
        """Paint the picture whole in its place."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._around)
        size = self._image.size().scaled(self._room.size(), Qt.AspectRatioMode.KeepAspectRatio)
        into = QRect(self._room.topLeft(), size)
        into.moveCenter(self._room.center())
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.drawImage(into, self._image)
        painter.end()
        self.painted.emit()


def first_look(arguments: Sequence[str]) -> FirstLook | None:
    """Show the recording that the arguments of the command name; None where they name none."""
    named = [Path(word) for word in arguments if not word.startswith("-") and not word.endswith(".case")]
    path = next((one for one in named if one.is_file()), None)
    seen = glimpse(path) if path is not None else None
    if seen is None:
        return None
    application = QApplication.instance() or QApplication(["reviewer"])
    window, waiting = FirstLook(seen, recall(), application), QEventLoop()
    window.painted.connect(waiting.quit)
    QTimer.singleShot(LONGEST_MS, waiting.quit)
    window.show()
    waiting.exec()
    return window


def _place(remembered: Remembered) -> tuple[int, int, int, int, str]:
    try:
        *numbers, colour = remembered.window["picture"].split()
        left, top, width, height = map(int, numbers)
    except (KeyError, ValueError):
        return AT_FIRST
    return left, top, width, height, colour
