"""Which mark of one sheet is which of the other: elements in time and kind, faults on them, facts."""

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from reviewer.auditing.aligning import align
from reviewer.auditing.sides import Placed, Side, Span

WITHIN_MS = 200
"""Milliseconds within which times count as the same where nothing else is said: our choice, no source."""
_OTHER_CODE = 1500
"""Of one element that two sheets call differently: less than to leave one alone."""
_FARTHEST, _OTHER_AMOUNT = 400, 50
"""The most that distance in time adds, and another amount: they decide only between marks of one code."""
_KINDS = ("element", "fault", "fact")
_LAST = 1_000_000_000

Cost = Callable[[Placed, Placed], int | None]
Pairs = Iterator[tuple[Placed | None, Placed | None]]


@dataclass(frozen=True, slots=True)
class Matched:
    """One thing as two sheets have it: its mark on each, None where only the other sheet has it."""

    first: Placed | None
    second: Placed | None

    @property
    def kind(self) -> str:
        """``element``, ``fault`` or ``fact``."""
        one = self.first or self.second
        assert one is not None
        return one.mark.kind

    @property
    def slot(self) -> int:
        """Place of its element among those of both sheets; last for what belongs to none."""
        return _LAST if self.place is None else self.place - 1

    @property
    def place(self) -> int | None:
        """The same from 1; None for what belongs to no element."""
        slots = [one.slot for one in (self.first, self.second) if one and one.slot is not None]
        return min(slots) + 1 if slots else None


def match(first: Side, second: Side, within_ms: int = WITHIN_MS) -> tuple[Matched, ...]:
    """Every mark of both sheets once, in the order of the routine; what belongs to no element comes last.

    Judges are told apart by their letters, unless each sheet has only one.
    """
    pairs = align(first.of_kind("element"), second.of_kind("element"), element_cost(within_ms), key)
    elements = [
        Matched(_in_slot(one, slot), _in_slot(other, slot)) for slot, (one, other) in enumerate(pairs)
    ]
    alone = len(first.letters) == len(second.letters) == 1
    faults = _faults(
        _on(first.of_kind("fault"), [one.first for one in elements]),
        _on(second.of_kind("fault"), [one.second for one in elements]),
        lambda one: (None if alone else one.judge, one.mark.code),
        within_ms,
    )
    facts = _paired(first.of_kind("fact"), second.of_kind("fact"), _code, _distance)
    found = [*elements, *faults, *(Matched(*pair) for pair in facts)]
    return tuple(sorted(found, key=lambda one: (one.slot, _KINDS.index(one.kind))))


def _faults(
    mine: Sequence[Placed], theirs: Sequence[Placed], kind: Callable[[Placed], object], within_ms: int
) -> Iterator[Matched]:
    """Faults of one kind on one element; then, of those left over, such as lie at one time."""
    pairs = list(_paired(mine, theirs, lambda one: (kind(one), one.slot), _distance))
    yield from (Matched(*pair) for pair in pairs if None not in pair)
    alone = [one for one, other in pairs if one and not other]
    others = [other for one, other in pairs if other and not one]
    yield from (Matched(*pair) for pair in _paired(alone, others, kind, _moment_cost(within_ms)))


def _paired(
    mine: Sequence[Placed], theirs: Sequence[Placed], kind: Callable[[Placed], object], cost: Cost
) -> Pairs:
    """Marks that have the same in common, paired in their order, group by group."""
    groups: dict[object, tuple[list[Placed], list[Placed]]] = defaultdict(lambda: ([], []))
    for number, marks in enumerate((mine, theirs)):
        for one in marks:
            groups[kind(one)][number].append(one)
    for alike in groups.values():
        yield from align(*alike, cost, key)


def _in_slot(one: Placed | None, slot: int) -> Placed | None:
    return None if one is None else one.on(slot)


def _on(faults: Sequence[Placed], elements: Sequence[Placed | None]) -> tuple[Placed, ...]:
    """Faults in the slot of their element, by time."""
    slots = {one.mark.id: one.slot for one in elements if one}
    placed = (one.on(slots.get(one.mark.element or "")) for one in faults)
    return tuple(sorted(placed, key=lambda one: _LAST if one.slot is None else one.slot))


def key(one: Placed) -> tuple[str, tuple[int, ...], str]:
    """An order of marks that knows nothing of which sheet they are from."""
    return one.mark.code, one.span or (), str(one.mark.amount)


def _code(one: Placed) -> str:
    return one.mark.code


def element_cost(within_ms: int) -> Cost:
    """Of two elements being one; where a time is missing, order and code alone say."""

    def cost(mine: Placed, theirs: Placed) -> int | None:
        same = mine.mark.code == theirs.mark.code
        if mine.span is None or theirs.span is None:
            return 0 if same else _OTHER_CODE
        if not (_gap(mine.span, theirs.span) <= within_ms if same else _mostly(mine.span, theirs.span)):
            return None
        return _distance(mine, theirs) + (0 if same else _OTHER_CODE)

    return cost


def _moment_cost(within_ms: int) -> Cost:
    """Of two faults on different elements being one: only their times can say."""

    def cost(mine: Placed, theirs: Placed) -> int | None:
        near = mine.span and theirs.span and abs(mine.span.start - theirs.span.start) <= within_ms
        return _distance(mine, theirs) if near else None

    return cost


def _distance(mine: Placed, theirs: Placed) -> int:
    """Hundredths of a second between two marks up to a bound, and a little where their amounts differ."""
    unlike = 0 if mine.mark.amount == theirs.mark.amount else _OTHER_AMOUNT
    if mine.span is None or theirs.span is None:
        return unlike
    apart = abs(mine.span.start - theirs.span.start) + abs(mine.span.end - theirs.span.end)
    return min(apart // 10, _FARTHEST) + unlike


def _gap(mine: Span, theirs: Span) -> int:
    """Milliseconds between the end of one and the start of the other; negative where they overlap."""
    return max(mine.start, theirs.start) - min(mine.end, theirs.end)


def _mostly(mine: Span, theirs: Span) -> bool:
    """Whether two spans share more than half of the shorter."""
    return -2 * _gap(mine, theirs) > min(mine.end - mine.start, theirs.end - theirs.start)
