"""Two score sheets held against each other: only what differs."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar

from reviewer.terms.sheets import Line, Note, NotEarned, NotTaken, ScoreSheet

_Entry = TypeVar("_Entry", Line, NotEarned, NotTaken, Note)


@dataclass(frozen=True, slots=True)
class Difference:
    """A figure that differs: its name, and what it was and is, as text."""

    what: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class Differences:
    """What differs between two sheets; entries of a ledger are gone or new.

    Attributes:
        figures: start value, value parts, judges' scores, average, final score, reachable range.
        lines_gone, lines_new: ledger lines.
        refused_gone, refused_new: credit withheld.
        untaken_gone, untaken_new: faults that cost nothing or less than marked.
        notes_gone, notes_new: remarks.
    """

    figures: tuple[Difference, ...]
    lines_gone: tuple[Line, ...]
    lines_new: tuple[Line, ...]
    refused_gone: tuple[NotEarned, ...]
    refused_new: tuple[NotEarned, ...]
    untaken_gone: tuple[NotTaken, ...]
    untaken_new: tuple[NotTaken, ...]
    notes_gone: tuple[Note, ...]
    notes_new: tuple[Note, ...]

    @property
    def none(self) -> bool:
        """Whether nothing differs."""
        return self == Differences((), (), (), (), (), (), (), (), ())


def differences(before: ScoreSheet, after: ScoreSheet) -> Differences:
    """What is otherwise in the second sheet."""
    return Differences(
        tuple(_figures(before, after)),
        *_gone_and_new(before.lines, after.lines),
        *_gone_and_new(before.not_earned, after.not_earned),
        *_gone_and_new(before.not_taken, after.not_taken),
        *_gone_and_new(before.notes, after.notes),
    )


def _figures(before: ScoreSheet, after: ScoreSheet) -> Iterator[Difference]:
    told = (dict(_told(before)), dict(_told(after)))
    for what in dict.fromkeys((*told[0], *told[1])):
        was, is_ = told[0].get(what, "none"), told[1].get(what, "none")
        if was != is_:
            yield Difference(what, was, is_)


def _told(sheet: ScoreSheet) -> Iterator[tuple[str, str]]:
    yield "rule_book", sheet.rule_book[0]
    yield "start_value", str(sheet.start_value)
    yield "value_parts", str(sheet.value_parts)
    for one in sheet.judges:
        yield f"judge {one.judge}", str(one.score)
    yield "panel_average", str(sheet.panel_average)
    yield "final_score", str(sheet.final_score)
    yield "low", str(sheet.reachable.low)
    yield "high", str(sheet.reachable.high)


def _gone_and_new(
    before: Sequence[_Entry], after: Sequence[_Entry]
) -> tuple[tuple[_Entry, ...], tuple[_Entry, ...]]:
    """Entries of the one that the other lacks, each as often as it does."""
    return _without(before, after), _without(after, before)


def _without(some: Sequence[_Entry], others: Sequence[_Entry]) -> tuple[_Entry, ...]:
    left = Counter(others)
    found = []
    for one in some:
        if left[one]:
            left[one] -= 1
        else:
            found.append(one)
    return tuple(found)
