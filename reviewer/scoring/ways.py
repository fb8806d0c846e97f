"""What it would take to reach a score: the fewest decisions that would have to be otherwise."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from math import prod

from reviewer.scoring.deductions import menu
from reviewer.scoring.engine import sorted_sound
from reviewer.scoring.execution import Group, caps, take
from reviewer.scoring.outcomes import MOST_COMBINATIONS, Outcome, outcomes
from reviewer.scoring.panel import average, left_out, mean
from reviewer.scoring.reaching import favoured
from reviewer.scoring.routine import Credit
from reviewer.scoring.sorting import Sorted
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.rulebook import RuleBook


@dataclass(frozen=True, slots=True)
class Way:
    """Decisions otherwise than marked that lead to a score.

    Attributes:
        casts: cast state by mark id, where the angle leaves it open.
        amounts: amount by mark id, where it is not as marked.
    """

    casts: tuple[tuple[str, str], ...]
    amounts: tuple[tuple[str, Points], ...]

    @property
    def steps(self) -> int:
        """How many decisions would have to be otherwise."""
        return len(self.casts) + len(self.amounts)


_Picks = tuple[tuple[str, int], ...]
_Totals = Mapping[int, _Picks]
"""Total of deductions to the fewest amounts otherwise than marked that lead to it."""


def way_to(target: Points, marks: Sequence[Mark], book: RuleBook, judges: Sequence[str] = ()) -> Way | None:
    """The fewest changes that make a reachable score; None where none leads there or they are too many."""
    own = sorted_sound(marks, book, judges)
    found = outcomes(own, book)
    if not found.exact:
        return None
    best = favoured(own, found, book).states
    ways = (_way(target, own, outcome, earned, best, book) for outcome, earned in found.credits.items())
    return min((way for way in ways if way is not None), key=lambda way: way.steps, default=None)


def _way(
    target: Points,
    own: Sorted,
    outcome: Outcome,
    earned: Credit,
    best: Mapping[str, str],
    book: RuleBook,
) -> Way | None:
    totals = [_totals(faults, earned, outcome, book) for faults in own.faults.values()]
    fitting = [
        picks
        for mean_score, picks in _averages(outcome.begin(book), totals, book)
        if outcome.final(mean_score, book) == target.thousandths
    ]
    if not fitting:
        return None
    amounts = tuple((name, Points(size)) for name, size in min(fitting, key=len))
    casts = tuple((name, state) for name, state in earned.states.items() if state != best[name])
    return Way(casts, amounts)


def _averages(base: int, totals: Sequence[_Totals], book: RuleBook) -> Iterator[tuple[int, _Picks]]:
    """Averages in thousandths, each with the amounts that lead to it; none where they are too many."""
    judges = len(totals)
    if not left_out(judges, book):
        sums: _Totals = {0: ()}
        for own in totals:
            sums = _fewest((a + b, (*first, *then)) for a, first in sums.items() for b, then in own.items())
        for total, picks in sums.items():
            yield mean(judges * base - total, judges, book.panel.rounding).thousandths, picks
    elif prod(len(own) for own in totals) <= MOST_COMBINATIONS:
        for chosen in product(*(own.items() for own in totals)):
            scores = [Points(base - total) for total, _ in chosen]
            yield average(scores, book).thousandths, tuple(one for _, picks in chosen for one in picks)


def _totals(faults: Sequence[Mark], earned: Credit, outcome: Outcome, book: RuleBook) -> _Totals:
    cap_of = caps(book)
    free: _Totals = {0: ()}
    capped: dict[str, _Totals] = {}
    most: dict[str, int] = {}
    for group in take(faults, earned.placed, outcome.spared, book).groups:
        cap = cap_of.get(group.code)
        if cap is None:
            free = _added(free, _sizes(group, book))
        else:
            capped[cap.clause] = _added(capped.get(cap.clause, {0: ()}), _sizes(group, book))
            most[cap.clause] = cap.at_most.thousandths
    for clause, own in capped.items():
        free = _added(free, _fewest((min(total, most[clause]), picks) for total, picks in own.items()))
    return free


def _sizes(group: Group, book: RuleBook) -> _Totals:
    """What a group may cost, the largest of its faults counting, each with the fewest changes."""
    menus = [menu(mark, book) for mark in group.faults]
    if prod(map(len, menus)) > MOST_COMBINATIONS:
        return {max(_marked(mark) for mark in group.faults): ()}
    return _fewest(
        (
            max(sizes),
            tuple(
                (mark.id, size)
                for mark, size in zip(group.faults, sizes, strict=True)
                if size != _marked(mark)
            ),
        )
        for sizes in product(*menus)
    )


def _marked(mark: Mark) -> int:
    return mark.amount.thousandths if mark.amount else 0


def _added(left: _Totals, right: _Totals) -> _Totals:
    return _fewest((a + b, (*first, *then)) for a, first in left.items() for b, then in right.items())


def _fewest(ways: Iterable[tuple[int, _Picks]]) -> _Totals:
    found: dict[int, _Picks] = {}
    for total, picks in ways:
        if total not in found or len(picks) < len(found[total]):
            found[total] = picks
    return found
