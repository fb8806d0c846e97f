"""The final scores that the rule book allows on these marks, by set arithmetic.

Only the stages that a decision touches are derived again: the states of casts change what is earned, and of
all their combinations only those that come to something different go on; the judges' amounts change the
totals of their deductions, which are sumsets.
"""

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache

from reviewer.scoring import sumsets
from reviewer.scoring.deductions import deducted, menus, moving, totals
from reviewer.scoring.execution import Execution, Taken, take
from reviewer.scoring.outcomes import Outcome, Outcomes
from reviewer.scoring.panel import average, left_out, mean
from reviewer.scoring.routine import Credit, Placed, credit, place
from reviewer.scoring.sorting import Sorted
from reviewer.scoring.trimming import middle_sums
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.messages import Message, either, message
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import JUDGEMENT, Decision, Range, Reachable, ScoreSheet


def favoured(marks: Sorted, found: Outcomes, book: RuleBook) -> Credit:
    """The credit with the highest score of what was marked; of equal ones that of the best cast states."""
    if not found.exact:
        best = {name: states[0] for name, states in marks.casts.items()}
        return credit(place(marks.elements, book), best, book)
    if len(found.credits) == 1:
        return next(iter(found.credits.values()))
    sets = _Sets(marks, book, as_marked=True)
    return max(found.credits.items(), key=lambda one: max(sets.finals(*one)[0]))[1]


def reach(marks: Sorted, found: Outcomes, executed: Sequence[Execution], book: RuleBook) -> Reachable:
    """The reachable final scores, and the decisions that span them; ``executed``: deductions as scored."""
    known = {(one.judge, one.taken.spared): one.taken for one in executed}
    whole = span(marks, found, book, known=known)
    taken = [one.taken for one in executed] if len(found.credits) == 1 else _unspared(marks, found, book)
    return Reachable(whole.scores, whole.low, whole.high, whole.exact, decisions(marks, found, taken, book))


def span(
    marks: Sorted,
    found: Outcomes,
    book: RuleBook,
    *,
    as_marked: bool = False,
    known: Mapping[tuple[str, frozenset[str]], Taken] | None = None,
) -> Range:
    """The final scores of these outcomes; with the judges' amounts ``as_marked`` or as far as they go.

    ``known``: faults already sorted out, by judge and what was spared.
    """
    sets, exact = _Sets(marks, book, as_marked=as_marked, known=known), found.exact
    finals: set[int] = set()
    for outcome, earned in found.credits.items():
        scores, whole = sets.finals(outcome, earned)
        finals.update(scores)
        exact = exact and whole
    rising = tuple(Points(score) for score in sorted(finals))
    return Range(rising if exact else (), rising[0], rising[-1], exact)


def decisions(marks: Sorted, found: Outcomes, taken: Iterable[Taken], book: RuleBook) -> tuple[Decision, ...]:
    """The decisions that the marks leave open and that can move the score."""
    casts = [_cast(name, marks.casts[name], kind) for name, kind in found.moving.items()]
    faults = (mark for one in taken for mark in moving(one, book))
    return (*casts, *(_amount(mark, book) for mark in faults))


def nearest(reachable: Range, posted: Points) -> tuple[bool | None, Points]:
    """Whether a posted score is reachable, and the nearest that is (the lower of two as near).

    None where it lies between bounds, which do not speak for every score between them.
    """
    if not reachable.exact:
        inside = reachable.low <= posted <= reachable.high
        return (None if inside else False), min(max(posted, reachable.low), reachable.high)
    found = min(reachable.scores, key=lambda score: (abs((score - posted).thousandths), score))
    return found == posted, found


def held_against(sheet: ScoreSheet, reachable: Range, posted: Points) -> tuple[bool | None, Points]:
    """`nearest` among the scores that a sheet's marks allow.

    None, too, where marks were left out because they cannot be scored: nobody can tell what they would do.
    """
    reached, found = nearest(reachable, posted)
    return (None if sheet.problems else reached), found


def _finals(outcome: Outcome, deducted: Sequence[int], book: RuleBook) -> tuple[set[int], bool]:
    """Every final score of one outcome, from each judge's set of totals; False where only ends are known."""
    averages, whole = _averages(outcome.begin(book), deducted, book)
    return {outcome.final(one, book) for one in averages}, whole


def _averages(base: int, deducted: Sequence[int], book: RuleBook) -> tuple[Iterable[int], bool]:
    """Every average in thousandths, of the sums of the totals that count; False where only ends are known."""
    judges, out = len(deducted), left_out(len(deducted), book)
    sums = middle_sums(deducted, out) if out else _sums(deducted)
    if sums is not None:
        counting, rounding = judges - 2 * out, book.panel.rounding
        return (
            mean(counting * base - total, counting, rounding).thousandths for total in sumsets.members(sums)
        ), True
    ends = ([Points(base - end(bits)) for bits in deducted] for end in (sumsets.highest, sumsets.lowest))
    return (average(scores, book).thousandths for scores in ends), False


def _sums(sets: Sequence[int]) -> int:
    sums = sumsets.NOTHING
    for bits in sets:
        sums = sumsets.add(sums, bits)
    return sums


def _unspared(marks: Sorted, found: Outcomes, book: RuleBook) -> list[Taken]:
    """Each judge's faults where it is open which of them the cast's tolerance spares."""
    earned = next(iter(found.credits.values()))
    return [take(faults, earned.placed, frozenset(), book) for faults in marks.faults.values()]


class _Sets:
    """The sets of totals of each judge's deductions, made once for each set of spared elements."""

    def __init__(
        self,
        marks: Sorted,
        book: RuleBook,
        *,
        as_marked: bool,
        known: Mapping[tuple[str, frozenset[str]], Taken] | None = None,
    ) -> None:
        self._marks, self._book, self._as_marked = marks, book, as_marked
        self._known = known or {}
        self._sets: dict[tuple[str, frozenset[str]], int] = {}

    def finals(self, outcome: Outcome, earned: Credit) -> tuple[set[int], bool]:
        """Every final score of an outcome; False where only ends are known."""
        return _finals(
            outcome, [self._set(judge, outcome.spared, earned) for judge in self._marks.faults], self._book
        )

    def _set(self, judge: str, spared: frozenset[str], earned: Credit) -> int:
        key = (judge, spared)
        if key not in self._sets:
            self._sets[key] = self._totals(judge, spared, earned.placed)
        return self._sets[key]

    def _totals(self, judge: str, spared: frozenset[str], placed: Sequence[Placed]) -> int:
        faults = self._marks.faults[judge]
        if self._as_marked:
            return sumsets.of([deducted(faults, placed, spared, self._book)])
        taken = self._known.get((judge, spared)) or take(faults, placed, spared, self._book)
        return totals(taken, self._book)


def _cast(name: str, states: Sequence[str], kind: str) -> Decision:
    return Decision((name,), message("The angle leaves open: {states}.", states=either(states)), kind)


def _amount(mark: Mark, book: RuleBook) -> Decision:
    return Decision((mark.id,), _may_cost(book)[mark.code], JUDGEMENT)


@lru_cache(maxsize=64)
def _may_cost(book: RuleBook) -> dict[str, Message]:
    """Fault code to the words for what it may cost."""
    return {code: _costs(book.fault_of[code].name, sizes) for code, sizes in menus(book).items()}


def _costs(name: str, sizes: Sequence[int]) -> Message:
    low, high = Points(sizes[0]), Points(sizes[-1])
    return message("{name} may cost {low} to {high}.", name=name, low=low, high=high)
