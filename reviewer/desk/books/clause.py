"""One clause of a rule book on the form: what it says in sentences, its fields, and the change to be kept."""

from collections.abc import Iterable, Sequence

from PyQt6.QtCore import pyqtSignal
from PyQt6.QtWidgets import QLabel, QVBoxLayout, QWidget

from reviewer.actions.ownbooks import HEAD, Outlined, Wanted
from reviewer.desk.books.change import ChangeRows
from reviewer.desk.books.rows import FieldRow, Value
from reviewer.desk.books.sheet import FieldSheet
from reviewer.terms.problems import Problem, in_itself
from reviewer.words import Saying

_MOST_SAID = 400
"""Letters beyond which a clause's sentences are left to its fields, such as of long lists of elements."""


class ClauseForm(QWidget):
    """The chosen clause, or the head of the book. Nothing typed here is on disk before it is kept.

    Attributes:
        clause: what is shown, or None.
        sheet: its fields.
        change: from when the change holds and what it rests on.

    Signals:
        drafted(): something else is typed or chosen.
        entered(): Return was pressed in a line.
    """

    drafted = pyqtSignal()
    entered = pyqtSignal()

    def __init__(self, say: Saying) -> None:
        super().__init__()
        self._say = say
        self.clause: Outlined | None = None
        self.heading, self.words, self.now, self.wrong = QLabel(), QLabel(), QLabel(), QLabel()
        self.sheet, self.change = FieldSheet(say), ChangeRows(say)
        self.sheet.comes_before = self.change.stops()
        self._arrange()

    @property
    def rows(self) -> Sequence[FieldRow]:
        """The fields that are shown."""
        return self.sheet.rows

    def show_clause(self, clause: Outlined | None, words: Sequence[str], *, writable: bool) -> None:
        """Show a clause as the file has it; nothing where the file cannot be read."""
        self.clause = clause
        dated = clause is not None and clause.id != HEAD
        self.heading.setText((clause.id or self._say("Head of the book")) if clause is not None else "")
        said, title = " ".join(words), clause.title if clause is not None else ""
        self.words.setText(said if 0 < len(said) <= _MOST_SAID else title)
        self.now.setVisible(dated)
        self.change.setVisible(dated and writable)
        if clause is not None:
            source = self._say.retold(clause.source)
            self.now.setText(self._say("Since {since} · {source}", since=clause.since, source=source))
            self.change.show_for(clause)
        self.sheet.show_fields(clause, writable=writable)
        self.tell(())

    def wanted(self) -> Wanted | None:
        """What the clause shall say; None where nothing is changed."""
        if self.clause is None or not self.drafting():
            return None
        return Wanted(self.clause.id, self.sheet.changes(), *self.change.said())

    def drafting(self) -> bool:
        """Whether something stands here that is not kept."""
        dated = self.change.touched and self.clause is not None and self.clause.id != HEAD
        return dated or bool(self.sheet.changes())

    def tell(self, problems: Iterable[Problem]) -> None:
        """Say each problem beside the field it is about, else beneath them all."""
        left = {id(row): "" for row in self.rows}
        dated, others = [], []
        for problem in problems:
            said = f"{self._say.message(in_itself(problem))} {self._say.message(problem.remedy)}"
            row = self._row_about(problem)
            if row is not None:
                left[id(row)] = f"{left[id(row)]} {said}".strip()
            elif _is_about(problem, "since") or _is_about(problem, "source"):
                dated.append(said)
            else:
                others.append(f"{problem.where.rpartition('/')[2]}: {said}")
        for row in self.rows:
            row.tell(left[id(row)])
        self.change.tell(" ".join(dated))
        self.wrong.setText(" ".join(others))
        self.wrong.setVisible(bool(others))

    def lead_to(self, problem: Problem) -> None:
        """Give the keyboard to the field that a problem is about, else to the first."""
        self.sheet.lead_to(self._row_about(problem))

    def _row_about(self, problem: Problem) -> FieldRow | None:
        """The row whose field a problem names first, else one whose own words it quotes."""
        named = (row for row in self.rows if _is_about(problem, row.field.place))
        quoted = (row for row in self.rows if row.changed() and _quotes(problem, row.value()))
        return next(named, next(quoted, None))

    def _arrange(self) -> None:
        self.heading.setObjectName("heading")
        self.words.setWordWrap(True)
        self.words.setAccessibleName(self._say("What the clause says"))
        self.wrong.setObjectName("wrong")
        self.wrong.setWordWrap(True)
        self.wrong.hide()
        self.now.setObjectName("quiet")
        self.now.setWordWrap(True)
        self.sheet.edited.connect(self.drafted)
        self.sheet.entered.connect(self.entered)
        self.change.edited.connect(self.drafted)
        self.change.entered.connect(self.entered)
        column = QVBoxLayout(self)
        column.setContentsMargins(6, 0, 6, 0)
        for part in (self.heading, self.words, self.now):
            column.addWidget(part)
        column.addWidget(self.sheet, 1)
        column.addWidget(self.wrong)
        column.addWidget(self.change)


def _is_about(problem: Problem, place: str) -> bool:
    """Whether a problem names a field: it begins with the field's name in quotes."""
    return str(problem.message).startswith(repr(place.rpartition(".")[2]))


def _quotes(problem: Problem, value: Value) -> bool:
    return any(repr(word) in str(problem.message) for word in ([value] if isinstance(value, str) else value))
