"""What lies on the rule-book form, and how it is arranged."""

from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import (
    QComboBox,
    QLabel,
    QLineEdit,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from reviewer.desk.bench import Bench
from reviewer.desk.books.bases import Bases
from reviewer.desk.books.case import CaseLine
from reviewer.desk.books.chapters import Chapters
from reviewer.desk.books.clause import ClauseForm
from reviewer.desk.books.compared import Compared
from reviewer.desk.books.copying import CopyLine
from reviewer.desk.books.lines import Line
from reviewer.desk.books.problems import Problems
from reviewer.desk.buttons import button
from reviewer.desk.flowing import Flowing, Scrolled
from reviewer.desk.footline import FootLine

_FIELDS = 46
"""Letters that the fields of a clause want side by side with their names."""


class BookParts:
    """The parts of the form.

    Attributes:
        edition: ids of the shipped editions, and files; another may be typed.
        file, copy: buttons that ask for a file, and that offer a copy.
        copying: the line that copies.
        chapters, clause, compared: the three columns.
        against: what the book is compared with.
        repeat, id, away: another clause like the chosen one under an id, and taking it away.
        keep, back: buttons that keep what is typed, and take back what was kept last.
        problems: what a check found.
        case: what the book makes of the case on the desk.
        foot: what was said last.
    """

    def __init__(self, form: QWidget, bench: Bench) -> None:
        say = bench.say
        self.edition, self.against = QComboBox(), Bases(say)
        self.file, self.copy = button(say("&Open a file…")), button(say("Cop&y…"))
        self.copying = CopyLine(bench)
        self.chapters, self.clause, self.compared = Chapters(say), ClauseForm(say), Compared(say)
        self.repeat, self.away = button(say("Add one &like it")), button(say("&Take it out"))
        self.id = Line()
        self.clause.sheet.comes_after = self.chapters.tree
        self.keep = button(say("&Keep it ({key})", key=bench.key("book-keep")))
        self.back = button(say("&Undo ({key})", key=bench.key("undo")))
        self.problems, self.case, self.foot = Problems(say), CaseLine(bench), FootLine(say)
        self._name(bench)
        self._arrange(form, bench)

    def _name(self, bench: Bench) -> None:
        say = bench.say
        self.edition.setEditable(True)
        self.edition.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.edition.setAccessibleName(say("Rule book: an edition’s id, or a file"))
        self.id.setPlaceholderText(say("id of a new clause"))
        self.id.setAccessibleName(say("Id of a new clause"))

    def _arrange(self, form: QWidget, bench: Bench) -> None:
        columns = QSplitter(Qt.Orientation.Horizontal)
        for part in (self.chapters, self._middle(), self._right(bench)):
            columns.addWidget(part)
            columns.setCollapsible(columns.count() - 1, False)
        for at, share in enumerate((3, 5, 4)):
            columns.setStretchFactor(at, share)
        middle = max(480, _FIELDS * form.fontMetrics().averageCharWidth())
        columns.setSizes([(1240 - middle) // 2, middle, (1240 - middle) // 2])
        column = QVBoxLayout(form)
        column.setContentsMargins(8, 8, 8, 0)
        column.addLayout(self._top(bench))
        column.addWidget(self.copying)
        column.addWidget(columns, 1)
        for part in (self.problems, self.case, self.foot):
            column.addWidget(part)

    def _top(self, bench: Bench) -> Flowing:
        label = QLabel(bench.say("Rule &book"))
        label.setBuddy(self.edition)
        return _flowing(label, self.edition, self.file, self.copy)

    def _middle(self) -> QWidget:
        whole = QWidget()
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.clause, 1)
        for line in (_flowing(self.keep, self.back), _flowing(self.id, self.repeat, self.away)):
            column.addLayout(line)
        return Scrolled(whole)

    def _right(self, bench: Bench) -> QWidget:
        whole = QWidget()
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, 0, 0)
        label = QLabel(bench.say("Compared &with"))
        label.setBuddy(self.against)
        column.addLayout(_flowing(label, self.against))
        column.addWidget(self.compared, 1)
        return whole


def _flowing(*controls: QWidget) -> Flowing:
    """Controls side by side or, where words are large, beneath each other; lines take what is left."""
    row = Flowing()
    for control in controls:
        row.add(control, takes_room=isinstance(control, (QLineEdit, QComboBox)))
    return row
