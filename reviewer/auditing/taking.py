"""How far a sheet's score would move if the other sheet's view of one thing were taken."""

from collections.abc import Callable, Container, Mapping, Sequence
from dataclasses import dataclass, replace

from reviewer.auditing.matching import Matched
from reviewer.auditing.sides import Placed, Side
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.sheets import Totals

Totalled = Callable[[Sequence[Mark], Container[str]], Totals | None]
"""What marks come to in the sheet's edition, with its judges; None where one of those of these ids cannot be
scored. The others are the sheet's own and can."""


@dataclass(frozen=True, slots=True)
class Moves:
    """How far the start value and the final score of a sheet would move."""

    start_value: Points
    final_score: Points


UNMOVED = Moves(Points(0), Points(0))


class Taking:
    """One of two matched sheets, and the other's views to be tried in it.

    All marks are laid on one order, that of the things, so that a mark of the other sheet finds its place.
    """

    def __init__(
        self, things: Sequence[Matched], number: int, sides: tuple[Side, Side], total: Totalled
    ) -> None:
        self._number, self._total = number, total
        self._own, self._other = sides[number], sides[1 - number]
        unsound = {one.where for one in self._own.sheet.problems}
        own = [one for one in (self._mine(thing) for thing in things) if one and one.mark.id not in unsound]
        self._base = {one.mark.id: _in_line(one) for one in own}
        self._others = {one.mark.id: one for one in (self._theirs(thing) for thing in things) if one}
        pairs = ((self._mine(thing), self._theirs(thing)) for thing in things if thing.kind == "element")
        self._partner = {theirs.mark.id: mine.mark.id for mine, theirs in pairs if mine and theirs}
        self._come_to = Totals(self._own.sheet.start_value, self._own.sheet.final_score)

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
        own, other = mine.mark, _in_line(theirs)
        element = self._partner.get(other.element or "", own.element)
        adopted = replace(other, id=own.id, order=self._base[own.id].order, judge=own.judge, element=element)
        return self._between(self._base, self._base | {own.id: adopted})

    def _removed(self, mine: Placed) -> Moves | None:
        faults = {name for name, mark in self._base.items() if mark.element == mine.mark.id}
        before = self._base
        if faults:
            before = {name: mark for name, mark in before.items() if name not in faults}
        return self._between(before, {name: mark for name, mark in before.items() if name != mine.mark.id})

    def _added(self, theirs: Placed) -> Moves | None:
        before = self._base
        element = self._partner.get(theirs.mark.element or "")
        if theirs.mark.element is not None and element is None:
            on = self._brought(self._others[theirs.mark.element], None)
            before, element = before | {on.id: on}, on.id
        new = self._brought(theirs, element)
        return self._between(before, before | {new.id: new})

    def _brought(self, theirs: Placed, element: str | None) -> Mark:
        """A mark of the other sheet, under an id that no mark here has."""
        mark, name = _in_line(theirs), f"other {theirs.mark.id}"
        while name in self._base:
            name += "'"
        judge = self._own.letters[0] if len(self._own.letters) == 1 and mark.kind == "fault" else theirs.judge
        return replace(mark, id=name, element=element, judge=judge)

    def _between(self, before: Mapping[str, Mark], after: Mapping[str, Mark]) -> Moves | None:
        was = self._come_to if before is self._base else self._totalled(before)
        is_ = self._totalled(after)
        if was is None or is_ is None:
            return None
        return Moves(is_.start_value - was.start_value, is_.final_score - was.final_score)

    def _totalled(self, marks: Mapping[str, Mark]) -> Totals | None:
        changed = {name for name, mark in marks.items() if self._base.get(name) is not mark}
        return self._total(tuple(marks.values()), changed)

    def _mine(self, thing: Matched) -> Placed | None:
        return (thing.first, thing.second)[self._number]

    def _theirs(self, thing: Matched) -> Placed | None:
        return (thing.first, thing.second)[1 - self._number]


def _in_line(one: Placed) -> Mark:
    """A mark without times: an element by its slot."""
    order = one.slot if one.mark.kind == "element" else None
    return replace(one.mark, order=order, start=None, end=None, at=None, recording=None)
