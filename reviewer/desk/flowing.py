"""Rows of controls that go on in the next line where the words are too large for one, and room for them."""

from collections.abc import Iterator

from PyQt6.QtCore import QEvent, QObject, QPoint, QRect, QSize, Qt
from PyQt6.QtGui import QResizeEvent
from PyQt6.QtWidgets import (
    QLabel,
    QLayout,
    QLayoutItem,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

_Line = list[tuple[QLayoutItem, QSize]]
MOST = 0.7
"""Share of its surroundings' height that a part may insist on."""


class Flowing(QLayout):
    """Places controls side by side, in as many lines as they need; nothing is ever cut.

    One that `takes_room` is given what its line has left; it is a control whose words may wrap, or a label.
    With ``even`` all are as wide as the widest, so that they stand in columns.
    """

    def __init__(self, spacing: int = 4, *, even: bool = False) -> None:
        super().__init__()
        self._even = even
        self._placed: list[QLayoutItem] = []
        self._roomy: set[QWidget] = set()
        self.setContentsMargins(0, 0, 0, 0)
        self.setSpacing(spacing)

    def add(self, control: QWidget, *, takes_room: bool = False) -> None:
        """Put a control behind the others."""
        if takes_room:
            self._roomy.add(control)
        self.addWidget(control)

    def addItem(self, a0: QLayoutItem | None) -> None:
        """As Qt asks for it."""
        if a0 is not None:
            self._placed.append(a0)

    def count(self) -> int:
        """How many controls there are."""
        return len(self._placed)

    def itemAt(self, index: int) -> QLayoutItem | None:
        """One of them, or None."""
        return self._placed[index] if 0 <= index < len(self._placed) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        """Take one out."""
        return self._placed.pop(index) if 0 <= index < len(self._placed) else None

    def expandingDirections(self) -> Qt.Orientation:
        """It asks for no more height than it needs."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        """A narrow row has more lines."""
        return True

    def heightForWidth(self, a0: int) -> int:
        """Height of all lines at this width."""
        heights = [_high(line) for line in self._lines(a0)]
        return sum(heights) + self.spacing() * max(0, len(heights) - 1)

    def sizeHint(self) -> QSize:
        """One line of everything."""
        wished = [self._wished(one) for one in self._shown()]
        wide = sum(one.width() for one in wished) + self.spacing() * max(0, len(wished) - 1)
        return QSize(wide, max((one.height() for one in wished), default=0))

    def minimumSize(self) -> QSize:
        """Room for the widest control alone."""
        least = [self._least(one) for one in self._shown()]
        return QSize(
            max((one.width() for one in least), default=0), max((one.height() for one in least), default=0)
        )

    def setGeometry(self, a0: QRect) -> None:
        """Place everything in this room."""
        super().setGeometry(a0)
        top = a0.top()
        for line in self._lines(a0.width()):
            high, left = _high(line), a0.left()
            for control, size in line:
                control.setGeometry(QRect(QPoint(left, top + (high - size.height()) // 2), size))
                left += size.width() + self.spacing()
            top += high + self.spacing()

    def _shown(self) -> list[QLayoutItem]:
        return [one for one in self._placed if not one.isEmpty()]

    def _least(self, one: QLayoutItem) -> QSize:
        return one.minimumSize() if one.widget() in self._roomy else one.sizeHint()

    def _wished(self, one: QLayoutItem) -> QSize:
        """Room for all its words in one line, where a label would rather have them in several."""
        control, hint = one.widget(), one.sizeHint()
        if not isinstance(control, QLabel) or not control.wordWrap():
            return hint
        return QSize(control.fontMetrics().horizontalAdvance(f"{control.text()} "), hint.height())

    def _lines(self, wide: int) -> Iterator[_Line]:
        line: _Line = []
        used = 0
        shown = self._shown()
        widest = max((one.sizeHint().width() for one in shown), default=0) if self._even else 0
        for one in shown:
            wished = self._wished(one).expandedTo(QSize(widest, 0))
            size = QSize(min(wished.width(), wide), wished.height())
            if line and used + self.spacing() + size.width() > wide:
                yield self._filled(line, wide)
                line, used = [], 0
            used += size.width() + (self.spacing() if line else 0)
            line.append((one, size))
        if line:
            yield self._filled(line, wide)

    def _filled(self, line: _Line, wide: int) -> _Line:
        """The line with what is left given to the first control that takes room."""
        left = wide - sum(size.width() for _, size in line) - self.spacing() * (len(line) - 1)
        filled: _Line = []
        for one, size in line:
            if one.widget() in self._roomy and left > 0:
                size, left = QSize(size.width() + left, size.height()), 0
            if one.hasHeightForWidth():
                size.setHeight(one.heightForWidth(size.width()))
            filled.append((one, size))
        return filled


def _high(line: _Line) -> int:
    return max(size.height() for _, size in line)


class Beneath(QWidget):
    """Parts one beneath the other that keep the height their words need at this width.

    Attributes:
        column: the parts are put in here.
    """

    def __init__(self) -> None:
        super().__init__()
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(8, 4, 8, 4)
        self.column.setSpacing(4)

    def minimumSizeHint(self) -> QSize:
        """As high as the words need, though never so high that the picture has no room."""
        around, least = self.parentWidget(), super().minimumSizeHint()
        needed = self.column.minimumHeightForWidth(self.width())
        most = int(MOST * around.height()) if around is not None else needed
        return QSize(least.width(), max(least.height(), min(needed, most)))

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """A narrow part has more lines."""
        super().resizeEvent(event)
        if event is not None and event.size().width() != event.oldSize().width():
            self.updateGeometry()


class Scrolled(QScrollArea):
    """Parts that go up and down where all of them do not find room, and are never cut at the side."""

    def __init__(self, inner: QWidget) -> None:
        super().__init__()
        self._inner = inner
        self.setWidget(inner)
        self.setWidgetResizable(True)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)

    def minimumSizeHint(self) -> QSize:
        """As wide as the widest part."""
        bar = self.verticalScrollBar()
        beside = bar.sizeHint().width() if bar is not None and bar.isVisible() else 0
        return QSize(self._inner.minimumSizeHint().width() + beside, 1)

    def eventFilter(self, a0: QObject | None, a1: QEvent | None) -> bool:
        """Larger words need more room at once."""
        if a1 is not None and a1.type() == QEvent.Type.LayoutRequest:
            self.updateGeometry()
        return super().eventFilter(a0, a1)


class Yielding(Scrolled):
    """Parts that have the height their words need while there is room; else they go up and down."""

    def __init__(self, inner: QWidget) -> None:
        super().__init__(inner)
        own = self.sizePolicy()
        own.setVerticalPolicy(QSizePolicy.Policy.Preferred)
        own.setHeightForWidth(True)
        self.setSizePolicy(own)

    def hasHeightForWidth(self) -> bool:
        """Narrow parts have more lines."""
        return True

    def heightForWidth(self, a0: int) -> int:
        """Height of all lines, and of the line that shows the keyboard."""
        edge = 2 * self.frameWidth()
        return self._inner.heightForWidth(a0 - edge) + edge
