"""The page of a case's inquiries: filing one, what the marks say to it, and answering it."""

from collections.abc import Callable, Iterator
from datetime import date
from html import escape
from pathlib import Path
from typing import Any

from PyQt6.QtWidgets import (
    QComboBox,
    QDialog,
    QFileDialog,
    QFormLayout,
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QPushButton,
    QTextBrowser,
    QVBoxLayout,
)

from reviewer import actions
from reviewer.actions import Audit, Change
from reviewer.desk.bench import Bench
from reviewer.desk.calls import CallError
from reviewer.terms.inquiries import FINDINGS
from reviewer.terms.measures import TYPED_TIMES, Measure
from reviewer.terms.problems import Problem
from reviewer.terms.provisions import InquiryRule

AS_MARKED = "as the marks say"
NOTHING = "No inquiry was filed. A report of this case is informational."


class InquiriesPage(QDialog):
    """Files inquiries about the case on the desk and answers them; each is one step of undo."""

    def __init__(self, parent: Any, bench: Bench) -> None:
        super().__init__(parent)
        self.setWindowTitle("Inquiries")
        self._bench = bench
        self.asked_by, self.about, self.finding = _box("Asked by"), _box("About"), _box("Found")
        self.after, self.words = QLineEdit(), QLineEdit()
        self.said = QLineEdit()
        self.listed, self.told = QListWidget(), QTextBrowser()
        self.finding.addItems([AS_MARKED, *FINDINGS])
        self._arrange()
        self.listed.currentRowChanged.connect(lambda _: self._tell())
        bench.changed.connect(self.refresh)
        self.resize(760, 560)
        self.refresh()

    def refresh(self) -> None:
        """Read the case again."""
        book, found = self._bench.book, self._asked()
        for box, settles in ((self.asked_by, "asked-by"), (self.about, "about")):
            kept = box.currentText()
            rules = book.all(InquiryRule) if book is not None else ()
            box.clear()
            box.addItems([word for rule in rules if rule.settles == settles for word in rule.allowed])
            box.setEditText(kept or box.itemText(0))
        row = max(self.listed.currentRow(), 0)
        self.listed.blockSignals(True)
        self.listed.clear()
        self.listed.addItems([f"{one['id']}: {one['asked_by']}, {one['about']}" for one in found])
        self.listed.setCurrentRow(min(row, len(found) - 1))
        self.listed.blockSignals(False)
        self._tell()

    def file(self) -> bool:
        """Keep the inquiry as it stands in the form; whether it was kept."""

        def filed(audit: Audit) -> Change:
            actions.file_inquiry(
                audit,
                asked_by=self.asked_by.currentText().strip(),
                about=self.about.currentText().strip(),
                after=_time(self.after.text()),
                marks=self._bench.chosen,
                words=self.words.text().strip(),
            )
            return Change(frozenset({"inquiries"}))

        done = self._do(filed, "The inquiry is kept.")
        if done:
            self.listed.setCurrentRow(self.listed.count() - 1)
            self.words.clear()
        return done

    def answer(self) -> bool:
        """Answer the chosen inquiry; whether that was done."""
        wanted = self.finding.currentText()

        def answered(audit: Audit) -> Change:
            return actions.answer_inquiry(
                audit,
                self._chosen()["id"],
                None if wanted == AS_MARKED else wanted,
                words=self.said.text().strip(),
            )

        return self._do(answered, "The answer is kept.")

    def write_letter(self, path: Path) -> bool:
        """Write the letter to the chosen inquiry; whether that was done."""

        def written(audit: Audit) -> None:
            actions.write_letter(audit, self._chosen()["id"], path, date.today().isoformat())

        return self._bench.attempt(lambda: written(self._bench.on_desk()), f"The letter is in {path.name}.")

    def _withdraw(self) -> None:
        self._do(
            lambda audit: actions.withdraw_inquiry(audit, self._chosen()["id"]),
            "The inquiry is withdrawn; undo brings it back.",
        )

    def _ask_letter(self) -> None:
        name, _ = QFileDialog.getSaveFileName(self, "Letter", "answer.txt", "Text (*.txt)")
        if name:
            self.write_letter(Path(name))

    def _do(self, doing: Callable[[Audit], Change], done: str) -> bool:
        return self._bench.attempt(lambda: doing(self._bench.open_audit()), done)

    def _asked(self) -> list[dict[str, Any]]:
        audit = self._bench.audit
        return actions.inquiries_document(audit)["asked"] if audit is not None else []

    def _chosen(self) -> dict[str, Any]:
        found, row = self._asked(), self.listed.currentRow()
        if not 0 <= row < len(found):
            raise CallError(Problem("no-inquiry", "inquiries", "None is chosen.", "File one, or choose one."))
        return found[row]

    def _tell(self) -> None:
        found, row = self._asked(), self.listed.currentRow()
        self.told.setHtml(_told(found[row]) if 0 <= row < len(found) else NOTHING)

    def _arrange(self) -> None:
        form = QFormLayout()
        for words, field in (
            ("&Asked by", self.asked_by),
            ("A&bout", self.about),
            ("&Time after the score was shown", self.after),
            ("In these &words", self.words),
        ):
            form.addRow(words, field)
            field.setAccessibleName(words.replace("&", ""))
        self.after.setPlaceholderText("45 s")
        self.listed.setAccessibleName("Inquiries filed")
        self.listed.setMaximumHeight(90)
        self.told.setAccessibleName("What the marks say, and the answer")
        self.said.setPlaceholderText("Said beside, in plain words")
        self.said.setAccessibleName("Said beside")
        answering = QHBoxLayout()
        answering.addWidget(self.finding)
        answering.addWidget(self.said, 1)
        answering.addWidget(_button("Answer", self.answer))
        answering.addWidget(_button("Letter…", self._ask_letter))
        answering.addWidget(_button("Withdraw", self._withdraw))
        column = QVBoxLayout(self)
        column.addLayout(form)
        column.addWidget(_button("File it, about the marks chosen on the strip", self.file))
        column.addWidget(self.listed)
        column.addWidget(self.told, 1)
        column.addLayout(answering)


