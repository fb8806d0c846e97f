"""The routine as elements in order: which earn a value part, which fulfil a requirement, and why not."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from reviewer.scoring.casts import SHORT
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message
from reviewer.terms.rulebook import Element, RuleBook, Withheld
from reviewer.terms.sheets import NotEarned

_DECIDES = "decides"

_WORDS = {
    "spotted": "{name} was spotted",
    "repeated": "{name} had earned as often as it may",
    "restricted": "{name} is restricted in this division",
    "unlisted": "{name} is not listed",
    "lower-division": "{name} is listed in a lower division only",
    "below-tolerance": "{name} did not reach the lower edge of the tolerance",
    "fell-before-completion": "The fall came before {name} was complete",
    "not-feet-first": "The landing of {name} was not feet first",
    "third-mount-part": "{name} is more than the mount may have",
    "one-foot-at-a-time": "The feet came one after the other in {name}",
    "not-seen": "{name} could not be seen",
}


@dataclass(frozen=True, slots=True)
class Placed:
    """An element of the routine: its mark, what the book says of it, and the state of its cast."""

    mark: Mark
    element: Element
    cast: str | None
    merged: bool


@dataclass(frozen=True, slots=True)
class Credit:
    """What the routine earned.

    Attributes:
        placed: the elements in order.
        value_parts: ids of the marks that earn one.
        counting: elements that may fulfil a requirement.
        not_earned: credit withheld, with its reason.
    """

    placed: tuple[Placed, ...]
    value_parts: tuple[str, ...]
    counting: tuple[Placed, ...]
    not_earned: tuple[NotEarned, ...]


def place(marks: Sequence[Mark], book: RuleBook, states: Mapping[str, str]) -> tuple[Placed, ...]:
    """The elements in order; ``states`` gives the cast state by mark id. Some neighbours are one element."""
    elements = [mark for mark in marks if mark.kind == "element"]
    merged = _merged(elements, book)
    return tuple(
        Placed(mark, book.element(mark.code), states.get(mark.id), mark.id in merged) for mark in elements
    )


def credit(placed: tuple[Placed, ...], book: RuleBook) -> Credit:
    """Value parts and requirements; the first clause that withholds gives the reason."""
    earned: list[tuple[str, str, tuple[str, str]]] = []
    counting: list[Placed] = []
    refused: list[NotEarned] = []
    sequence = [one for one in placed if not _is_part(one, placed, book)]
    for one in placed:
        if one.merged:
            continue
        found = [rule for rule in book.withheld if _holds(rule, one, placed, sequence, earned)]
        refused.extend(_refusal(rule, one) for rule in found[:1])
        if not any(rule.requirement for rule in found):
            counting.append(one)
        if not any(rule.value_part for rule in found):
            earned.append((one.mark.id, one.mark.code, _neighbours(one, sequence)))
    return Credit(placed, tuple(name for name, _, _ in earned), tuple(counting), tuple(refused))


def decides(element: Element) -> bool:
    """Whether the cast's angle decides this element's credit."""
    return element.angle == _DECIDES


def _holds(
    rule: Withheld,
    one: Placed,
    placed: Sequence[Placed],
    sequence: Sequence[Placed],
    earned: Sequence[tuple[str, str, tuple[str, str]]],
) -> bool:
    match rule.test:
        case "condition":
            return rule.value in one.mark.conditions
        case "status":
            return one.element.status == rule.value
        case "cast":
            return decides(one.element) and one.cast == rule.value
        case "parts":
            parts = [other for other in placed if rule.value in other.mark.roles and not other.merged]
            return one in parts and parts.index(one) >= rule.number
    before = [neighbours for _, code, neighbours in earned if code == one.mark.code]
    return len(before) >= rule.number or _neighbours(one, sequence) in before


def _neighbours(one: Placed, sequence: Sequence[Placed]) -> tuple[str, str]:
    if one not in sequence:
        return ("", "")
    index = sequence.index(one)
    before = sequence[index - 1].mark.code if index else ""
    after = sequence[index + 1].mark.code if index + 1 < len(sequence) else ""
    return before, after


def _is_part(one: Placed, placed: Sequence[Placed], book: RuleBook) -> bool:
    """A short cast directly before certain elements is part of them, not an element between."""
    index = placed.index(one)
    following = placed[index + 1].mark.code if index + 1 < len(placed) else None
    return one.cast == SHORT and any(
        one.mark.code in rule.elements and following in rule.into for rule in book.part_of
    )


def _merged(elements: Sequence[Mark], book: RuleBook) -> set[str]:
    """Ids of elements that only continue the one before."""
    merged: set[str] = set()
    for rule in book.one_element:
        run = 0
        for before, mark in zip((None, *elements), elements, strict=False):
            joined = (
                before is not None
                and before.code in rule.elements
                and mark.code in rule.elements
                and rule.parted_by not in before.conditions
            )
            run = run + 1 if joined and run + 1 < rule.number else 0
            if run:
                merged.add(mark.id)
    return merged


def _refusal(rule: Withheld, one: Placed) -> NotEarned:
    why = message(_WORDS[rule.reason] + ".", name=one.element.name)
    return NotEarned(rule.clause, (one.mark.id,), rule.reason, why)
