"""Samples of routines by lot, the same again with the same seed, whatever order they stand in.

A routine's lot is the SHA-256 of the seed and its name: numbers that nobody can foresee for a seed not yet
chosen, and anybody can work out afterwards. The lowest lots are taken, so a larger sample holds a smaller.
"""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from hashlib import sha256


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
    """How many each stratum gives: by largest remainders, none left out while there is one for each."""
    whole = sum(sizes.values())
    if not 0 <= number <= whole:
        raise ValueError("a sample is no larger than what it is drawn from")
    filled = [name for name, size in sizes.items() if size]
    least = 1 if number >= len(filled) else 0
    exact = {name: Fraction(number * size, whole) for name, size in sizes.items()} if whole else {}
    given = {name: max(least if sizes[name] else 0, int(exact.get(name, Fraction(0)))) for name in sizes}
    while sum(given.values()) < number:
        wanting = [name for name in filled if given[name] < sizes[name]]
        given[max(wanting, key=lambda name: (exact[name] - given[name], name))] += 1
    while sum(given.values()) > number:
        over = [name for name in filled if given[name] > least]
        given[min(over, key=lambda name: (exact[name] - given[name], name))] -= 1
    return given
