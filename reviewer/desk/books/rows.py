"""One field of a clause on the form: its name, what it says, and what is wrong with that."""

from collections.abc import Sequence

from PyQt6.QtCore import pyqtSignal
from PyQt6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QMenu,
    QPlainTextEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from reviewer.actions.ownbooks import CHOICE, CODES, MEASURE, QUANTITIES, QUANTITY, TEXTS, Field
from reviewer.desk.books.lines import Choice, Line, ListCompleter
from reviewer.desk.books.words import named
from reviewer.desk.buttons import button
from reviewer.terms.callwords import with_point
from reviewer.words import Saying

Value = str | tuple[str, ...]


class FieldRow(QWidget):
    """A field to be changed. What it says is exact text: nothing is rounded or written another way.

    Attributes:
        field: what stands in the file.
        name: the field's name on the form; a choice where another field may be said instead.

    Signals:
        edited(): it says something else than before.
        entered(): Return was pressed in it.
        exchanged(str, str): the field of the first place shall be said instead as the second.
    """

    edited = pyqtSignal()
    entered = pyqtSignal()
    exchanged = pyqtSignal(str, str)

    def __init__(self, field: Field, say: Saying, *, writable: bool, also: Sequence[Field] = ()) -> None:
        super().__init__()
        self.field, self._say = field, say
        self.name = self._named(also, writable)
        self.edit = self._editor(writable)
        self.wrong = QLabel()
        self.wrong.setObjectName("wrong")
        self.wrong.setWordWrap(True)
        self.wrong.hide()
        self._arrange(writable)

    def value(self) -> Value:
        """What the row says now, as it would stand in the file; empty text takes the field out."""
        if isinstance(self.edit, QComboBox):
            return self.edit.currentText()
        if isinstance(self.edit, QPlainTextEdit):
            lines = (line.strip() for line in self.edit.toPlainText().splitlines())
            return tuple(line for line in lines if line)
        typed, kind = self.edit.text().strip(), self.field.form.kind
        if kind in (QUANTITY, MEASURE) or (kind == QUANTITIES and "." not in typed):
            typed = with_point(typed)
        if kind in (CODES, TEXTS, QUANTITIES):
            parts = (part.strip() for part in typed.split(","))
            return tuple(self._with_unit(part) for part in parts if part)
        return self._with_unit(typed) if typed else ""

    def shown(self) -> str:
        """What is typed or chosen, as it is on the screen."""
        if isinstance(self.edit, QComboBox):
            return self.edit.currentText()
        return self.edit.toPlainText() if isinstance(self.edit, QPlainTextEdit) else self.edit.text()

    def put(self, shown: str) -> None:
        """Show this instead."""
        if isinstance(self.edit, QComboBox):
            self.edit.setCurrentText(shown)
        elif isinstance(self.edit, QPlainTextEdit):
            self.edit.setPlainText(shown)
        else:
            self.edit.setText(shown)

    def changed(self) -> bool:
        """Whether it says something else than the file."""
        before = self.field.value
        if before is None:
            return self.value() not in ("", ())
        return self.value() != (before.strip() if isinstance(before, str) else before)

    def tell(self, words: str) -> None:
        """Say what is wrong with it, or with no words that nothing is; its unit stands beside it already."""
        unit = self._unit()
        self.wrong.setText(words.replace(f" {unit}'", "'") if unit else words)
        self.wrong.setVisible(bool(words))
        self.edit.setAccessibleDescription(words)

    def stops(self) -> tuple[QWidget, ...]:
        """Where the keyboard stops in the row, in order."""
        return (self.edit, *self.findChildren(QPushButton))

    def _with_unit(self, typed: str) -> str:
        unit = self._unit()
        return f"{typed} {unit}" if unit and not typed.endswith(unit) else typed

    def _without_unit(self, said: str) -> str:
        unit = self._unit()
        return said.removesuffix(f" {unit}") if unit else said

    def _unit(self) -> str:
        form = self.field.form
        return form.unit if form.kind in (QUANTITY, QUANTITIES) else ""

    def _named(self, also: Sequence[Field], writable: bool) -> QLabel | Choice:
        words = named(self._say, self.field.place)
        if len(also) < 2 or not writable:
            label = QLabel(words)
            label.setWordWrap(True)
            label.setToolTip(self.field.place)
            return label
        box = Choice()
        box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        box.addItems([named(self._say, one.place) for one in also])
        box.setCurrentText(words)
        box.setAccessibleName(self._say("How the amount is said"))
        box.setToolTip(self.field.place)
        box.entered.connect(self.entered)
        box.activated.connect(lambda at: self.exchanged.emit(self.field.place, also[at].place))
        return box

    def _editor(self, writable: bool) -> QLineEdit | QComboBox | QPlainTextEdit:
        kind, said = self.field.form.kind, self.field.value
        if kind == CHOICE:
            return self._choice(said if isinstance(said, str) else "", writable)
        if kind == TEXTS and not self.field.form.allowed:
            return self._lines(said if isinstance(said, tuple) else (), writable)
        line = Line()
        texts = (said,) if isinstance(said, str) else said or ()
        line.setText(", ".join(map(self._without_unit, texts)))
        line.setCursorPosition(0)
        line.setReadOnly(not writable)
        line.setPlaceholderText(self.field.form.unit if kind == MEASURE else self._say("not said"))
        line.textEdited.connect(lambda _: self.edited.emit())
        line.returnPressed.connect(self.entered)
        if kind == CODES and writable and self.field.form.allowed:
            self._complete(line)
        return line

    def _choice(self, said: str, writable: bool) -> QComboBox:
        box, known = Choice(), self.field.form.allowed
        box.addItems([*([] if said in known else [said]), *known])
        box.setCurrentText(said)
        box.setEnabled(writable)
        box.activated.connect(lambda _: self.edited.emit())
        box.entered.connect(self.entered)
        return box

    def _lines(self, said: tuple[str, ...], writable: bool) -> QPlainTextEdit:
        page = QPlainTextEdit("\n".join(said))
        page.setTabChangesFocus(True)
        page.setReadOnly(not writable)
        page.setFixedHeight(page.fontMetrics().lineSpacing() * 6)
        page.setToolTip(self._say("One on each line"))
        page.textChanged.connect(self.edited.emit)
        return page

    def _complete(self, line: QLineEdit) -> None:
        """Offer codes of the book for the last word of a list."""
        completer = ListCompleter(self.field.form.allowed, line)
        completer.activated.connect(lambda _: self.edited.emit())

    def _arrange(self, writable: bool) -> None:
        words = named(self._say, self.field.place)
        self.edit.setAccessibleName(words)
        across = QHBoxLayout()
        across.setContentsMargins(0, 0, 0, 0)
        across.addWidget(self.edit, 1)
        if self._unit():
            across.addWidget(QLabel(self._say.word(self._unit())))
        if self.field.form.kind in (CODES, TEXTS) and self.field.form.allowed and writable:
            across.addWidget(self._offered(words))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addLayout(across)
        column.addWidget(self.wrong)

    def _offered(self, words: str) -> QPushButton:
        """A list of what may be named, each put in or taken out."""
        made = button(self._say("Choose"))
        made.setAccessibleName(self._say("Choose: {what}", what=words))
        menu = QMenu(made)
        menu.aboutToShow.connect(lambda: self._fill(menu))
        made.setMenu(menu)
        return made

    def _fill(self, menu: QMenu) -> None:
        menu.clear()
        said = self.value()
        for word in self.field.form.allowed:
            action = menu.addAction(word)
            if action is not None:
                action.setCheckable(True)
                action.setChecked(word in said)
                action.triggered.connect(lambda _, one=word: self._turn(one))

    def _turn(self, word: str) -> None:
        said = [*self.value()]
        kept = [one for one in said if one != word] if word in said else [*said, word]
        if isinstance(self.edit, QLineEdit):
            self.edit.setText(", ".join(kept))
            self.edited.emit()
