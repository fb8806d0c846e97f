"""What marks come to when some of them are otherwise: only what that touches is derived again."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from reviewer.scoring.deductions import deducted
from reviewer.scoring.engine import sorted_sound
from reviewer.scoring.outcomes import Outcome, too_many, whatever_faults
from reviewer.scoring.panel import average, fact_lines
from reviewer.scoring.routine import Placed, place
from reviewer.scoring.sorting import open_casts
from reviewer.scoring.soundness import Surroundings, problems_of, surroundings
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import Totals

Changed = Mapping[str, Mark | None]
"""Marks that are new or otherwise, by id; None for one that is left out."""


@dataclass(frozen=True, slots=True)
class _Laid:
    """Elements in their order.

    Attributes:
        placed: as the book knows them.
        outcomes: what the states of their casts come to, the best first, without facts.
    """

    placed: tuple[Placed, ...]
    outcomes: tuple[Outcome, ...]


class Trial:
    """The marks of a routine that can be scored, to be tried with some of them otherwise."""

    def __init__(self, marks: Sequence[Mark], book: RuleBook, judges: Sequence[str] = ()) -> None:
        own = sorted_sound(marks, book, judges)
        self._book, self._letters = book, tuple(own.faults)
        faults = (mark for taken in own.faults.values() for mark in taken)
        self._others: dict[str, Mark] = {mark.id: mark for mark in (*faults, *own.facts)}
        self._own, self._around = self._laid(own.elements), self._surroundings(own.elements)

    def totals(self, changed: Changed, elements: Sequence[Mark] | None = None) -> Totals | None:
        """What they come to, as `score` says it; None where one that is changed cannot be scored.

        ``elements``: all in routine order, where one of them is among the changed. Faults are of the same
        judges, and on elements that are left.
        """
        around = self._around if elements is None else self._surroundings(elements)
        new = (mark for mark in changed.values() if mark is not None)
        if any(True for mark in new for _ in problems_of(mark, around, self._book)):
            return None
        laid = self._own if elements is None else self._laid(elements)
        others = [mark for mark in {**self._others, **changed}.values() if mark is not None]
        facts = [mark for mark in others if mark.kind == "fact"]
        neutral = sum(line.points.thousandths for line in fact_lines(facts, self._book))
        finals = self._finals(laid, others, neutral)
        return max(finals, key=lambda one: one.final_score)

    def _finals(self, laid: _Laid, others: Sequence[Mark], neutral: int) -> Iterator[Totals]:
        """Of each outcome, in their order; ``neutral``: thousandths that the facts take."""
        faults: dict[str, list[Mark]] = {letter: [] for letter in self._letters}
        for mark in others:
            if mark.kind == "fault":
                faults[mark.judge or self._letters[0]].append(mark)
        taken = {
            spared: [deducted(own, laid.placed, spared, self._book) for own in faults.values()]
            for spared in {one.spared for one in laid.outcomes}
        }
        for one in laid.outcomes:
            scores = [Points(one.begin(self._book) - total) for total in taken[one.spared]]
            whole = replace(one, neutral=one.neutral + neutral)
            final = whole.final(average(scores, self._book).thousandths, self._book)
            yield Totals(Points(one.start), Points(final))

    def _laid(self, elements: Sequence[Mark]) -> _Laid:
        placed = place(elements, self._book)
        casts = open_casts(elements, self._book)
        if too_many(casts):
            casts = {name: states[:1] for name, states in casts.items()}
        ways = whatever_faults(placed, casts, self._book)
        return _Laid(placed, tuple(dict.fromkeys(outcome for _, outcome in ways)))

    def _surroundings(self, elements: Sequence[Mark]) -> Surroundings:
        return surroundings((*elements, *self._others.values()), self._book, self._letters)
