"""Which mark of one merged case is which of the other's, and whose faults are whose.

Where times can be held against each other they decide; else the order does, where it leaves no doubt.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Any

from reviewer import casefile
from reviewer.auditing.aligning import align
from reviewer.auditing.matching import WITHIN_MS, element_cost, key
from reviewer.auditing.sides import Placed, Span
from reviewer.casefile import CaseState, Event
from reviewer.terms.marks import Mark
from reviewer.terms.times import FrameTime

MOST_MARKS = 1000
"""Of one kind on one side; beyond, none is paired."""
_near = element_cost(WITHIN_MS)


@dataclass(frozen=True, slots=True)
class _Mark:
    """A mark of one side: as it is placed in time, on which line of time, in which attempt, whose fault."""

    placed: Placed
    line: int
    attempt: int
    judge: str

    @property
    def mark(self) -> Mark:
        """The mark itself."""
        return self.placed.mark


Pair = tuple[_Mark, _Mark]


def found_same(events: Sequence[Event], kept_apart: Sequence[str] = ()) -> dict[str, Any]:
    """What the merge at the end of a chain is to say: ``same``, the pairs that are one, and ``judges``.

    ``judges`` gives a letter to each fault without one, where not all are of the judge who began the case.
    ``kept_apart`` are ids of marks that are no other's.
    """
    state, brought = casefile.fold(events), casefile.brought_by(events)
    first, second = (_side(events, state, brought, own) for own in casefile.apart(events, events[-1]))
    others = [one for one in second if one.mark.id not in kept_apart]
    pairs = [*_marked(first, others, "element"), *_marked(first, others, "fact")]
    pairs += _faults(first, others, {theirs.mark.id: mine.mark.id for mine, theirs in pairs})
    same = [[mine.mark.id, theirs.mark.id] for mine, theirs in pairs]
    judges = {} if _of_one(events[0].author, first, second) else _letters(state, brought, first, second)
    return ({"same": same} if same else {}) | ({"judges": judges} if judges else {})


def both_deduct(events: Sequence[Event]) -> tuple[str, ...]:
    """The judges whose faults come from both sides of the merge at the end of a chain."""
    if events[-1].kind != casefile.MERGED:
        return ()
    events = (*events[:-1], replace(events[-1], payload={}))  # as if it had made no two marks one
    state, brought = casefile.fold(events), casefile.brought_by(events)
    sides = (_side(events, state, brought, own) for own in casefile.apart(events, events[-1]))
    first, second = ({one.judge for one in own if one.mark.kind == "fault"} for own in sides)
    return tuple(sorted(first & second))


def doubled(events: Sequence[Event], state: CaseState) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Elements of one code that may be one and stand twice after a merge: their code and ids."""
    brought = casefile.brought_by(events)
    merges = [one for one in casefile.as_shown(events) if one.kind == casefile.MERGED]
    ones = {first for merge in merges for first, _ in merge.payload.get("same", ())}
    for merge in merges:
        sides = (_side(events, state, brought, own) for own in casefile.apart(events, merge))
        first, second = (
            [one for one in side if one.mark.kind == "element" and one.mark.id not in ones] for side in sides
        )
        near: dict[str, dict[str, None]] = {}
        for mine, theirs in product(first, second):
            if mine.mark.code == theirs.mark.code and _may_be_one(mine, theirs):
                near.setdefault(mine.mark.code, {}).update({mine.mark.id: None, theirs.mark.id: None})
        yield from ((code, tuple(ids)) for code, ids in near.items())


def _may_be_one(mine: _Mark, theirs: _Mark) -> bool:
    return mine.attempt == theirs.attempt and _near(*_comparable(mine, theirs)) is not None


def _comparable(mine: _Mark, theirs: _Mark) -> tuple[Placed, Placed]:
    """Both with their times only where those lie on one line."""
    if mine.line == theirs.line:
        return mine.placed, theirs.placed
    return Placed(mine.mark, None), Placed(theirs.mark, None)


def _side(
    events: Sequence[Event], state: CaseState, brought: Mapping[str, tuple[str, str]], own: set[str]
) -> list[_Mark]:
    """The marks that one side brought, in routine order.

    A fault without a letter is of who began the side's own case, else of who brought it.
    """
    begun = [event.author for event in events if not event.parents and event.hash in own]
    letter = begun[0] if len(begun) == 1 else None
    home = state.recording.sha256 if state.recording else ""
    lined = casefile.on_one_line(state.marks, state.places, home)
    found = []
    for mark in lined:
        by, author = brought[mark.id]
        if by in own:
            place = state.places.get(mark.recording or home)
            span = _span(mark, state) if place else None
            line, attempt = (place.line, place.attempt) if place else (0, state.attempt)
            found.append(_Mark(Placed(mark, span), line, attempt, mark.judge or letter or author))
    return found


