"""The curve of a followed angle beneath the picture; a click on it shows the frame of that moment."""

from collections.abc import Mapping
from typing import Any

from PyQt6.QtCore import QSize, Qt, pyqtSignal
from PyQt6.QtGui import QColor, QMouseEvent, QPainter, QPaintEvent, QPen
from PyQt6.QtWidgets import QWidget

from reviewer.desk.framing import Framing
from reviewer.desk.looks import CHART, colour
from reviewer.desk.painting import paint
from reviewer.drawing import curve, frame_across, moment_across
from reviewer.terms.readings import Requirement
from reviewer.terms.times import TimeBase
from reviewer.words import Saying

LINE = 15.0
"""Height of a line of the words that a drawn curve leaves room for, in pixels."""


class CurveView(QWidget):
    """Shows one track.

    Signals:
        sought(int): the frame of a moment that was clicked.
    """

    sought = pyqtSignal(int)

    def __init__(self, say: Saying) -> None:
        super().__init__()
        self._say = say
        self._track: Mapping[str, Any] | None = None
        self._limit: Requirement | None = None
        self._base = TimeBase(1, 1000)
        self._here: int | None = None
        self.setAccessibleName(say("Curve of the angle"))
        self.setMinimumHeight(180)

    def sizeHint(self) -> QSize:
        """Room for a readable curve."""
        return QSize(640, 200)

    def show_track(self, track: Mapping[str, Any], limit: Requirement | None, base: TimeBase) -> None:
        """Show a ``reviewer.track/1`` document."""
        self._track, self._limit, self._base = track, limit, base
        top = track["top"]
        say = self._say
        said = say("no top")
        if top is not None:
            at, angle = top["time_s"], top["value_deg"]
            said = say("top {angle} degrees at {time} seconds", angle=angle, time=at)
        count = len(track["frames"])
        self.setAccessibleDescription(say("{count} frames, {top}", count=count, top=said))
        self.update()

    def show_here(self, pts: int | None) -> None:
        """Mark the moment of the picture on the screen."""
        self._here = pts
        self.update()

    def paintEvent(self, event: QPaintEvent | None) -> None:
        """Paint the curve and where the picture on the screen is in it."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), colour(CHART))
        if self._track is None:
            return
        size, scale = self._size(), self._scale()
        shapes = curve(self._track, self._limit, size, self._base, self._say)
        paint(painter, Framing(scale, 0.0, 0.0), shapes)
        across = None if self._here is None else moment_across(self._track, self._here, size, self._base)
        if across is not None:
            painter.setPen(QPen(QColor("black"), 1, Qt.PenStyle.DotLine))
            painter.drawLine(round(across * scale), 0, round(across * scale), self.height())

    def mousePressEvent(self, event: QMouseEvent | None) -> None:
        """Show the frame nearest to the moment under the pointer."""
        if event is None or self._track is None:
            return
        found = frame_across(self._track, event.position().x() / self._scale(), self._size(), self._base)
        if found is not None:
            self.sought.emit(found)

    def _scale(self) -> float:
        """The room for words grows with them."""
        return max(1.0, self.fontMetrics().height() / LINE)

    def _size(self) -> tuple[int, int]:
        """Of the drawing, before it is scaled."""
        return round(self.width() / self._scale()), round(self.height() / self._scale())
