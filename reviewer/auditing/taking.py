"""How far a sheet's score would move if the other sheet's view of one thing were taken."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Protocol

from reviewer.auditing.matching import Matched
from reviewer.auditing.sides import Placed, Side
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.sheets import Totals

Changed = Mapping[str, Mark | None]
"""Marks that are new or otherwise, by id; None for one that is left out."""


class Trial(Protocol):
    """The marks of a sheet in its edition, with its judges, to be tried with some of them otherwise."""

    def totals(self, changed: Changed, elements: Sequence[Mark] | None = None) -> Totals | None:
        """What they come to then; None where one that is changed cannot be scored.

        ``elements``: all in routine order, where one of them is among the changed.
        """
        ...


@dataclass(frozen=True, slots=True)
class Moves:
    """How far the start value and the final score of a sheet would move."""

    start_value: Points
    final_score: Points


UNMOVED = Moves(Points(0), Points(0))


class Taking:
    """One of two matched sheets, and the other's views to be tried in it."""

    def __init__(
        self, things: Sequence[Matched], number: int, sides: tuple[Side, Side], trial: Trial
    ) -> None:
        self._number, self._trial = number, trial
        self._own, self._other = sides[number], sides[1 - number]
        unsound = {one.where for one in self._own.sheet.problems}
        self._base = {one.mark.id: one.mark for one in self._own.marks if one.mark.id not in unsound}
        elements = [(self._mine(thing), self._theirs(thing)) for thing in things if thing.kind == "element"]
        slots = {mine.mark.id: slot for slot, (mine, _) in enumerate(elements) if mine}
        self._slots = {name: slot for name, slot in slots.items() if name in self._base}
        self._come_to = Totals(self._own.sheet.start_value, self._own.sheet.final_score)
        self._others = {theirs.mark.id: theirs for _, theirs in elements if theirs}
        self._partner = {theirs.mark.id: mine.mark.id for mine, theirs in elements if mine and theirs}

    def moves(self, thing: Matched) -> Moves | None:
        """With the other's view of a thing taken; None where this sheet cannot score it.

        Where only one sheet has an element, what its faults move counts with the faults, not with it.
        """
        mine, theirs = self._mine(thing), self._theirs(thing)
        if (mine and mine.mark.id not in self._base) or not self._has_a_say(thing):
            return None
        if mine is None and theirs is not None:
            return self._added(theirs)
        return self._changed(mine, theirs) if mine and theirs else self._removed(mine) if mine else None

    def _has_a_say(self, thing: Matched) -> bool:
        """Whether the judge of a fault scores on both sheets; where each has one judge, they do."""
        if thing.kind != "fault" or len(self._own.letters) == len(self._other.letters) == 1:
            return True
        letters = {one.judge for one in (thing.first, thing.second) if one}
        return letters <= set(self._own.letters) & set(self._other.letters)

    def _changed(self, mine: Placed, theirs: Placed) -> Moves | None:
        own, element = mine.mark, self._partner.get(theirs.mark.element or "", mine.mark.element)
        adopted = replace(theirs.mark, id=own.id, judge=own.judge, element=element)
        return self._between({}, {own.id: adopted})

    def _removed(self, mine: Placed) -> Moves | None:
        faults = {name: None for name, mark in self._base.items() if mark.element == mine.mark.id}
        return self._between(faults, faults | {mine.mark.id: None})

    def _added(self, theirs: Placed) -> Moves | None:
        before: Changed = {}
        element = self._partner.get(theirs.mark.element or "")
        if theirs.mark.element is not None and element is None:
            if theirs.mark.element not in self._others:
                return None
            on = self._brought(self._others[theirs.mark.element], None)
            before, element = {on.id: on}, on.id
        new = self._brought(theirs, element)
        return self._between(before, {**before, new.id: new})

    def _brought(self, theirs: Placed, element: str | None) -> Mark:
        """A mark of the other sheet, under an id that no mark here has."""
        mark, name = theirs.mark, f"other {theirs.mark.id}"
        while name in self._base:
            name += "'"
        judge = self._own.letters[0] if len(self._own.letters) == 1 and mark.kind == "fault" else theirs.judge
        order = theirs.slot if mark.kind == "element" else None
        return replace(mark, id=name, order=order, element=element, judge=judge)

    def _between(self, before: Changed, after: Changed) -> Moves | None:
        was = self._totalled(before) if before else self._come_to
        is_ = self._totalled(after)
        if was is None or is_ is None:
            return None
        return Moves(is_.start_value - was.start_value, is_.final_score - was.final_score)

    def _totalled(self, changed: Changed) -> Totals | None:
        return self._trial.totals(changed, self._elements(changed))

    def _elements(self, changed: Changed) -> Sequence[Mark] | None:
        """All elements in the order of both sheets, where one of them is among the changed."""
        new = {name: mark for name, mark in changed.items() if self._is_element(name, mark)}
        if not new:
            return None
        own: Changed = {name: self._base[name] for name in self._slots}
        left = [mark for mark in {**own, **new}.values() if mark]
        return sorted(left, key=lambda one: self._slots.get(one.id, one.order or 0))

    def _is_element(self, name: str, mark: Mark | None) -> bool:
        return name in self._slots or (mark is not None and mark.kind == "element")

    def _mine(self, thing: Matched) -> Placed | None:
        return (thing.first, thing.second)[self._number]

    def _theirs(self, thing: Matched) -> Placed | None:
        return (thing.first, thing.second)[1 - self._number]
