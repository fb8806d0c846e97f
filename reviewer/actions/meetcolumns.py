"""Which column of a meet's table holds what, whatever the order and the spelling of their names."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from reviewer.exchange.tables import Table
from reviewer.terms.codes import no_code
from reviewer.terms.meets import GROUPS
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem

START, ATHLETE, RECORDING = "start", "athlete", "recording"
FIGURES = ("start value", "average", "neutral", "final")
"""Columns with the figures of a posted sheet."""
REQUESTED, INQUIRY, SHORT = "requested", "inquiry", "short"
_KNOWN = {START, ATHLETE, RECORDING, *FIGURES, REQUESTED, INQUIRY, SHORT, *GROUPS}
_NUMBERED = re.compile(r"e[1-9][0-9]?")
_JUDGE = "judge "


@dataclass(frozen=True, slots=True)
class Columns:
    """The columns of one table.

    Attributes:
        places: where each that is known stands in a row.
        judges: where each judge's scores stand, by letter.
        unread: headers of those that mean nothing here.
    """

    places: Mapping[str, int]
    judges: Mapping[str, int]
    unread: tuple[str, ...]


def columns_of(table: Table) -> Columns:
    """What a table's header says; a DocumentError with all that is wrong with it."""
    reading = _Header(table)
    if START not in reading.places:
        said = message("The column {name} is missing.", name=START)
        reading.problems.append(
            Problem("missing-column", reading.where, said, message("Add it to the header."))
        )
    if reading.problems:
        raise DocumentError([*table.problems, *reading.problems])
    return Columns(reading.places, reading.judges, tuple(reading.unread))


class _Header:
    def __init__(self, table: Table) -> None:
        self.where = f"{table.name}:{table.line}"
        self.places: dict[str, int] = {}
        self.judges: dict[str, int] = {}
        self.unread: list[str] = []
        self.problems: list[Problem] = []
        for header, place in table.columns.items():
            self.problems.extend(self._taken(header, place))

    def _taken(self, header: str, place: int) -> Iterator[Problem]:
        name = " ".join(re.split(r"[\s_-]+", header)).strip()
        letter = _letter(name)
        if letter is not None:
            yield from self._judge(letter, place)
        elif name not in _KNOWN:
            self.unread.append(header)
        elif name in self.places:
            said = message("The column {name} stands twice.", name=repr(name))
            yield Problem("column-twice", self.where, said, message("Keep one."))
        else:
            self.places[name] = place

    def _judge(self, letter: str, place: int) -> Iterator[Problem]:
        problem = no_code(letter, self.where)
        if problem is not None:
            yield problem
        elif letter in self.judges:
            said = message("Judge {judge} stands twice.", judge=letter)
            yield Problem("judge-twice", self.where, said, message("Keep one column for each judge."))
        else:
            self.judges[letter] = place


def _letter(name: str) -> str | None:
    """The letter of the judge whose scores stand under a name; None where it is no judge's."""
    if _NUMBERED.fullmatch(name):
        return name.upper()
    return name.removeprefix(_JUDGE).upper() if name.startswith(_JUDGE) else None
