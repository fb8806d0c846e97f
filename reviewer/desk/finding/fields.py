"""What is looked for, as fields to fill in; each that is left empty asks for nothing."""

from collections.abc import Mapping
from pathlib import Path

from PyQt6.QtCore import pyqtSignal
from PyQt6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from reviewer import actions
from reviewer.desk.buttons import button
from reviewer.desk.choosing import folder_to_read
from reviewer.desk.flowing import Flowing
from reviewer.terms.callwords import VERDICT_WORDS
from reviewer.terms.messages import noted
from reviewer.terms.shelving import Wanted
from reviewer.words import Saying

LABELS = {
    "words": noted("Words"),
    "element": noted("Element"),
    "fault": noted("Fault"),
    "clause": noted("Clause"),
    "amount": noted("Points, from and to"),
    "angle": noted("Degrees of a cast, from and to"),
    "verdict": noted("Verdict on a cast"),
    "settled": noted("Left open"),
    "rule_book": noted("Rule book"),
    "division": noted("Division"),
    "since": noted("Begun since"),
    "until": noted("Begun until"),
}
_HINTS = {
    "words": noted("beginnings of words"),
    "element": noted("code or name; cast* for all casts"),
    "fault": noted("code or name"),
    "clause": "fault.*",
    "since": "2026-09-01",
    "until": "2027-06-30",
}
_ENDS = {"amount": ("0.100", "0.300"), "angle": ("-55", "-35")}
_OPEN = (("", noted("either way")), ("settled", noted("nothing")), ("arguable", noted("something")))
_SHORT, _LONG = 9, 22
"""Letters that a field has room for, at least: one end of a range, and any other."""
_SETTLED = {"": None, "settled": True, "arguable": False}


class Fields(QWidget):
    """The folder, and all that may be asked for.

    Attributes:
        folder: where the cases lie.
        lines: a field each, by the name of what it asks for; of a range the two ends.

    Signals:
        asked(): Return was pressed in a field.
    """

    asked = pyqtSignal()

    def __init__(self, say: Saying, folder: Path | None) -> None:
        super().__init__()
        self._say = say
        self.folder = QLineEdit(str(folder) if folder is not None else "")
        self.lines = {name: self._line(name) for name in ("words", "element", "fault", "clause")}
        self.ends = {name: (self._line(name, 0), self._line(name, 1)) for name in _ENDS}
        self.verdict, self.settled = QComboBox(), QComboBox()
        self.lines |= {name: self._line(name) for name in ("rule_book", "division", "since", "until")}
        self._arrange()

    def wanted(self) -> Wanted:
        """What is asked for; an AuditError names the fields that make no sense."""
        say = self._say
        return actions.wanted(
            **{name: line.text().strip() for name, line in self.lines.items()},
            amount=self._both("amount"),
            angle=self._both("angle"),
            verdict=self.verdict.currentData(),
            settled=_SETTLED[self.settled.currentData()],
            naming=lambda name: f"{say.word(LABELS[name])}:",
        )

    def where(self) -> Path:
        """The folder as it was typed."""
        return Path(self.folder.text().strip()).expanduser()

    def clear(self) -> None:
        """Ask for nothing; the folder stays."""
        for line in (*self.lines.values(), *(one for ends in self.ends.values() for one in ends)):
            line.clear()
        self.verdict.setCurrentIndex(0)
        self.settled.setCurrentIndex(0)
        self.lines["words"].setFocus()

    def _both(self, name: str) -> tuple[str, str]:
        low, high = self.ends[name]
        return low.text(), high.text()

    def _line(self, name: str, end: int | None = None) -> QLineEdit:
        line = QLineEdit()
        hint = _HINTS.get(name, "") if end is None else _ENDS[name][end]
        line.setPlaceholderText(self._say.word(hint) if hint else "")
        line.returnPressed.connect(self.asked)
        what = self._say.word(LABELS[name])
        ends = (self._say("{what}: the lesser", what=what), self._say("{what}: the greater", what=what))
        line.setAccessibleName(what if end is None else ends[end])
        return line

    def _arrange(self) -> None:
        say = self._say
        self._choices(self.verdict, "verdict", (("", noted("any")), *VERDICT_WORDS.items()))
        self._choices(self.settled, "settled", _OPEN)
        self.folder.setAccessibleName(say("Folder of the cases"))
        self.folder.returnPressed.connect(self.asked)
        head, rows = QHBoxLayout(), Flowing(8)
        folder = QLabel(say("&Folder"))
        folder.setBuddy(self.folder)
        for part in (folder, self.folder, button(say("Choose…"), self._choose)):
            head.addWidget(part)
        parts: Mapping[str, tuple[QWidget, ...]] = {
            **{name: (line,) for name, line in self.lines.items()},
            **self.ends,
            "verdict": (self.verdict,),
            "settled": (self.settled,),
        }
        for name, words in LABELS.items():
            rows.add(_labelled(say.word(words), parts[name]))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(head)
        column.addLayout(rows)

    def _choices(self, box: QComboBox, name: str, choices: tuple[tuple[str, str], ...]) -> None:
        box.setAccessibleName(self._say.word(LABELS[name]))
        for value, words in choices:
            box.addItem(self._say.word(words), value)

    def _choose(self) -> None:
        chosen = folder_to_read(self, self._say("Folder of the cases"), self.folder.text())
        if chosen is not None:
            self.folder.setText(str(chosen))


def _labelled(words: str, fields: tuple[QWidget, ...]) -> QWidget:
    """Fields side by side under what they ask for."""
    whole, row = QWidget(), QHBoxLayout()
    label = QLabel(words)
    label.setBuddy(fields[0])
    for field in fields:
        field.setMinimumWidth(field.fontMetrics().averageCharWidth() * (_SHORT if len(fields) > 1 else _LONG))
        row.addWidget(field)
    column = QVBoxLayout(whole)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(1)
    column.addWidget(label)
    column.addLayout(row)
    return whole
