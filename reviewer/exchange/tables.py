"""Tables that people hand in as CSV files: cells by the name of their column, with the line they stand on."""

import csv
import io
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import NoReturn

from reviewer.terms.messages import Message, message, reason
from reviewer.terms.problems import DocumentError, Problem

LARGEST = 50 * 1024 * 1024
"""Bytes of the largest table that is read."""
_SEPARATORS = ",;\t"


@dataclass(frozen=True, slots=True)
class TableRow:
    """One row: its line in the file, from 1, and its cells, never more than the header has."""

    line: int
    cells: Sequence[str]


@dataclass(frozen=True, slots=True)
class Table:
    """A table as it was read.

    Attributes:
        name: of the file.
        line: of the header.
        columns: place of each column by its name in small letters.
        rows: those that are not blank.
        comma: whether decimals may be written with a comma, as where columns are parted by something else.
        problems: what is wrong with its shape; rows of too many cells are left out.
    """

    name: str
    line: int
    columns: Mapping[str, int]
    rows: tuple[TableRow, ...]
    comma: bool
    problems: tuple[Problem, ...]


def read_table(path: Path) -> Table:
    """A CSV file in UTF-8, columns parted by comma, semicolon or tab.

    A DocumentError where it cannot be read as a table; what else is wrong with it, its ``problems`` say.
    """
    text, name = _text(path), path.name
    separator = _separator(text)
    records = _records(text, separator, name)
    header = next(records, None)
    if header is None:
        _stop(
            "no-rows",
            f"{name}:1",
            message("This table is empty."),
            message("Write the names of columns, and rows."),
        )
    names = [cell.strip().casefold() for cell in header.cells]
    columns = {column: place for place, column in enumerate(names) if column}
    rows = tuple(records)
    problems = (*_shape(names, header.line, rows, name), *_wide(rows, len(names), name))
    narrow = tuple(row for row in rows if not _too_wide(row, len(names)))
    return Table(name, header.line, columns, narrow, separator != ",", problems)


def _text(path: Path) -> str:
    raw = _bytes(path)
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = raw.count(b"\n", 0, fault.start) + 1
        _stop(
            "not-utf-8",
            f"{path.name}:{line}",
            message("This is not UTF-8 text."),
            message("Save the table as CSV in UTF-8."),
        )


def _bytes(path: Path) -> bytes:
    try:
        if path.stat().st_size > LARGEST:
            said = message("This table is larger than {largest} MB.", largest=LARGEST // 1024 // 1024)
            _stop("too-large", path.name, said, message("Hand in its parts one by one."))
        return path.read_bytes()
    except FileNotFoundError:
        _stop("no-file", str(path), message("There is no such file."), message("Check the path."))
    except IsADirectoryError:
        _stop("a-folder", str(path), message("This is a folder."), message("Name a file in it."))
    except OSError as fault:
        _stop(
            "cannot-read",
            str(path),
            message("It cannot be read: {reason}.", reason=reason(fault)),
            message("See that you may read it."),
        )


def _stop(code: str, where: str, said: Message, remedy: Message) -> NoReturn:
    raise DocumentError(Problem(code, where, said, remedy)) from None


def _separator(text: str) -> str:
    header = next((line for line in text.splitlines() if line.strip()), "")
    return max(_SEPARATORS, key=header.count)


def _records(text: str, separator: str, name: str) -> Iterator[TableRow]:
    """Every record that is not blank, with the line it begins on."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    line = 1
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                yield TableRow(line, cells)
            line = reader.line_num + 1
    except csv.Error as fault:
        remedy = message("Close every quotation mark, and double those inside a quoted cell.")
        _stop(
            "not-csv",
            f"{name}:{line}",
            message("This row cannot be read: {reason}.", reason=reason(fault)),
            remedy,
        )


def _shape(names: Sequence[str], line: int, rows: Sequence[TableRow], table: str) -> Iterator[Problem]:
    where = f"{table}:{line}"
    for name in (name for name, times in Counter(names).items() if name and times > 1):
        yield Problem(
            "column-twice",
            where,
            message("The column {name} stands twice.", name=repr(name)),
            message("Keep one."),
        )
    if not rows:
        yield Problem("no-rows", where, message("There is no row under the header."), message("Add rows."))


def _wide(rows: Sequence[TableRow], width: int, table: str) -> Iterator[Problem]:
    for row in rows:
        if _too_wide(row, width):
            said = message(
                "This row has {count} cells, the header {width}.", count=len(row.cells), width=width
            )
            remedy = message("Quote cells that hold the separator, and write decimals with a point.")
            yield Problem("too-many-cells", f"{table}:{row.line}", said, remedy)


def _too_wide(row: TableRow, width: int) -> bool:
    return any(cell.strip() for cell in row.cells[width:])
