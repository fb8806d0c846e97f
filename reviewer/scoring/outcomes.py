"""What the open states of casts come to: of all combinations, those whose outcomes differ."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import product
from math import prod

from reviewer.scoring.execution import charged, spared_on
from reviewer.scoring.panel import fact_lines, few_lines, few_of, lift
from reviewer.scoring.routine import Credit, Placed, Repeats, credit, place
from reviewer.scoring.sorting import Sorted
from reviewer.scoring.starting import earned_total, marked_lines, owed_lines
from reviewer.scoring.values import most_and_least
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import FACT, JUDGEMENT, Line

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

    def begin(self, book: RuleBook) -> int:
        """Thousandths from which a judge's deductions are taken."""
        return (book.execution_from.points.thousandths if book.execution_from else self.start) - self.charged

    def final(self, mean_score: int, book: RuleBook) -> int:
        """Thousandths of the final score of an average in thousandths."""
        reached = mean_score + (self.start if book.execution_from else 0)
        return reached + self.neutral + lift(reached, self.neutral, book)


@dataclass(frozen=True, slots=True)
class Outcomes:
    """The different outcomes, each with a credit that leads to it, the best states first.

    Where they are not ``exact``, two outcomes between which all others lie: as good as any, as bad as any.
    ``moving`` names the casts whose state can change the outcome: `FACT` where it can change the start value
    or what is taken from the average, `JUDGEMENT` where it only changes what a judge takes.
    """

    credits: Mapping[Outcome, Credit]
    exact: bool
    moving: Mapping[str, str]


def outcomes(marks: Sorted, book: RuleBook) -> Outcomes:
    """The outcomes of all combinations of cast states; bounds where they are too many to be followed up."""
    casts = marks.casts
    if too_many(casts):
        return bounds(marks, book)
    neutral, bearing = _total(fact_lines(marks.facts, book)), _bearing(marks, book)
    found: dict[Outcome, Credit] = {}
    by_states: dict[tuple[str, ...], Outcome] = {}
    for earned, most in whatever_faults(place(marks.elements, book), casts, book):
        outcome = replace(most, neutral=most.neutral + neutral, spared=most.spared & bearing)
        by_states[tuple(earned.states.values())] = outcome
        found.setdefault(outcome, earned)
    return Outcomes(found, exact=True, moving=dict(_moving(casts, by_states)))


def too_many(casts: Mapping[str, tuple[str, ...]]) -> bool:
    """Whether there are more combinations of cast states than are followed up."""
    return prod(len(states) for states in casts.values()) > MOST_COMBINATIONS


def whatever_faults(
    placed: tuple[Placed, ...], casts: Mapping[str, tuple[str, ...]], book: RuleBook
) -> Iterator[tuple[Credit, Outcome]]:
    """What each combination of cast states comes to without facts, sparing faults on all elements it may."""
    marked = _total(marked_lines(placed, book))
    for states in product(*casts.values()):
        earned = credit(placed, dict(zip(casts, states, strict=True)), book)
        yield earned, _outcome(earned, marked, book)


def bounds(marks: Sorted, book: RuleBook) -> Outcomes:
    """Two outcomes between which all lie; the one that is told where every cast can be told."""
    if all(len(states) == 1 for states in marks.casts.values()):
        return outcomes(marks, book)
    placed, neutral = place(marks.elements, book), _total(fact_lines(marks.facts, book))
    kinds = {name: FACT for name, states in marks.casts.items() if len(states) > 1}
    return Outcomes(dict(_bounds(placed, marks.casts, neutral, book)), exact=False, moving=kinds)


def _moving(
    casts: Mapping[str, tuple[str, ...]], by_states: Mapping[tuple[str, ...], Outcome]
) -> Iterator[tuple[str, str]]:
    """Each cast that changes the outcome in some combination of the others, and what it changes."""
    for at, (name, states) in enumerate(casts.items()):
        kinds = set(_changes(at, by_states)) if len(states) > 1 else set()
        if kinds:
            yield name, FACT if FACT in kinds else JUDGEMENT


def _changes(at: int, by_states: Mapping[tuple[str, ...], Outcome]) -> Iterator[str]:
    """What changes, where anything does, as the state of one cast changes and the others stay."""
    seen: dict[tuple[str, ...], Outcome] = {}
    for chosen, outcome in by_states.items():
        first = seen.setdefault((*chosen[:at], *chosen[at + 1 :]), outcome)
        if (first.start, first.neutral) != (outcome.start, outcome.neutral):
            yield FACT
        elif first != outcome:
            yield JUDGEMENT


def _bearing(marks: Sorted, book: RuleBook) -> frozenset[str | None]:
    """Ids of the elements that have faults which a cast within the tolerance spares."""
    spared = book.cast.tolerance.spared
    return frozenset(mark.element for own in marks.faults.values() for mark in own if mark.code in spared)


def _outcome(earned: Credit, marked: int, book: RuleBook) -> Outcome:
    """``marked``: thousandths moved whatever the casts are."""
    within, few = charged(earned, book), few_of(earned, book)
    return Outcome(
        start=book.start.points.thousandths + marked + earned_total(earned, book),
        neutral=-few.points.thousandths if few is not None else 0,
        charged=len(within) * book.cast.tolerance.points.thousandths,
        spared=spared_on(earned, within, book),
    )


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


def _total(lines: Iterable[Line]) -> int:
    return sum(line.points.thousandths for line in lines)
