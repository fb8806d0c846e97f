"""What of the routine is in view on the strip, and how it comes on the screen."""

from collections.abc import Iterator

from PyQt6.QtCore import QPointF, QRectF, QSize, QSizeF, pyqtSignal
from PyQt6.QtGui import (
    QFocusEvent,
    QFontMetricsF,
    QImage,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
    QPolygonF,
    QResizeEvent,
)
from PyQt6.QtWidgets import QWidget

from reviewer.desk.bench import Bench
from reviewer.desk.looks import HERE, SHEET, colour
from reviewer.desk.painting import paint_focus
from reviewer.desk.strip.columns import NARROWEST, Columns, shared_out
from reviewer.desk.strip.dragging import Dragging
from reviewer.desk.strip.layout import Name, laid_out
from reviewer.desk.strip.painting import Sheet, painted
from reviewer.desk.strip.routine import Routine, collected, seconds
from reviewer.desk.strip.scale import Scale
from reviewer.desk.strip.smalls import SmallPictures

A_FRAME = 2.0
"""Height of one frame at the closest, in heights of a line of words."""


class StripFace(QWidget):
    """Shows the marks of the case on the desk, the whole routine or a part of it.

    Attributes:
        wished: the zoom asked for; what is shown is at most so close that frames lie apart.
        part: which part is in view, as a share of the routine.
        follows: whether the picture's place is kept in view.
        pictured: whether small pictures are shown where there is room.
        dragging: what is being moved.

    Signals:
        scaled(): zoom, part or size is another.
    """

    scaled = pyqtSignal()

    def __init__(self, bench: Bench, smalls: SmallPictures) -> None:
        super().__init__()
        self.wished, self.part, self.follows, self.pictured = 1.0, 0.0, True, True
        self.dragging = Dragging(bench)
        self._bench, self._smalls = bench, smalls
        self._routine: Routine = Routine()
        self._names: tuple[Name, ...] = ()
        self._drawn: QPixmap | None = None
        self._chosen: tuple[str, ...] = ()
        self._of: tuple[int, ...] | None = None
        self.setAccessibleName(bench.say("Routine strip"))
        self.dragging.moved.connect(self._collect)
        smalls.came.connect(self._lay_out)

    def sizeHint(self) -> QSize:
        """Wide enough for a long name."""
        return QSize(200, 400)

    def refresh(self) -> None:
        """The marks, the recording or what is chosen is another: lay all out and paint."""
        self.setMinimumWidth(int(NARROWEST * QFontMetricsF(self.font()).height()))
        self._collect()
        chosen, self._chosen = self._chosen, self._bench.chosen
        if chosen != self._bench.chosen:
            self._bring_into_view()
        self._describe()
        self.scaled.emit()

    def place_of(self, mark_id: str) -> QPointF | None:
        """The middle of a mark's name, in view pixels; None where it found no room."""
        for name in self._names:
            if name.row.mark == mark_id:
                columns = self._columns()
                return QPointF(columns.names + 2 * columns.unit, self.scale.down(name.stands))
        return None

    def grip_of(self, mark_id: str, which: str) -> QPointF | None:
        """Where a mark's ``start``, ``end`` or ``at`` can be taken hold of, in view pixels."""
        for row in self._routine.rows:
            tick = dict(row.own).get(which) if row.mark == mark_id else None
            if tick is not None:
                columns = self._columns()
                lane = columns.elements if row.kind == "element" else columns.faults
                return QPointF(lane, self.y_of(tick))
        return None

    @property
    def zoom(self) -> float:
        """How close the routine is shown; 1 is the whole of it."""
        return max(1.0, min(self._closest(), self.wished))

    @property
    def scale(self) -> Scale:
        """Ticks against view pixels as they are now."""
        columns = self._columns()
        tall = max(3 * columns.unit, self.height() - columns.top - columns.foot)
        return Scale(self._routine.first, self._routine.length, columns.top, tall, self.zoom, self.part)

    def y_of(self, pts: int) -> float:
        """Where a tick lies in the view."""
        return self.scale.y_of(pts)

    def update_here(self) -> None:
        """Show where the picture on the screen is; nothing else has changed."""
        pts, scale = self._bench.pts, self.scale
        if self.follows and self.zoom > 1 and pts is not None and self.dragging.grip is None:
            y = scale.y_of(pts)
            if not scale.shows(y, -scale.tall / 10):
                self.look_at(self.zoom, scale.part_with(scale.along(pts), scale.top + scale.tall / 2))
        self.update(0, 0, int(self._columns().names), self.height())

    def look_at(self, zoom: float, part: float) -> None:
        """Show another part of the routine, or as much of it."""
        self.wished = max(1.0, min(self._closest(), zoom))
        self.part = max(0.0, min(1 - 1 / self.wished, part))
        self._lay_out()
        self.scaled.emit()

    def closer(self, factor: float, y: float | None = None) -> None:
        """Closer by a factor; what lies at ``y`` stays there: the picture's place, else the middle."""
        scale, pts = self.scale, self._bench.pts
        if y is None:
            here = scale.y_of(pts) if pts is not None else -1.0
            y = here if scale.shows(here) else scale.top + scale.tall / 2
        share = (y - scale.top + scale.beyond) / scale.whole
        zoom = max(1.0, min(self._closest(), self.zoom * factor))
        self.look_at(zoom, share - (y - scale.top) / (scale.tall * zoom))

    def paintEvent(self, event: QPaintEvent | None) -> None:
        """Paint all as drawn last, and where the picture is."""
        if self._drawn is None or self._drawn.deviceIndependentSize().toSize() != self.size():
            self._drawn = self._draw()
        painter = QPainter(self)
        painter.drawPixmap(0, 0, self._drawn)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_here(painter)
        if self.hasFocus():
            paint_focus(painter, QRectF(self.rect()))

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Lay the names out for the room there is."""
        self._lay_out()
        self.scaled.emit()

    def focusInEvent(self, event: QFocusEvent | None) -> None:
        """Show that the keyboard is here."""
        self.update()

    def focusOutEvent(self, event: QFocusEvent | None) -> None:
        """Show that it is not any more."""
        self.update()

    def _collect(self) -> None:
        self._routine = collected(self._bench, self.dragging.shown)
        self._lay_out()

    def _lay_out(self) -> None:
        self._names = laid_out(self._routine, self.scale, self._columns().row, self._bench.chosen)
        self._paint_anew()

    def _paint_anew(self) -> None:
        self._drawn = None
        self.update()

    def _columns(self, *, pictures: bool | None = None) -> Columns:
        facts = self._bench.facts
        shown = self.pictured and bool(self._smalls.images) if pictures is None else pictures
        aspect = facts.displayed[0] / facts.displayed[1] if facts is not None and shown else None
        return shared_out(QFontMetricsF(self.font()), self.width(), aspect)

    def _closest(self) -> float:
        columns, facts = self._columns(), self._bench.facts
        tall = max(1.0, self.height() - columns.top - columns.foot)
        frames = len(facts.pts) * A_FRAME * columns.unit if facts is not None else 0.0
        return max(1.0, max(frames, (len(self._routine.rows) + 1) * columns.row) / tall)

    def _draw(self) -> QPixmap:
        bench, columns, scale = self._bench, self._columns(), self.scale
        facts = bench.facts
        tick_s = facts.time_base.numerator / facts.time_base.denominator if facts is not None else None
        sheet = Sheet(
            self._routine,
            self._names,
            scale,
            columns,
            tick_s,
            bench.chosen,
            self._boundary(),
            self._heading(),
            self.font(),
        )
        size, ratio = QSizeF(self.size()), self.devicePixelRatioF()
        return painted(sheet, size, ratio, dict(self._pictures(columns, scale)))

    def _heading(self) -> str:
        facts, say, times = self._bench.facts, self._bench.say, self._routine
        if facts is None or not facts.pts:
            return say("Routine, no times")
        ends = {"first": seconds(self._bench, times.first), "last": seconds(self._bench, facts.pts[-1])}
        if self.zoom > 1:
            return say("Routine {first} – {last} s, {zoom}×", **ends, zoom=f"{self.zoom:.1f}")
        return say("Routine {first} – {last} s", **ends)

    def _boundary(self) -> tuple[int, bool] | None:
        """Where what keys move lies."""
        mark_id, which = self.dragging.which() or ("", "")
        for row in self._routine.rows:
            tick = dict(row.own).get(which) if row.mark == mark_id else None
            if tick is not None:
                return tick, row.kind == "element"
        return None

    def _pictures(self, columns: Columns, scale: Scale) -> Iterator[tuple[float, QImage]]:
        """Small pictures in view by the middle of where they lie; those that are not here are sent for."""
        facts = self._bench.facts
        if facts is None or not self.pictured:
            return
        if self._of is not facts.pts:
            self._smalls.clear()
            self._of = facts.pts
        room = self._columns(pictures=True)
        high = room.picture_width * facts.displayed[1] / facts.displayed[0]
        if not room.picture_width:
            return
        each, ratio = high + room.unit / 5, self.devicePixelRatioF()
        places = [
            (at + 0.5) * each
            for at in range(int(scale.beyond / each), int((scale.beyond + scale.tall) / each))
        ]
        frames = {scale.down(along): facts.frame_at(scale.tick_at(scale.down(along))) for along in places}
        self._smalls.want(frames.values(), (QSizeF(room.picture_width, high) * ratio).toSize())
        if columns.picture_width:
            found = self._smalls.images
            yield from ((y, found[frame]) for y, frame in frames.items() if frame in found)

    def _paint_here(self, painter: QPainter) -> None:
        """Where the picture on the screen is: a line and a wedge."""
        pts, scale, columns = self._bench.pts, self.scale, self._columns()
        y = scale.y_of(pts) if pts is not None else -1.0
        if not scale.shows(y, 1):
            return
        unit, end = columns.unit, columns.lanes_end
        for shade, wide in ((SHEET, unit / 4), (HERE, unit / 9)):  # seen on the blocks it crosses too
            painter.setPen(QPen(colour(shade), wide))
            painter.drawLine(QPointF(columns.lanes, y), QPointF(end, y))
        painter.setBrush(colour(HERE))
        corners = ((0.0, 0.0), (unit / 3, -unit / 4), (unit / 3, unit / 4))
        painter.drawPolygon(QPolygonF([QPointF(end + x, y + down) for x, down in corners]))

    def _bring_into_view(self) -> None:
        """Show the chosen mark's name."""
        scale, chosen = self.scale, self._bench.chosen
        name = next((one for one in self._names if one.row.mark in chosen), None)
        if name is not None and not scale.shows(scale.down(name.stands), -self._columns().row / 2):
            self.look_at(self.zoom, scale.part_with(name.stands, scale.top + scale.tall / 2))

    def _describe(self) -> None:
        """Say the chosen mark, or how many there are, to who cannot see the strip."""
        say, rows = self._bench.say, [row for row in self._routine.rows if row.mark is not None]
        at = next((at for at, row in enumerate(rows) if row.mark in self._bench.chosen), None)
        if at is None:
            said = say("No mark is chosen of {count}.", count=len(rows)) if rows else say("No marks yet")
        else:
            said = say(
                "{words}, mark {number} of {count}", words=rows[at].words, number=at + 1, count=len(rows)
            )
            when = rows[at].tick
            said += say(", at {seconds} s", seconds=seconds(self._bench, when)) if when is not None else ""
        self.setAccessibleDescription(said)
