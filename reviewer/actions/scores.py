"""The score sheet as the document others may rely on."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from reviewer import rules, scoring
from reviewer.actions.audit import Audit
from reviewer.actions.documents import read_marks
from reviewer.actions.opening import DEFAULT_BOOK, open_case
from reviewer.actions.several import warnings_of
from reviewer.casefile import is_case
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.sheets import Line, NotEarned, ScoreSheet

Frames = Callable[[tuple[str, ...]], list[dict[str, Any]]]
"""Mark ids to the frames they are shown at, each a document."""


def score_document(
    path: Path, *, rule_book: str | None = None, posted: Points | None = None
) -> dict[str, Any]:
    """Score a case or a marks document, by another edition if one is named: ``reviewer.score/1``."""
    if is_case(path):
        with open_case(path, author=None) as audit:
            sheet = audit.scored_by(rules.load(rules.find(rule_book))) if rule_book else audit.sheet
            found = sheet_document(sheet, _shown_by(audit), posted or audit.posted)
            return found | _several(audit)
    read = read_marks(path)
    book = rules.load(rules.find(rule_book or read.rule_book or DEFAULT_BOOK))
    found = sheet_document(scoring.score(read.marks, book), no_frames, posted)
    return found | ({} if read.attempt is None else _attempts(read.attempt, read.set_aside))


def audit_score(audit: Audit) -> dict[str, Any]:
    """The ``reviewer.score/1`` document of an open audit."""
    return sheet_document(audit.sheet, _shown_by(audit), audit.posted) | _several(audit)


def no_frames(_: tuple[str, ...]) -> list[dict[str, Any]]:
    """Marks without a recording have no frames."""
    return []


def sheet_document(sheet: ScoreSheet, frames: Frames, posted: Points | None) -> dict[str, Any]:
    """``reviewer.score/1`` of a sheet."""
    identity, digest = sheet.rule_book
    return {
        "format": "reviewer.score/1",
        "rule_book": {"id": identity, "sha256": digest},
        "start_value": str(sheet.start_value),
        "value_parts": sheet.value_parts,
        "judges": [{"judge": one.judge, "score": str(one.score)} for one in sheet.judges],
        "panel_average": str(sheet.panel_average),
        "final_score": str(sheet.final_score),
        "reachable": _reachable(sheet),
        "posted": _posted(sheet, posted),
        "lines": [_line(line, frames) for line in sheet.lines],
        "not_earned": [_not_earned(one) for one in sheet.not_earned],
        "problems": [problem.to_json() for problem in sheet.problems],
    }


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


def _reachable(sheet: ScoreSheet) -> dict[str, Any]:
    reachable = sheet.reachable
    return {
        "low": str(reachable.low),
        "high": str(reachable.high),
        "scores": [str(score) for score in reachable.scores],
        "exact": reachable.exact,
        "decisions": [{"marks": list(one.marks), "why": one.why.words()} for one in reachable.decisions],
    }


def _posted(sheet: ScoreSheet, posted: Points | None) -> dict[str, Any] | None:
    if posted is None:
        return None
    reached, nearest = scoring.nearest(sheet.reachable, posted)
    return {"score": str(posted), "reachable": reached, "nearest": str(nearest)}


def _line(line: Line, frames: Frames) -> dict[str, Any]:
    return {
        "clause": line.clause,
        "stage": line.stage,
        "judge": line.judge,
        "points": str(line.points),
        "marks": list(line.marks),
        "frames": frames(line.marks) or None,
        "why": line.why.words(),
        "source": line.source,
    }


def _not_earned(one: NotEarned) -> dict[str, Any]:
    return {"clause": one.clause, "marks": list(one.marks), "reason": one.reason, "why": one.why.words()}
