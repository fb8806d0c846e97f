"""How sure the score is, drawn: a line of the scores that can be reached, with the marks' and the posted."""

from PyQt6.QtCore import QPointF, QSize
from PyQt6.QtGui import QPainter, QPaintEvent, QPen, QPolygonF
from PyQt6.QtWidgets import QSizePolicy, QWidget

from reviewer.desk.looks import EDGE, ELEMENT, FAULT, INK, colour
from reviewer.terms.exact import Points
from reviewer.terms.sheets import ScoreSheet
from reviewer.words import Saying

_EMPTY = (0, 0, 0)


class ReachScale(QWidget):
    """A line from the lowest to the highest reachable score.

    A bar on it is the score of the marks, a wedge from beneath the posted score; words beside say the same.
    """

    def __init__(self) -> None:
        super().__init__()
        self._ends = _EMPTY
        self._posted: int | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_sheet(self, sheet: ScoreSheet | None, posted: Points | None, say: Saying) -> None:
        """Draw a sheet's scores; nothing is drawn where no other can be reached and none was posted."""
        self._posted = posted.thousandths if posted is not None else None
        self._ends = _EMPTY
        if sheet is not None:
            reach = sheet.reachable
            ends = reach.low.thousandths, sheet.final_score.thousandths, reach.high.thousandths
            self._ends = ends
            said = say("From {low} to {high}, the marks at {score}.", low=reach.low, high=reach.high,
                       score=sheet.final_score)  # fmt: skip
            self.setAccessibleName(say("Reachable scores"))
            self.setAccessibleDescription(said)
        self.setVisible(len({*self._ends, *(() if posted is None else (posted.thousandths,))}) > 1)
        self.update()

    def sizeHint(self) -> QSize:
        """As high as a line of words."""
        return QSize(120, self.fontMetrics().height())

    def paintEvent(self, event: QPaintEvent | None) -> None:
        """Draw it."""
        shown = [*self._ends] + ([] if self._posted is None else [self._posted])
        least, most = min(shown), max(shown)
        if least == most:
            return
        painter, high, edge = QPainter(self), float(self.height()), self.height() / 2
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)

        def x(score: int) -> float:
            return edge + (self.width() - 2 * edge) * (score - least) / (most - least)

        middle = high * 0.4
        low, score, top = (x(one) for one in self._ends)
        painter.setPen(QPen(colour(EDGE), 1))
        painter.drawLine(QPointF(x(least), middle), QPointF(x(most), middle))
        painter.setPen(QPen(colour(ELEMENT), 4))
        painter.drawLine(QPointF(low, middle), QPointF(top, middle))
        painter.setPen(QPen(colour(INK), 3))
        painter.drawLine(QPointF(score, 0), QPointF(score, high * 0.8))
        if self._posted is not None:
            at, wide = x(self._posted), high * 0.25
            painter.setPen(QPen(colour(INK), 1))
            painter.setBrush(colour(FAULT))
            foot = [QPointF(at - wide, high - 1), QPointF(at + wide, high - 1)]
            painter.drawPolygon(QPolygonF([QPointF(at, middle + 3), *foot]))
