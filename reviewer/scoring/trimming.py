"""Every sum of the middle ones of several judges' totals, where the highest and lowest are left out."""

from collections.abc import Sequence
from math import gcd

from reviewer.scoring import sumsets

MOST_STEPS = 3_000_000
"""Steps beyond which the sums are not followed up."""


def middle_sums(sets: Sequence[int], out: int) -> int | None:
    """The set of sums of the middle totals, ``out`` left out at either end; None where they are too many.

    For any two limits: so many judges at most the lower, so many at least the upper, the others between them.
    What lies between is then the middle, and every choice has such limits, so that nothing is missed.
    """
    members = [tuple(sumsets.members(bits)) for bits in sets]
    unit = gcd(*(amount for own in members for amount in own)) or 1
    small = [tuple(amount // unit for amount in own) for own in members]
    limits = sorted({amount for own in small for amount in own})
    widest = max(map(len, small))
    if len(limits) ** 2 // 2 * (out + 1) ** 2 * len(sets) * widest > MOST_STEPS:
        return None
    found = 0
    for place, lower in enumerate(limits):
        for upper in limits[place:]:
            found |= _between(small, lower, upper, out)
    return sumsets.of(amount * unit for amount in sumsets.members(found))


def _between(sets: Sequence[tuple[int, ...]], lower: int, upper: int, out: int) -> int:
    """Sums of the middle for two limits: judge after judge goes below, above or between them."""
    sums = {(0, 0): sumsets.NOTHING}
    for own in sets:
        middle = tuple(amount for amount in own if lower <= amount <= upper)
        following: dict[tuple[int, int], int] = {}
        for (below, above), bits in sums.items():
            ways = []
            if middle:
                ways.append(((below, above), sumsets.add_amounts(bits, middle)))
            if below < out and own[0] <= lower:
                ways.append(((below + 1, above), bits))
            if above < out and own[-1] >= upper:
                ways.append(((below, above + 1), bits))
            for key, more in ways:
                following[key] = following.get(key, 0) | more
        sums = following
    return sums.get((out, out), 0)
