"""How many routines to take: for a share known well enough, or to find faults that are not rarer than so.

Shares: Cochran, Sampling Techniques, 3rd ed., 1977, corrected for a finite population (from memory).
Discovery: the fewest of which all are sound with at most the chance that is left, by the hypergeometric
distribution where the number of routines is known, by the binomial one where it is not.
"""

from fractions import Fraction
from math import ceil, comb
from statistics import NormalDist

_MOST = 10_000_000
"""Routines beyond which no sample is worked out."""


def for_share(
    half: Fraction, confidence: Fraction, population: int | None, share: Fraction = Fraction(1, 2)
) -> int:
    """How many tell a share to within ``half`` to either side; ``share``: what it is thought to be.

    All shares lie between 0 and 1; ``population`` None is without end. ValueError for what makes no sense.
    """
    _refuse(0 < half < 1 and 0 < confidence < 1 and 0 < share < 1)
    z = NormalDist().inv_cdf(float((1 + confidence) / 2))
    endless = z**2 * float(share * (1 - share)) / float(half) ** 2
    if population is None:
        return ceil(endless)
    _refuse(1 <= population <= _MOST)
    return min(population, ceil(endless / (1 + (endless - 1) / population)))


def to_find_share(share: Fraction, confidence: Fraction) -> int:
    """How many, all sound, leave at most the rest of the confidence that this share of all is not."""
    _refuse(0 < share < 1 and 0 < confidence < 1)
    number, none_found = 1, 1 - share
    while none_found > 1 - confidence:
        number, none_found = number + 1, none_found * (1 - share)
        _refuse(number <= _MOST)
    return number


def to_find(faulty: int, confidence: Fraction, population: int) -> int:
    """How many of a population find at least one of so many faulty ones with this confidence."""
    _refuse(1 <= faulty <= population <= _MOST and 0 < confidence < 1)
    low, high = 1, population - faulty + 1
    while low < high:
        middle = (low + high) // 2
        if none_found(middle, faulty, population) <= 1 - confidence:
            high = middle
        else:
            low = middle + 1
    return low


def none_found(number: int, faulty: int, population: int) -> Fraction:
    """How probable it is that a sample holds none of the faulty ones, exactly."""
    if number > population - faulty:
        return Fraction(0)
    return Fraction(comb(population - faulty, number), comb(population, number))


def _refuse(makes_sense: bool) -> None:
    if not makes_sense:
        raise ValueError("shares and confidence lie between 0 and 1, and numbers are whole and above 0")
