"""The page of a case's inquiries: filing one, what the marks say to it, and answering it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import (
    QComboBox,
    QDialog,
    QFormLayout,
    QLineEdit,
    QListWidget,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from reviewer import actions
from reviewer.desk.asked import listed_as, told
from reviewer.desk.bench import Bench
from reviewer.desk.buttons import button
from reviewer.desk.calls import CallError
from reviewer.desk.choosing import file_to_write
from reviewer.desk.filing import AboutMarks, PostedStart
from reviewer.desk.flowing import Flowing
from reviewer.desk.footline import FootLine
from reviewer.desk.placing import fitting
from reviewer.terms.callwords import with_point
from reviewer.terms.inquiries import FINDINGS
from reviewer.terms.measures import TYPED_TIMES, Measure
from reviewer.terms.messages import message, noted, spoken
from reviewer.terms.problems import Problem
from reviewer.terms.provisions import InquiryRule
from reviewer.words import Saying

if TYPE_CHECKING:
    from reviewer.actions import Audit, Change

AS_MARKED = noted("as the marks say")
_WORDS = (noted("Answer {inquiry}"), noted("Letter to {inquiry}…"), noted("Withdraw {inquiry}"))
NOTHING = noted("No inquiry was filed. A report of this case is informational.")


class InquiriesPage(QDialog):
    """Files inquiries about the case on the desk and answers them; each is one step of undo."""

    def __init__(self, parent: Any, bench: Bench) -> None:
        super().__init__(parent)
        say = bench.say
        self.setWindowTitle(say("Inquiries"))
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._bench = bench
        self.asked_by, self.about, self.finding = (
            _box(say("Asked by")),
            _box(say("About")),
            _box(say("Found")),
        )
        self.after, self.words = QLineEdit(), QLineEdit()
        self.marks, self.posted_start = AboutMarks(bench), PostedStart(bench)
        self.said = QLineEdit()
        self.listed, self.told = QListWidget(), QTextBrowser()
        self._chosen_id = ""
        self.finding.setEditable(False)
        for finding in (AS_MARKED, *FINDINGS):
            self.finding.addItem(say.word(finding), finding)
        self._below, self.foot = QWidget(), FootLine(say)
        self._answering = [button("", does) for does in (self.answer, self._ask_letter, self._withdraw)]
        self._arrange()
        self.listed.currentRowChanged.connect(lambda _: self._choose())
        bench.changed.connect(self.refresh)
        self.resize(fitting(self, 760, 560))
        self.refresh()

    def refresh(self) -> None:
        """Read the case again."""
        book, found = self._bench.book, self._asked()
        for box, settles in ((self.asked_by, "asked-by"), (self.about, "about")):
            kept = _typed(box)
            rules = book.all(InquiryRule) if book is not None else ()
            box.clear()
            for word in (word for rule in rules if rule.settles == settles for word in rule.allowed):
                box.addItem(self._bench.say.word(word), word)
            box.setEditText(self._bench.say.word(kept) if kept else box.itemText(0))
        chosen = self._chosen_id
        self.listed.blockSignals(True)
        self.listed.clear()
        self.listed.addItems([listed_as(one, self._bench.say) for one in found])
        for part in (self.listed, self._below):
            part.setVisible(bool(found))
        self.listed.setCurrentRow(_row(found, chosen))
        self.listed.blockSignals(False)
        self._choose()

    def file(self) -> bool:
        """Keep the inquiry as it stands in the form; whether it was kept."""

        def filed(audit: Audit) -> Change:
            actions.file_inquiry(
                audit,
                asked_by=_typed(self.asked_by),
                about=_typed(self.about),
                after=_time(self.after.text(), self._bench.say),
                marks=self.marks.ids(),
                words=_question(self.words.text(), self._bench.say),
            )
            return actions.Change(frozenset({"inquiries"}))

        done = self._do(filed, "")
        if done:
            self.listed.setCurrentRow(self.listed.count() - 1)
            kept = self._bench.say("Inquiry {inquiry} is kept.", inquiry=self._chosen_id)
            self._bench.said.emit(kept, False)
            self.words.clear()
            self.finding.setFocus()  # answering comes next
        return done

    def answer(self) -> bool:
        """Answer the chosen inquiry; whether that was done."""
        wanted = self.finding.currentData()

        def answered(audit: Audit) -> Change:
            return actions.answer_inquiry(
                audit,
                self._chosen()["id"],
                None if wanted == AS_MARKED else wanted,
                words=self.said.text().strip(),
            )

        done = self._bench.say("The answer to inquiry {inquiry} is kept.", inquiry=self._chosen_id)
        return self._do(answered, done)

    def write_letter(self, path: Path) -> bool:
        """Write the letter to the chosen inquiry; whether that was done."""

        def written(audit: Audit) -> None:
            actions.write_letter(audit, self._chosen()["id"], path, date.today().isoformat())

        done = self._bench.say("The letter is in {file}.", file=path.name)
        return self._bench.attempt(lambda: written(self._bench.on_desk()), done)

    def _withdraw(self) -> None:
        self._do(
            lambda audit: actions.withdraw_inquiry(audit, self._chosen()["id"]),
            self._bench.say("Inquiry {inquiry} is withdrawn; undo brings it back.", inquiry=self._chosen_id),
        )

    def _ask_letter(self) -> None:
        say = self._bench.say
        path = file_to_write(self, say("Letter"), say("Text (*.txt)"), say("answer.txt"))
        if path is not None:
            self.write_letter(path)

    def _do(self, doing: Callable[[Audit], Change], done: str) -> bool:
        return self._bench.attempt(lambda: doing(self._bench.open_audit()), done)

    def _asked(self) -> list[dict[str, Any]]:
        audit = self._bench.audit
        return actions.inquiries_document(audit, self._bench.say.word)["asked"] if audit is not None else []

    def _chosen(self) -> dict[str, Any]:
        found, row = self._asked(), self.listed.currentRow()
        if not 0 <= row < len(found):
            said, remedy = message("None is chosen."), message("File one, or choose one.")
            raise CallError(Problem("no-inquiry", "inquiries", said, remedy))
        return found[row]

    def _choose(self) -> None:
        """Show the chosen inquiry, and say which one the buttons are about."""
        found, row = self._asked(), self.listed.currentRow()
        say, here = self._bench.say, 0 <= row < len(found)
        self._chosen_id = found[row]["id"] if here else ""
        none = noted("No inquiry is chosen.") if found else NOTHING
        self.told.setHtml(told(found[row], say) if here else say(none))
        for one, words in zip(self._answering, _WORDS, strict=True):
            one.setText(say(words, inquiry=self._chosen_id).rstrip())
            one.setEnabled(here)

    def _arrange(self) -> None:
        form, say = QFormLayout(), self._bench.say
        for words, field in (
            (say("&Asked by"), self.asked_by),
            (say("A&bout"), self.about),
            (say("&Time after the score was shown"), self.after),
            (say("In these &words"), self.words),
            (say("Posted &start value"), self.posted_start),
        ):
            form.addRow(words, field)
            field.setAccessibleName(words.replace("&", ""))
        self.after.setPlaceholderText("45 s")
        self.listed.setAccessibleName(say("Inquiries filed"))
        self.listed.setMaximumHeight(4 * self.listed.fontMetrics().lineSpacing())
        self.told.setAccessibleName(say("What the marks say, and the answer"))
        self.said.setPlaceholderText(say("Said beside, in plain words"))
        self.said.setAccessibleName(say("Said beside"))
        answering, filing_it = Flowing(), Flowing()
        self._below.setLayout(answering)
        answering.add(self.finding)
        answering.add(self.said, takes_room=True)
        for one in self._answering:
            answering.add(one)
        column, file = QVBoxLayout(self), button(say("File it"), self.file)
        filing_it.add(self.marks, takes_room=True)
        filing_it.add(file)
        column.addLayout(form)
        column.addLayout(filing_it)
        column.addWidget(self.listed)
        column.addWidget(self.told, 1)
        column.addWidget(self._below)
        column.addWidget(self.foot)
        self._bench.said.connect(self.foot.tell)
        filing = (self.asked_by, self.about, self.after, self.words, self.posted_start, self.marks.tick, file)
        self._listen((*filing, self.finding, self.said))

    def _listen(self, fields: Sequence[QWidget]) -> None:
        """Return files and answers where it is typed; Tab goes from filing to answering and on."""
        for line, does in ((self.after, self.file), (self.words, self.file), (self.said, self.answer)):
            line.returnPressed.connect(does)
        for before, after in pairwise((*fields, *self._answering, self.listed, self.told)):
            QWidget.setTabOrder(before, after)


def _row(found: Sequence[Mapping[str, Any]], chosen: str) -> int:
    """Where the chosen inquiry stands in the list, else the newest that is not answered; -1 for none."""
    same = [at for at, one in enumerate(found) if one["id"] == chosen]
    return (same or [-1, *(at for at, one in enumerate(found) if one["answer"] is None)])[-1]


def _typed(box: QComboBox) -> str:
    """What stands in a box: the edition's own word where it was chosen, else what was typed."""
    words = box.currentText().strip()
    at = box.findText(words, Qt.MatchFlag.MatchFixedString | Qt.MatchFlag.MatchCaseSensitive)
    return str(box.itemData(at)) if at >= 0 else words


def _time(typed: str, say: Saying) -> Measure | None:
    """A time as typed; nothing where nothing was, a CallError where it is none."""
    if not typed.strip():
        return None
    try:
        return Measure.typed_time(with_point(typed))
    except ValueError:
        said, remedy = (
            message("This is no time."),
            message("Type it as {forms}.", forms=spoken(TYPED_TIMES)),
        )
        raise CallError(Problem("no-time", typed.strip(), said, remedy)) from None


def _question(typed: str, say: Saying) -> str:
    """The question in its words; a CallError where there is none."""
    if not typed.strip():
        said, remedy = message("The question is missing."), message("Type it under “In these words”.")
        raise CallError(Problem("no-question", "inquiry", said, remedy))
    return typed.strip()


def _box(name: str) -> QComboBox:
    box = QComboBox()
    box.setAccessibleName(name)
    box.setEditable(True)
    return box
