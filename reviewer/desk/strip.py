"""The routine strip: the routine down the page, as a judge writes it, to the scale of time.

A lane to scale carries the elements as blocks, faults as wedges and readings as rings; names stand beside it,
moved apart where they would touch and tied to their place by a thin line.
"""

from dataclasses import dataclass

from PyQt6.QtCore import QPointF, QRectF, QSize, Qt, pyqtSignal
from PyQt6.QtGui import QFontMetricsF, QMouseEvent, QPainter, QPaintEvent, QPen, QPixmap, QPolygonF
from PyQt6.QtWidgets import QWidget

from reviewer.desk.bench import Bench
from reviewer.desk.calls import short
from reviewer.desk.looks import CHOSEN, ELEMENT, FAULT, HERE, INK, QUIET, READING, RULE, SHEET, colour, small
from reviewer.desk.looks import LANE as LANE_GROUND
from reviewer.terms.intervals import tenths
from reviewer.terms.marks import Mark

TOP, LANE, NAMES, TALL = 26.0, 14.0, 46.0, 17.0
"""Head room; left edge of the lane; left edge of the names; height of one name."""


@dataclass(frozen=True, slots=True)
class Name:
    """A mark's name on the strip: where it belongs and where there was room, both in view pixels."""

    mark: Mark
    belongs: float
    stands: float


def spread(places: list[float], tall: float, bottom: float) -> list[float]:
    """Move rising places apart by ``tall`` at least, each as near its own as can be, none past ``bottom``."""
    stands: list[float] = []
    for place in places:
        stands.append(max(place, stands[-1] + tall) if stands else place)
    limit = bottom
    for at in range(len(stands) - 1, -1, -1):
        stands[at] = min(stands[at], limit)
        limit = stands[at] - tall
    return stands


