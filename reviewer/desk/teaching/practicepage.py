"""Writing a page to practise judging with from the case on the desk."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PyQt6.QtWidgets import QCheckBox, QLineEdit, QWidget

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.errand import GoingOn
from reviewer.desk.teaching.writing import WritingPage, beside, today
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem

if TYPE_CHECKING:
    from reviewer.actions import PracticeMade


class PracticePage(WritingPage):
    """Asks for a file, the pass phrase of the key, and whether each element is a clip of its own."""

    def __init__(self, parent: QWidget, bench: Bench) -> None:
        say, case = bench.say, bench.on_desk().path
        super().__init__(
            parent, bench, say("A page to practise judging with"), beside(case, "-practice.html")
        )
        self.each = QCheckBox(say("A clip for each element, in place of the whole routine"))
        self.phrase, self.again = QLineEdit(), QLineEdit()
        for field in (self.phrase, self.again):
            field.setEchoMode(QLineEdit.EchoMode.Password)
        self.ask(say("&File"), self.place)
        self.ask(say("&Pass phrase of the key"), self.phrase)
        self.ask(say("The same &again"), self.again)
        self.ask("", self.each)
        self.each.setAccessibleName(self.each.text())
        self.finish(
            say(
                "Learners look at the clips, call what they see, and hold it against this case once the pass "
                "phrase opens the key. Consent must cover the use “teaching”."
            )
        )

    def read(self) -> None:
        """Which case, where to, which pass phrase."""
        self._case, self._file = self._bench.on_desk().path, Path(self.place.text().strip()).expanduser()
        self._language, self._by_element = self._bench.say.language, self.each.isChecked()
        self._typed = (self.phrase.text(), self.again.text())

    def make(self, going_on: GoingOn) -> PracticeMade:
        """Everything but the writing, from the case as it stands on disk."""
        if self._typed[0] != self._typed[1]:
            said, remedy = message("The pass phrase was typed in two ways."), message("Type it again.")
            raise DocumentError(Problem("two-pass-phrases", "pass phrase", said, remedy))
        actions.refuse_no_new_file(self._file, (), replace=False)
        with actions.open_case(self._case, author=None) as reader:
            return actions.make_practice_page(
                actions.stretches_of([reader], by_element=self._by_element),
                self._typed[0],
                today=today(),
                language=self._language,
                going_on=going_on,
            )

    def keep(self, made: PracticeMade) -> str:
        """Write it."""
        actions.keep_practice_page([self._bench.on_desk()], self._file, made, today())
        return self._bench.say("The page is {file}. Keep the pass phrase apart from it.", file=self._file)
