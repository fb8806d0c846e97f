"""The final scores that the rule book allows on these marks, by set arithmetic.

For each combination of cast states the judges' deductions are sums of permitted amounts, so the set of a
judge's scores is a sumset; scopes take the largest, caps the least.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from itertools import islice, product

from reviewer.scoring.execution import best_within, groups
from reviewer.scoring.panel import average
from reviewer.scoring.routine import Credit
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import Decision, Reachable

MOST_COMBINATIONS = 4096
"""Twelve coupled either-or decisions; above that only bounds are given."""

Case = tuple[Credit, Points, Callable[[Points], Points]]
"""Credit, start value, and the way from an average to a final score."""


def menu(mark: Mark, book: RuleBook) -> frozenset[int]:
    """Thousandths a fault may cost: what was said, or any permitted amount where it may be argued."""
    fault = book.fault(mark.code)
    said = mark.amount or Points(0)
    if fault.flat or not mark.arguable:
        return frozenset({said.thousandths})
    return frozenset(amount.thousandths for amount in fault.amounts if amount)


def reach(
    open_casts: Mapping[str, tuple[str, ...]],
    faults: Mapping[str, Sequence[Mark]],
    book: RuleBook,
    case_of: Callable[[Mapping[str, str]], Case],
) -> Reachable:
    """The reachable final scores. ``case_of`` derives start value and neutral deductions from cast states."""
    names, exact = tuple(open_casts), True
    states = list(islice(product(*open_casts.values()), MOST_COMBINATIONS + 1))
    if len(states) > MOST_COMBINATIONS:
        exact, states = False, [tuple(open_casts[name][pick] for name in names) for pick in (0, -1)]
    finals: set[Points] = set()
    for chosen in states:
        found, whole = _finals(case_of(dict(zip(names, chosen, strict=True))), faults, book)
        finals |= found
        exact = exact and whole
    scores = tuple(sorted(finals))
    return Reachable(
        scores if exact else (), scores[0], scores[-1], exact, _decisions(open_casts, faults, book)
    )


def nearest(reachable: Reachable, posted: Points) -> tuple[bool, Points]:
    """Whether a posted score is reachable, and the nearest that is (the lower of two as near)."""
    if not reachable.exact:
        inside = reachable.low <= posted <= reachable.high
        return inside, min(max(posted, reachable.low), reachable.high)
    found = min(reachable.scores, key=lambda score: (abs((score - posted).thousandths), score))
    return found == posted, found


def _finals(case: Case, faults: Mapping[str, Sequence[Mark]], book: RuleBook) -> tuple[set[Points], bool]:
    credit, start, final = case
    within = best_within(credit, book)
    fixed = book.cast.points.thousandths if within else 0
    each = [
        sorted(start - Points(total + fixed) for total in _totals(own, credit, book))
        for own in faults.values()
    ]
    combinations = 1
    for scores in each:
        combinations *= len(scores)
    if combinations <= MOST_COMBINATIONS:
        return {final(average(scores, book.panel)) for scores in product(*each)}, True
    ends = ([scores[pick] for scores in each] for pick in (0, -1))
    return {final(average(scores, book.panel)) for scores in ends}, False


def _totals(faults: Sequence[Mark], credit: Credit, book: RuleBook) -> frozenset[int]:
    """Every total one judge's faults may come to."""
    capped: dict[str, list[frozenset[int]]] = {}
    free: list[frozenset[int]] = []
    for group in groups(faults, credit, book):
        sizes = _largest(menu(mark, book) for mark in group.faults)
        cap = next((cap for cap in book.caps if group.code in cap.faults), None)
        (capped.setdefault(cap.clause, []) if cap else free).append(sizes)
    for cap in book.caps:
        if cap.clause in capped:
            most = cap.at_most.thousandths
            free.append(frozenset(min(total, most) for total in _sums(capped[cap.clause])))
    return _sums(free)


def _sums(sets: Iterable[frozenset[int]]) -> frozenset[int]:
    totals = frozenset({0})
    for sizes in sets:
        totals = frozenset(total + size for total in totals for size in sizes)
    return totals


def _largest(sets: Iterable[frozenset[int]]) -> frozenset[int]:
    largest = frozenset({0})
    for sizes in sets:
        largest = frozenset(max(one, size) for one in largest for size in sizes)
    return largest


def _decisions(
    open_casts: Mapping[str, tuple[str, ...]], faults: Mapping[str, Sequence[Mark]], book: RuleBook
) -> tuple[Decision, ...]:
    casts = [
        Decision((name,), message("The angle leaves open: {states}.", states=" or ".join(states)))
        for name, states in open_casts.items()
        if len(states) > 1
    ]
    amounts = [
        Decision(
            (mark.id,),
            message(
                "{name} may cost {low} to {high}.",
                name=book.fault(mark.code).name,
                low=Points(min(menu(mark, book))),
                high=Points(max(menu(mark, book))),
            ),
        )
        for own in faults.values()
        for mark in own
        if len(menu(mark, book)) > 1
    ]
    return (*casts, *amounts)
