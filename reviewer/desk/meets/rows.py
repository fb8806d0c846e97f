"""The routines of a meet as rows, and which of them are shown."""

from collections.abc import Callable, Sequence
from html import escape

from PyQt6.QtCore import QModelIndex, Qt

from reviewer.actions import MeetRow
from reviewer.desk.rowsmodel import RowsModel
from reviewer.terms.meets import GROUPS
from reviewer.terms.messages import noted
from reviewer.words import Saying

COLUMNS = (
    noted("Routine"),
    noted("Athlete"),
    noted("Belongs to"),
    noted("Start value posted"),
    noted("Final score posted"),
    noted("Recording"),
    noted("Chosen"),
    noted("Auditor"),
    noted("Case"),
)
_STATES = {"to do": noted("to do"), "sent": noted("out"), "home": noted("home")}
_SHOWN: dict[str, tuple[str, Callable[[MeetRow], bool]]] = {
    "all": (noted("all routines"), lambda row: True),
    "chosen": (noted("chosen to be audited"), lambda row: bool(row.chosen)),
    "waiting": (noted("chosen, and nobody has them"), lambda row: bool(row.chosen) and not row.doing),
    "out": (noted("not home yet"), lambda row: any(one.state != "home" for one in row.doing)),
    "home": (noted("home"), lambda row: any(one.state == "home" for one in row.doing)),
    "lacking": (noted("without a recording"), lambda row: not row.start.recordings),
    "unclear": (noted("of which the recording is unclear"), lambda row: bool(row.unclear)),
}
SHOWN = {name: words for name, (words, _) in _SHOWN.items()}
"""What may be shown, by name, in words."""


def chosen_rows(rows: Sequence[MeetRow], shown: str, typed: str) -> list[MeetRow]:
    """The rows that are asked for: of one kind, and whose name, athlete, group or auditor begins as typed."""
    fits, wanted = _SHOWN[shown][1], typed.strip().casefold()
    return [row for row in rows if fits(row) and any(one.startswith(wanted) for one in _searched(row))]


def _searched(row: MeetRow) -> tuple[str, ...]:
    said = (
        row.start.name,
        row.start.athlete,
        *row.start.groups.values(),
        *(one.auditor for one in row.doing),
    )
    return tuple(one.casefold() for one in said)


class RoutinesModel(RowsModel[MeetRow]):
    """Rows of words for Qt's views and screen readers."""

    def __init__(self, say: Saying) -> None:
        super().__init__(say, COLUMNS)

    def put(self, rows: Sequence[MeetRow]) -> None:
        """Show these."""
        self.beginResetModel()
        self.rows = tuple(rows)
        self.endResetModel()

    def data(self, index: QModelIndex, role: int = Qt.ItemDataRole.DisplayRole) -> str | None:
        """A cell; its tip is the whole row, since long words are cut."""
        cells = cells_of(self.rows[index.row()], self._say)
        if role == Qt.ItemDataRole.DisplayRole:
            return cells[index.column()]
        if role == Qt.ItemDataRole.ToolTipRole:
            return f"<p>{escape(' · '.join(filter(None, cells)))}</p>"  # a tip else reads signs as markup
        return None


def cells_of(row: MeetRow, say: Saying) -> tuple[str, ...]:
    """What stands in the columns of a row."""
    start, posted = row.start, row.start.posted
    return (
        start.name,
        start.athlete,
        ", ".join(start.groups[name] for name in GROUPS if name in start.groups),
        "" if posted.start_value is None else say.word(str(posted.start_value)),
        "" if posted.final is None else say.word(str(posted.final)),
        _recording(row, say),
        ", ".join(say.word(one) for one in row.chosen),
        "; ".join(_who(row, say)),
        say("made") if row.case is not None else say("not made"),
    )


def _recording(row: MeetRow, say: Saying) -> str:
    if row.start.recordings:
        return ", ".join(row.start.recordings)
    if row.unclear:
        return say("unclear: {names}", names=", ".join(row.unclear))
    return say("none, by hand") if row.start.by_hand else say("none found")


def _who(row: MeetRow, say: Saying) -> list[str]:
    told = []
    for one in row.doing:
        state = say.word(_STATES[one.state])
        if one.blind:
            told.append(say("{auditor}, blind: {state}", auditor=one.auditor, state=state))
        else:
            told.append(say("{auditor}: {state}", auditor=one.auditor, state=state))
    return told
