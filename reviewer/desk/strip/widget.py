"""The strip under the mouse: going to a time, choosing by name, moving boundaries, wheel and pointer."""

from PyQt6.QtCore import QEvent, QPointF, Qt, pyqtSignal
from PyQt6.QtGui import QHelpEvent, QMouseEvent, QWheelEvent
from PyQt6.QtWidgets import QApplication, QToolTip, QWidget

from reviewer.desk.bench import Bench
from reviewer.desk.strip.face import StripFace
from reviewer.desk.strip.grips import Grip, grip_near
from reviewer.desk.strip.layout import Name
from reviewer.desk.strip.routine import Row, seconds
from reviewer.desk.strip.smalls import SmallPictures

STILL = 3.0
"""How far a press may wander and still be a click, in view pixels."""
CLOSER = 1.2
"""Factor of one step of the wheel."""


class RoutineStrip(StripFace):
    """The strip that a judge works on.

    Signals:
        sought(int): the frame number at a place of the lane.
        picked(str): a mark's name was clicked.
    """

    sought = pyqtSignal(int)
    picked = pyqtSignal(str)

    def __init__(self, bench: Bench, smalls: SmallPictures) -> None:
        super().__init__(bench, smalls)
        self._pressed: QPointF | None = None
        self._seeking = False
        self._keyboard_before: QWidget | None = None
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setMouseTracking(True)

    def wheelEvent(self, event: QWheelEvent | None) -> None:
        """Move along the routine; with Ctrl, closer or farther at the pointer."""
        if event is None:
            return
        turned, scale = event.angleDelta().y() / 120, self.scale
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.closer(CLOSER**turned, event.position().y())
        else:
            self.look_at(self.zoom, self.part - 3 * turned * self._columns().row / scale.whole)
        event.accept()

    def mousePressEvent(self, event: QMouseEvent | None) -> None:
        """A name chooses its mark, a boundary is taken hold of, and all else goes to a time."""
        if event is None or event.button() != Qt.MouseButton.LeftButton:
            return
        place, grip = event.position(), self._grip_at(event.position())
        self._pressed = place
        if place.x() >= self._columns().lanes_end + 2:
            if (name := self._name_at(place)) is not None:
                self._pick(name.row)
        elif grip is not None:
            self.dragging.take(grip)
        else:
            self._seeking = True
            self._seek(place.y())

    def mouseMoveEvent(self, event: QMouseEvent | None) -> None:
        """Dragging moves what is held, or lets the picture follow along the lane."""
        if event is None:
            return
        place = event.position()
        if self._seeking:
            self._seek(place.y())
        elif self.dragging.grip is not None and self._pressed is not None:
            self._drag(place.y(), self.dragging.grip, self._pressed)
        elif self._pressed is None:
            grip = self._grip_at(place)
            self.setCursor(Qt.CursorShape.ArrowCursor if grip is None else Qt.CursorShape.SplitVCursor)

    def mouseReleaseEvent(self, event: QMouseEvent | None) -> None:
        """What was moved is kept."""
        self._pressed, self._seeking = None, False
        if self.dragging.grip is not None:
            self._give_keyboard_back()
            self.dragging.let_go()

    def give_up(self) -> bool:
        """Stop moving a boundary; whether one was being moved."""
        if self.dragging.shown is None:
            return False
        self.dragging.give_up()
        self._give_keyboard_back()
        return True

    def event(self, event: QEvent | None) -> bool:
        """Say what is under the pointer when it rests there."""
        if isinstance(event, QHelpEvent):
            QToolTip.showText(event.globalPos(), self._said_of(QPointF(event.pos())), self)
            return True
        return super().event(event)

    def _drag(self, y: float, grip: Grip, pressed: QPointF) -> None:
        facts = self._bench.facts
        if self.dragging.shown is None:
            if abs(y - pressed.y()) <= STILL or not self.dragging.begin():
                return
            self._keyboard_before = QApplication.focusWidget()
            self.setFocus(Qt.FocusReason.MouseFocusReason)  # so that Esc is heard
        if facts is not None:
            slip = pressed.y() - self.y_of(grip.tick)
            self.dragging.move(facts.frame_at(self.scale.tick_at(y - slip)))

    def _give_keyboard_back(self) -> None:
        before, self._keyboard_before = self._keyboard_before, None
        if before is not None:
            before.setFocus(Qt.FocusReason.MouseFocusReason)

    def _seek(self, y: float) -> None:
        facts = self._bench.facts
        if facts is not None:
            self.sought.emit(facts.frame_at(self.scale.tick_at(y)))

    def _pick(self, row: Row) -> None:
        """A mark by its name; anything else leads to its moment."""
        facts = self._bench.facts
        if row.mark is not None:
            self.picked.emit(row.mark)
        elif row.tick is not None and facts is not None:
            self.sought.emit(facts.frame_at(row.tick))

    def _grip_at(self, place: QPointF) -> Grip | None:
        if self._bench.facts is None:
            return None
        where = (place.x(), place.y())
        return grip_near(self._routine, self.scale, self._columns(), where, self._bench.chosen)

    def _name_at(self, place: QPointF) -> Name | None:
        columns, scale = self._columns(), self.scale
        if place.x() < columns.lanes_end + 2 or not self._names:
            return None
        near = min(self._names, key=lambda name: abs(scale.down(name.stands) - place.y()))
        return near if abs(scale.down(near.stands) - place.y()) <= columns.row / 2 else None

    def _said_of(self, place: QPointF) -> str:
        """What is under the pointer, in full; of an empty place, what the strip is."""
        say, name = self._bench.say, self._name_at(place)
        if name is None:
            return say(
                "The routine down the page, from left to right: seconds, readings (rings), elements "
                "(blocks), faults (wedges), notes. Click a name to go to its frame, a lane to go to a time. "
                "Drag where an element begins or ends, or a fault, to move it. Ctrl and the wheel show it "
                "closer."
            )
        rows = (name.row, *name.folded[:20])
        lines = [f"{row.words}   {self._when(row)}".rstrip() for row in rows]
        left = len(name.folded) - len(rows) + 1
        return "\n".join([*lines, say("and {count} more", count=left)] if left else lines)

    def _when(self, row: Row) -> str:
        return f"{seconds(self._bench, row.tick)} s" if row.tick is not None and self._bench.facts else ""
