"""The final scores that the rule book allows on these marks, by set arithmetic.

Only the stages that a decision touches are derived again: the states of casts change what is earned, and of
all their combinations only those that come to something different go on; the judges' amounts change the
totals of their deductions, which are sumsets.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice, product
from math import prod

from reviewer.scoring import sumsets
from reviewer.scoring.deductions import menu, totals
from reviewer.scoring.execution import Execution, Taken, charged, spared_on, take
from reviewer.scoring.panel import (
    average,
    fact_lines,
    few_lines,
    left_out,
    lift,
    mean,
)
from reviewer.scoring.routine import Credit, Placed, Repeats, credit
from reviewer.scoring.sorting import Sorted
from reviewer.scoring.starting import owed_lines, start_lines
from reviewer.scoring.values import most_and_least
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import FACT, JUDGEMENT, Decision, Line, Range, Reachable

MOST_COMBINATIONS = 4096
"""Twelve coupled either-or decisions; above that only bounds are given."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What one combination of cast states comes to before the judges' discretion.

    Attributes:
        start: the start value, in thousandths.
        neutral: what is taken from the average, in thousandths.
        charged: what each judge takes for casts within the tolerance, in thousandths.
        spared: ids of the elements on which the tolerance spares its faults.
    """

    start: int
    neutral: int
    charged: int
    spared: frozenset[str]


def reach(marks: Sorted, favoured: Credit, executed: Sequence[Execution], book: RuleBook) -> Reachable:
    """The reachable final scores, and the decisions that span them.

    ``favoured`` is the credit with every cast in the gymnast's best state, ``executed`` the deductions then.
    """
    outcomes, exact = all_outcomes(marks, favoured, book)
    known = {(one.judge, one.taken.spared): one.taken for one in executed}
    found = span(marks, outcomes, exact, book, known=known)
    taken = [one.taken for one in executed] if len(outcomes) == 1 else _unspared(marks, favoured, book)
    return Reachable(found.scores, found.low, found.high, found.exact, decisions(marks, taken, book))


def span(
    marks: Sorted,
    outcomes: Mapping[Outcome, Credit],
    exact: bool,
    book: RuleBook,
    *,
    as_marked: bool = False,
    known: Mapping[tuple[str, frozenset[str]], Taken] | None = None,
) -> Range:
    """The final scores of these outcomes; with the judges' amounts ``as_marked`` or as far as they go.

    ``known``: faults already sorted out, by judge and what was spared.
    """
    finals: set[int] = set()
    sets: dict[tuple[str, frozenset[str]], int] = {}
    for outcome, earned in outcomes.items():
        own = []
        for judge, faults in marks.faults.items():
            key = (judge, outcome.spared)
            if key not in sets:
                taken = (known or {}).get(key) or take(faults, earned, outcome.spared, book)
                sets[key] = totals(taken, book, as_marked=as_marked)
            own.append(sets[key])
        found, whole = _finals(outcome, own, book)
        finals.update(found)
        exact = exact and whole
    scores = tuple(Points(score) for score in sorted(finals))
    return Range(scores if exact else (), scores[0], scores[-1], exact)


def all_outcomes(marks: Sorted, favoured: Credit, book: RuleBook) -> tuple[Mapping[Outcome, Credit], bool]:
    """The different outcomes of all combinations of cast states, each with a credit that leads to it.

    With more combinations than can be followed up: two outcomes between which all others lie, and False.
    """
    casts, placed, neutral = marks.casts, favoured.placed, _total(fact_lines(marks.facts, book))
    if prod(len(states) for states in casts.values()) > MOST_COMBINATIONS:
        return dict(_bounds(placed, casts, neutral, book)), False
    found = {_outcome(favoured, neutral, book): favoured}
    for states in islice(product(*casts.values()), 1, None):
        earned = credit(placed, dict(zip(casts, states, strict=True)), book)
        found.setdefault(_outcome(earned, neutral, book), earned)
    return found, True


def decisions(marks: Sorted, taken: Iterable[Taken], book: RuleBook) -> tuple[Decision, ...]:
    """The decisions that the marks leave open and that may move the score."""
    casts = [_cast(name, states) for name, states in marks.casts.items() if len(states) > 1]
    faults = (mark for one in taken for group in one.groups for mark in group.faults)
    return (*casts, *(_amount(mark, book) for mark in faults if len(menu(mark, book)) > 1))


def nearest(reachable: Range, posted: Points) -> tuple[bool, Points]:
    """Whether a posted score is reachable, and the nearest that is (the lower of two as near)."""
    if not reachable.exact:
        inside = reachable.low <= posted <= reachable.high
        return inside, min(max(posted, reachable.low), reachable.high)
    found = min(reachable.scores, key=lambda score: (abs((score - posted).thousandths), score))
    return found == posted, found


def _outcome(earned: Credit, neutral: int, book: RuleBook) -> Outcome:
    within = charged(earned, book)
    return Outcome(
        start=book.start.points.thousandths + _total(start_lines(earned, book)),
        neutral=neutral + _total(few_lines(earned, book)),
        charged=len(within) * book.cast.tolerance.points.thousandths,
        spared=spared_on(earned, within, book),
    )


def _finals(outcome: Outcome, deducted: Sequence[int], book: RuleBook) -> tuple[Iterable[int], bool]:
    """Every final score of one outcome, from each judge's set of totals; False where only ends are known."""
    begin = book.execution_from.points.thousandths if book.execution_from else outcome.start
    base = begin - outcome.charged
    averages, whole = _averages(base, deducted, book)
    added, neutral = (outcome.start if book.execution_from else 0), outcome.neutral
    reached = (one + added for one in averages)
    return {score + neutral + lift(score, neutral, book) for score in reached}, whole


