"""The routines of a meet, read from a table of starts and posted scores."""

import re
from functools import lru_cache
from pathlib import Path, PurePosixPath

from reviewer import scoring
from reviewer.actions.meetcolumns import (
    ATHLETE,
    FIGURES,
    INQUIRY,
    RECORDING,
    REQUESTED,
    SHORT,
    START,
    Columns,
    columns_of,
)
from reviewer.exchange.tables import Table, TableRow, read_table
from reviewer.terms.codes import UNNAMED, no_athlete_code
from reviewer.terms.exact import Points
from reviewer.terms.meets import GROUPS, Start, is_start
from reviewer.terms.messages import Message, message
from reviewer.terms.posted import PostedSheet
from reviewer.terms.problems import DocumentError, Problem
from reviewer.terms.rulebook import RuleBook

_YES = frozenset({"yes", "y", "x", "true", "1", "ja", "j"})
_NO = frozenset({"no", "n", "false", "0", "nein"})
_GROUP = re.compile(r"[\w .+/-]{1,30}")
_NOUGHT = Points(0)
_PARTED = "|"
_points = lru_cache(maxsize=4096)(Points.parse)
_NUMBER = message("Write a decimal number with at most three places, such as 8.533.")


def starts_of(path: Path, book: RuleBook) -> tuple[tuple[Start, ...], tuple[str, ...]]:
    """The routines of a table, and the headers of columns that were not read.

    A DocumentError names every fault by its line; nothing that may be a name is repeated in it.
    """
    table = read_table(path)
    columns = columns_of(table)
    reading = _Rows(table, columns, book)
    starts = tuple(reading.start(row) for row in table.rows)
    if table.problems or reading.problems:
        raise DocumentError([*table.problems, *reading.problems])
    return starts, columns.unread


class _Rows:
    """Reads rows, and notes every problem before it gives up."""

    def __init__(self, table: Table, columns: Columns, book: RuleBook) -> None:
        self.problems: list[Problem] = []
        self._table, self._columns, self._book = table, columns, book
        self._lines: dict[str, int] = {}
        start = scoring.most_start(book)
        self._most: dict[str, Points | None] = {
            "start value": start,
            REQUESTED: start,
            "average": scoring.most_of_judge(book),
            "neutral": None,
            "final": scoring.most_final(book),
        } | dict.fromkeys(columns.judges, scoring.most_of_judge(book))

    def start(self, row: TableRow) -> Start:
        """One routine; whatever is wrong with it is noted."""
        cell = {name: _cell(row, place) for name, place in self._columns.places.items()}
        return Start(
            name=self._name(row, cell[START]),
            line=row.line,
            athlete=self._athlete(row, cell.get(ATHLETE, "")),
            groups={name: self._group(row, name, cell[name]) for name in GROUPS if cell.get(name)},
            posted=self._posted(row, cell),
            requested=self._points(row, REQUESTED, cell.get(REQUESTED, "")),
            inquiry=bool(self._yes(row, INQUIRY, cell.get(INQUIRY, ""))),
            short=self._yes(row, SHORT, cell.get(SHORT, "")),
            recordings=(films := self._recordings(row, cell.get(RECORDING, ""))),
            by_hand=bool(films),
        )

    def _name(self, row: TableRow, said: str) -> str:
        first = self._lines.setdefault(said.casefold(), row.line)
        if not said:
            self._wrong(row, "no-start", message("This row names no start."), message("Name it."))
        elif not is_start(said):
            remedy = message(
                "Write up to 20 letters, digits, - and _, a digit among them, such as 12 or B-7."
            )
            self._wrong(row, "bad-start", message("This names no routine."), remedy)
        elif first != row.line:
            what = message("Start {name} stands in line {line} too.", name=said, line=first)
            self._wrong(row, "start-twice", what, message("Keep one row for each routine."))
        return said

    def _athlete(self, row: TableRow, said: str) -> str:
        problem = no_athlete_code(said, self._where(row)) if said else None
        if problem is not None:
            self.problems.append(problem)
        return said or UNNAMED

    def _group(self, row: TableRow, column: str, said: str) -> str:
        if not _GROUP.fullmatch(said):
            remedy = message("Write up to 30 letters, digits and spaces, and no names of people.")
            self._wrong(row, "bad-group", message("{column} cannot be this.", column=column), remedy)
        return " ".join(said.split())

    def _posted(self, row: TableRow, cell: dict[str, str]) -> PostedSheet:
        start, average, neutral, final = (self._points(row, one, cell.get(one, "")) for one in FIGURES)
        given = ((one, self._points(row, one, _cell(row, at))) for one, at in self._columns.judges.items())
        judges = tuple((one, score) for one, score in given if score is not None)
        return PostedSheet(start, judges, neutral, average, final)

    def _points(self, row: TableRow, column: str, text: str) -> Points | None:
        """The points of a cell; None where it is blank."""
        if not text:
            return None
        name = f"judge {column}" if column in self._columns.judges else column
        try:
            found = _points(text.replace(",", ".") if self._table.comma else text)
        except ValueError:
            self._wrong(row, "bad-value", message("{column} is no number.", column=name), _NUMBER)
            return None
        most = self._most[column]
        if found < _NOUGHT:
            said = message("{column} is {text}, below nought.", column=name, text=text)
            self._wrong(row, "negative", said, message("Write it without a sign."))
        elif most is not None and found > most:
            self._too_much(row, name, found, most)
        return found

    def _too_much(self, row: TableRow, column: str, points: Points, most: Points) -> None:
        edition = self._book.id
        said = message(
            "{column} is {points}, more than the edition {edition} can give.",
            column=column,
            points=points,
            edition=edition,
        )
        remedy = message("Give {least} to {most}, or see which edition it is.", least=_NOUGHT, most=most)
        self._wrong(row, "too-much", said, remedy)

    def _yes(self, row: TableRow, column: str, text: str) -> bool | None:
        """What a cell says; None where it is blank."""
        word = text.casefold()
        if word in _YES:
            return True
        if word and word not in _NO:
            said = message("{column} is neither yes nor no.", column=column)
            self._wrong(row, "no-yes-or-no", said, message("Write yes or no, or leave the cell blank."))
        return False if word else None

    def _recordings(self, row: TableRow, said: str) -> tuple[str, ...]:
        found = [one.strip().replace("\\", "/") for one in said.split(_PARTED) if one.strip()]
        if any(not is_below(one) for one in found):
            remedy = message(
                "Write paths below the folder of recordings, such as day-1/12.mp4; part several by {sign}.",
                sign=_PARTED,
            )
            self._wrong(row, "bad-path", message("This leads out of the folder of recordings."), remedy)
        return tuple(dict.fromkeys(found))

    def _where(self, row: TableRow) -> str:
        return f"{self._table.name}:{row.line}"

    def _wrong(self, row: TableRow, code: str, said: Message, remedy: Message) -> None:
        self.problems.append(Problem(code, self._where(row), said, remedy))


def is_below(path: str) -> bool:
    """Whether a path with ``/`` stays below the folder it starts from."""
    parts = PurePosixPath(path).parts
    return not path.startswith("/") and ".." not in parts and ":" not in path[:2] and bool(parts)


def _cell(row: TableRow, place: int) -> str:
    return row.cells[place].strip() if place < len(row.cells) else ""
