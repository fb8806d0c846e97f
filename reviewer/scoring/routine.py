"""The routine as elements in order: which earn a value part, which fulfil a requirement, and why not."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache

from reviewer.scoring.casts import SHORT
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message, noted
from reviewer.terms.provisions import (
    Element,
    JudgeDecides,
    OneElement,
    PartOf,
    Withheld,
)
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import NotEarned
from reviewer.terms.vocabulary import TESTS

_WORDS = {
    "spotted": noted("{name} was spotted."),
    "repeated": noted("{name} had earned as often as it may."),
    "restricted": noted("{name} is restricted in this division."),
    "unlisted": noted("{name} is not listed."),
    "lower-division": noted("{name} is listed in a lower division only."),
    "below-tolerance": noted("{name} did not reach the lower edge of the tolerance."),
    "fell-before-completion": noted("The fall came before {name} was complete."),
    "not-feet-first": noted("The landing of {name} was not feet first."),
    "third-mount-part": noted("{name} is more than the mount may have."),
    "one-foot-at-a-time": noted("The feet came one after the other in {name}."),
    "not-seen": noted("{name} could not be seen."),
}
_BY_JUDGE = noted("The judge withholds the credit of {name}.")


_Numbered = tuple[int, Withheld]
"""A rule and its place in the file."""


class Repeats(Enum):
    """How repetition is judged: by the book, or so that no more (no less) can be earned than in any case."""

    BY_BOOK = "by the book"
    NEVER = "never"
    ALWAYS = "always"


@dataclass(frozen=True, slots=True)
class Placed:
    """An element of the routine: its mark, what the book says of it, and whether it continues the last."""

    mark: Mark
    element: Element
    merged: bool


@dataclass(frozen=True, slots=True)
class Credit:
    """What the routine earned.

    Attributes:
        placed: the elements in order.
        states: the cast state by mark id.
        earning: elements that earn a value part.
        counting: elements that may fulfil a requirement.
        refused: elements that are refused credit, with the rule that gives the reason.
        performed: how many elements there are; what only continues or is part of another is none.
    """

    placed: tuple[Placed, ...]
    states: Mapping[str, str]
    earning: tuple[Placed, ...]
    counting: tuple[Placed, ...]
    refused: tuple[tuple[Placed, Withheld | JudgeDecides], ...]
    performed: int

    def number(self, counting: str) -> int:
        """How many elements were ``credited`` or ``performed``."""
        return len(self.earning) if counting == "credited" else self.performed


def place(elements: Sequence[Mark], book: RuleBook) -> tuple[Placed, ...]:
    """The elements in order. Some neighbours are one element."""
    merged, known = _merged(elements, book.all(OneElement)), book.element_of
    return tuple(Placed(mark, known[mark.code], mark.id in merged) for mark in elements)


def credit(
    placed: tuple[Placed, ...], states: Mapping[str, str], book: RuleBook, repeats: Repeats = Repeats.BY_BOOK
) -> Credit:
    """Value parts and requirements; ``states`` gives the cast state by mark id.

    The first clause that withholds gives the reason, and all that fit apply.
    """
    court = _Court(placed, states, book, repeats)
    earning: list[Placed] = []
    counting: list[Placed] = []
    refused: list[tuple[Placed, Withheld | JudgeDecides]] = []
    for one in placed:
        if one.merged:
            continue
        found = court.found(one)
        if found:
            refused.append((one, found[0]))
        if not found or not any(rule.requirement for rule in found):
            counting.append(one)
        if not found or not any(rule.value_part for rule in found):
            earning.append(one)
            court.earned(one)
    return Credit(placed, states, tuple(earning), tuple(counting), tuple(refused), court.performed)


def refusals(credit: Credit) -> tuple[NotEarned, ...]:
    """Credit withheld, each with its clause and reason."""
    return tuple(_refusal(one, rule) for one, rule in credit.refused)


class _Court:
    """Decides element after element, remembering what has earned."""

    def __init__(
        self, placed: tuple[Placed, ...], states: Mapping[str, str], book: RuleBook, repeats: Repeats
    ) -> None:
        self._states = states
        self._rules = _sorted_rules(book)
        self._judge = book.one(JudgeDecides)
        self._repeats = repeats
        self._parts: dict[str, int] = {}
        sequence = _sequence(placed, states, book.all(PartOf))
        self.performed = sum(not one.merged for one in sequence)
        self._between = _neighbours(placed, sequence)
        self._earned: dict[tuple[str, str], list[tuple[str, str]]] = {}
        self._identities: dict[tuple[str, str], int] = {}
        for one in placed if repeats is Repeats.ALWAYS else ():
            for way in self._ways(one):
                self._identities[way] = self._identities.get(way, 0) + 1

    def found(self, one: Placed) -> list[Withheld | JudgeDecides]:
        """Every rule that withholds something of an element; the judge's own decision comes first."""
        rules, mark = self._rules, one.mark
        held = [*rules.of_status.get(one.element.status, ())]
        for said in mark.conditions:
            held += rules.of_condition.get(said, ())
        if one.element.decides:
            state = self._states.get(mark.id)
            held += [numbered for numbered in rules.casts if numbered[1].value == state]
        if mark.roles:
            held += [numbered for numbered in rules.parts if self._is_beyond(numbered[1], mark)]
            self._count_parts(mark)
        held += [numbered for numbered in rules.times if self._repeated(numbered[1], one)]
        if mark.credit is not None and self._judge is not None:
            return [] if mark.credit == "given" else [self._judge]
        held.sort(key=_place)
        return [rule for _, rule in held if rule.value_part or rule.requirement]

    def earned(self, one: Placed) -> None:
        """Remember that an element has earned."""
        for way in self._ways(one):
            self._earned.setdefault(way, []).append(self._between[one.mark.id])

    def _ways(self, one: Placed) -> Iterator[tuple[str, str]]:
        """What an element is the same by."""
        return ((same_by, _identity(one, same_by)) for same_by in self._rules.same_by)

    def _is_beyond(self, rule: Withheld, mark: Mark) -> bool:
        return rule.value in mark.roles and self._parts.get(rule.value, 0) >= rule.number

    def _count_parts(self, mark: Mark) -> None:
        for role in mark.roles:
            self._parts[role] = self._parts.get(role, 0) + 1

    def _repeated(self, rule: Withheld, one: Placed) -> bool:
        if self._repeats is Repeats.NEVER:
            return False
        way = (rule.same_by, _identity(one, rule.same_by))
        before = self._earned.get(way, ())
        if self._repeats is Repeats.ALWAYS:
            return bool(before) or (rule.requirement and self._identities[way] > 1)
        limit = one.element.earns or rule.number
        return len(before) >= limit or (rule.neighbour and self._between[one.mark.id] in before)


