"""Rule cases run: what comes out held against what a judge wrote down, exact to the thousandth."""

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any

from reviewer import rules, scoring
from reviewer.terms.exact import Points
from reviewer.terms.messages import Message, listed, message, spoken
from reviewer.terms.problems import DocumentError, Problem
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.rulecases import Expected, RuleCase
from reviewer.terms.sheets import ScoreSheet, Spreading

_NO_FIGURE = "unknown-figure"
_Figures = Mapping[str, Callable[[], Any]]


def run_cases(book: RuleBook, name: str, files: tuple[Path, ...] = ()) -> tuple[int, tuple[Problem, ...]]:
    """How many examples and cases of a book were run, and each that does not come out as written.

    DocumentError where one expects what is no figure of such a case.
    """
    cases = [*rules.examples(book, name)]
    for path in files:
        cases.extend(rules.read_cases(path, book))
    found = tuple(problem for case in cases for problem in differences(case, book))
    unknown = [problem for problem in found if problem.code == _NO_FIGURE]
    if unknown:
        raise DocumentError(unknown)
    return len(cases), found


def differences(case: RuleCase, book: RuleBook) -> Iterator[Problem]:
    """Each figure of a case that comes out otherwise than expected; marks are sound where nothing is said."""
    figures = _figures(case, book.read_as(case.chosen))
    unsaid = {"problems": ()} if "problems" in figures else {}
    for key, expected in (unsaid | dict(case.expected)).items():
        if key not in figures:
            said = message("{name}: {key} is no figure of such a case.", name=case.name, key=repr(key))
            yield Problem(
                _NO_FIGURE, case.where, said, message("Write one of {figures}.", figures=", ".join(figures))
            )
            continue
        found = figures[key]()
        if isinstance(expected, Mapping) and not expected:
            said = message("{name}: {key} expects nothing in particular.", name=case.name, key=key)
            yield Problem(
                "expects-nothing", case.where, said, message("Write what must come out, or take it away.")
            )
        elif not _same(expected, found):
            said = message(
                "{name}: {figure}: {found}, expected {expected}.",
                name=case.name,
                figure=spoken(key.replace("-", " ")),
                found=_shown(found),
                expected=_shown(expected),
            )
            yield Problem("case-differs", case.where, said, message("Mend the book or the case."))


def _figures(case: RuleCase, book: RuleBook) -> _Figures:
    if case.panel is not None:
        return _of_panel(case, book)
    if case.inquiry is not None:
        refused = scoring.refused_by(case.inquiry, book)
        return {"refused-by": lambda: [clause for clause, _ in refused]}
    if case.rows is not None:
        rows = case.rows
        return {
            "totals": lambda: [str(scoring.total(row, book)) for row in rows],
            "ranks": lambda: [str(rank) for rank in scoring.ranks(rows, book)],
        }
    return _of_sheet(scoring.score(case.marks, book))


def _of_panel(case: RuleCase, book: RuleBook) -> _Figures:
    assert case.panel is not None
    asked = case.panel
    found = scoring.panel_score(
        asked.scores,
        book,
        neutral=asked.neutral,
        difficulty=asked.difficulty,
        reference=asked.reference,
    )
    return {
        "average": lambda: str(found.average),
        "final-score": lambda: str(found.final_score),
        "spread": lambda: _spread(found.spread),
    }


def _of_sheet(sheet: ScoreSheet) -> _Figures:
    reachable = sheet.reachable
    return {
        "start-value": lambda: str(sheet.start_value),
        "value-parts": lambda: str(sheet.value_parts),
        "average": lambda: str(sheet.panel_average),
        "final-score": lambda: str(sheet.final_score),
        "judges": lambda: {one.judge: str(one.score) for one in sheet.judges},
        "lines": lambda: [
            {"clause": one.clause, "points": str(one.points), "judge": one.judge or "", "marks": [*one.marks]}
            for one in sheet.lines
        ],
        "not-earned": lambda: [
            {"mark": one.marks[0], "reason": one.reason, "clause": one.clause} for one in sheet.not_earned
        ],
        "not-taken": lambda: [
            {"mark": one.marks[0], "clause": one.clause, "judge": one.judge or ""} for one in sheet.not_taken
        ],
        "notes": lambda: [
            {"code": one.code, "marks": [*one.marks], "clause": one.clause or ""} for one in sheet.notes
        ],
        "reachable": lambda: [str(score) for score in reachable.scores],
        "low": lambda: str(reachable.low),
        "high": lambda: str(reachable.high),
        "exact": lambda: "yes" if reachable.exact else "no",
        "full-speed": lambda: str(sheet.full_speed.final_score if sheet.full_speed else sheet.final_score),
        "spread": lambda: _spread(sheet.spread),
        "problems": lambda: [{"mark": one.where, "code": one.code} for one in sheet.problems],
    }


def _spread(spread: Spreading | None) -> Any:
    if spread is None:
        return "none"
    return {
        "spread": str(spread.spread),
        "allowed": str(spread.allowed),
        "within": "yes" if spread.within else "no",
        "clause": spread.clause,
    }


def _same(expected: Expected, found: Any) -> bool:
    """Of fields only those expected are compared; lists whole, in any order where they hold fields."""
    if isinstance(expected, Mapping):
        if not isinstance(found, Mapping):
            return False
        return all(key in found and _same(value, found[key]) for key, value in expected.items())
    if isinstance(expected, tuple):
        if not isinstance(found, list) or len(found) != len(expected):
            return False
        if any(isinstance(one, Mapping) for one in found):
            return _matched(expected, found)
        return all(map(_same, expected, found))
    return isinstance(found, str) and (expected == found or _amount(expected) == _amount(found) is not None)


def _matched(expected: tuple[Expected, ...], found: list[Any]) -> bool:
    """Whether each thing found stands for one expected, the most particular ones first."""
    left = list(found)
    for one in sorted(expected, key=lambda said: -len(said)):
        fitting = next((place for place, other in enumerate(left) if _same(one, other)), None)
        if fitting is None:
            return False
        left.pop(fitting)
    return True


def _amount(text: str) -> Points | None:
    try:
        return Points.parse(text)
    except ValueError:
        return None


def _shown(said: Any) -> Message:
    """A figure in words: several one after the other, ``none`` for nothing, fields with their names."""
    if not said:
        return message("none")
    if isinstance(said, Mapping):
        fields = [(key, value) for key, value in said.items() if value]
        return listed([message("{field} {value}", field=key, value=_shown(value)) for key, value in fields])
    if isinstance(said, (list, tuple)):
        several = [_shown(one) for one in said]
        found = several[0]
        for one in several[1:]:
            found = message("{these}; {that}", these=found, that=one)
        return found
    return spoken(str(said))
