"""Scores that several judges gave to several routines: who agrees with whom, and who lies where."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

from reviewer.auditing import intraclass
from reviewer.auditing.intervals import Figure, mean, spread, wilson
from reviewer.auditing.limits import Limits, limits
from reviewer.terms.exact import Points

Ratings = Mapping[tuple[str, str], Points]
"""What was given, by routine and judge."""


@dataclass(frozen=True, slots=True)
class Pair:
    """Two judges: how often they gave the same, and how far they lie apart."""

    judges: tuple[str, str]
    same: Figure
    limits: Limits


@dataclass(frozen=True, slots=True)
class Lean:
    """One judge against the mean of the others, routine by routine: on the average, and how unsteadily."""

    judge: str
    bias: Figure
    spread: Figure


@dataclass(frozen=True, slots=True)
class Panel:
    """Several judges of the same routines; judges in the order of their letters, never by merit.

    Attributes:
        routines: how many at least two judges scored.
        complete: how many all of them scored; the coefficients rest on these.
        same: how often all who scored a routine gave the same.
        agreement, consistency: ICC(2,1) and ICC(3,1).
        pairs: every two judges who share a routine.
        judges: each judge.
    """

    routines: int
    complete: int
    same: Figure
    agreement: Figure
    consistency: Figure
    pairs: tuple[Pair, ...]
    judges: tuple[Lean, ...]


def panel(ratings: Ratings) -> Panel:
    """The figures of scores by at least two judges; routines that one judge alone scored are left out."""
    rows: dict[str, dict[str, Points]] = defaultdict(dict)
    for (routine, judge), given in sorted(ratings.items()):
        rows[routine][judge] = given
    shared = [row for row in rows.values() if len(row) > 1]
    letters = sorted({judge for row in shared for judge in row})
    complete = [[row[judge] for judge in letters] for row in shared if len(row) == len(letters)]
    return Panel(
        len(shared),
        len(complete),
        wilson(sum(len(set(row.values())) == 1 for row in shared), len(shared)),
        intraclass.agreement(complete),
        intraclass.consistency(complete),
        tuple(_pairs(shared, letters)),
        tuple(_lean(judge, shared) for judge in letters),
    )


def _pairs(rows: list[dict[str, Points]], letters: list[str]) -> Iterator[Pair]:
    for one, other in combinations(letters, 2):
        both = [(row[one] - row[other]).thousandths for row in rows if one in row and other in row]
        if both:
            found = limits([each / 1000 for each in both])
            yield Pair((one, other), wilson(both.count(0), len(both)), found)


def _lean(judge: str, rows: list[dict[str, Points]]) -> Lean:
    away = [float(_away(judge, row)) for row in rows if judge in row]
    return Lean(judge, mean(away), spread(away))


def _away(judge: str, row: dict[str, Points]) -> Fraction:
    """A judge's score less the mean of the others', in points."""
    others = sum(given.thousandths for who, given in row.items() if who != judge)
    return Fraction(row[judge].thousandths * (len(row) - 1) - others, 1000 * (len(row) - 1))
