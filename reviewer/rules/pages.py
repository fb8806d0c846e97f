"""The parts of a rule book arranged for reading: chapters of sentences, clauses and tables."""

from dataclasses import dataclass

from reviewer.terms.rulebook import Clause, RuleBook


@dataclass(frozen=True, slots=True)
class OpenReading:
    """What a rule leaves open, in sentences: the question, what the edition states, the other reading."""

    question: str
    stated: str
    other: str


@dataclass(frozen=True, slots=True)
class Said:
    """A clause in sentences, its open reading if any, and the names of its examples."""

    clause: Clause
    words: tuple[str, ...]
    reading: OpenReading | None
    examples: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """A line of a table, and sentences that belong beneath it."""

    cells: tuple[str, ...]
    beneath: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under names of columns."""

    columns: tuple[str, ...]
    rows: tuple[Row, ...]


Part = str | Said | Table


@dataclass(frozen=True, slots=True)
class Chapter:
    """A heading, the ids of its clauses, and what stands under it: sentences, clauses, tables."""

    title: str
    clauses: tuple[str, ...]
    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True)
class Page:
    """A whole rule book for reading.

    Attributes:
        book: the edition.
        rests_on: how many clauses rest on each kind of source.
        chapters: in the order of judging; chapters without clauses are left out.
        clauses: every clause in sentences, in the order of the file.
        sources: what the short signs of the tables' last column stand for.
    """

    book: RuleBook
    rests_on: dict[str, int]
    chapters: tuple[Chapter, ...]
    clauses: tuple[Said, ...]
    sources: dict[str, str]


def open_words(reading: OpenReading) -> list[str]:
    """An open reading in three sentences."""
    return [
        f"Left open: {reading.question}",
        f"Stated here: {reading.stated}",
        f"Other reading: {reading.other}",
    ]
