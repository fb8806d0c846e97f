"""Intraclass correlation of judges who all scored the same routines, single scores.

Two-way analysis of variance; ICC(2,1), absolute agreement of judges drawn from many, and ICC(3,1),
consistency of these judges: Shrout and Fleiss, Psychol Bull 86, 1979; intervals as in McGraw and Wong,
Psychol Methods 1, 1996 (formulas from memory, results checked against published ones). Sums are exact; floats
begin with the distribution of F.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from reviewer.auditing.intervals import WIDEST_SHARE, Figure, Interval, least_number, width
from reviewer.terms.exact import Points

Rows = Sequence[Sequence[Points]]
"""A row for each routine, a score for each judge, none missing."""
_Coefficient = Callable[["Variance"], Fraction | None]
_Limits = Callable[["Variance"], Interval]


@dataclass(frozen=True, slots=True)
class Variance:
    """Mean squares of routines, judges and what is left, exact; n routines and k judges."""

    routines: Fraction
    judges: Fraction
    left: Fraction
    n: int
    k: int

    def of(self, n: int) -> "Variance":
        """As it would be expected of another number of routines."""
        judges = self.left + (self.judges - self.left) * n / self.n
        return replace(self, judges=max(judges, Fraction(0)), n=n)


def variance(rows: Rows) -> Variance:
    """Of two or more complete rows of two or more judges."""
    sizes = [[one.thousandths for one in row] for row in rows]
    n, k = len(sizes), len(sizes[0])
    common = Fraction(sum(map(sum, sizes)) ** 2, n * k)
    routines = Fraction(sum(sum(row) ** 2 for row in sizes), k) - common
    judges = Fraction(sum(sum(column) ** 2 for column in zip(*sizes, strict=True)), n) - common
    left = sum(one**2 for row in sizes for one in row) - common - routines - judges
    return Variance(routines / (n - 1), judges / (k - 1), left / ((n - 1) * (k - 1)), n, k)


def agreement(rows: Rows) -> Figure:
    """ICC(2,1)."""
    return _figure(rows, _agreement, _agreement_interval)


def consistency(rows: Rows) -> Figure:
    """ICC(3,1)."""
    return _figure(rows, _consistency, _consistency_interval)


def _figure(rows: Rows, coefficient: _Coefficient, interval: _Limits) -> Figure:
    if len(rows) < 2:
        return Figure(None, None, len(rows), why="Two routines that all judges scored are needed at least.")
    found = variance(rows)
    value = coefficient(found)
    if value is None:
        return Figure(None, None, found.n, why="All scores are equal: there is nothing to tell apart.")
    if found.left == 0:
        why = "The judges differ by the same everywhere: no interval is defined."
        return Figure(float(value), None, found.n, why=why)
    limits = interval(found)
    if not limits[0] <= limits[1]:
        why = "The routines differ by less than the judges do on one: no interval is defined."
        return Figure(float(value), None, found.n, why=why)
    least = least_number(lambda n: width(interval(found.of(n))), WIDEST_SHARE)
    return Figure(float(value), limits, found.n, least)


def _agreement(v: Variance) -> Fraction | None:
    under = v.routines + (v.k - 1) * v.left + v.k * (v.judges - v.left) / v.n
    return (v.routines - v.left) / under if under else None


def _consistency(v: Variance) -> Fraction | None:
    under = v.routines + (v.k - 1) * v.left
    return (v.routines - v.left) / under if under else None


def _consistency_interval(v: Variance) -> Interval:
    ratio, free = float(v.routines / v.left), (v.n - 1) * (v.k - 1)
    low, high = ratio / _quantile(v.n - 1, free), ratio * _quantile(free, v.n - 1)
    return (low - 1) / (low + v.k - 1), (high - 1) / (high + v.k - 1)


def _agreement_interval(v: Variance) -> Interval:
    n, k = v.n, v.k
    routines, judges, left = float(v.routines), float(v.judges), float(v.left)
    value = float(_agreement(v) or 0)
    a, b = k * value * judges / left, n * (1 + (k - 1) * value) - k * value
    free = (n - 1) * (k - 1) * (a + b) ** 2 / ((n - 1) * a**2 + b**2)
    rest = k * judges + (k * n - k - n) * left
    low, high = _quantile(n - 1, free), _quantile(free, n - 1)
    return (
        n * (routines - low * left) / (low * rest + n * routines),
        n * (high * routines - left) / (rest + n * high * routines),
    )


def _quantile(above: float, below: float) -> float:
    """The quantile of F at 97.5 %, by its degrees of freedom."""
    from scipy.special import fdtri  # slow to import

    return float(fdtri(above, below, 0.975))
