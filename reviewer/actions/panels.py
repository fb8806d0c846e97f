"""The panel's own scores: made one by the book's rule, held against the allowed spread, kept in a case."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from reviewer import casefile, scoring
from reviewer.actions.audit import Audit, AuditError, others_in
from reviewer.actions.books import load_book
from reviewer.actions.documents import read_marks
from reviewer.actions.interpreting import all_not_open
from reviewer.actions.marking import Change
from reviewer.scoring.panel import size_is_known
from reviewer.terms.codes import no_code
from reviewer.terms.exact import Points
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem
from reviewer.terms.rulebook import RuleBook

_NOUGHT = Points(0)
_UNKNOWN_SIZE = "The edition {} says nothing of a panel of {}: all scores are averaged."


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
    problems = [*_unsound(given, book), *_negative(neutral=neutral, difficulty=difficulty)]
    if problems:
        raise DocumentError(problems)
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
    problems = [*_other_book(read.rule_book, book)]
    problems = problems or [*all_not_open(read.interpretations, book), *sheet.problems]
    if problems:
        raise DocumentError(replace(one, where=f"{path.name}: {one.where}") for one in problems)
    if len(sheet.judges) > 1:
        said = message("{count} judges deduct on this sheet.", count=len(sheet.judges))
        raise DocumentError(
            Problem("several-judges", path.name, said, message("Give a sheet for each judge."))
        )
    return sheet.judges[0].score


def _other_book(named: str | None, book: RuleBook) -> Iterator[Problem]:
    if named not in (None, book.id):
        said = message(
            "The sheet is of the edition {named}, and the panel is scored by {edition}.",
            named=named,
            edition=book.id,
        )
        yield Problem(
            "other-rule-book",
            "rule_book",
            said,
            message("Score by --rule-book {named}, or mend the sheet.", named=named),
        )


def keep_panel(audit: Audit, scores: Mapping[str, Points], after: Mapping[str, Points]) -> dict[str, Any]:
    """Keep a panel's scores in a case, and say what they come to there: ``reviewer.panel/1``.

    Both are checked before either is written.
    """
    given = {when: own for when, own in (("before", scores), ("after", after)) if own}
    problems = list(_unsound(given, audit.book))
    if problems:
        raise AuditError(problems)
    for when, own in given.items():
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
        "remarks": [] if size_is_known(len(scores), book) else [_UNKNOWN_SIZE.format(book.id, len(scores))],
    }


def enter_panel(audit: Audit, scores: Mapping[str, Points], *, when: str = "before") -> Change:
    """Keep the scores the judges gave, before a conference or after; both are kept side by side."""
    if when not in casefile.CONFERENCES or not scores:
        said = message("A panel's scores are those of judges, before a conference or after.")
        raise AuditError(
            Problem("no-panel", when, said, message("Give a letter and a score for each judge."))
        )
    before = audit.state.panel.get("before", scores) if when == "after" else scores
    problems = [*no_scores(scores, audit.book), *_other_judges(before, scores)]
    if problems:
        raise AuditError(problems)
    audit.case.append(
        "panel-entered", {"when": when, "scores": {who: str(own) for who, own in scores.items()}}
    )
    return Change(frozenset({"posted"}))


def _unsound(given: Mapping[str, Mapping[str, Points]], book: RuleBook) -> Iterator[Problem]:
    """What is wrong with a panel's scores before a conference (at least one) and after it."""
    if not given.get("before"):
        yield Problem(
            "no-panel", "before", message("No judge's score is given."), message("Give one for each judge.")
        )
    for own in given.values():
        yield from no_scores(own, book)
    if "after" in given:
        yield from _other_judges(given.get("before", {}), given["after"])


def _other_judges(before: Iterable[str], after: Iterable[str]) -> Iterator[Problem]:
    if set(before) != set(after):
        said = message("After the conference other judges score than before it.")
        remedy = message("Give every judge's score both times, also where it stayed.")
        yield Problem("other-judges", "after", said, remedy)


def no_scores(scores: Mapping[str, Points], book: RuleBook) -> Iterator[Problem]:
    """What is wrong with judges' scores: no letter, or points that no judge of this edition can give."""
    most = scoring.most_of_judge(book)
    for judge, score in scores.items():
        problem = no_code(judge, "a judge")
        if problem is not None:
            yield problem
            continue
        if score < _NOUGHT or (most is not None and score > most):
            said = message(
                "{score} is no judge's score in the edition {edition}.", score=score, edition=book.id
            )
            wanted = (
                message("Give {least} to {most}.", least=_NOUGHT, most=most)
                if most is not None
                else message("Give {least} or more.", least=_NOUGHT)
            )
            yield Problem("no-score", f"judge {judge}", said, wanted)


def _negative(**given: Points) -> Iterator[Problem]:
    for name, points in given.items():
        if points < _NOUGHT:
            yield Problem(
                "negative",
                name,
                message("{points} is less than nothing.", points=points),
                message("Give it without a sign."),
            )