def _averages(base: int, deducted: Sequence[int], book: RuleBook) -> tuple[Iterable[int], bool]:
    """Every average in thousandths. Where all judges count, of the sums of their totals; else one by one."""
    judges = len(deducted)
    if not left_out(judges, book):
        sums = sumsets.NOTHING
        for bits in deducted:
            sums = sumsets.add(sums, bits)
        rounding = book.panel.rounding
        return (
            mean(judges * base - total, judges, rounding).thousandths for total in sumsets.members(sums)
        ), True
    if prod(bits.bit_count() for bits in deducted) <= MOST_COMBINATIONS:
        each = [[Points(base - total) for total in sumsets.members(bits)] for bits in deducted]
        return (average(scores, book).thousandths for scores in product(*each)), True
    ends = ([Points(base - end(bits)) for bits in deducted] for end in (sumsets.highest, sumsets.lowest))
    return (average(scores, book).thousandths for scores in ends), False


def _unspared(marks: Sorted, earned: Credit, book: RuleBook) -> list[Taken]:
    """Each judge's faults where it is open which of them the cast's tolerance spares."""
    return [take(faults, earned, frozenset(), book) for faults in marks.faults.values()]


def _bounds(
    placed: tuple[Placed, ...], casts: Mapping[str, tuple[str, ...]], neutral: int, book: RuleBook
) -> Iterator[tuple[Outcome, Credit]]:
    """An outcome as good as any and one as bad as any, whatever the combination of cast states.

    Good: the best states, no repetition, no charge, every cast spared. Bad: the worst states, an element
    earning once, every charge there can be and nothing spared.
    """
    best = credit(placed, {name: states[0] for name, states in casts.items()}, book, Repeats.NEVER)
    worst = credit(placed, {name: states[-1] for name, states in casts.items()}, book, Repeats.ALWAYS)
    least, most = most_and_least(worst, best, book)
    charges = len(casts) if book.cast.tolerance.scope == "element" else 1
    for earned, values, times, spared in (
        (best, most, 0, frozenset(casts)),
        (worst, least, charges, frozenset()),
    ):
        owed = book.start.points.thousandths + _total(owed_lines(earned, book))
        taken = neutral + _total(few_lines(earned, book))
        points = times * book.cast.tolerance.points.thousandths
        yield Outcome(owed + values.thousandths, taken, points, spared), earned


def _cast(name: str, states: Sequence[str]) -> Decision:
    return Decision((name,), message("The angle leaves open: {states}.", states=" or ".join(states)), FACT)


def _amount(mark: Mark, book: RuleBook) -> Decision:
    sizes = menu(mark, book)
    why = message(
        "{name} may cost {low} to {high}.",
        name=book.fault_of[mark.code].name,
        low=Points(sizes[0]),
        high=Points(sizes[-1]),
    )
    return Decision((mark.id,), why, JUDGEMENT)


def _total(lines: Iterable[Line]) -> int:
    return sum(line.points.thousandths for line in lines)
