"""Samples of routines by lot, the same again with the same seed, whatever order they stand in.

A routine's lot is the SHA-256 of the seed and its name: numbers that nobody can foresee for a seed not yet
chosen, and anybody can work out afterwards. The lowest lots are taken, so a larger sample holds a smaller.
"""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from hashlib import sha256
from heapq import heapify, heappop, heappush


def lot(seed: str, name: str) -> str:
    """A routine's lot as hexadecimal digits."""
    return sha256(f"{seed}\n{name}".encode()).hexdigest()


def simple(names: Sequence[str], number: int, seed: str) -> tuple[str, ...]:
    """So many of them, each as likely as any other, in order of lots. ValueError where there are fewer."""
    if not 0 <= number <= len(set(names)) == len(names):
        raise ValueError("a sample is no larger than what it is drawn from, and no name stands twice")
    return tuple(sorted(names, key=lambda name: lot(seed, name))[:number])


def stratified(strata: Mapping[str, Sequence[str]], number: int, seed: str) -> tuple[str, ...]:
    """So many in all, from each stratum in proportion to its size; ValueError where there are fewer."""
    taken = shares({name: len(members) for name, members in strata.items()}, number)
    drawn = (simple(strata[name], count, seed) for name, count in taken.items())
    return tuple(sorted((one for some in drawn for one in some), key=lambda name: lot(seed, name)))


def shares(sizes: Mapping[str, int], number: int) -> dict[str, int]:
    """How many each stratum gives: by highest averages, none left out while there is one for each.

    The divisors are odd numbers (Sainte-Laguë, Webster): near proportion, and unlike largest remainders no
    stratum gives less to a larger sample, which so holds the smaller.
    """
    if not 0 <= number <= sum(sizes.values()):
        raise ValueError("a sample is no larger than what it is drawn from")
    given = dict.fromkeys(sizes, 0)
    waiting = [(_turn(size, 0), name) for name, size in sizes.items() if size]
    heapify(waiting)
    for _ in range(number):
        _, name = heappop(waiting)
        given[name] += 1
        if given[name] < sizes[name]:
            heappush(waiting, (_turn(sizes[name], given[name]), name))
    return given


def _turn(size: int, given: int) -> tuple[bool, Fraction]:
    """The least has its turn: who gave nothing yet comes first, the largest before others."""
    return given > 0, -Fraction(size, 2 * given + 1)
