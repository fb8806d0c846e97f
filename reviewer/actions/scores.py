"""The score sheet as the document others may rely on."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from reviewer import rules, scoring
from reviewer.actions.audit import Audit
from reviewer.actions.documents import read_marks
from reviewer.actions.opening import DEFAULT_BOOK, open_case
from reviewer.casefile import is_case
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.sheets import Line, NotEarned, ScoreSheet

Frames = Callable[[tuple[str, ...]], tuple[tuple[int, int], ...]]
"""Mark ids to pairs of frame number and tick."""


def score_document(
    path: Path, *, rule_book: str | None = None, posted: Points | None = None
) -> dict[str, Any]:
    """Score a case or a marks document, by another edition if one is named: ``reviewer.score/1``."""
    if is_case(path):
        with open_case(path, author=None) as audit:
            book = rules.load(rules.find(rule_book)) if rule_book else audit.book
            sheet = scoring.score(audit.marks, book)
            return sheet_document(sheet, audit.frames, posted or audit.posted)
    marks, named = read_marks(path)
    book = rules.load(rules.find(rule_book or named or DEFAULT_BOOK))
    return sheet_document(scoring.score(marks, book), no_frames, posted)


def audit_score(audit: Audit) -> dict[str, Any]:
    """The ``reviewer.score/1`` document of an open audit."""
    return sheet_document(audit.sheet, audit.frames, audit.posted)


def no_frames(_: tuple[str, ...]) -> tuple[tuple[int, int], ...]:
    """Marks without a recording have no frames."""
    return ()


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
    found = [{"frame": frame, "pts": pts} for frame, pts in frames(line.marks)]
    return {
        "clause": line.clause,
        "stage": line.stage,
        "judge": line.judge,
        "points": str(line.points),
        "marks": list(line.marks),
        "frames": found or None,
        "why": line.why.words(),
        "source": line.source,
    }


def _not_earned(one: NotEarned) -> dict[str, Any]:
    return {"clause": one.clause, "marks": list(one.marks), "reason": one.reason, "why": one.why.words()}
