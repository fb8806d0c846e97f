"""The passages that were found, as rows with a small picture each."""

from collections.abc import Sequence
from html import escape

from PyQt6.QtCore import QModelIndex, Qt
from PyQt6.QtGui import QImage

from reviewer.desk.rowsmodel import RowsModel
from reviewer.terms.intervals import expanded, tenths, told
from reviewer.terms.messages import noted
from reviewer.terms.shelving import Hit
from reviewer.words import Saying

COLUMNS = (
    noted("Small picture"),
    noted("What"),
    noted("Points"),
    noted("Angle"),
    noted("Verdict"),
    noted("Left open"),
    noted("Frame"),
    noted("Case"),
    noted("Begun"),
)
PICTURE, WHAT, LEFT_OPEN = 0, 1, 5


class FoundModel(RowsModel[Hit]):
    """Rows of words for Qt's views and screen readers.

    Attributes:
        images: the small picture of a row that came, by its place.
        lacks: why a row has none, by its place.
    """

    def __init__(self, say: Saying) -> None:
        super().__init__(say, COLUMNS)
        self.images: dict[int, QImage] = {}
        self.lacks: dict[int, str] = {}

    def put(self, hits: Sequence[Hit]) -> None:
        """Show these."""
        self.beginResetModel()
        self.rows, self.images, self.lacks = tuple(hits), {}, {}
        self.endResetModel()

    def put_picture(self, row: int, image: QImage | None, lack: str = "") -> None:
        """The picture of a row, or why it has none."""
        if image is not None:
            self.images[row] = image
        self.lacks[row] = lack
        at = self.index(row, PICTURE)
        self.dataChanged.emit(at, at)

    def data(self, index: QModelIndex, role: int = Qt.ItemDataRole.DisplayRole) -> str | QImage | None:
        """A cell; its tip is the whole row, since long words are cut."""
        row, hit = index.row(), self.rows[index.row()]
        cells = cells_of(hit, self._say)
        if index.column() == PICTURE:
            return self._picture(row, role)
        if role == Qt.ItemDataRole.DisplayRole:
            return cells[index.column()]
        if role == Qt.ItemDataRole.ToolTipRole:
            return f"<p>{escape(' · '.join(filter(None, cells)))}</p>"  # a tip else reads signs as markup
        return None

    def _picture(self, row: int, role: int) -> str | QImage | None:
        if role == Qt.ItemDataRole.DecorationRole:
            return self.images.get(row)
        lack = self.lacks.get(row, "")
        if role == Qt.ItemDataRole.DisplayRole:
            return lack or None
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return self._say("a small picture") if row in self.images else lack or self._say("no picture")
        return None


def cells_of(hit: Hit, say: Saying) -> tuple[str, ...]:
    """What stands in the columns of a row."""
    one, about, stretch = hit.passage, hit.passage.subject, hit.passage.stretch
    at = say("{fault} at {element}", fault=about.name, element=about.on_name) if about.on_name else about.name
    judge = say("judge {letter}", letter=one.judge) if one.judge is not None else ""
    return (
        "",
        ", ".join(filter(None, (at, judge))),
        "" if one.amount is None else say.word(str(one.amount)),
        _angle(hit, say),
        say.word(one.verdict) if one.verdict else "",
        "" if one.settled else say("yes"),
        "" if stretch is None else str(stretch.deciding.frame),
        hit.case.path,
        hit.case.day,
    )


def _angle(hit: Hit, say: Saying) -> str:
    one = hit.passage
    if one.angle is None:
        return ""
    if one.uncertainty is None:
        return say.word(f"{tenths(one.angle)}°")
    return say.word(told(one.angle, expanded(one.uncertainty), "°"))
