"""The rows of the score sheet for Qt's views and screen readers; only what changed is told anew."""

from collections.abc import Sequence
from html import escape

from PyQt6.QtCore import QModelIndex, Qt

from reviewer.desk.ledger import Row
from reviewer.desk.rowsmodel import NO_INDEX, RowsModel
from reviewer.terms.messages import noted
from reviewer.words import Saying

POINTS, SUPPOSED, REASON = range(3)
HEADINGS = (noted("Points"), noted("What if"), noted("Reason"))
SIGNS = {
    "problem": ("!", noted("problem")),
    "warning": ("2×", noted("perhaps charged twice")),
    "not earned": ("○", noted("not earned")),
    "not taken": ("○", noted("not taken")),
    "remark": ("?", noted("to mind")),
    "decision": ("↕", noted("left open")),
    "reading": ("§", noted("reading left open")),
}
"""What stands in place of points: a sign to be seen, and words to be heard."""


class SheetModel(RowsModel[Row]):
    """Rows of points, what is supposed, and the reason.

    Attributes:
        rows: what is shown.
        lit: the rows that rest on the chosen marks, by their place.
    """

    def __init__(self, say: Saying) -> None:
        super().__init__(say, HEADINGS)
        self.lit: frozenset[int] = frozenset()

    def put(self, rows: Sequence[Row]) -> None:
        """Show these; a row that stays keeps its place on the screen."""
        new, old = tuple(rows), self.rows
        before = _alike(old, new)
        behind = _alike(old[before:][::-1], new[before:][::-1])
        surplus, same = len(new) - len(old), min(len(old), len(new)) - behind
        self.lit = frozenset()
        if surplus > 0:
            self.beginInsertRows(NO_INDEX, same, same + surplus - 1)
            self.rows = new
            self.endInsertRows()
        elif surplus < 0:
            self.beginRemoveRows(NO_INDEX, same, same - surplus - 1)
            self.rows = new
            self.endRemoveRows()
        self.rows = new
        self._tell(range(before, same))

    def light(self, marks: Sequence[str]) -> int | None:
        """Mark the rows that rest on these marks; the first of them that is no sum of others."""
        chosen = set(marks)
        lit = [at for at, row in enumerate(self.rows) if not chosen.isdisjoint(row.marks)]
        lines = [at for at in lit if self.rows[at].kind not in ("total", "heading")]
        before, self.lit = self.lit, frozenset(lines)
        for at in before ^ self.lit:
            self._tell(range(at, at + 1))
        return lines[0] if lines else None

    def data(self, index: QModelIndex, role: int = Qt.ItemDataRole.DisplayRole) -> str | None:
        """A cell in words: short to be seen, whole to be heard and as a tip."""
        row = self.rows[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return (points_of(row), row.supposed, row.words)[index.column()]
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return self._heard(row, index.column())
        if role == Qt.ItemDataRole.ToolTipRole:
            return f"<p>{escape(row.whole)}</p>"  # as rich text it is broken into lines
        return None

    def side(self, column: int) -> Qt.AlignmentFlag:
        """Points stand under the right end of their heading."""
        return Qt.AlignmentFlag.AlignLeft if column == REASON else Qt.AlignmentFlag.AlignRight

    def _heard(self, row: Row, column: int) -> str:
        if column == REASON:
            return row.whole
        if column == SUPPOSED:
            return self._say("What if: {points}", points=row.supposed) if row.supposed else ""
        return row.points or (self._say.word(SIGNS[row.kind][1]) if row.kind in SIGNS else "")

    def _tell(self, places: range) -> None:
        if places:
            self.dataChanged.emit(self.index(places[0], POINTS), self.index(places[-1], REASON))


def points_of(row: Row) -> str:
    """What stands in the points' column: points, or a sign."""
    return row.points or (SIGNS[row.kind][0] if row.kind in SIGNS and not row.is_new else "")


def _alike(some: Sequence[Row], others: Sequence[Row]) -> int:
    """How many rows both begin with."""
    for at, (one, other) in enumerate(zip(some, others, strict=False)):
        if one != other:
            return at
    return min(len(some), len(others))
