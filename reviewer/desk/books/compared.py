"""What a rule book says that another did not, beside the form; and what a check of it found."""

from collections.abc import Iterable
from html import escape

from PyQt6.QtCore import QUrl, pyqtSignal
from PyQt6.QtWidgets import QTextBrowser

from reviewer.actions.books import Change, Comparison, sentences
from reviewer.desk.books.words import grouped, named
from reviewer.desk.looks import CHOSEN, FAULT, INK, QUIET, hex_of
from reviewer.terms.rulebook import Clause
from reviewer.words import Saying

_CLAUSE = "clause:"


class Compared(QTextBrowser):
    """Old against new, clause by clause; a clause's id leads to it.

    Signals:
        led(str): to the clause of this id.
    """

    led = pyqtSignal(str)

    def __init__(self, say: Saying) -> None:
        super().__init__()
        self._say = say
        self.setOpenLinks(False)
        self.setAccessibleName(say("What differs, old against new"))
        self.anchorClicked.connect(self._lead)

    def show_comparison(self, found: Comparison | None, drafted: str | None) -> None:
        """Show it; ``drafted`` is the clause whose change is not kept yet."""
        bar = self.verticalScrollBar()
        at = bar.value() if bar is not None else 0
        if found is None:
            said = self._say("The file is not sound yet, so it cannot be compared. Its problems are below.")
            self.setHtml(f"<p>{escape(said)}</p>")
        else:
            self.setHtml("".join(self._parts(found, drafted)))
        if bar is not None:
            bar.setValue(at)

    def _parts(self, found: Comparison, drafted: str | None) -> Iterable[str]:
        say = self._say
        title = say("From {before} to {after}", before=found.before.id, after=found.after.id)
        yield f"<p><b>{escape(title)}</b></p>"
        if found.same:
            yield f"<p>{escape(say('Both say the same.'))}</p>"
        if found.head:
            yield self._heading("", say("Head"), "", drafted == "")
            yield self._changes(found.head)
        for one in found.changed:
            kind = say("values changed") if one.values else say("only words, dates or sources")
            yield self._heading(one.after.id, one.after.title, kind, drafted == one.after.id)
            yield self._changes(one.changes)
        added, away = (
            (say("Added"), found.added, found.after),
            (say("Taken away"), found.taken_away, found.before),
        )
        for word, clauses, book in (added, away):
            says = sentences(book, say.word) if clauses else {}
            for clause in clauses:
                yield self._heading(clause.id, clause.title, word, drafted == clause.id)
                yield self._clause(clause, " ".join(says[clause.id]))
        if found.moved:
            moved = say("In another order: {clauses}", clauses=", ".join(found.moved))
            yield f"<p>{escape(moved)}</p>"

    def _heading(self, id: str, title: str, kind: str, drafted: bool) -> str:
        words = f"{id}  {title}".strip()
        link = f"<a href='{_CLAUSE}{escape(id)}' style='color: {hex_of(INK)}'>{escape(words)}</a>"
        kind = f" <span style='color: {hex_of(QUIET)}'>({escape(kind)})</span>" if kind else ""
        note = f"<br><b>{escape(self._say('Not kept yet'))}</b>" if drafted else ""
        ground = f" style='background-color: {hex_of(CHOSEN)}'" if drafted else ""
        return f"<p{ground}>{link}{kind}{note}</p>"

    def _changes(self, changes: Iterable[Change]) -> str:
        return "".join(
            f"<p style='margin: 0 0 4px 12px'>"
            f"<span style='color: {hex_of(QUIET)}'>{escape(self._field(one.field))}</span> "
            f"<s>{self._said(one.before)}</s> → <span{self._weight(one)}>{self._said(one.after)}</span></p>"
            for one in changes
        )

    def _field(self, place: str) -> str:
        """What a field is called, and in what it lies."""
        within = grouped(self._say, place)
        name = named(self._say, place)
        return f"{within}: {name}" if within else name

    def _weight(self, one: Change) -> str:
        return f" style='color: {hex_of(FAULT)}; font-weight: 600'" if one.kind == "value" else ""

    def _said(self, said: str | None) -> str:
        return escape(self._say("(not said)") if said is None else said)

    def _clause(self, clause: Clause, says: str) -> str:
        said = self._say(
            "{says} · since {since} · {source}",
            says=says,
            since=clause.since,
            source=self._say.retold(str(clause.source)),
        )
        return f"<p>{escape(said)}</p>"

    def _lead(self, url: QUrl) -> None:
        if url.toString().startswith(_CLAUSE):
            self.led.emit(url.toString().removeprefix(_CLAUSE))
