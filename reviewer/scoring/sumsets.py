"""Sets of totals as the bits of one whole number: bit n stands for n thousandths. Sums are shifts."""

from collections.abc import Iterable, Iterator
from functools import cache

NOTHING = 1
"""The set that holds only nought."""


def of(amounts: Iterable[int]) -> int:
    """The set of these amounts, none negative."""
    bits = 0
    for amount in amounts:
        bits |= 1 << amount
    return bits


def members(bits: int) -> Iterator[int]:
    """The amounts of a set, rising."""
    written = f"{bits:b}"[::-1]
    place = written.find("1")
    while place >= 0:
        yield place
        place = written.find("1", place + 1)


def add(left: int, right: int) -> int:
    """Every sum of one amount of each set."""
    if left.bit_count() < right.bit_count():
        left, right = right, left
    total = 0
    for amount in members(right):
        total |= left << amount
    return total


def add_amounts(bits: int, amounts: tuple[int, ...]) -> int:
    """Every sum of an amount of the set and one of these."""
    total = 0
    for amount in amounts:
        total |= bits << amount
    return total


def at_most(bits: int, most: int) -> int:
    """The set with every amount above the most brought down to it."""
    kept = bits & ((1 << most) - 1)
    return kept | (1 << most) if bits >> most else kept


@cache
def larger(left: tuple[int, ...], right: tuple[int, ...]) -> tuple[int, ...]:
    """Every amount that is the larger of one of each, rising."""
    least = max(left[0], right[0])
    return tuple(sorted({amount for amount in (*left, *right) if amount >= least}))


def lowest(bits: int) -> int:
    """The least amount of a set that is not empty."""
    return (bits & -bits).bit_length() - 1


def highest(bits: int) -> int:
    """The greatest amount of a set that is not empty."""
    return bits.bit_length() - 1