def _span(mark: Mark, state: CaseState) -> Span | None:
    moment, clock = mark.moment(), casefile.common_base(state.places)
    if moment is None:
        return None
    begin = FrameTime(moment, clock).milliseconds()
    return Span(begin, begin if mark.end is None else FrameTime(mark.end, clock).milliseconds())


def _marked(first: Sequence[_Mark], second: Sequence[_Mark], kind: str) -> Iterator[Pair]:
    """Elements, or facts, that both sides marked, attempt by attempt."""
    for attempt in sorted({one.attempt for one in first}):
        mine, theirs = (
            [one for one in own if (one.mark.kind, one.attempt) == (kind, attempt)] for own in (first, second)
        )
        if max(len(mine), len(theirs)) <= MOST_MARKS:
            yield from _paired(mine, theirs)


def _paired(first: Sequence[_Mark], second: Sequence[_Mark]) -> list[Pair]:
    """By their times; then, of those whose times cannot be held against each other, by their order."""
    found = align(first, second, _cost, lambda one: key(one.placed))
    pairs = [(one, other) for one, other in found if one is not None and other is not None]
    taken = {id(one) for pair in pairs for one in pair}
    left = [[one for one in own if id(one) not in taken] for own in (first, second)]
    ordered = list(_in_order(*left))
    places = {id(one): place for own in (first, second) for place, one in enumerate(own)}
    steps = [(places[id(one)], places[id(other)]) for one, other in (*pairs, *ordered)]
    crossing = [any((a - c) * (b - d) < 0 for c, d in steps) for a, b in steps[len(pairs) :]]
    pairs += [pair for pair, crosses in zip(ordered, crossing, strict=True) if not crosses]
    return sorted(pairs, key=lambda pair: places[id(pair[0])])


def _cost(mine: _Mark, theirs: _Mark) -> int | None:
    """Of two marks being one by their times, which here must meet: neighbours of one code are two."""
    mine_at, theirs_at = mine.placed.span, theirs.placed.span
    if mine.line != theirs.line or mine_at is None or theirs_at is None:
        return None
    early, late = sorted((mine_at, theirs_at))
    begun_together = late.start - early.start <= WITHIN_MS
    return _near(mine.placed, theirs.placed) if begun_together or 2 * early.end > sum(late) else None


def _in_order(first: Sequence[_Mark], second: Sequence[_Mark]) -> Iterator[Pair]:
    """Marks of a code that both sides have equally often, none of which times can tell from another."""
    codes: dict[str, tuple[list[_Mark], list[_Mark]]] = defaultdict(lambda: ([], []))
    for number, own in enumerate((first, second)):
        for one in own:
            codes[one.mark.code][number].append(one)
    for mine, theirs in codes.values():
        timed = any(None not in (p.span for p in _comparable(*pair)) for pair in product(mine, theirs))
        if len(mine) == len(theirs) and not timed:
            yield from zip(mine, theirs, strict=True)


def _faults(first: Sequence[_Mark], second: Sequence[_Mark], ones: Mapping[str, str]) -> Iterator[Pair]:
    """One judge's faults that both sides have: of a code on one element, else of one code at one time."""
    groups: dict[tuple[str | None, ...], tuple[list[_Mark], list[_Mark]]] = defaultdict(lambda: ([], []))
    for number, own in enumerate((first, second)):
        for one in own:
            if one.mark.kind == "fault":
                element = one.mark.element and ones.get(one.mark.element, one.mark.element)
                groups[one.judge, one.mark.code, element][number].append(one)
    for (_, _, element), (mine, theirs) in groups.items():
        yield from zip(mine, theirs, strict=False) if element else _paired(mine, theirs)


def _letters(
    state: CaseState,
    brought: Mapping[str, tuple[str, str]],
    first: Sequence[_Mark],
    second: Sequence[_Mark],
) -> dict[str, str]:
    """For faults without a letter, that of the judge whose they are."""
    known = {one.mark.id: one.judge for one in (*first, *second)}
    unsaid = (mark.id for mark in state.marks if mark.kind == "fault" and mark.judge is None)
    return {name: known.get(name, brought[name][1]) for name in unsaid}


def _of_one(judge: str, first: Sequence[_Mark], second: Sequence[_Mark]) -> bool:
    """Whether all faults are of the judge whose sheet the merged case is, so that none need say so."""
    return {one.judge for one in (*first, *second) if one.mark.kind == "fault"} <= {judge}
