"""One clause of a rule book on the form: what it says in sentences, its fields, and the change to be kept."""

from collections.abc import Iterable, Sequence
from itertools import pairwise

from PyQt6.QtCore import Qt, pyqtSignal
from PyQt6.QtWidgets import (
    QFrame,
    QGridLayout,
    QLabel,
    QMenu,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from reviewer.actions.ownbooks import HEAD, Field, Outlined, Wanted
from reviewer.desk.books.change import ChangeRows
from reviewer.desk.books.rows import FieldRow
from reviewer.desk.books.words import grouped, named
from reviewer.terms.problems import Problem
from reviewer.words import Saying

_EXAMPLES = "examples"


class ClauseForm(QWidget):
    """The chosen clause, or the head of the book. Nothing typed here is on disk before it is kept.

    Attributes:
        clause: what is shown, or None.
        rows: its fields.
        change: from when the change holds and what it rests on.
        comes_after: the part before it, for Tab.

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
        self.rows: list[FieldRow] = []
        self._gone: set[str] = set()
        self.heading, self.words, self.now, self.wrong = QLabel(), QLabel(), QLabel(), QLabel()
        self.sheet = QScrollArea()
        self.change = ChangeRows(say)
        self.comes_after: QWidget = self
        self._arrange()

    def show_clause(self, clause: Outlined, words: Sequence[str], *, writable: bool) -> None:
        """Show a clause as the file has it."""
        self.clause, self._writable, self._gone = clause, writable, set()
        self.heading.setText(clause.id or self._say("Head of the book"))
        self.words.setText(" ".join(words) or clause.title)
        since = self._say("Since {since} · {source}", since=clause.since, source=clause.source)
        self.now.setText(since if clause.id != HEAD else "")
        self.now.setVisible(clause.id != HEAD)
        self.change.show_for(clause)
        self.change.setVisible(writable and clause.id != HEAD)
        here = next((row.field.place for row in self.rows if row.edit.hasFocus()), None)
        self._fill([one for one in clause.fields if one.value is not None])
        for row in self.rows:
            if row.field.place == here:
                row.edit.setFocus()
        self.tell(())

    def wanted(self) -> Wanted | None:
        """What the clause shall say; None where nothing is changed."""
        if self.clause is None or not self.drafting():
            return None
        gone = dict.fromkeys(self._gone, "")
        typed = {row.field.place: row.value() for row in self.rows if row.changed()}
        return Wanted(self.clause.id, {**gone, **typed}, *self.change.said())

    def drafting(self) -> bool:
        """Whether something stands here that is not kept."""
        dated = self.change.touched and self.clause is not None and self.clause.id != HEAD
        return bool(self._gone) or dated or any(row.changed() for row in self.rows)

    def tell(self, problems: Iterable[Problem]) -> None:
        """Say each problem beside the field it is about, else beneath them all."""
        left = {id(row): "" for row in self.rows}
        dated, others = [], []
        for problem in problems:
            said = f"{problem.message.replace(' Nothing was written.', '')} {problem.remedy}"
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

    def lead_to(self, problem: Problem | None) -> None:
        """Give the keyboard to the field that a problem is about, else to the first."""
        row = self._row_about(problem) if problem is not None else None
        for one in [row] if row is not None else self.rows[:1]:
            one.edit.setFocus()
            self.sheet.ensureWidgetVisible(one)

    def _row_about(self, problem: Problem) -> FieldRow | None:
        """The row whose field a problem names first, else one whose own words it quotes."""
        named = (row for row in self.rows if _is_about(problem, row.field.place))
        quoted = (row for row in self.rows if row.changed() and _quotes(problem, row.value()))
        return next(named, next(quoted, None))

    def _fill(self, fields: Sequence[Field]) -> None:
        self.rows = [self._row(field) for field in fields]
        page = QWidget()
        grid = QGridLayout(page)
        grid.setContentsMargins(2, 2, 8, 2)
        grid.setColumnStretch(1, 1)
        within, at = "", 0
        for row in self.rows:
            group = grouped(self._say, row.field.place)
            if group != within:
                grid.addWidget(_heading(group or " "), at, 0, 1, 2)
                within, at = group, at + 1
            grid.addWidget(row.name, at, 0)
            grid.addWidget(row, at, 1)
            if isinstance(row.name, QLabel):
                row.name.setBuddy(row.edit)
            at += 1
        if self._writable:
            for button in filter(None, (self._more(), self._examples())):
                grid.addWidget(button, at, 0, 1, 2)
                at += 1
        grid.setRowStretch(at + 1, 1)
        before = self.sheet.takeWidget()
        if before is not None:
            before.hide()
            before.deleteLater()  # a row of it may be at work with the key that led here
        self.sheet.setWidget(page)
        self._order(page)

    def _order(self, page: QWidget) -> None:
        """Let Tab go through the fields as they stand, then to the date of the change."""
        buttons = [one for one in page.findChildren(QPushButton) if one.parent() is page]
        stops = [stop for row in self.rows for stop in (row.name, *row.stops())]
        chain: list[QWidget] = [self.comes_after, *stops, *buttons, *self.change.stops()]
        heard = [one for one in chain if one.focusPolicy() != Qt.FocusPolicy.NoFocus]
        for one, after in pairwise(heard):
            self.setTabOrder(one, after)

    def _row(self, field: Field) -> FieldRow:
        fields = self.clause.fields if self.clause else ()
        also = [one for place in field.instead for one in fields if one.place == place]
        row = FieldRow(field, self._say, writable=self._writable, also=also)
        row.edited.connect(self.drafted)
        row.exchanged.connect(self._exchange)
        row.entered.connect(self.entered)
        return row

    def _more(self) -> QPushButton | None:
        """What else the clause may say."""
        shown = {row.field.place for row in self.rows}
        taken = {place for row in self.rows for place in row.field.instead}
        absent = [one for one in self.clause.fields if one.place not in shown | taken] if self.clause else []
        if not absent:
            return None
        button = QPushButton(self._say("Say &more"))
        button.setAutoDefault(False)
        menu = QMenu(button)
        for field in absent:
            words = ": ".join(filter(None, (grouped(self._say, field.place), named(self._say, field.place))))
            action = menu.addAction(words)
            if action is not None:
                action.triggered.connect(lambda _, one=field: self._add(one))
        button.setMenu(menu)
        return button

    def _examples(self) -> QPushButton | None:
        """Taking the clause's examples out, which a changed amount may contradict."""
        count = self.clause.examples if self.clause is not None else 0
        if not count:
            return None
        button = QPushButton(self._say("Take its e&xamples out: {count}", count=count))
        button.setAutoDefault(False)
        button.setCheckable(True)
        button.setChecked(_EXAMPLES in self._gone)
        button.toggled.connect(self._without_examples)
        return button

    def _without_examples(self, without: bool) -> None:
        (self._gone.add if without else self._gone.discard)(_EXAMPLES)
        self.drafted.emit()

    def _add(self, field: Field) -> None:
        """Show a field that the clause does not have yet, where its like stand."""
        group = field.place.rpartition(".")[0]
        like = [at for at, row in enumerate(self.rows) if row.field.place.rpartition(".")[0] == group]
        self._rebuilt(like[-1] + 1 if like else len(self.rows), field)

    def _exchange(self, old: str, new: str) -> None:
        """Let the amount be said in another way: the field it was said in goes."""
        if old == new or self.clause is None:
            return
        at = next(at for at, row in enumerate(self.rows) if row.field.place == old)
        gone, field = self.rows[at].field, next(one for one in self.clause.fields if one.place == new)
        if gone.value is not None:
            self._gone.add(old)
        self._gone.discard(new)
        self._rebuilt(at, field, instead=True)
        self.drafted.emit()

    def _rebuilt(self, at: int, field: Field, *, instead: bool = False) -> None:
        """Show the rows with another among them, each with what is typed in it."""
        typed = {row.field.place: row.shown() for row in self.rows if row.changed()}
        fields = [row.field for row in self.rows]
        fields[at : at + 1 if instead else at] = [field]
        self._fill(fields)
        for row in self.rows:
            if row.field.place in typed:
                row.put(typed[row.field.place])
        (self.rows[at].name if instead else self.rows[at].edit).setFocus()
        self.sheet.ensureWidgetVisible(self.rows[at])

    def _arrange(self) -> None:
        self.heading.setObjectName("heading")
        self.words.setWordWrap(True)
        self.words.setAccessibleName(self._say("What the clause says"))
        self.wrong.setObjectName("wrong")
        self.wrong.setWordWrap(True)
        self.wrong.hide()
        self.sheet.setWidgetResizable(True)
        self.sheet.setFrameShape(QFrame.Shape.NoFrame)
        self.sheet.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.sheet.setAccessibleName(self._say("Fields of the clause"))
        self.change.edited.connect(self.drafted)
        self.change.entered.connect(self.entered)
        column = QVBoxLayout(self)
        column.setContentsMargins(6, 0, 6, 0)
        self.now.setObjectName("quiet")
        self.now.setWordWrap(True)
        for part in (self.heading, self.words, self.now):
            column.addWidget(part)
        column.addWidget(self.sheet, 1)
        column.addWidget(self.wrong)
        column.addWidget(self.change)


def _is_about(problem: Problem, place: str) -> bool:
    """Whether a problem names a field: it begins with the field's name in quotes."""
    return problem.message.startswith(repr(place.rpartition(".")[2]))


def _quotes(problem: Problem, value: str | tuple[str, ...]) -> bool:
    return any(repr(word) in problem.message for word in ([value] if isinstance(value, str) else value))


def _heading(words: str) -> QLabel:
    label = QLabel(words)
    label.setObjectName("heading")
    return label
