"""The form to start a case: what stands in it at first is enough, and what is refused is said in it."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from PyQt6.QtWidgets import (
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QWidget,
)

from reviewer import actions
from reviewer.desk.buttons import button
from reviewer.desk.choosing import file_to_read
from reviewer.desk.errors import of_the_system
from reviewer.desk.saidlabel import SaidLabel
from reviewer.terms.codes import no_athlete_code, no_code
from reviewer.terms.messages import noted
from reviewer.terms.problems import Problem, ReviewerError
from reviewer.words import Saying

CONSENT = (noted("not recorded"), noted("given"), noted("refused"), noted("withdrawn"))


@dataclass(frozen=True, slots=True)
class Beginning:
    """What the form was filled in with."""

    path: Path
    author: str
    athlete_code: str
    consent: str
    rule_book: str


class StartForm(QDialog):
    """The form that starts a case with ``starts``; where that is refused, all that was typed stays."""

    def __init__(
        self,
        parent: QWidget,
        say: Saying,
        *,
        recording: Path | None,
        author: str,
        starts: Callable[[Beginning], object],
    ) -> None:
        super().__init__(parent)
        self._say, self._starts = say, starts
        self.setWindowTitle(say("Start a case"))
        self.file = QLineEdit(str(free_name(recording)))
        self.author = QLineEdit(author)
        self.athlete = QLineEdit("athlete-1")
        self.consent = QComboBox()
        for consent in CONSENT:
            self.consent.addItem(say.word(consent), consent)
        self.book = _books(recording)
        self.wrong = SaidLabel()
        self._fields: dict[str, tuple[str, QWidget]] = {
            "path": (say("&Case file"), self.file),
            "author": (say("&Your code"), self.author),
            "athlete": (say("&Athlete’s code (no name)"), self.athlete),
            "consent": (say("C&onsent to this recording"), self.consent),
            "book": (say("&Rule book"), self.book),
        }
        self._arrange(recording)

    def beginning(self) -> Beginning:
        """What stands in the form."""
        return Beginning(
            path=Path(self.file.text().strip()).expanduser(),
            author=self.author.text().strip(),
            athlete_code=self.athlete.text().strip(),
            consent=self.consent.currentData(),
            rule_book=self.book.currentText().strip(),
        )

    def _arrange(self, recording: Path | None) -> None:
        form, say = QFormLayout(self), self._say
        shown = recording.name if recording else say("none: marks without times")
        form.addRow(say("Recording"), QLabel(shown))
        for words, field in self._fields.values():
            label = QLabel(words)
            label.setBuddy(field)
            form.addRow(label, self._with_files() if field is self.book else field)
            field.setAccessibleName(words.replace("&", ""))
        buttons = QDialogButtonBox()
        start = buttons.addButton(say("Start"), QDialogButtonBox.ButtonRole.AcceptRole)
        buttons.addButton(say("Not now"), QDialogButtonBox.ButtonRole.RejectRole)
        buttons.accepted.connect(self._begin)
        buttons.rejected.connect(self.reject)
        self.wrong.setWordWrap(True)
        self.wrong.hide()
        form.addRow(self.wrong)
        form.addRow(buttons)
        if start is not None:
            start.setDefault(True)
            start.setFocus()
        self.setMinimumWidth(520)

    def _with_files(self) -> QWidget:
        """The list of editions, and the way to a file of one's own."""
        beside, row = QWidget(), QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.book, 1)
        row.addWidget(button(self._say("A file…"), self._ask_book))
        beside.setLayout(row)
        return beside

    def _ask_book(self) -> None:
        say, folder = self._say, str(self.beginning().path.parent)
        path = file_to_read(self, say("Rule book"), say("Rule books (*.yaml)"), folder)
        if path is not None:
            self.book.setEditText(str(path))

    def _begin(self) -> None:
        """Start the case and leave, or say in the form what was refused, so that nothing typed is lost."""
        typed = self.beginning()
        code = no_code(typed.author, "")
        if code is not None:
            return self._refuse("author", code)
        if (code := no_athlete_code(typed.athlete_code, "")) is not None:
            return self._refuse("athlete", code)
        try:
            self._starts(typed)
        except ReviewerError as error:
            problem = error.problems[0]
            about_book = problem.where.startswith(typed.rule_book) or problem.code == "unknown-rule-book"
            self._refuse("book" if about_book else "path", problem)
        except OSError as error:
            self._refuse("path", of_the_system(error).problems[0])
        else:
            self.accept()

    def _refuse(self, which: str, problem: Problem) -> None:
        """Say what is wrong with a field, and put the keyboard there."""
        label, field = self._fields[which]
        tell = self._say.message
        said = (f"{label.replace('&', '')}: {tell(problem.message)}", tell(problem.remedy))
        self.wrong.setText(" ".join(said))
        self.wrong.show()
        field.setFocus()
        if isinstance(field, QLineEdit):
            field.selectAll()
        if (form := self.layout()) is not None:
            self.resize(self.width(), max(self.height(), form.totalHeightForWidth(self.width())))


def _books(recording: Path | None) -> QComboBox:
    """The shipped editions, and what lies beside the recording; another file may be typed."""
    box = QComboBox()
    box.setEditable(True)
    box.addItems([book.id for book in actions.shipped_books()])
    box.addItems([str(path) for path in sorted(recording.parent.glob("*.yaml"))] if recording else [])
    box.setCurrentText(actions.DEFAULT_BOOK)
    return box


def free_name(recording: Path | None) -> Path:
    """A case file beside the recording that does not exist yet."""
    folder, stem = (recording.parent, recording.stem) if recording else (Path.home(), "routine")
    number = 1
    while (path := folder / f"{stem}{'' if number == 1 else f'-{number}'}.case").exists():
        number += 1
    return path
