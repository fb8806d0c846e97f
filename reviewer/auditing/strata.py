"""Means of a meet from routines drawn by lot, stratum by stratum, and how sure they are.

The usual estimators of stratified samples without replacement (Cochran, Sampling Techniques, 3rd ed., 1977,
chapters 5 and 5A, from memory); a simple sample has one stratum. Not every routine tells everything: those
that do are a part of each stratum whose size is estimated too. Degrees of freedom are Satterthwaite's
(Biometrics Bulletin 2, 1946, from memory). A stratum of which one routine alone tells something borrows the
variance of all that were drawn (our choice: it is rather too large).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

import numpy as np
from numpy.typing import NDArray

Whole = NDArray[np.integer[Any]]
Real = NDArray[np.floating[Any]]
Yes = NDArray[np.bool_]
Names = NDArray[np.object_]


@dataclass(frozen=True, slots=True)
class Draw:
    """Which routine was drawn from where.

    Attributes:
        place: of each routine, the number of its stratum.
        drawn: of each stratum, how many were drawn; one at least.
        of: of each stratum, how many routines it has.
    """

    place: Whole
    drawn: Whole
    of: Whole

    def part(self, told: Yes) -> "Part":
        """Of those routines alone that tell something: one at least."""
        number = np.bincount(self.place[told], minlength=len(self.drawn))
        some = number > 0
        return Part(self.place[told], some, number[some], self.drawn[some], self.of[some])


@dataclass(frozen=True, slots=True)
class Part:
    """The routines that tell something, in strata with one of them at least.

    Attributes:
        place: of each of them, the number of its stratum in the draw.
        some: of each stratum of the draw, whether it is one of these.
        number: of each of these strata, how many tell something.
        drawn, of: of these strata, as in the draw.
    """

    place: Whole
    some: Yes
    number: Whole
    drawn: Whole
    of: Whole

    @property
    def every(self) -> bool:
        """Whether nothing is left out: all routines of these strata were drawn."""
        return bool((self.drawn == self.of).all())

    @property
    def sizes(self) -> Real:
        """How many routines of each stratum tell something, as estimated."""
        return np.asarray(self.of * self.number / self.drawn)

    @property
    def weights(self) -> Real:
        """Each stratum's share of the whole."""
        return np.asarray(self.sizes / self.sizes.sum())

    @property
    def left(self) -> Real:
        """The share of each stratum that was not drawn: the correction for a finite meet."""
        return np.asarray(1 - self.drawn / self.of)

    @property
    def effective(self) -> float:
        """How many routines of a simple sample weigh as evenly (Kish's number)."""
        return float(1 / (self.weights**2 / self.number).sum())

    @property
    def left_over(self) -> float:
        """The share not drawn, over all strata as they bear on a mean."""
        spread = self.weights**2 / self.number
        return float((spread * self.left).sum() / spread.sum())

    def sums(self, values: Whole | Real) -> Real:
        """Of each stratum. The order of routines changes nothing in whole numbers."""
        return np.asarray(np.bincount(self.place, values, minlength=len(self.some))[self.some], dtype=float)

    def mean(self, values: Whole) -> Fraction:
        """The weighted mean, exact."""
        sums = [int(one) for one in self.sums(values)]  # exact below 2**53
        shares = [Fraction(int(of), int(drawn)) for of, drawn in zip(self.of, self.drawn, strict=True)]
        whole = sum(share * int(number) for share, number in zip(shares, self.number, strict=True))
        return sum((share * one for share, one in zip(shares, sums, strict=True)), Fraction(0)) / whole

    def variance(self, means: Real, within: Real, overall: float) -> "Variance":
        """Of the weighted mean, from each stratum's mean and variance of single values, and that of all."""
        own = self.number > 1
        lent = np.where(own, within, overall)
        free = np.where(own, self.number, self.number.sum()) - 1
        parts = self.weights**2 * self.left * lent / self.number
        between = self.between(means)
        return Variance((*parts, *between), (*free, *np.maximum(self.drawn - 1, 1)))

    def between(self, means: Real) -> Real:
        """What the unknown sizes add where not every routine of a stratum tells something."""
        told = self.number / self.drawn
        away = means - (self.weights * means).sum()
        of_sizes = self.left * told * (1 - told) / np.maximum(self.drawn - 1, 1)
        return np.asarray((self.of / self.sizes.sum() * away) ** 2 * of_sizes)


@dataclass(frozen=True, slots=True)
class Variance:
    """The variance of an estimate, in parts, each with its degrees of freedom."""

    parts: Sequence[float]
    free: Sequence[float]

    @property
    def whole(self) -> float:
        """All parts together."""
        return float(sum(self.parts))

    @property
    def freedom(self) -> float:
        """Degrees of freedom of the whole, by Satterthwaite."""
        below = sum(part**2 / free for part, free in zip(self.parts, self.free, strict=True) if part)
        return float(self.whole**2 / below) if below else 1.0

    @property
    def half(self) -> float:
        """Half of Student's interval of 95 %."""
        return student(self.freedom) * float(self.whole**0.5)


def student(freedom: float) -> float:
    """The quantile of Student at 97.5 %."""
    from scipy.special import stdtrit  # slow to import

    return float(stdtrit(freedom, 0.975))


def farthest(names: Names, away: Whole | Real) -> tuple[str, ...]:
    """Those of the routines that lie away from nought, the farthest first."""
    order = np.argsort(-np.abs(away), kind="stable")
    return tuple(names[order[: np.count_nonzero(away)]])
