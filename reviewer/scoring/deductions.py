"""Every total that one judge's faults may come to, as a sumset: scopes take the largest, caps the least."""

from collections.abc import Iterator, Sequence
from functools import lru_cache

from reviewer.scoring import sumsets
from reviewer.scoring.execution import Group, Taken, caps, left_over, scope, swallowed
from reviewer.scoring.routine import Placed
from reviewer.terms.marks import Mark
from reviewer.terms.provisions import Cap, Fault
from reviewer.terms.rulebook import RuleBook


def menu(mark: Mark, book: RuleBook) -> tuple[int, ...]:
    """Thousandths a fault may cost, rising: what was said, or any permitted amount where it may be argued."""
    fault = book.fault_of[mark.code]
    if fault.flat or not mark.arguable or _costs_its_most(mark, fault):
        return (mark.amount.thousandths if mark.amount else 0,)
    return menus(book)[mark.code]


def _costs_its_most(mark: Mark, fault: Fault) -> bool:
    """Whether a measured bend leaves nothing to argue about."""
    bent = mark.angle.value if mark.angle is not None else None
    return bent is not None and fault.full_from is not None and bent >= fault.full_from


@lru_cache(maxsize=64)
def menus(book: RuleBook) -> dict[str, tuple[int, ...]]:
    """Fault code to the thousandths it may cost when it is argued about: it costs something."""
    return {
        one.code: tuple(amount.thousandths for amount in one.amounts if amount) or (0,) for one in book.faults
    }


def deducted(faults: Sequence[Mark], placed: Sequence[Placed], spared: frozenset[str], book: RuleBook) -> int:
    """Thousandths of one judge's faults as they were marked."""
    cap_of, total = caps(book), 0
    largest: dict[tuple[str, ...], int] = {}
    for mark in left_over(faults, swallowed(faults, placed, book), spared, book):
        place, size = scope(mark, book), 0 if mark.amount is None else mark.amount.thousandths
        if size > largest.get(place, 0):
            largest[place] = size
    capped: dict[Cap, int] = {}
    for place, size in largest.items():
        cap = cap_of.get(place[0])
        if cap is None:
            total += size
        else:
            capped[cap] = capped.get(cap, 0) + size
    return total + sum(min(size, cap.at_most.thousandths) for cap, size in capped.items())


def totals(taken: Taken, book: RuleBook) -> int:
    """The set of totals of one judge's faults."""
    cap_of, free = caps(book), sumsets.NOTHING
    capped: dict[Cap, int] = {}
    for group in taken.groups:
        sizes = _sizes(group, book)
        cap = cap_of.get(group.code)
        if cap is None:
            free = sumsets.add_amounts(free, sizes)
        else:
            capped[cap] = sumsets.add_amounts(capped.get(cap, sumsets.NOTHING), sizes)
    for cap, bits in capped.items():
        free = sumsets.add(free, sumsets.at_most(bits, cap.at_most.thousandths))
    return free


def _sizes(group: Group, book: RuleBook) -> tuple[int, ...]:
    """What a group may cost: the largest of its faults counts."""
    sizes = menu(group.faults[0], book)
    for mark in group.faults[1:]:
        sizes = sumsets.larger(sizes, menu(mark, book))
    return sizes


def moving(taken: Taken, book: RuleBook) -> Iterator[Mark]:
    """The faults whose amount may be argued about and can change the total.

    Not one beside which a larger one on the same element is beyond argument, nor one under a cap that the
    others reach in any case.
    """
    cap_of = caps(book)
    least = [(group, _sizes(group, book)[0]) for group in taken.groups]
    for group, floor in least:
        cap = cap_of.get(group.code)
        if cap is not None:
            others = sum(size for one, size in least if one is not group and cap_of.get(one.code) is cap)
            if others >= cap.at_most.thousandths:
                continue
        for mark in group.faults:
            sizes = menu(mark, book)
            if len(sizes) > 1 and sizes[-1] > floor:
                yield mark
