"""Rows of a published table: the total and the ranks that follow from their own figures by the book."""

from collections import defaultdict
from collections.abc import Sequence

from reviewer.scoring.panel import AVERAGE, average
from reviewer.terms.exact import Points
from reviewer.terms.posted import PostedRow
from reviewer.terms.rulebook import RuleBook


def execution(row: PostedRow, book: RuleBook) -> Points:
    """The published average of the judges or, without one, that of their scores."""
    return average(row.marks, book) if row.execution is None else row.execution


def total(row: PostedRow, book: RuleBook) -> Points:
    """The final score: difficulty + execution - penalty, and never below the least score there is."""
    score, least = row.difficulty + execution(row, book), book.courtesy
    if least is None:
        return score - row.penalty
    if least.held_against == AVERAGE:
        return max(score, least.points) - row.penalty
    return max(score - row.penalty, least.points)


def ranks(rows: Sequence[PostedRow], book: RuleBook) -> tuple[int, ...]:
    """The rank of each row among these, from 1; rows that the book's tie rule leaves equal share it."""
    standings = [_standing(row, book) for row in rows]
    first: dict[tuple[int, ...], int] = {}
    for rank, standing in enumerate(sorted(standings, reverse=True), start=1):
        first.setdefault(standing, rank)
    return tuple(first[standing] for standing in standings)


def agreeing_ranks(said: Sequence[int], derived: Sequence[int]) -> tuple[int, ...]:
    """For each row the published rank where nothing speaks against it, else the least that agrees.

    A table may be an excerpt: with a rank beyond the number of its rows, only order, sharing and the number
    of better rows are held against it. A whole table must have the derived ranks.
    """
    if max(said, default=0) <= len(said):
        return tuple(derived)
    equal = defaultdict(list)
    for row, rank in enumerate(derived):
        equal[rank].append(row)
    agreeing, least = list(derived), 1
    for rank in sorted(equal):
        least = max(least, rank)
        shared = min((said[row] for row in equal[rank] if said[row] >= least), default=None)
        for row in equal[rank]:
            agreeing[row] = least if shared is None else shared
        least = least if shared is None else shared + len(equal[rank])
    return tuple(agreeing)


def _standing(row: PostedRow, book: RuleBook) -> tuple[int, ...]:
    steps = {"execution": execution(row, book), "difficulty": row.difficulty}
    return tuple(points.thousandths for points in (total(row, book), *(steps[step] for step in book.ties)))
