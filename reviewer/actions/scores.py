"""The score sheet as the document others may rely on."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from reviewer import rules, scoring
from reviewer.actions.answered import outdated
from reviewer.actions.audit import Audit, AuditError, others_in
from reviewer.actions.documents import MarksRead, read_marks
from reviewer.actions.inquirydocument import inquiries_document
from reviewer.actions.interpreting import all_not_open
from reviewer.actions.limiting import limited, marks_of, narrowed, no_final_score, parts_named
from reviewer.actions.offered import DEFAULT_BOOK
from reviewer.actions.opening import open_case
from reviewer.actions.panelheld import as_panel
from reviewer.actions.panels import case_panel
from reviewer.actions.settling import open_lines
from reviewer.actions.several import warnings_of
from reviewer.actions.sheetdocument import Frames, no_frames, sheet_document
from reviewer.casefile import is_case
from reviewer.terms.exact import Points
from reviewer.terms.messages import Translate, as_written, message
from reviewer.terms.problems import DocumentError, Problem
from reviewer.terms.rulebook import RuleBook


def score_document(
    path: Path,
    *,
    rule_book: str | None = None,
    posted: Points | None = None,
    only: Sequence[str] = (),
    tell: Translate = as_written,
) -> dict[str, Any]:
    """Score a case or a marks document, by another edition if one is named: ``reviewer.score/1``.

    ``only`` names the parts that are wanted, or ``whole``; without it, those a case is limited to. ``tell``
    puts problems into the language of whoever is told them.
    """
    parts = parts_named(only)
    if is_case(path):
        with open_case(path, author=None) as audit:
            book = _read_alike(audit, rule_book) if rule_book else audit.book
            parts = parts if only else audit.state.limited_to
            _refuse_posted(posted, parts)
            found = _audited(audit, book, audit.posted if posted is None else posted, parts, tell=tell)
            return _also_warned(found, outdated(inquiries_document(audit), path.name), tell)
    _refuse_posted(posted, parts)
    read = read_marks(path)
    book, marks = book_for(read, rule_book), marks_of(read.marks, parts)
    sheet = limited(scoring.score(marks, book, read.judges), parts)
    found = sheet_document(sheet, marks, book, no_frames, posted, read.judges, tell=tell)
    found = narrowed(found, sheet, parts, book)
    doubts = _warnings(unheard(read.interpretations, book), tell)
    return found | ({} if read.attempt is None else _attempts(read.attempt, read.set_aside)) | doubts


def _refuse_posted(posted: Points | None, parts: Sequence[str]) -> None:
    if posted is not None and parts:
        raise AuditError(no_final_score(parts))


def book_for(read: MarksRead, rule_book: str | None) -> RuleBook:
    """The edition a marks document is scored by, read as it chose; DocumentError for what is not open.

    Another edition, named in place of its own, need not leave the same open: see `unheard`.
    """
    book = rules.load(rules.find(rule_book or read.rule_book or DEFAULT_BOOK))
    unknown = all_not_open(sorted(read.interpretations), book)
    if unknown and rule_book is None:
        raise DocumentError(unknown)
    return book.read_as(others_in(book, read.interpretations))


def unheard(chosen: Mapping[str, str], book: RuleBook) -> Iterator[Problem]:
    """A warning for every reading chosen in a clause that leaves none open in this edition."""
    for one in all_not_open(sorted(chosen), book):
        said = message("{said} The reading chosen for it changes nothing.", said=one.message)
        yield Problem("choice-unheard", one.where, said, one.remedy)


def audit_score(audit: Audit, translate: Translate = as_written) -> dict[str, Any]:
    """The ``reviewer.score/1`` document of an open audit, its sentences in a language."""
    return _audited(audit, audit.book, audit.posted, audit.state.limited_to, translate)


def _audited(
    audit: Audit,
    book: RuleBook,
    posted: Points | None,
    parts: Sequence[str],
    translate: Translate = as_written,
    tell: Translate | None = None,
) -> dict[str, Any]:
    marks = marks_of(audit.counting_marks, parts)
    judges = audit.judges_of(marks)
    own = (book, parts) == (audit.book, ())
    sheet = audit.sheet if own else limited(scoring.score(marks, book, judges), parts)
    found = sheet_document(sheet, marks, book, _shown_by(audit), posted, judges, translate, tell)
    found = narrowed(found, sheet, parts, book)
    found |= _as_panel(audit, posted, found) if own else {}
    doubts = _warnings([*unheard(audit.state.interpretations, book), *warnings_of(audit)], tell or translate)
    return found | ({} if parts else _panel(audit)) | _several(audit) | _open(audit) | doubts


def _as_panel(audit: Audit, posted: Points | None, found: Mapping[str, Any]) -> dict[str, Any]:
    """What was posted, held against a panel of as many judges as gave it."""
    held = as_panel(audit, posted)
    if held is None or found["posted"] is None:
        return {}
    said = {"judges": held.judges, "reachable": held.reached, "nearest": str(held.nearest)}
    return {"posted": found["posted"] | {"as_panel": said}}


def _read_alike(audit: Audit, rule_book: str) -> RuleBook:
    """Another edition, read as the judge chose in the case where it leaves the same open."""
    book = rules.load(rules.find(rule_book))
    return book.read_as(others_in(book, audit.state.interpretations))


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
    return _attempts(audit.state.attempt, audit.set_aside)


def _also_warned(found: dict[str, Any], doubts: Iterable[Problem], tell: Translate) -> dict[str, Any]:
    more = _warnings(doubts, tell).get("warnings", [])
    return found | ({"warnings": [*found.get("warnings", ()), *more]} if more else {})


def _warnings(doubts: Iterable[Problem], translate: Translate = as_written) -> dict[str, Any]:
    found = [problem.to_json(translate) for problem in doubts]
    return {"warnings": found} if found else {}


def _attempts(attempt: int, set_aside: tuple[str, ...]) -> dict[str, Any]:
    return {"attempt": attempt, "set_aside": list(set_aside)}


def _open(audit: Audit) -> dict[str, Any]:
    """The lines of a settlement that nobody has settled yet: what they hold counts nothing."""
    lines = open_lines(audit)
    return {"open_lines": lines} if lines else {}


def _panel(audit: Audit) -> dict[str, Any]:
    """What the panel's own scores come to, before a conference and after, where they were entered."""
    return {"panel": case_panel(audit)["panel"]} if audit.state.panel else {}
