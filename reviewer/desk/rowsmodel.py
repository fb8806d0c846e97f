"""Rows under headings for Qt's views and screen readers: what the desk's tables have in common."""

from collections.abc import Sequence
from typing import Generic, TypeVar

from PyQt6.QtCore import QAbstractTableModel, QModelIndex, Qt

from reviewer.words import Saying

NO_INDEX = QModelIndex()
_Row = TypeVar("_Row")


class RowsModel(QAbstractTableModel, Generic[_Row]):
    """Rows; one that inherits says what stands in their cells.

    Attributes:
        rows: what is shown.
    """

    def __init__(self, say: Saying, headings: Sequence[str]) -> None:
        super().__init__()
        self._say, self._headings = say, headings
        self.rows: tuple[_Row, ...] = ()

    def rowCount(self, parent: QModelIndex = NO_INDEX) -> int:
        """How many rows there are."""
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: QModelIndex = NO_INDEX) -> int:
        """How much is said of each."""
        return 0 if parent.isValid() else len(self._headings)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> str | Qt.AlignmentFlag | None:
        """What stands above a column."""
        if orientation != Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return self.side(section) | Qt.AlignmentFlag.AlignVCenter
        return self._say.word(self._headings[section]) if role == Qt.ItemDataRole.DisplayRole else None

    def side(self, column: int) -> Qt.AlignmentFlag:
        """The side of a column that its heading stands on."""
        return Qt.AlignmentFlag.AlignLeft
