"""Which faults several judges took on the same routines, and how far they agree on them.

Krippendorff's alpha (Computing Krippendorff's Alpha-Reliability, 2011), computed by the library of that name.
A unit is a fault that may be taken on an element of a routine: each element that anybody marked there, beside
each fault that anybody took in the sample.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from reviewer.auditing.aligning import align
from reviewer.auditing.intervals import Figure
from reviewer.auditing.matching import WITHIN_MS, element_cost, key
from reviewer.auditing.sides import Placed, Side
from reviewer.terms.exact import Points

if TYPE_CHECKING:
    from numpy import int_
    from numpy.typing import NDArray

Unit = tuple[int | None, str]
"""Number of the element in its routine, None for what belongs to no element, and the fault's code."""
Level = Literal["nominal", "interval"]
_NOUGHT = Points(0)


@dataclass(frozen=True, slots=True)
class Routine:
    """One routine as its judges marked it.

    Attributes:
        elements: how many elements any of them marked.
        taken: by judge, what they took, with its amount.
    """

    elements: int
    taken: Mapping[str, Mapping[Unit, Points]]


@dataclass(frozen=True, slots=True)
class FaultsAgreed:
    """How far judges agree on faults.

    Attributes:
        units: how many faults could be taken, over all routines.
        taken: alpha of a fault being taken or not; nominal.
        amounts: alpha of what was taken, 0 where nothing was; interval.
    """

    units: int
    taken: Figure
    amounts: Figure


def lay_together(sheets: Sequence[tuple[Side, Mapping[str, str]]], within_ms: int = WITHIN_MS) -> Routine:
    """The sheets of one routine beside each other; each with the letters its judges have in the sample."""
    found: list[Placed] = []
    taken: dict[str, dict[Unit, Points]] = {}
    for side, letters in sheets:
        found, numbers = _joined(found, side.of_kind("element"), within_ms)
        taken |= {letter: {} for letter in letters.values()}
        for placed in side.of_kind("fault"):
            fault, judge = placed.mark, letters.get(placed.judge or "")
            if judge is None:  # named by faults alone that cannot be scored
                continue
            own = taken[judge]
            unit = numbers.get(fault.element or ""), fault.code
            own[unit] = own.get(unit, _NOUGHT) + (fault.amount or _NOUGHT)
    return Routine(len(found), taken)


def _joined(
    known: Sequence[Placed], elements: Sequence[Placed], within_ms: int
) -> tuple[list[Placed], dict[str, int]]:
    """The elements of all sheets so far in order, each with its number; and those of one sheet by id."""
    together: list[Placed] = []
    numbers: dict[str, int] = {}
    count = len(known)
    for one, other in align(known, elements, element_cost(within_ms), key):
        if one is None and other is not None:
            one, count = other.on(count), count + 1
        if one is not None and one.slot is not None:
            together.append(one)
            numbers |= {other.mark.id: one.slot} if other else {}
    return together, numbers


def faults_agreed(routines: Sequence[Routine]) -> FaultsAgreed:
    """The coefficients of routines that two judges or more marked."""
    shared = [one for one in routines if len(one.taken) > 1]
    codes = _codes(shared)
    units = [_units(one, codes) for one in shared]
    number = sum(map(len, units))
    if not number:
        none = Figure(None, None, len(shared), why="No fault was taken on a routine that two judges marked.")
        return FaultsAgreed(0, none, none)
    sizes = sorted(
        {_NOUGHT, *(size for one in shared for own in one.taken.values() for size in own.values())}
    )
    taken, amounts = _counts(shared, units, sizes)
    of_taking = Figure(alpha(taken, [0, 1], "nominal"), None, len(shared), why=_why(taken))
    points = [one.thousandths for one in sizes]
    of_amounts = Figure(alpha(amounts, points, "interval"), None, len(shared), why=_why(amounts))
    return FaultsAgreed(number, of_taking, of_amounts)


def _codes(routines: Sequence[Routine]) -> set[tuple[bool, str]]:
    """Every fault anybody took, on elements and on none apart."""
    return {(slot is None, code) for one in routines for own in one.taken.values() for slot, code in own}


def _units(one: Routine, codes: set[tuple[bool, str]]) -> dict[Unit, int]:
    """The place of every fault that could be taken on a routine."""
    whole = [(None, code) for alone, code in sorted(codes) if alone]
    on_elements = [(slot, code) for slot in range(one.elements) for alone, code in sorted(codes) if not alone]
    return {unit: place for place, unit in enumerate([*whole, *on_elements])}


def _counts(
    routines: Sequence[Routine], units: Sequence[Mapping[Unit, int]], sizes: Sequence[Points]
) -> tuple["NDArray[int_]", "NDArray[int_]"]:
    """How many judges say each value of each unit: taken or not, and which amount."""
    import numpy as np  # slow to import

    place_of = {size: place for place, size in enumerate(sizes)}
    taken = np.zeros((sum(map(len, units)), 2), dtype=int)
    amounts = np.zeros((len(taken), len(sizes)), dtype=int)
    begin = 0
    for one, own_units in zip(routines, units, strict=True):
        end = begin + len(own_units)
        taken[begin:end, 0] = amounts[begin:end, 0] = len(one.taken)
        for own in one.taken.values():
            for unit, size in own.items():
                row = begin + own_units[unit]
                taken[row] += (-1, 1)
                amounts[row, 0] -= 1
                amounts[row, place_of[size]] += 1
        begin = end
    return taken, amounts


def alpha(counts: "NDArray[int_]", values: Sequence[int], level: Level) -> float | None:
    """Krippendorff's alpha of how many judges say each value of each unit; None of one value alone."""
    import krippendorff  # slow to import

    if _why(counts):
        return None
    return float(krippendorff.alpha(value_counts=counts, value_domain=values, level_of_measurement=level))


def _why(counts: "NDArray[int_]") -> str:
    """Why alpha is not defined, if it is not."""
    return "" if (counts.sum(axis=0) > 0).sum() > 1 else "All judges say the same of everything."