def _told(one: dict[str, Any]) -> str:
    """One inquiry as a page: what was asked, whether it is admitted, what the marks say, the answer."""
    parts = [f"<p><b>The {escape(one['asked_by'])} asks about {escape(one['about'])}</b></p>"]
    if one["words"]:
        parts.append(f"<p>“{escape(actions.excerpt(one['words'])[0])}”</p>")
    parts += [
        f"<p>Not admitted: {escape(refused['why'])} ({escape(refused['clause'])})</p>"
        for refused in one["refused_by"]
    ] or ["<p>The edition admits it; a report may change the result.</p>"]
    proposed, answer = one["proposed"], one["answer"]
    why = "".join(f"<li>{escape(said)}</li>" for said in proposed["why"])
    parts.append(f"<p>The marks say: <b>{proposed['finding']}</b>{_change(proposed)}</p><ul>{why}</ul>")
    given = "not answered yet" if answer is None else f"<b>{answer['finding']}</b>{_change(answer)}"
    parts.append(f"<p>Answer: {given}</p>")
    parts += [f"<p>{escape(line)}</p>" for line in _beside(answer)] if answer else []
    if answer is not None and answer["words"]:
        parts.append(f"<p>{escape(answer['words'])}</p>")
    return "".join(parts)


def _beside(answer: dict[str, Any]) -> Iterator[str]:
    """What an answer leads to, and whether it still rests on the marks as they are."""
    if "final" in answer:
        yield answer["final"]["said"]
    if answer["changed_since"]:
        named = ", ".join(f"{one['mark']} ({one['how']})" for one in answer["changed_since"])
        yield f"Marks are otherwise than when this was answered: {named}. Answer it again."


def _change(said: dict[str, Any]) -> str:
    if said.get("score") is None:
        return ""
    return f" to {said['score']}" + (f", by {said['by']}" if said.get("by") else "")


def _time(typed: str) -> Measure | None:
    """A time as typed; nothing where nothing was, a CallError where it is none."""
    if not typed.strip():
        return None
    try:
        return Measure.typed_time(typed)
    except ValueError:
        said, remedy = "This is no time.", f"Type it as {TYPED_TIMES}."
        raise CallError(Problem("no-time", typed.strip(), said, remedy)) from None


def _box(name: str) -> QComboBox:
    box = QComboBox()
    box.setAccessibleName(name)
    box.setEditable(name != "Found")
    return box


def _button(words: str, does: Callable[[], object]) -> QPushButton:
    button = QPushButton(words)
    button.setAutoDefault(False)
    button.clicked.connect(lambda: does())
    return button
