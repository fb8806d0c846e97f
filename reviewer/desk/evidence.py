"""The picture: the evidence. Shown whole or closer, with the protractor's shapes over it."""

from typing import cast

from PyQt6.QtCore import QPointF, QRectF, QSize, Qt, pyqtSignal
from PyQt6.QtGui import QImage, QMouseEvent, QPainter, QPaintEvent, QResizeEvent, QWheelEvent
from PyQt6.QtWidgets import QWidget

from reviewer.desk.framing import Framing, place_of, spot_at
from reviewer.desk.looks import AROUND, FAULT, INK, SHEET, colour
from reviewer.desk.painting import paint_beside, paint_close_up, paint_covers, paint_focus
from reviewer.terms.covers import Cover
from reviewer.terms.pictures import Picture
from reviewer.terms.shapes import Shape, Spot
from reviewer.words import Saying

ENGLISH = Saying()

GRASP = 11.0
"""How near, in view pixels, a press must be to take hold of a point."""
CLOSE_UP = 180.0
"""Side of the close-up of a point, in view pixels."""
STILL = 3.0
"""How far a press may wander and still be a click."""
_MIDDLE = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap


class EvidenceView(QWidget):
    """Shows one picture; zooms at the pointer, pans by dragging, and hands on clicks and dragged points.

    Attributes:
        picture: what is on the screen, or None.
        framing: how it lies in the view.
        shapes: painted over the picture.
        points: names and spots of what may be dragged.
        covers: what of the picture is hidden, beneath the shapes.
        looked_at: the point shown close up, or None.

    Signals:
        clicked(Spot): a click on the picture that neither panned nor dragged.
        dragged(str, Spot): a point is being moved.
        sized(int): Shift and the wheel, one step away (1) or towards (-1).
    """

    clicked = pyqtSignal(object)
    dragged = pyqtSignal(str, object)
    sized = pyqtSignal(int)

    def __init__(self, say: Saying = ENGLISH) -> None:
        super().__init__()
        self._say = say
        self.picture: Picture | None = None
        self.framing = Framing(1.0, 0.0, 0.0)
        self.shapes: tuple[Shape, ...] = ()
        self.points: tuple[tuple[str, Spot], ...] = ()
        self.looked_at: Spot | None = None
        self.covers: tuple[Cover, ...] = ()
        self.invitation = ""
        self._image: QImage | None = None
        self._whole = True
        self._pressed: QPointF | None = None
        self._panned = False
        self._held: str | None = None
        self.setAccessibleName(say("Picture"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(240, 160)

    def sizeHint(self) -> QSize:
        """Room for a sideways phone picture."""
        return QSize(720, 405)

    def put(self, picture: Picture) -> None:
        """Put a picture on the screen; one of another size is shown whole."""
        changed = self.picture is None or self.picture.full_size != picture.full_size
        width, height = picture.size
        self._image = QImage(cast(bytes, picture.bgra), width, height, 4 * width, QImage.Format.Format_RGB32)
        self.picture = picture  # keeps the bytes alive under the image
        seconds = picture.time.seconds()
        told = self._say("Frame {frame} at {seconds} s", frame=picture.frame, seconds=seconds)
        self.setAccessibleDescription(told)
        if changed:
            self.show_whole()
        self.update()

    def draw(
        self,
        shapes: tuple[Shape, ...],
        points: tuple[tuple[str, Spot], ...] = (),
        looked_at: Spot | None = None,
    ) -> None:
        """Paint these shapes over the picture, let these points be dragged, and show one of them close up."""
        self.shapes, self.points, self.looked_at = shapes, points, looked_at
        self.update()

    def cover(self, covers: tuple[Cover, ...]) -> None:
        """Hide this of the picture."""
        self.covers = covers
        self.update()

    def show_whole(self) -> None:
        """Fit the whole picture into the view, and keep it so while the view changes size."""
        self._whole = True
        if self.picture is not None:
            self.framing = Framing.whole(self.picture.full_size, (self.width(), self.height()))
        self.update()

    def zoom(self, factor: float, at: QPointF | None = None) -> None:
        """Closer by a factor, at a place of the view or in its middle."""
        place = at or QPointF(self.width() / 2, self.height() / 2)
        self.framing = self.framing.zoomed(factor, place.x(), place.y())
        self._whole = False
        self.update()

    def spot_under(self, place: QPointF) -> Spot:
        """The picture's point under the pointer.

        A pointer stands on a whole pixel of the screen: the middle of that pixel is meant, not its corner.
        """
        middle = 0.5 / self.devicePixelRatioF()
        return spot_at(*self.framing.to_picture(place.x() + middle, place.y() + middle))

    def paintEvent(self, event: QPaintEvent | None) -> None:
        """Paint the picture, then the shapes, and round them that the keyboard is here."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), colour(AROUND))
        if self._image is None or self.picture is None:
            painter.setPen(colour(INK))
            painter.drawText(self.rect(), _MIDDLE, self.invitation)
        else:
            self._paint_picture(painter, self._image, self.picture)
        if self.hasFocus():
            paint_focus(painter, QRectF(self.rect()))

    def _paint_picture(self, painter: QPainter, image: QImage, picture: Picture) -> None:
        frame, (width, height) = self.framing, picture.full_size
        smooth = frame.scale < 3  # closer than that the pixels themselves are what is looked at
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, smooth)
        painter.drawImage(QRectF(frame.left, frame.top, width * frame.scale, height * frame.scale), image)
        paint_covers(painter, frame, self.covers)
        near = self.looked_at is not None and picture.full_size == picture.size
        covered = (self._corner(),) if near else ()
        paint_beside(painter, frame, self.shapes, QRectF(self.rect()), covered)
        if self.looked_at is not None and near:
            paint_close_up(painter, image, self.looked_at, self._corner())
        self._paint_remarks(painter, picture)

    def _paint_remarks(self, painter: QPainter, picture: Picture) -> None:
        """What must be known of the picture before it is relied on, in its own corner of the view."""
        remarks = remarks_on(picture, self._say)
        if not remarks:
            return
        words = "\n".join(remarks)
        room = painter.boundingRect(self.rect().adjusted(14, 10, -14, -10), Qt.AlignmentFlag.AlignLeft, words)
        painter.fillRect(room.adjusted(-6, -4, 6, 4), colour(SHEET))
        painter.setPen(colour(FAULT if picture.suspect else INK))
        painter.drawText(room, Qt.AlignmentFlag.AlignLeft, words)

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """A picture shown whole stays whole."""
        if self._whole:
            self.show_whole()

    def wheelEvent(self, event: QWheelEvent | None) -> None:
        """Zoom at the pointer; with Shift, say only that something is to be sized."""
        if event is None:
            return
        if event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            turned = event.angleDelta().y() or event.angleDelta().x()
            self.sized.emit(1 if turned > 0 else -1)
        else:
            self.zoom(1.2 ** (event.angleDelta().y() / 120), event.position())

    def mousePressEvent(self, event: QMouseEvent | None) -> None:
        """Take hold of a point, or of the picture."""
        if event is None or event.button() != Qt.MouseButton.LeftButton:
            return
        self.setFocus()
        self._pressed, self._panned = event.position(), False
        self._held = self._point_near(event.position())

    def mouseMoveEvent(self, event: QMouseEvent | None) -> None:
        """Drag the point, or pan."""
        if event is None or self._pressed is None:
            return
        moved = event.position() - self._pressed
        if not self._panned and moved.manhattanLength() <= STILL:
            return
        self._panned = True
        if self._held is not None:
            spot = self.spot_under(event.position())
            if self._inside(spot):
                self.dragged.emit(self._held, spot)
            return
        self.framing, self._whole = self.framing.moved(moved.x(), moved.y()), False
        self._pressed = event.position()
        self.update()

    def mouseReleaseEvent(self, event: QMouseEvent | None) -> None:
        """A press that did not wander was a click."""
        if event is not None and self._pressed is not None and not self._panned:
            spot = self.spot_under(event.position())
            if self._inside(spot):
                self.clicked.emit(spot)
        self._pressed, self._held = None, None

    def _corner(self) -> QRectF:
        """Where a close-up lies: the lower corner on the side away from the point."""
        assert self.looked_at is not None
        side = min(CLOSE_UP, self.width() / 3, self.height() / 2)
        left_half = self.framing.to_view(*place_of(self.looked_at))[0] < self.width() / 2
        left = self.width() - side - 10 if left_half else 10.0
        return QRectF(left, self.height() - side - 10, side, side)

    def _inside(self, spot: Spot) -> bool:
        if self.picture is None:
            return False
        width, height = self.picture.full_size
        x, y = place_of(spot)
        return -0.5 <= x <= width - 0.5 and -0.5 <= y <= height - 0.5

    def _point_near(self, place: QPointF) -> str | None:
        def distance(point: tuple[str, Spot]) -> float:
            return (QPointF(*self.framing.to_view(*place_of(point[1]))) - place).manhattanLength()

        nearest = min(self.points, key=distance, default=None)
        return nearest[0] if nearest is not None and distance(nearest) <= GRASP else None


def remarks_on(picture: Picture, say: Saying = ENGLISH) -> tuple[str, ...]:
    """What must be known of a picture before it is relied on."""
    damaged = (say("Damaged here: do not rely on this picture."),) if picture.suspect else ()
    treated = tuple(f"{words[0].upper()}{words[1:]}." for words in map(say.retold, picture.treatment))
    small = (say("Small picture."),) if picture.stands_for else ()
    return (*damaged, *treated, *small)
