"""Two sequences of the same routine laid beside each other, so that as little as possible stands alone."""

from collections.abc import Callable, Iterator, Sequence
from typing import Any, TypeVar

Entry = TypeVar("Entry")
Costs = Sequence[Sequence[int | None]]

ALONE = 2000
"""What it costs to leave an entry alone, in the unit of what a pair costs."""


def align(
    first: Sequence[Entry],
    second: Sequence[Entry],
    cost: Callable[[Entry, Entry], int | None],
    key: Callable[[Entry], Any],
) -> tuple[tuple[Entry | None, Entry | None], ...]:
    """The pairs of least cost that keep the order of both sequences; None beside an entry that stands alone.

    ``cost`` is that of a pair, from 0, or None where two entries can never be one; an entry left alone
    costs `ALONE`. ``key`` orders entries, so that sequences in exchanged places are paired alike. The method
    is that of Needleman and Wunsch (J Mol Biol 48, 1970, from memory): exact, by dynamic programming.
    """
    if not first or not second:
        return (*((one, None) for one in first), *((None, other) for other in second))
    if len(first) == len(second) == 1 and _are_one(cost(first[0], second[0])):
        return ((first[0], second[0]),)
    if [key(one) for one in second] < [key(one) for one in first]:
        turned = align(second, first, lambda one, other: cost(other, one), key)
        return tuple((one, other) for other, one in turned)
    costs = [[cost(one, other) for other in second] for one in first]
    way = reversed(list(_way_back(costs, _totals(costs, len(second)))))
    return tuple(
        (None if one is None else first[one], None if other is None else second[other]) for one, other in way
    )


def _are_one(price: int | None) -> bool:
    """Whether a pair costs no more than to leave both alone."""
    return price is not None and price <= 2 * ALONE


def _totals(costs: Costs, width: int) -> list[list[int]]:
    """Least cost of every beginning of the first sequence beside every beginning of the second."""
    totals = [[ALONE * place for place in range(width + 1)]]
    for line in costs:
        above = totals[-1]
        row = [above[0] + ALONE]
        for place, price in enumerate(line):
            least = min(above[place + 1], row[place]) + ALONE
            row.append(least if price is None else min(least, above[place] + price))
        totals.append(row)
    return totals


def _way_back(costs: Costs, totals: Sequence[Sequence[int]]) -> Iterator[tuple[int | None, int | None]]:
    """The places of the pairs, from the last to the first."""
    one, other = len(totals) - 1, len(totals[0]) - 1
    while one or other:
        price = costs[one - 1][other - 1] if one and other else None
        if price is not None and totals[one][other] == totals[one - 1][other - 1] + price:
            one, other = one - 1, other - 1
            yield one, other
        elif other and totals[one][other] == totals[one][other - 1] + ALONE:
            other -= 1
            yield None, other
        else:
            one -= 1
            yield one, None
