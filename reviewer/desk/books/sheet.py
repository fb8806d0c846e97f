"""The fields of one clause beneath each other, those it could have besides, and what is typed in them."""

from collections.abc import Mapping, Sequence
from itertools import pairwise

from PyQt6.QtCore import QSize, Qt, pyqtSignal
from PyQt6.QtWidgets import QFrame, QGridLayout, QLabel, QMenu, QPushButton, QScrollArea, QWidget

from reviewer.actions.ownbooks import Field, Form, Outlined
from reviewer.desk.books.entries import AddEntry, Out
from reviewer.desk.books.rows import FieldRow, Value
from reviewer.desk.books.words import grouped, named
from reviewer.desk.buttons import button
from reviewer.words import Saying

_EXAMPLES = "examples"
_LEAST = 7
"""Lines of words that the fields have room for."""


class FieldSheet(QScrollArea):
    """A row a field, made anew for each clause. Fields may be added, said another way, or taken out.

    Attributes:
        rows: the fields that are shown, in order.
        comes_after, comes_before: the parts around it, for Tab.

    Signals:
        edited(): what the clause would say is another.
        entered(): Return was pressed in a row.
    """

    edited = pyqtSignal()
    entered = pyqtSignal()

    def __init__(self, say: Saying) -> None:
        super().__init__()
        self._say, self._writable = say, False
        self._clause: Outlined | None = None
        self._gone: set[str] = set()
        self._new: dict[str, str] = {}
        self.rows: list[FieldRow] = []
        self.comes_after: QWidget = self
        self.comes_before: tuple[QWidget, ...] = ()
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName(say("Fields of the clause"))

    def sizeHint(self) -> QSize:
        """Room for a few lines of words, however large those are; what is around the fields scrolls then."""
        return QSize(super().sizeHint().width(), _LEAST * self.fontMetrics().lineSpacing())

    def minimumSizeHint(self) -> QSize:
        """No less than that."""
        return QSize(super().minimumSizeHint().width(), self.sizeHint().height())

    def show_fields(self, clause: Outlined | None, *, writable: bool) -> None:
        """Show what a clause says in the file, the keyboard on the same field as before."""
        here = next((row.field.place for row in self.rows if row.edit.hasFocus()), None)
        self._clause, self._writable, self._gone, self._new = clause, writable, set(), {}
        self._fill([one for one in clause.fields if one.value is not None] if clause else [])
        for row in self.rows:
            if row.field.place == here:
                row.edit.setFocus()

    def changes(self) -> Mapping[str, Value]:
        """Place by place what differs from the file: first what goes, then what comes."""
        gone: dict[str, Value] = dict.fromkeys(sorted(self._gone), "")
        typed = {row.field.place: row.value() for row in self.rows if row.changed() and not self._is_out(row)}
        return gone | self._new | typed

    def lead_to(self, row: FieldRow | None) -> None:
        """Give the keyboard to a row, or to the first."""
        for one in [row] if row is not None else self.rows[:1]:
            one.edit.setFocus()
            self.ensureWidgetVisible(one)

    def _is_out(self, row: FieldRow) -> bool:
        return any(row.field.place.startswith(f"{place}.") for place in self._gone)

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
                self._head(grid, at, group, row.field.place)
                within, at = group, at + 1
            grid.addWidget(row.name, at, 0)
            grid.addWidget(row, at, 1)
            at += 1
        for part in self._besides() if self._writable else ():
            grid.addWidget(part, at, 0, 1, 2)
            at += 1
        grid.setRowStretch(at, 1)
        before = self.takeWidget()
        if before is not None:
            before.hide()
            before.deleteLater()  # a row of it may be at work with the key that led here
        self.setWidget(page)
        self._order(page)

    def _order(self, page: QWidget) -> None:
        """Let Tab go through the fields as they stand, then to what comes after them."""
        besides = [one for one in page.findChildren(QWidget) if one.parent() not in self.rows]
        stops = [stop for row in self.rows for stop in (row.name, *row.stops())]
        chain = [self.comes_after, *stops, *(one for one in besides if one not in stops), *self.comes_before]
        here = [one for one in chain if one.window() is self.window()]
        heard = [one for one in here if one.focusPolicy() != Qt.FocusPolicy.NoFocus]
        for one, after in pairwise(heard):
            self.setTabOrder(one, after)

    def _head(self, grid: QGridLayout, at: int, group: str, place: str) -> None:
        """What the rows beneath lie in; an element of a list can be taken out of it whole."""
        label = QLabel(group)
        label.setObjectName("heading")
        grid.addWidget(label, at, 0, 1, 2)
        entry = place.rpartition(".")[0]
        if self._writable and entry.startswith("elements.") and f"{entry}.code" not in self._new:
            out = Out(self._say, entry, entry in self._gone)
            out.turned.connect(self._turn_out)
            grid.addWidget(out, at, 1, Qt.AlignmentFlag.AlignRight)

    def _row(self, field: Field) -> FieldRow:
        fields = self._clause.fields if self._clause else ()
        also = [one for place in field.instead for one in fields if one.place == place]
        row = FieldRow(field, self._say, writable=self._writable, also=also)
        row.edited.connect(self.edited)
        row.exchanged.connect(self._exchange)
        row.entered.connect(self.entered)
        return row

    def _besides(self) -> list[QWidget]:
        """What else the clause may say, entries that may be added to its lists, and its examples."""
        found: list[QWidget] = []
        if absent := self._absent():
            found.append(self._more(absent))
        for place in self._clause.lists if self._clause else ():
            adding = AddEntry(self._say, place)
            adding.added.connect(self._add_entry)
            found.append(adding)
        count = self._clause.examples if self._clause is not None else 0
        if count:
            words = self._say("Take its examples out: {count}", count=count)
            out = Out(self._say, _EXAMPLES, _EXAMPLES in self._gone, words)
            out.turned.connect(self._turn_out)
            found.append(out)
        return found

    def _absent(self) -> list[Field]:
        shown = {row.field.place for row in self.rows}
        taken = {place for row in self.rows for place in row.field.instead}
        return [one for one in self._clause.fields if one.place not in shown | taken] if self._clause else []

    def _more(self, absent: Sequence[Field]) -> QPushButton:
        made = button(self._say("Say &more"))
        menu = QMenu(made)
        for field in absent:
            words = ": ".join(filter(None, (grouped(self._say, field.place), named(self._say, field.place))))
            action = menu.addAction(words)
            if action is not None:
                action.triggered.connect(lambda _, one=field: self._add(one))
        made.setMenu(menu)
        return made

    def _add(self, field: Field) -> None:
        """Show a field that the clause does not have yet, where its like stand."""
        group = field.place.rpartition(".")[0]
        like = [at for at, row in enumerate(self.rows) if row.field.place.rpartition(".")[0] == group]
        self._rebuilt(like[-1] + 1 if like else len(self.rows), field)

    def _add_entry(self, place: str, code: str) -> None:
        """Show the name of a new entry of a list: an element, a role or a condition."""
        entry = f"{place}.{code}"
        if any(row.field.place in (entry, f"{entry}.name") for row in self.rows):
            return
        if place == "elements":
            self._new[f"{entry}.code"] = code
        named_at = f"{entry}.name" if place == "elements" else entry
        like = [at for at, row in enumerate(self.rows) if row.field.place.startswith(f"{place}.")]
        self._rebuilt(like[-1] + 1 if like else len(self.rows), Field(named_at, None, Form("text")))
        self.edited.emit()

    def _exchange(self, old: str, new: str) -> None:
        """Let the amount be said in another way: the field it was said in goes."""
        if old == new or self._clause is None:
            return
        at = next(at for at, row in enumerate(self.rows) if row.field.place == old)
        gone, field = self.rows[at].field, next(one for one in self._clause.fields if one.place == new)
        if gone.value is not None:
            self._gone.add(old)
        self._gone.discard(new)
        self._rebuilt(at, field, instead=True)
        self.edited.emit()

    def _turn_out(self, place: str, out: bool) -> None:
        (self._gone.add if out else self._gone.discard)(place)
        for row in self.rows:
            if row.field.place.startswith(f"{place}."):
                row.setEnabled(not out)
        self.edited.emit()

    def _rebuilt(self, at: int, field: Field, *, instead: bool = False) -> None:
        """Show the rows with another among them, each with what is typed in it."""
        typed = {row.field.place: row.shown() for row in self.rows if row.changed()}
        fields = [row.field for row in self.rows]
        fields[at : at + 1 if instead else at] = [field]
        self._fill(fields)
        for row in self.rows:
            row.setEnabled(not self._is_out(row))
            if row.field.place in typed:
                row.put(typed[row.field.place])
        (self.rows[at].name if instead else self.rows[at].edit).setFocus()
        self.ensureWidgetVisible(self.rows[at])
