"""The panel's own scores: made one by the book's rule, held against the allowed spread, kept in a case."""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from reviewer import casefile, scoring
from reviewer.actions.audit import Audit, AuditError, others_in
from reviewer.actions.books import load_book
from reviewer.actions.documents import read_marks
from reviewer.actions.marking import Change
from reviewer.terms.exact import Points
from reviewer.terms.problems import DocumentError, Problem
from reviewer.terms.rulebook import RuleBook

_NOUGHT = Points(0)


def panel_document(
    rule_book: str,
    scores: Mapping[str, Points],
    after: Mapping[str, Points],
    *,
    neutral: Points = _NOUGHT,
    difficulty: Points = _NOUGHT,
) -> dict[str, Any]:
    """``reviewer.panel/1``: what judges' scores come to, before a conference and after one (empty: none)."""
    book = load_book(rule_book)
    given = {"before": scores} | ({"after": after} if after else {})
    return {
        "format": "reviewer.panel/1",
        "rule_book": {"id": book.id, "sha256": book.sha256},
        "neutral": str(neutral),
        "panel": {when: panel_result(own, book, neutral, difficulty) for when, own in given.items()},
    }


def scores_on_sheets(sheets: Mapping[str, Path], book: RuleBook) -> dict[str, Points]:
    """The score of each judge who keeps a marks document, before neutral deductions."""
    return {judge: _score_on_sheet(path, book) for judge, path in sheets.items()}


def _score_on_sheet(path: Path, book: RuleBook) -> Points:
    read = read_marks(path)
    sheet = scoring.score(read.marks, book.read_as(others_in(book, read.interpretations)))
    if sheet.problems:
        raise DocumentError(replace(one, where=f"{path.name}: {one.where}") for one in sheet.problems)
    if len(sheet.judges) > 1:
        said = f"{len(sheet.judges)} judges deduct on this sheet."
        raise DocumentError(Problem("several-judges", path.name, said, "Give a sheet for each judge."))
    return sheet.judges[0].score


def keep_panel(audit: Audit, scores: Mapping[str, Points], after: Mapping[str, Points]) -> dict[str, Any]:
    """Keep a panel's scores in a case, and say what they come to there: ``reviewer.panel/1``."""
    for when, own in (("before", scores), ("after", after)):
        if own:
            enter_panel(audit, own, when=when)
    return case_panel(audit)


def case_panel(audit: Audit) -> dict[str, Any]:
    """``reviewer.panel/1`` of the scores a case keeps, with its own neutral deductions and start value."""
    neutral = Points(-sum(one.points.thousandths for one in audit.sheet.lines if one.stage == "neutral"))
    found = {}
    for when, said in audit.state.panel.items():
        scores = {judge: Points.parse(text) for judge, text in said.items()}
        found[when] = panel_result(scores, audit.book, neutral, audit.sheet.start_value)
    return {
        "format": "reviewer.panel/1",
        "rule_book": {"id": audit.book.id, "sha256": audit.book.sha256},
        "neutral": str(neutral),
        "panel": found,
    }


def panel_result(
    scores: Mapping[str, Points], book: RuleBook, neutral: Points, difficulty: Points
) -> dict[str, Any]:
    """The scores, those that count, their average and spread, and the final score."""
    found = scoring.panel_score(scores, book, neutral=neutral, difficulty=difficulty)
    spread = found.spread
    return {
        "judges": [{"judge": judge, "score": str(score)} for judge, score in scores.items()],
        "counting": [str(score) for score in found.counting],
        "panel_average": str(found.average),
        "spread": None
        if spread is None
        else {
            "spread": str(spread.spread),
            "allowed": str(spread.allowed),
            "within": spread.within,
            "clause": spread.clause,
        },
        "final_score": str(found.final_score),
    }


def enter_panel(audit: Audit, scores: Mapping[str, Points], *, when: str = "before") -> Change:
    """Keep the scores the judges gave, before a conference or after; both are kept side by side."""
    if when not in casefile.CONFERENCES or not scores:
        said = "A panel's scores are those of judges, before a conference or after."
        raise AuditError(Problem("no-panel", when, said, "Give a letter and a score for each judge."))
    audit.case.append(
        "panel-entered", {"when": when, "scores": {who: str(own) for who, own in scores.items()}}
    )
    return Change(frozenset({"posted"}))
