"""Pages beside the window: what to type and press, About with the cautions, the form to start a case."""

from dataclasses import dataclass
from html import escape
from pathlib import Path

from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import (
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QLabel,
    QLineEdit,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from reviewer import __version__, actions
from reviewer.desk.saidlabel import SaidLabel
from reviewer.terms.codes import no_athlete_code
from reviewer.terms.messages import noted
from reviewer.words import Saying

DRAFTED = noted("These words were drafted by a machine, and no person who speaks the language has read them.")

CONSENT = (noted("not recorded"), noted("given"), noted("refused"), noted("withdrawn"))


class Page(QDialog):
    """Words to read beside the work; not in its way."""

    def __init__(self, parent: QWidget, title: str, text: QTextBrowser) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.text = text
        self.text.setAccessibleName(title)
        column = QVBoxLayout(self)
        column.addWidget(self.text)
        self.resize(700, 560)


def written(html: str) -> QTextBrowser:
    """Words as a page takes them."""
    text = QTextBrowser()
    text.setHtml(html)
    return text


def about_page(parent: QWidget, say: Saying) -> Page:
    """About, with every caution."""
    told = (escape(say.word(caution)) for caution in actions.cautions())
    said = "".join(f"<li style='margin-bottom:6px'>{caution}</li>" for caution in told)
    what = say("Post-meet score audits for women’s uneven bars.")
    licence = say(
        "Licence: GPL-3.0. Notices of the parts it uses stand in THIRD-PARTY.md inside the package."
    )
    drafted = f"<p>{say(DRAFTED)}</p>" if say.machine_drafted else ""
    head = f"<h2>reviewer {__version__}</h2><p>{what}</p>{drafted}<h3>{say('Cautions')}</h3>"
    return Page(parent, say("About reviewer"), written(f"{head}<ul>{said}</ul><p>{licence}</p>"))


@dataclass(frozen=True, slots=True)
class Beginning:
    """What the form was filled in with."""

    path: Path
    author: str
    athlete_code: str
    consent: str
    rule_book: str


class StartForm(QDialog):
    """The form that starts a case; what stands in it at first is enough."""

    def __init__(self, parent: QWidget, say: Saying, *, recording: Path | None, author: str) -> None:
        super().__init__(parent)
        self._say = say
        self.setWindowTitle(say("Start a case"))
        self.file = QLineEdit(str(free_name(recording)))
        self.author = QLineEdit(author)
        self.athlete = QLineEdit("athlete-1")
        self.consent = QComboBox()
        for consent in CONSENT:
            self.consent.addItem(say.word(consent), consent)
        self.book = QLineEdit(actions.DEFAULT_BOOK)
        self.wrong = SaidLabel()
        self._arrange(recording)

    def beginning(self) -> Beginning:
        """What stands in the form."""
        return Beginning(
            path=Path(self.file.text().strip()).expanduser(),
            author=self.author.text().strip(),
            athlete_code=self.athlete.text().strip(),
            consent=self.consent.currentData(),
            rule_book=self.book.text().strip(),
        )

    def _arrange(self, recording: Path | None) -> None:
        form, say = QFormLayout(self), self._say
        shown = recording.name if recording else say("none: marks without times")
        form.addRow(say("Recording"), QLabel(shown))
        rows: tuple[tuple[str, QWidget], ...] = (
            (say("&Case file"), self.file),
            (say("&Your code"), self.author),
            (say("&Athlete’s code (no name)"), self.athlete),
            (say("C&onsent to this recording"), self.consent),
            (say("&Rule book"), self.book),
        )
        for words, field in rows:
            form.addRow(words, field)
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

    def _begin(self) -> None:
        """Leave the form, or say in it what may be a name, so that nothing typed is lost."""
        problem = no_athlete_code(self.beginning().athlete_code, "")
        if problem is None:
            self.accept()
            return
        self.wrong.setText(f"{self._say.word(problem.message)} {self._say.word(problem.remedy)}")
        self.wrong.show()
        self.athlete.setFocus()
        self.athlete.selectAll()


def free_name(recording: Path | None) -> Path:
    """A case file beside the recording that does not exist yet."""
    folder, stem = (recording.parent, recording.stem) if recording else (Path.home(), "routine")
    number = 1
    while (path := folder / f"{stem}{'' if number == 1 else f'-{number}'}.case").exists():
        number += 1
    return path
