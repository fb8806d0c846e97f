"""The score sheet as the document others may rely on."""

from pathlib import Path
from typing import Any

from reviewer import rules, scoring
from reviewer.actions.audit import Audit, others_in
from reviewer.actions.documents import MarksRead, read_marks
from reviewer.actions.interpreting import not_open
from reviewer.actions.opening import DEFAULT_BOOK, open_case
from reviewer.actions.panels import case_panel
from reviewer.actions.several import warnings_of
from reviewer.actions.sheetdocument import Frames, no_frames, sheet_document
from reviewer.casefile import is_case
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.problems import DocumentError
from reviewer.terms.rulebook import RuleBook


def score_document(
    path: Path, *, rule_book: str | None = None, posted: Points | None = None
) -> dict[str, Any]:
    """Score a case or a marks document, by another edition if one is named: ``reviewer.score/1``."""
    if is_case(path):
        with open_case(path, author=None) as audit:
            book = rules.load(rules.find(rule_book)) if rule_book else audit.book
            return _audited(audit, book, audit.posted if posted is None else posted)
    read = read_marks(path)
    book = book_for(read, rule_book)
    found = sheet_document(scoring.score(read.marks, book), read.marks, book, no_frames, posted)
    return found | ({} if read.attempt is None else _attempts(read.attempt, read.set_aside))


def book_for(read: MarksRead, rule_book: str | None) -> RuleBook:
    """The edition a marks document is scored by, read as it chose; DocumentError for what is not open."""
    book = rules.load(rules.find(rule_book or read.rule_book or DEFAULT_BOOK))
    open_ = {one.clause for one in book.interpretations}
    unknown = sorted(set(read.interpretations) - open_)
    if unknown and rule_book is None:
        raise DocumentError([not_open(clause, book) for clause in unknown])
    return book.read_as(others_in(book, read.interpretations))


def audit_score(audit: Audit) -> dict[str, Any]:
    """The ``reviewer.score/1`` document of an open audit."""
    return _audited(audit, audit.book, audit.posted)


def _audited(audit: Audit, book: RuleBook, posted: Points | None) -> dict[str, Any]:
    sheet = audit.sheet if book is audit.book else audit.scored_by(book)
    found = sheet_document(sheet, audit.counting_marks, book, _shown_by(audit), posted)
    return found | _panel(audit) | _several(audit)


def element_order(marks: tuple[Mark, ...]) -> tuple[Mark, ...]:
    """The elements among marks, as they came."""
    return tuple(mark for mark in marks if mark.kind == "element")


def _shown_by(audit: Audit) -> Frames:
    """Frame and tick of marks, and the place of their recording among several."""
    alone = len(audit.state.recordings) < 2

    def frames(mark_ids: tuple[str, ...]) -> list[dict[str, Any]]:
        return [
            {"frame": one.frame, "pts": one.pts} | ({} if alone else {"recording": one.number})
            for one in audit.shown(mark_ids)
        ]

    return frames


def _several(audit: Audit) -> dict[str, Any]:
    """What is to be said of the score where the case has several recordings."""
    if len(audit.state.recordings) < 2:
        return {}
    doubts = [problem.to_json() for problem in warnings_of(audit)]
    return _attempts(audit.state.attempt, audit.set_aside) | ({"warnings": doubts} if doubts else {})


def _attempts(attempt: int, set_aside: tuple[str, ...]) -> dict[str, Any]:
    return {"attempt": attempt, "set_aside": list(set_aside)}


def _panel(audit: Audit) -> dict[str, Any]:
    """What the panel's own scores come to, before a conference and after, where they were entered."""
    return {"panel": case_panel(audit)["panel"]} if audit.state.panel else {}
