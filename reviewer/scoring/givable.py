"""Which scores an edition can give at all: from nothing to its most, in steps of its amounts."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from functools import lru_cache
from math import gcd

from reviewer.scoring.panel import mean
from reviewer.terms.exact import Points
from reviewer.terms.provisions import Connection, ElementValues, Required
from reviewer.terms.rulebook import RuleBook

_MOST = Points(20_000)
"""The greatest final score where an edition sets none (from memory)."""
_MOST_JUDGES = 9
"""Of how many counting scores an average may be; panels are smaller (from memory)."""


def most_of_judge(book: RuleBook) -> Points | None:
    """The most a judge's score can be: what it begins from; None where gains may raise that."""
    if book.execution_from is not None:
        return book.execution_from.points
    return None if _gains(book) else book.start.points


def most_start(book: RuleBook) -> Points:
    """The greatest start value, or difficulty where that is added after the average."""
    if not _gains(book):
        return book.start.points
    return _MOST - book.execution_from.points if book.execution_from is not None else _MOST


def most_final(book: RuleBook) -> Points:
    """The greatest final score."""
    return most_start(book) if book.execution_from is None else _MOST


def is_start(points: Points, book: RuleBook) -> bool:
    """Whether the edition's amounts can come to this start value."""
    return Points(0) <= points <= most_start(book) and points.thousandths % step(book) == 0


def is_final(points: Points, book: RuleBook) -> bool:
    """Whether an average of judges, by the edition's amounts and rounding, can come to this final score."""
    if not Points(0) <= points <= most_final(book):
        return False
    wanted, size = points.thousandths, step(book)
    return any(
        mean(size * steps, judges, book.panel.rounding) == points
        for judges in range(1, _MOST_JUDGES + 1)
        for steps in range(wanted * judges // size, (wanted + 1) * judges // size + 2)
    )


@lru_cache(maxsize=64)
def step(book: RuleBook) -> int:
    """Thousandths of which all amounts of an edition are whole multiples."""
    return gcd(*(points.thousandths for points in _amounts(book.provides))) or 1


def _gains(book: RuleBook) -> bool:
    """Whether something raises what a score begins from."""
    gives = any(one.gives for one in book.all(Required))
    return bool(book.one(ElementValues) or book.all(Connection) or gives)


def _amounts(said: object) -> Iterator[Points]:
    """Every amount in what clauses provide."""
    if isinstance(said, Points):
        yield said
    elif isinstance(said, tuple):
        for one in said:
            yield from _amounts(one)
    elif is_dataclass(said):
        for one in fields(said):
            yield from _amounts(getattr(said, one.name))
