"""What is wanted as a question to the index, and its answer as passages."""

import json
import re
from collections.abc import Iterable, Iterator, Sequence
from fnmatch import fnmatchcase
from typing import Any

from sqlite_utils import Database

from reviewer.terms.exact import Degrees, Points
from reviewer.terms.messages import spoken
from reviewer.terms.problems import Problem
from reviewer.terms.shelving import (
    LOCKED,
    OPEN,
    UNREADABLE,
    Found,
    Hit,
    Moment,
    Shelved,
    ShelvedCase,
    Stamp,
    Stretch,
    Subject,
    Wanted,
)

Condition = tuple[str, tuple[Any, ...]]
"""Part of a question, and what stands for its marks."""

_COLUMNS = (
    "cases.path, cases.changed, cases.size, cases.sha256, cases.day, cases.edition, cases.division,"
    " mark, amount, angle, uncertainty, by, verdict, settled, judge, seen,"
    " kind, code, name, on_code, on_name, clauses, subjects.words,"
    " recordings.sha256, number, time_base, first_frame, first_pts, last_frame, last_pts, frame, pts"
)


def search(database: Database, wanted: Wanted, limit: int, skip: int) -> Found:
    """How many passages fit, and some of them: the newest case first, each in routine order.

    All passages are read once, to count those of each case; then only the cases on the page are looked up.
    """
    conditions = list(_conditions(wanted))
    where = " AND ".join(f"({words})" for words, _ in conditions) or "1"
    values = tuple(value for _, said in conditions for value in said)
    counts = database.execute(
        f"SELECT case_id, count(*) FROM passages WHERE {where} GROUP BY case_id", values
    )
    fitting = dict(counts.fetchall())
    newest = [case for (case,) in database.execute("SELECT id FROM cases ORDER BY day DESC, path")]
    on_page, passed = _page(((case, fitting[case]) for case in newest if case in fitting), limit, skip)
    rows = database.execute(
        f"SELECT {_COLUMNS} FROM cases JOIN passages ON case_id = cases.id"
        " JOIN subjects ON subjects.id = subject LEFT JOIN recordings ON recordings.id = recording"
        f" WHERE {where} AND cases.id IN ({', '.join(map(str, on_page))})"
        " ORDER BY day DESC, path, place LIMIT ? OFFSET ?",
        (*values, limit, skip - passed),
    )
    return Found(sum(fitting.values()), len(fitting), tuple(map(_hit, rows)))


def _page(counted: Iterable[tuple[int, int]], limit: int, skip: int) -> tuple[list[int], int]:
    """The cases that a page takes passages from, and how many passages those before it hold."""
    on_page: list[int] = []
    at = passed = 0
    for case, size in counted:
        if at >= skip + limit:
            break
        if at + size <= skip:
            passed += size
        else:
            on_page.append(case)
        at += size
    return on_page, passed


def locked(database: Database) -> int:
    """How many cases are locked."""
    found = database.execute("SELECT count(*) FROM cases WHERE state = ?", (LOCKED,)).fetchone()
    return int(found[0])


def problems(database: Database) -> tuple[Problem, ...]:
    """Why some cases cannot be read, by path."""
    rows = database.execute("SELECT problem FROM cases WHERE state = ? ORDER BY path", (UNREADABLE,))
    return tuple(problem_from(said) for (said,) in rows)


def problem_from(kept: str) -> Problem:
    """A problem as it was kept: in English, whole sentences that the catalogue may know."""
    said = json.loads(kept)
    return Problem(said["code"], said["where"], spoken(said["message"]), spoken(said["remedy"]))


def subjects(database: Database) -> tuple[Subject, ...]:
    """All that the passages are about."""
    columns = "kind, code, name, on_code, on_name, clauses, words"
    rows = database.execute(f"SELECT {columns} FROM subjects ORDER BY id")
    return tuple(_subject(row) for row in rows)


