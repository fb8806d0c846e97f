"""Two judges who scored the same routines: how far one lies from the other, and between which limits.

Bland and Altman, Lancet 327, 1986: mean difference, standard deviation, limits of agreement; the standard
error of a limit is about the root of three times the squared deviation over the number.
"""

from dataclasses import dataclass
from math import sqrt
from statistics import stdev

from reviewer.auditing.intervals import FEW, Figure, around, mean

TIMES = 1.96
"""Deviations between mean and limit: 95 of 100 normal differences lie between the limits."""


@dataclass(frozen=True, slots=True)
class Limits:
    """Of the first judge's scores less the second's, in points.

    Attributes:
        difference: their mean.
        deviation: their standard deviation, or None of fewer than two.
        low, high: the limits of agreement.
    """

    difference: Figure
    deviation: float | None
    low: Figure
    high: Figure


def limits(differences: list[float], times: float = TIMES) -> Limits:
    """Limits of agreement of paired differences."""
    found, number = mean(differences), len(differences)
    if number < 2 or found.value is None:
        none = Figure(None, None, number, why=FEW)
        return Limits(found, None, none, none)
    deviation = stdev(differences)
    away, error = times * deviation, sqrt(3) * deviation
    return Limits(
        found,
        deviation,
        around(found.value - away, error, number),
        around(found.value + away, error, number),
    )
