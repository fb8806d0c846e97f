"""Whole tables of published results held against the rule book: which rows contradict themselves."""

import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from reviewer import rules
from reviewer.exchange.tables import Table, TableRow, read_table
from reviewer.scoring import posted as scoring
from reviewer.scoring.panel import average
from reviewer.terms.exact import Points
from reviewer.terms.messages import Message, message
from reviewer.terms.posted import PostedRow
from reviewer.terms.problems import DocumentError, Problem
from reviewer.terms.rulebook import RuleBook

_JUDGE = re.compile(r"e[1-9][0-9]?")
_RANK = re.compile(r"[1-9][0-9]{0,5}")
_NOUGHT = Points(0)


@dataclass(frozen=True, slots=True)
class _Published:
    """A row of the table with what was published beside its figures."""

    line: int
    row: PostedRow
    total: Points
    rank: int | None
    event: str


def posted_document(path: Path, rule_book: str, *, ranks: bool = False) -> dict[str, Any]:
    """``reviewer.posted/1``: the rows of a table whose total or average contradicts their figures.

    With ``ranks`` the column rank is held against totals and ties as well, event by event. Totals have no
    ``column``; the others name theirs. Lines are those of the file, from 1.
    """
    book = rules.load(rules.find(rule_book))
    published = _Reading(read_table(path), book, ranks=ranks).published()
    found = [*_of_figures(published, book), *_of_ranks(published, book)]
    found.sort(key=lambda one: int(one["line"]))
    return {
        "format": "reviewer.posted/1",
        "rule_book": {"id": book.id, "sha256": book.sha256},
        "rows": len(published),
        "contradictions": found,
    }


class _Reading:
    """Reads the rows of a table, and notes every problem before it gives up."""

    def __init__(self, table: Table, book: RuleBook, *, ranks: bool) -> None:
        self.table, self.book, self.ranks = table, book, ranks
        self.problems = list(table.problems)
        self.judges = [name for name in table.columns if _JUDGE.fullmatch(name)]

    @property
    def average(self) -> str:
        """What the column with the judges' average is called."""
        return "execution" if self.book.execution_from else "average"

    def published(self) -> list[_Published]:
        """Every row; a DocumentError with all problems of the table."""
        self._columns()
        found = [self._row(row) for row in self.table.rows]
        if self.problems:
            raise DocumentError(self.problems)
        return found

    def _columns(self) -> None:
        needed = ["difficulty", "total"] if self.book.execution_from else ["total"]
        missing = [name for name in needed if name not in self.table.columns]
        if self.average not in self.table.columns and not self.judges:
            missing.append(f"{self.average} (e1, e2, …)")
        if self.ranks and "rank" not in self.table.columns:
            missing.append("rank")
        for name in missing:
            remedy = message("Add it to the header; {edition} needs it.", edition=self.book.id)
            said = message("The column {name} is missing.", name=name)
            where = f"{self.table.name}:{self.table.line}"
            self.problems.append(Problem("missing-column", where, said, remedy))

    def _row(self, row: TableRow) -> _Published:
        difficulty = self._points(row, "difficulty") if self.book.execution_from else _NOUGHT
        marks = [self._points(row, name) for name in self.judges if self._cell(row, name)]
        execution = self._points(row, self.average) if self._cell(row, self.average) or not marks else None
        penalty = self._points(row, "penalty") if self._cell(row, "penalty") else _NOUGHT
        figures = PostedRow(difficulty, tuple(marks), execution, penalty)
        total, rank = self._points(row, "total"), self._rank(row)
        return _Published(row.line, figures, total, rank, self._cell(row, "event"))

    def _cell(self, row: TableRow, column: str) -> str:
        place = self.table.columns.get(column, len(row.cells))
        return row.cells[place].strip() if place < len(row.cells) else ""

    def _points(self, row: TableRow, column: str) -> Points:
        """The points of a cell; nought where a problem is noted of it or of its whole column."""
        text = self._cell(row, column)
        if column not in self.table.columns:
            return _NOUGHT
        try:
            found = Points.parse(text.replace(",", ".") if self.table.comma else text)
        except ValueError:
            remedy = message("Write a decimal number with at most three places, such as 8.533.")
            self._wrong(row, "bad-value", _other(column, text), remedy)
            return _NOUGHT
        if found < _NOUGHT:
            self._wrong(
                row,
                "negative",
                message("{column} is {text}, below nought.", column=column, text=text),
                message("Write it without a sign."),
            )
        return found

    def _rank(self, row: TableRow) -> int | None:
        text = self._cell(row, "rank") if self.ranks else ""
        if text and not _RANK.fullmatch(text):
            remedy = message("Write a whole number from 1, or leave the cell blank.")
            self._wrong(row, "bad-value", _other("rank", text), remedy)
            return None
        return int(text) if text else None

    def _wrong(self, row: TableRow, code: str, said: Message, remedy: Message) -> None:
        self.problems.append(Problem(code, f"{self.table.name}:{row.line}", said, remedy))


def _other(column: str, text: str) -> Message:
    """What stands in a cell in place of a number."""
    if not text:
        return message("{column} is blank.", column=column)
    return message("{column} is {text}.", column=column, text=repr(text[:40]))


def _of_figures(published: list[_Published], book: RuleBook) -> Iterator[dict[str, Any]]:
    """Totals, and averages beside the scores they are made of."""
    column = "execution" if book.execution_from else "average"
    for one in published:
        derived = scoring.total(one.row, book)
        if derived != one.total:
            yield _contradiction(one.line, one.total, derived)
        if one.row.marks and one.row.execution is not None:
            mean = average(one.row.marks, book)
            if mean != one.row.execution:
                yield _contradiction(one.line, one.row.execution, mean) | {"column": column}


def _of_ranks(published: list[_Published], book: RuleBook) -> Iterator[dict[str, Any]]:
    """Ranks, event by event, among the rows that have one."""
    events = defaultdict(list)
    for one in published:
        if one.rank is not None:
            events[one.event.casefold()].append(one)
    for rows in events.values():
        said = [one.rank for one in rows if one.rank is not None]
        derived = scoring.ranks([one.row for one in rows], book)
        for one, rank in zip(rows, scoring.agreeing_ranks(said, derived), strict=True):
            if rank != one.rank:
                yield _contradiction(one.line, one.rank, rank) | {"column": "rank"}


def _contradiction(line: int, said: object, derived: object) -> dict[str, Any]:
    return {"line": line, "said": str(said), "derived": str(derived)}
