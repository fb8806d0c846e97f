"""Two or more sheets of one routine held against each other: the first against each of the others."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations
from pathlib import Path
from typing import Any

from reviewer import auditing
from reviewer.actions.comparisondocument import comparison_document
from reviewer.actions.second import not_sealed, unsealed_problem
from reviewer.actions.sheets import Sheet, read_sheet
from reviewer.terms.exact import Points
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem


def compare_sheets(
    paths: Sequence[Path],
    *,
    rule_books: Sequence[str] = (),
    posted: Points | None = None,
    within_ms: int = auditing.WITHIN_MS,
    although_other_recording: bool = False,
) -> dict[str, Any]:
    """``reviewer.comparison/1`` of cases and marks documents.

    ``rule_books`` are other editions, by each of which the marks of the first sheet are scored again: a sheet
    each. ``posted`` is the panel's score where a sheet keeps none; without it, what another sheet keeps. A
    DocumentError refuses sheets of different recordings or of nothing in common, unless that is meant.
    """
    sheets = [read_sheet(path) for path in paths]
    sheets += [read_sheet(path, book) for path in paths[:1] for book in rule_books]
    problems = [*_too_few(sheets), *_unsealed(sheets)]
    problems = problems or ([] if although_other_recording else list(_other_routines(sheets)))
    if problems:
        raise DocumentError(problems)
    first, *others = _with_posted(sheets, posted)
    found = compare_with_first(first, others, within_ms)
    return comparison_document((first, *others), found, within_ms)


def compare_with_first(
    first: Sheet, others: Sequence[Sheet], within_ms: int = auditing.WITHIN_MS
) -> list[auditing.Comparison]:
    """One sheet against each of the others."""
    own = first.trial()
    return [
        auditing.compare(first.side(other), other.side(first), (own, other.trial()), within_ms)
        for other in others
    ]


def _with_posted(sheets: Sequence[Sheet], posted: Points | None) -> list[Sheet]:
    """One routine has one posted score."""
    kept = [one.posted for one in sheets if one.posted is not None]
    known = posted if posted is not None else next(iter(kept), None)
    return [one if one.posted is not None else replace(one, posted=known) for one in sheets]


def _unsealed(sheets: Sequence[Sheet]) -> Iterator[Problem]:
    """Sheets judged blind of each other that are not sealed yet."""
    unsealed = not_sealed([(one.path, one.origin, one.second_of, one.sealed) for one in sheets])
    for name in unsealed:
        yield unsealed_problem(name)


def _too_few(sheets: Sequence[Sheet]) -> Iterator[Problem]:
    if len(sheets) < 2:
        where = sheets[0].name if sheets else "sheets"
        remedy = message("Name a second sheet, or another edition with --rule-book.")
        yield Problem("one-sheet", where, message("One sheet alone cannot be compared."), remedy)


def _other_routines(sheets: Sequence[Sheet]) -> Iterator[Problem]:
    """Sheets that share no recording, or, where one names none, no element."""
    for one, other in combinations(sheets, 2):
        where = f"{one.name}, {other.name}"
        remedy = message("Name sheets of one routine, or say --although-other-recording if they are.")
        if one.places and other.places:
            if not set(one.places) & set(other.places):
                said = message("These sheets are of different recordings.")
                yield Problem("other-recording", where, said, remedy)
        elif _codes(one) and _codes(other) and not _codes(one) & _codes(other):
            said = message("These sheets have no element in common: they look like different routines.")
            yield Problem("other-routine", where, said, remedy)


def _codes(sheet: Sheet) -> set[str]:
    return {mark.code for mark in sheet.marks if mark.kind == "element"}
