"""All the rows that the desk shows of a case: the ledger, and what only the open case knows besides."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.ledger import Row, rows_of
from reviewer.desk.pairing import paired
from reviewer.desk.whereabouts import Whereabouts
from reviewer.terms.messages import noted
from reviewer.terms.posted import PostedSheet
from reviewer.terms.rulebook import Interpretation
from reviewer.terms.sheets import ScoreSheet

if TYPE_CHECKING:
    from reviewer.actions import Audit

_PARTS = {
    "average": noted("The posted average {said} is not what the posted scores come to: {derived}."),
    "final": noted("The posted final score {said} is not what its posted parts come to: {derived}."),
    "judge": noted("A posted judge’s score {said} is not what was written down comes to: {derived}."),
}


class SheetRows:
    """Tells the rows of the case on the desk.

    Attributes:
        whereabouts: where marks lie, as of the last telling.
    """

    def __init__(self, bench: Bench) -> None:
        self._bench = bench
        self.whereabouts = Whereabouts(bench)

    def rows(self, sheet: ScoreSheet | None, other: ScoreSheet | None) -> tuple[Row, ...]:
        """The rows of a sheet; with another, what that one says beside them."""
        audit, say = self._bench.audit, self._bench.say
        self.whereabouts.renew()
        if sheet is None or audit is None:
            return ()
        left, doubled = actions.left_open(audit), tuple(self._doubled(audit))
        readings = tuple(self._readings(left, audit))
        above = (*self._unsettled(audit), *doubled)
        own = (*above, *self._of(sheet, left, audit), *readings)
        if other is None:
            return own
        return paired(own, (*above, *self._of(other, left, audit), *readings), say)

    def _of(self, sheet: ScoreSheet, left: Sequence[Interpretation], audit: Audit) -> tuple[Row, ...]:
        posted = audit.state.posted_sheet or PostedSheet()
        posted = replace(posted, final=posted.final or audit.posted)
        refused = {mark for one in sheet.not_earned for mark in one.marks}
        earned = (mark.id for mark in audit.counting_marks if mark.kind == "element")
        behind = tuple(mark for mark in earned if mark not in refused)
        rows = rows_of(sheet, self.whereabouts, self._bench.say, posted, behind)
        clauses = {one.clause for one in left}
        return (*self._disagreeing(audit), *(self._signed(row, clauses) for row in rows))

    def _signed(self, row: Row, left_open: Collection[str]) -> Row:
        """A line says beneath its points where its clause might be read otherwise."""
        if row.kind != "line" or row.key[1] not in left_open:
            return row
        return replace(row, span=row.span or self._bench.say("§ open"))

    def _unsettled(self, audit: Audit) -> Iterator[Row]:
        """That lines of a settlement are open, and which."""
        lines, say = actions.open_lines(audit), self._bench.say
        if lines:
            one = noted("1 line is still open: this is no settled score.")
            many = noted("{count} lines are still open: this is no settled score.")
            words = say(one if len(lines) == 1 else many, count=len(lines))
            yield Row("warning", "", words, key=("unsettled",), where=", ".join(lines))

    def _doubled(self, audit: Audit) -> Iterator[Row]:
        """Warnings of one fact that may be charged twice."""
        for one in actions.charged_twice(audit):
            places = [self.whereabouts(mark) for mark in one.marks]
            words, key = self._bench.say.message(one.why), ("doubled", one.marks)
            whole = ", ".join(place.whole for place in places)
            yield Row("warning", "", words, whole, one.marks, key, where=" · ".join(p.short for p in places))

    def _disagreeing(self, audit: Audit) -> Iterator[Row]:
        """What the panel posted that contradicts itself."""
        if audit.state.posted_sheet is None:
            return
        for one in actions.posted_sheet_found(audit, self._bench.say.word)["within_itself"]:
            if one["stands"] is False:
                words = self._bench.say(_PARTS[one["part"]], said=one["said"], derived=one["derived"])
                key = ("posted", one["part"], one.get("judge"))
                yield Row("remark", "", words, key=key, more=one["why"])

    def _readings(self, left: Sequence[Interpretation], audit: Audit) -> Iterator[Row]:
        """Clauses that leave a reading open: how each is read now, and how it might be."""
        say = self._bench.say
        if left:
            more = say("Choosing another reading is kept in the case.")
            yield Row("heading", "", say("Left open by the rules"), key=("heading", "readings"), more=more)
        for one in left:
            is_other = one.clause in audit.book.chosen
            now, then = (one.other, one.stated) if is_other else (one.stated, one.other)
            read = say("Read as the edition states it: {reading}", reading=now)
            if is_other:
                read = say("Read the other way, as was chosen: {reading}", reading=now)
            yield Row(
                "reading",
                "",
                one.question,
                say("Might be read: {reading}", reading=then),
                key=("reading", one.clause),
                more=read,
                where=one.clause,
                clause=one.clause,
            )