def _conditions(wanted: Wanted) -> Iterator[Condition]:
    """Part by part, what is cheapest to ask first."""
    for column, span in (("amount", wanted.amount), ("angle", wanted.angle)):
        if span is not None:
            yield f"{column} BETWEEN ? AND ?", tuple(end.thousandths for end in span)
    if wanted.verdict:
        yield "verdict = ?", (wanted.verdict,)
    if wanted.settled is not None:
        yield "settled = ?", (wanted.settled,)
    yield from _among("subject", "subjects", _of_subjects(wanted))
    yield from _among("case_id", "cases", _of_cases(wanted))


def _of_cases(wanted: Wanted) -> Iterator[Condition]:
    for column, pattern in (("edition", wanted.edition), ("division", wanted.division)):
        if pattern:
            yield f"folded({column}) GLOB ?", (_glob(pattern),)
    if wanted.since:
        yield "day >= ?", (wanted.since,)
    if wanted.until:
        yield "day <= ?", (wanted.until,)


def _among(column: str, table: str, asked: Iterable[Condition]) -> Iterator[Condition]:
    """What is asked of another table, as one condition on passages; where nothing is, none."""
    parts = tuple(asked)
    if parts:
        where = " AND ".join(f"({words})" for words, _ in parts)
        yield (
            f"{column} IN (SELECT id FROM {table} WHERE {where})",
            tuple(one for _, said in parts for one in said),
        )


def _of_subjects(wanted: Wanted) -> Iterator[Condition]:
    named, on = (
        "folded(code) GLOB ? OR folded(name) GLOB ?",
        "folded(on_code) GLOB ? OR folded(on_name) GLOB ?",
    )
    if wanted.element or wanted.fault:
        yield "kind = ?", ("fault" if wanted.fault else "element",)
    if wanted.fault:
        yield named, (_glob(wanted.fault),) * 2
    if wanted.element:
        yield on if wanted.fault else named, (_glob(wanted.element),) * 2
    if wanted.clause:
        yield "clause_among(clauses, ?)", (_glob(wanted.clause),)
    if words := _words(wanted.words):
        yield "id IN (SELECT rowid FROM subject_words WHERE subject_words MATCH ?)", (words,)


def clause_among(clauses: str, pattern: str) -> bool:
    """Whether one of the clauses, as the index keeps them, fits a pattern: what SQLite asks of them."""
    return any(fnmatchcase(one.casefold(), pattern) for one in clauses.split("\n") if one)


def _words(typed: str) -> str:
    """Beginnings of words as FTS5 takes them: each quoted, so that nothing typed is read as its syntax."""
    return " ".join(f'"{word}"*' for word in re.findall(r"[^\W_]+", typed))


def _glob(pattern: str) -> str:
    """A pattern as GLOB and `fnmatch` take it: of their signs only the star is one."""
    return re.sub(r"[\[?]", r"[\g<0>]", pattern.casefold())


def _hit(row: Sequence[Any]) -> Hit:
    path, changed, size, sha256, day, edition, division, mark, *said = row
    amount, angle, uncertainty, by, verdict, settled, judge, seen, *about = said
    case = ShelvedCase(path, Stamp(changed, size), sha256, OPEN, None, day, edition, division)
    passage = Shelved(
        mark,
        _subject(about[:7]),
        None if amount is None else Points(amount),
        None if angle is None else Degrees(angle),
        None if uncertainty is None else Degrees(uncertainty),
        by,
        verdict,
        bool(settled),
        judge,
        seen,
        _stretch(about[7:]),
    )
    return Hit(case, passage)


def _subject(row: Sequence[Any]) -> Subject:
    kind, code, name, on_code, on_name, clauses, words = row
    return Subject(kind, code, name, on_code, on_name, tuple(filter(None, clauses.split("\n"))), words)


def _stretch(row: Sequence[Any]) -> Stretch | None:
    recording, number, time_base, *ticks = row
    if recording is None:
        return None
    first, last, deciding = (Moment(*ticks[at : at + 2]) for at in (0, 2, 4))
    return Stretch(recording, number, time_base, first, last, deciding)
