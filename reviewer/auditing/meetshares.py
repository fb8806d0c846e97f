"""Shares of the routines of a meet, with Wilson's interval.

It is given an effective number of routines: for a simple sample of n out of N, n (N - 1) / (N - n), which is
Wilson's with the variance of sampling without replacement (from memory); in strata the number of a simple
sample with the same variance, corrected for lost degrees of freedom, and never more than if the share were
the same in all strata (after Korn and Graubard, Survey Methodology 24, 1998, from memory).
"""

import numpy as np

from reviewer.auditing.intervals import Figure, Interval, wilson_interval
from reviewer.auditing.strata import Draw, Part, Real, Whole, Yes, student
from reviewer.terms.messages import noted

NONE_TELLS = noted("No audited routine tells this.")


def share(draw: Draw, told: Yes, found: Yes) -> Figure:
    """The share of a meet's routines that have something; ``told``: where it is known whether they do."""
    number = int(told.sum())
    if not number:
        return Figure(None, None, 0, why=NONE_TELLS)
    part, counted = draw.part(told), found[told].astype(np.int64)
    value = part.mean(counted)
    return Figure(float(value), _interval(part, counted, float(value)), number)


def _interval(part: Part, counted: Whole, value: float) -> Interval:
    if part.every:
        return value, value
    low, high = wilson_interval(value, _effective(part, counted, value))
    sure, open_ = _known(part, int(counted.sum()))
    return min(max(low, sure), value), max(min(high, open_), value)


def _known(part: Part, count: int) -> Interval:
    """Between what shares the meet's must lie, after what was seen; any where that does not tell."""
    if (part.number < part.drawn).any():
        return 0.0, 1.0
    of, left = int(part.of.sum()), int((part.of - part.drawn).sum())
    return count / of, (count + left) / of


def _effective(part: Part, counted: Whole, value: float) -> float:
    """The number of routines of a simple sample that tells the share as well."""
    alike = part.weights**2 * _correction(part) / part.number
    most = 1 / float(alike.sum())
    if not 0 < value < 1:
        return most
    shares = part.sums(counted) / part.number
    own = np.where(part.number > 1, shares * (1 - shares), value * (1 - value))
    variance = float((alike * own).sum() + part.between(shares).sum())
    return min(most, value * (1 - value) / variance * _kept(part)) if variance > 0 else most


def _kept(part: Part) -> float:
    """What is left of a number of routines after strata cost degrees of freedom: 1 for one stratum."""
    whole = max(int(part.number.sum()) - 1, 1)
    free = int((part.number - 1).sum()) or whole
    return (student(whole) / student(free)) ** 2


def _correction(part: Part) -> Real:
    """(N - n) / (N - 1) of each stratum; nothing where all was drawn."""
    return np.asarray((part.sizes - part.number) / np.where(part.left > 0, part.sizes - 1, 1))