class RoutineStrip(QWidget):
    """Shows the marks of the case on the desk.

    Signals:
        sought(int): the frame number at a place of the lane.
        picked(str): a mark's name or place was clicked.
    """

    sought = pyqtSignal(int)
    picked = pyqtSignal(str)

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self._bench = bench
        self._names: list[Name] = []
        self._drawn: QPixmap | None = None
        self.setAccessibleName("Routine strip")
        self.setMinimumWidth(150)
        self.setToolTip(
            "The routine down the page. Click a name to go to its frame, the lane to go to a time."
        )

    def sizeHint(self) -> QSize:
        """Wide enough for a long name."""
        return QSize(200, 400)

    def refresh(self) -> None:
        """Lay the names out again and paint."""
        self.setMinimumHeight(int(TOP + TALL * (len(self._bench.marks) + 1)))
        said = ", ".join(self._words(mark) for mark in self._bench.marks)
        self.setAccessibleDescription(said or "No marks yet")
        self._names, self._drawn = self._laid_out(), None
        self.update()

    def place_of(self, mark_id: str) -> QPointF | None:
        """The middle of a mark's name, in view pixels."""
        for name in self._names:
            if name.mark.id == mark_id:
                return QPointF(NAMES + 20, name.stands)
        return None

    def y_of(self, pts: int) -> float:
        """Where a tick lies on the lane."""
        first, length = self._span()
        return TOP + (pts - first) / length * (self._bottom() - TOP)

    def update_here(self) -> None:
        """Show where the picture on the screen is; nothing else has changed."""
        self.update(0, 0, int(NAMES), self.height())

    def paintEvent(self, event: QPaintEvent | None) -> None:
        """Paint the lane and the marks as drawn last, and where the picture is."""
        if self._drawn is None or self._drawn.deviceIndependentSize().toSize() != self.size():
            self._drawn = self._draw()
        painter = QPainter(self)
        painter.drawPixmap(0, 0, self._drawn)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_here(painter)

    def _draw(self) -> QPixmap:
        self._names = self._laid_out()
        ratio = self.devicePixelRatioF()
        drawn = QPixmap(self.size() * ratio)
        drawn.setDevicePixelRatio(ratio)
        painter = QPainter(drawn)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(self.font())
        painter.fillRect(self.rect(), colour(SHEET))
        self._paint_lane(painter)
        for name in self._names:
            self._paint_name(painter, name)
        self._paint_readings(painter)
        painter.end()
        return drawn

    def mousePressEvent(self, event: QMouseEvent | None) -> None:
        """A name chooses its mark; the lane goes to a time."""
        if event is None:
            return
        place = event.position()
        near = min(self._names, key=lambda name: abs(name.stands - place.y()), default=None)
        if place.x() >= NAMES - 6 and near is not None and abs(near.stands - place.y()) <= TALL / 2:
            self.picked.emit(near.mark.id)
        else:
            self._seek(place.y())

    def mouseMoveEvent(self, event: QMouseEvent | None) -> None:
        """Dragging along the lane lets the picture follow."""
        if event is not None and event.position().x() < NAMES - 6:
            self._seek(event.position().y())

    def _seek(self, y: float) -> None:
        facts = self._bench.facts
        if facts is None:
            return
        first, length = self._span()
        share = (y - TOP) / (self._bottom() - TOP)
        self.sought.emit(facts.frame_at(round(first + max(0.0, min(1.0, share)) * length)))

    def _span(self) -> tuple[int, int]:
        facts = self._bench.facts
        if facts is not None and len(facts.pts) > 1:
            return facts.pts[0], facts.pts[-1] - facts.pts[0]
        ticks = [
            tick for mark in self._bench.marks for tick in (mark.start, mark.end, mark.at) if tick is not None
        ]
        return (min(ticks), max(1, max(ticks) - min(ticks))) if ticks else (0, 1)

    def _bottom(self) -> float:
        return max(TOP + 40.0, self.height() - 14.0)

    def _laid_out(self) -> list[Name]:
        """Timed marks at their time; marks without one one below the other in routine order."""
        marks = self._bench.marks
        ends, last = [], TOP
        for mark in marks:
            moment = self._bench.moment_here(mark)
            last = self.y_of(moment) if moment is not None else last + TALL
            ends.append(last)
        pairs = sorted(zip(ends, marks, strict=True), key=lambda pair: pair[0])
        stands = spread([place for place, _ in pairs], TALL, self._bottom())
        return [Name(mark, place, y) for (place, mark), y in zip(pairs, stands, strict=True)]

    def _paint_lane(self, painter: QPainter) -> None:
        painter.setPen(colour(QUIET))
        painter.setFont(small(self.font()))
        facts = self._bench.facts
        seconds = (
            f"{facts.time(0).seconds()} – {facts.time(len(facts.pts) - 1).seconds()} s"
            if facts
            else "No times"
        )
        painter.drawText(QPointF(LANE - 6, 16), f"Routine   {seconds}")
        painter.setFont(self.font())
        painter.fillRect(QRectF(LANE, TOP, 20, self._bottom() - TOP), colour(LANE_GROUND))
        for stretch in facts.suspect if facts else ():
            top, bottom = (self.y_of(facts.pts[frame]) for frame in stretch) if facts else (0.0, 0.0)
            painter.fillRect(QRectF(LANE, top, 20, max(2.0, bottom - top)), Qt.BrushStyle.BDiagPattern)
        for mark in self._bench.marks:
            start = self._bench.tick_here(mark.recording, mark.start)
            if mark.kind == "element" and start is not None:
                self._paint_block(painter, mark, start)

    def _paint_block(self, painter: QPainter, mark: Mark, start: int) -> None:
        top, end = self.y_of(start), self._bench.tick_here(mark.recording, mark.end)
        bottom = self.y_of(end) if end is not None else top + 4
        painter.setPen(QPen(colour(INK) if mark.id in self._bench.chosen else colour(SHEET), 1.2))
        painter.setBrush(colour(ELEMENT))
        painter.drawRoundedRect(QRectF(LANE + 3, top, 14, max(4.0, bottom - top)), 2, 2)

    def _paint_name(self, painter: QPainter, name: Name) -> None:
        mark, shade = name.mark, colour(FAULT if name.mark.kind == "fault" else ELEMENT)
        if mark.id in self._bench.chosen:
            row = QRectF(NAMES - 6, name.stands - TALL / 2, self.width() - NAMES + 4, TALL)
            painter.fillRect(row, colour(CHOSEN))
            painter.fillRect(QRectF(row.right() - 3, row.top(), 3, TALL), colour(ELEMENT))
        if self._bench.moment_here(mark) is not None:
            painter.setPen(QPen(colour(RULE), 1))
            painter.drawLine(QPointF(LANE + 21, name.belongs), QPointF(NAMES - 7, name.stands))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(shade)
        self._paint_sign(painter, mark, QPointF(NAMES, name.stands))
        painter.setPen(colour(INK))
        room = self.width() - NAMES - 16
        words = QFontMetricsF(self.font()).elidedText(self._words(mark), Qt.TextElideMode.ElideRight, room)
        place = QRectF(NAMES + 9, name.stands - TALL / 2, room, TALL)
        painter.drawText(place, Qt.AlignmentFlag.AlignVCenter, words)

    def _paint_sign(self, painter: QPainter, mark: Mark, at: QPointF) -> None:
        """Element a bar, fault a wedge, fact a ring: shape as well as colour."""
        if mark.kind == "element":
            painter.drawRect(QRectF(at.x() - 3, at.y() - 5, 5, 10))
        elif mark.kind == "fault":
            corners = [QPointF(-4, -4), QPointF(5, 0), QPointF(-4, 4)]
            painter.drawPolygon(QPolygonF([at + corner for corner in corners]))
        else:
            painter.setPen(QPen(colour(INK), 1.4))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawEllipse(at, 3.5, 3.5)

    def _paint_readings(self, painter: QPainter) -> None:
        audit = self._bench.audit
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(colour(READING), 2))
        for reading in audit.readings if audit else ():
            where = audit.reading_on(reading.id) if audit and reading.id else None
            tick = self._bench.tick_here(where, reading.pts)
            if tick is not None:
                painter.drawEllipse(QPointF(LANE - 5, self.y_of(tick)), 3, 3)

    def _paint_here(self, painter: QPainter) -> None:
        if self._bench.pts is not None:
            y = self.y_of(self._bench.pts)
            painter.setPen(QPen(colour(HERE), 1.6))
            painter.drawLine(QPointF(LANE - 8, y), QPointF(LANE + 24, y))

    def _words(self, mark: Mark) -> str:
        parts = [mark.code]
        if mark.amount is not None:
            parts.append(short(mark.amount))
        if mark.angle is not None:
            parts.append(
                f"{tenths(mark.angle.value)}°" if mark.angle.value is not None else mark.angle.verdict or ""
            )
        aside = self._bench.audit is not None and mark.id in self._bench.audit.set_aside
        return " ".join((*parts, *mark.roles, *mark.conditions, *(["(set aside)"] if aside else [])))
