"""What the rule book that is shown would make of the case on the desk, and letting it be scored by it."""

from collections.abc import Sequence

from PyQt6.QtWidgets import QLabel, QWidget

from reviewer import actions
from reviewer.actions.interpreting import scored_by_edition
from reviewer.actions.ownbooks import OwnBook
from reviewer.desk.bench import Bench
from reviewer.desk.buttons import button
from reviewer.desk.flowing import Flowing
from reviewer.terms.exact import Points
from reviewer.terms.problems import Problem, ReviewerError


class CaseLine(QWidget):
    """The case's score now and by the book, and a button to score it by that from here on."""

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self._bench = bench
        self._own: OwnBook | None = None
        self.told = QLabel()
        self.button = button(bench.say("&Score the case by this edition"), self.choose)
        self.told.setWordWrap(True)
        across = Flowing()
        self.setLayout(across)
        across.add(self.told, takes_room=True)
        across.add(self.button)
        bench.changed.connect(self.refresh)

    def show_book(self, own: OwnBook) -> None:
        """Weigh the case by this book."""
        self._own = own
        self.refresh()

    def refresh(self, _: object = None) -> None:
        """Read the case and the book again."""
        words = self._words()
        audit, book = self._bench.audit, self._own.book if self._own else None
        self.told.setText(words)
        other = audit is not None and book is not None and audit.book.sha256 != book.sha256
        self.button.setEnabled(other and audit is not None and audit.author is not None)
        self.setVisible(audit is not None)

    def choose(self) -> None:
        """Score the case by this edition: one event, which undo on the desk takes back."""
        own, audit = self._own, self._bench.audit
        if own is None or audit is None:
            return
        before = audit.sheet.final_score
        chosen = self._bench.attempt(lambda: actions.choose_edition(self._bench.open_audit(), str(own.path)))
        if chosen:
            after = audit.sheet.final_score
            unfit = audit.sheet.problems
            if unfit:
                self._bench.said.emit(f"{self._scored_now(own)} {self._undecided(unfit)}", True)
                return
            said = self._bench.say(
                "The case is scored by {edition}: {before} became {after}, {by}. Undo on the desk goes back.",
                edition=own.id,
                before=before,
                after=after,
                by=self._difference(before, after),
            )
            self._bench.said.emit(said, False)

    def _words(self) -> str:
        say, audit = self._bench.say, self._bench.audit
        if audit is None or self._own is None:
            return ""
        if self._own.book is None:
            return say("The case on the desk: the book is not sound yet and scores nothing.")
        if audit.book.sha256 == self._own.book.sha256:
            score = audit.sheet.final_score
            return say("The case on the desk is scored by this edition: {score}.", score=score)
        try:
            sheet = scored_by_edition(audit, self._own.book)
        except ReviewerError as error:
            return say("The case on the desk: {problem}", problem=error.problems[0])
        now, unfit = audit.sheet, sheet.problems
        if unfit:
            scored = say(
                "The case on the desk: {now} by {edition}.", now=now.final_score, edition=audit.book.id
            )
            return f"{scored} {self._undecided(unfit)}"
        return say(
            "The case on the desk: {now} by {edition}, {then} by this one, {by}.",
            now=now.final_score,
            edition=audit.book.id,
            then=sheet.final_score,
            by=self._difference(now.final_score, sheet.final_score),
        )

    def _scored_now(self, own: OwnBook) -> str:
        return self._bench.say("The case is scored by {edition}. Undo on the desk goes back.", edition=own.id)

    def _undecided(self, unfit: Sequence[Problem]) -> str:
        """That no score can be told, by which marks, and how they are mended: never a score without them."""
        say, first = self._bench.say, unfit[0]
        named = ", ".join(dict.fromkeys(one.where for one in unfit))
        told = say(
            "What this edition makes of it cannot be decided: marks that do not fit it: {marks}. "
            "Score the case by it, then choose each mark and say it anew.",
            marks=named,
        )
        return f"{told} {say.problem(first)}"

    def _difference(self, before: Points, after: Points) -> str:
        if before == after:
            return self._bench.say("no difference")
        if after > before:
            return self._bench.say("{points} more", points=after - before)
        return self._bench.say("{points} less", points=before - after)