@dataclass(frozen=True, slots=True)
class _Rules:
    """The rules that withhold, each with its place in the file, by how they are looked up."""

    of_status: Mapping[str, list[_Numbered]]
    of_condition: Mapping[str, list[_Numbered]]
    casts: list[_Numbered]
    parts: list[_Numbered]
    times: list[_Numbered]
    same_by: tuple[str, ...]


@lru_cache(maxsize=64)
def _sorted_rules(book: RuleBook) -> _Rules:
    by_test: dict[str, list[_Numbered]] = {test: [] for test in TESTS}
    for numbered in enumerate(book.all(Withheld)):
        by_test[numbered[1].test].append(numbered)
    same_by = tuple(dict.fromkeys(rule.same_by for _, rule in by_test["times"]))
    of_status, of_condition = _by_value(by_test["status"]), _by_value(by_test["condition"])
    return _Rules(of_status, of_condition, by_test["cast"], by_test["parts"], by_test["times"], same_by)


def _by_value(rules: list[_Numbered]) -> Mapping[str, list[_Numbered]]:
    found: dict[str, list[_Numbered]] = {}
    for numbered in rules:
        found.setdefault(numbered[1].value, []).append(numbered)
    return found


def _place(numbered: _Numbered) -> int:
    return numbered[0]


def _identity(one: Placed, same_by: str) -> str:
    """What makes two elements the same; one that was not called anything is like no other."""
    if same_by == "code":
        return one.mark.code
    return f"called {one.mark.called}" if one.mark.called else f"mark {one.mark.id}"


def _sequence(
    placed: Sequence[Placed], states: Mapping[str, str], rules: Sequence[PartOf]
) -> Sequence[Placed]:
    """The elements without those that are part of the next."""
    if not rules or SHORT not in states.values():
        return placed
    codes = [one.mark.code for one in placed]
    following = zip(placed, [*codes[1:], ""], strict=False)
    return [one for one, after in following if not _is_part(one, after, states, rules)]


def _neighbours(placed: Sequence[Placed], sequence: Sequence[Placed]) -> dict[str, tuple[str, str]]:
    """Mark id to the codes of the elements before and after; what is part of another has none."""
    between = {one.mark.id: ("", "") for one in placed}
    codes = ["", *(one.mark.code for one in sequence), ""]
    for number, one in enumerate(sequence):
        between[one.mark.id] = (codes[number], codes[number + 2])
    return between


def _is_part(one: Placed, after: str, states: Mapping[str, str], rules: Sequence[PartOf]) -> bool:
    """A short cast directly before certain elements is part of them."""
    if states.get(one.mark.id) != SHORT:
        return False
    return any(one.mark.code in rule.elements and after in rule.into for rule in rules)


def _merged(elements: Sequence[Mark], rules: Sequence[OneElement]) -> set[str]:
    """Ids of elements that only continue the one before."""
    merged: set[str] = set()
    for rule in rules:
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


def _refusal(one: Placed, rule: Withheld | JudgeDecides) -> NotEarned:
    words = _BY_JUDGE if isinstance(rule, JudgeDecides) else _WORDS[rule.reason]
    return NotEarned(rule.clause, (one.mark.id,), rule.reason, message(words, name=one.element.name))
