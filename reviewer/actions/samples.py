"""What several judges gave to several routines, read from a table."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from reviewer.auditing.faults import Routine
from reviewer.auditing.ratings import Ratings
from reviewer.exchange.tables import Table, TableRow, read_table
from reviewer.terms.codes import no_code
from reviewer.terms.exact import Points
from reviewer.terms.messages import Message, message, spoken
from reviewer.terms.problems import DocumentError, Problem

COLUMNS = {
    "start_value": "start_value",
    "score": "score",
    "execution": "score",
    "final": "final_score",
    "final_score": "final_score",
}
"""Column of a table to what it holds: start value, the judge's own score, final score."""
QUANTITIES = tuple(dict.fromkeys(COLUMNS.values()))
_NOUGHT = Points(0)


@dataclass(frozen=True, slots=True)
class Sample:
    """What was read.

    Attributes:
        given: by quantity, what each judge gave to each routine.
        routines: the routines with their faults; empty for a table.
        warnings: what could not be taken as it stands.
    """

    given: Mapping[str, Ratings]
    routines: tuple[Routine, ...] = ()
    warnings: tuple[Problem, ...] = ()


def letter(text: str, where: str) -> str:
    """A judge's letter in capitals; a DocumentError for what may be a name, which it does not repeat."""
    found = text.strip().upper()
    problem = no_code(found, where)
    if problem is not None:
        raise DocumentError(problem)
    return found


def table_sample(path: Path) -> Sample:
    """A CSV file with the columns routine, judge and any of `COLUMNS`; a DocumentError with every problem."""
    reading = _Reading(read_table(path))
    for row in reading.table.rows:
        reading.take(row)
    if reading.problems:
        raise DocumentError(reading.problems)
    return Sample(reading.given)


class _Reading:
    """Reads the rows of a table, and notes every problem before it gives up."""

    def __init__(self, table: Table) -> None:
        self.table = table
        self.places = {re.sub(r"[\s-]+", "_", name): place for name, place in table.columns.items()}
        self.problems = [*table.problems, *self._columns()]
        self.given: dict[str, dict[tuple[str, str], Points]] = {one: {} for one in QUANTITIES}
        self._seen: set[tuple[str, str]] = set()

    def take(self, row: TableRow) -> None:
        """Note what one judge gave to one routine."""
        if not {"routine", "judge"} <= set(self.places):
            return
        routine = " ".join(self._cell(row, "routine").split()).casefold()
        if not routine:
            self._wrong(
                row,
                "no-routine",
                message("No routine is named."),
                message("Give each routine a code, such as 12."),
            )
        try:
            judge = letter(self._cell(row, "judge"), f"{self.table.name}:{row.line}")
        except DocumentError as fault:
            self.problems.extend(fault.problems)
            return
        if (routine, judge) in self._seen:
            said = message("Judge {judge} stands twice for this routine.", judge=judge)
            self._wrong(row, "judge-twice", said, message("Keep one row for each routine and judge."))
        self._seen.add((routine, judge))
        for column, quantity in COLUMNS.items():
            points = self._points(row, column)
            if points is not None:
                self.given[quantity][routine, judge] = points

    def _columns(self) -> Iterator[Problem]:
        where = f"{self.table.name}:{self.table.line}"
        for name in ("routine", "judge"):
            if name not in self.places:
                said = message("The column {name} is missing.", name=name)
                yield Problem("missing-column", where, said, message("Add it to the header."))
        known = [COLUMNS[name] for name in self.places if name in COLUMNS]
        if not known:
            said = message("No column holds what was given.")
            yield Problem(
                "missing-column", where, said, message("Add one of: {columns}.", columns=", ".join(COLUMNS))
            )
        for quantity in dict.fromkeys(one for one in known if known.count(one) > 1):
            said = message("Two columns hold the {quantity}.", quantity=spoken(quantity.replace("_", " ")))
            yield Problem("column-twice", where, said, message("Keep one."))

    def _points(self, row: TableRow, column: str) -> Points | None:
        """The points of a cell; None where it is blank."""
        text = self._cell(row, column)
        if not text:
            return None
        try:
            found = Points.parse(text.replace(",", ".") if self.table.comma else text)
        except ValueError:
            remedy = message("Write a decimal number with at most three places, such as 8.533.")
            self._wrong(
                row, "bad-value", message("{column} is {text}.", column=column, text=repr(text[:40])), remedy
            )
            return None
        if found < _NOUGHT:
            self._wrong(
                row,
                "negative",
                message("{column} is below nought.", column=column),
                message("Write it without a sign."),
            )
        return found

    def _cell(self, row: TableRow, column: str) -> str:
        place = self.places.get(column, len(row.cells))
        return row.cells[place].strip() if place < len(row.cells) else ""

    def _wrong(self, row: TableRow, code: str, said: Message, remedy: Message) -> None:
        self.problems.append(Problem(code, f"{self.table.name}:{row.line}", said, remedy))
