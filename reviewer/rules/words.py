"""Words for what a rule book says: names of its codes, lists, amounts and edges."""

from collections.abc import Iterable, Mapping
from typing import Any

from reviewer.terms.exact import Thousandths
from reviewer.terms.messages import Message, message, noted, spoken
from reviewer.terms.rulebook import RuleBook
from reviewer.words.spoken import PLAIN

Data = Mapping[str, Any]
"""The fields of a clause, as text, lists and mappings of text."""
Words = list[Message]

OFTEN = {
    "each": noted("each time"),
    "element": noted("once an element"),
    "exercise": noted("once an exercise"),
}
STATUS = {
    "listed": noted("Listed"),
    "lower division": noted("Of the lower division only"),
    "restricted": noted("Restricted"),
    "unlisted": noted("Unlisted: without value here"),
}
_LAST = {
    ("and", ", "): noted("{these} and {that}"),
    ("or", ", "): noted("{these} or {that}"),
    ("and", "; "): noted("{these}; and {that}"),
    ("or", "; "): noted("{these}; or {that}"),
}
_NEXT = {", ": noted("{these}, {that}"), "; ": noted("{these}; {that}")}
_QUANTITIES = {
    "points": noted("{number} points"),
    "degrees": noted("{number} degrees"),
    "value part": noted("{number} value part"),
    "value parts": noted("{number} value parts"),
    "elements": noted("{number} elements"),
    "in a row": noted("{number} in a row"),
    "times": noted("{number} times"),
    "judge": noted("{number} judge"),
    "judges": noted("{number} judges"),
    "second": noted("{number} second"),
    "seconds": noted("{number} seconds"),
    "minute": noted("{number} minute"),
    "minutes": noted("{number} minutes"),
}
"""Quantities as rule books write them, by their unit; any other is told as it is written."""


class Names:
    """What a book calls its codes.

    Attributes:
        roles, conditions, elements, faults, requirements: code to name; of conditions, in quotes.
    """

    def __init__(self, book: RuleBook, clauses: Iterable[Data]) -> None:
        self.roles = {one.code: one.name.lower() for one in book.roles}
        self.conditions = {one.code: f"“{one.name}”" for one in book.conditions}
        self.elements = {one.code: one.name for one in book.elements}
        self.faults = {one.code: one.name for one in book.faults}
        self.requirements = {
            one["requirement"]: one.get("name", one["requirement"]) for one in clauses if "requirement" in one
        }

    def of(self, kind: str, codes: str | Iterable[str], last: str = "and") -> Message:
        """Names of codes of a kind, joined: ``mount and dismount``."""
        names = getattr(self, kind)
        every = [codes] if isinstance(codes, str) else list(codes)
        return joined([names.get(code, code) for code in every], last)


def joined(words: Iterable[str | Message], last: str = "and") -> Message:
    """``a, b and c``; ``a; b, c; and d`` where one of them has a comma."""
    every = [one if isinstance(one, Message) else spoken(one) for one in words]
    comma = "; " if len(every) > 1 and any("," in str(one) for one in every) else ", "
    found = every[0] if every else Message("")
    for place, one in enumerate(every[1:], start=2):
        template = _LAST[last, comma] if place == len(every) else _NEXT[comma]
        found = message(template, these=found, that=one)
    return found


def quantity(said: str) -> Message:
    """A number with its unit, such as ``0.500 points``."""
    number, _, unit = said.partition(" ")
    template = _QUANTITIES.get(unit)
    return spoken(said) if template is None else message(template, number=number)


def thousandths(said: str) -> Thousandths:
    """How many whole ones so many thousandths are."""
    return Thousandths(int(said.partition(" ")[0]))


def plain(word: str) -> Message:
    """A short word of documents, as people say it."""
    return spoken(PLAIN.get(word, word))


def amount(fault: Data) -> Message:
    """What a fault costs: ``0.500``, ``up to 0.300`` or ``0.100 or 0.300``."""
    if "up-to" in fault:
        return message("up to {most}", most=number(fault["up-to"]))
    return joined(map(number, fault.get("one-of", [fault.get("amount", "")])), "or")


def number(said: str) -> str:
    """The number of a quantity whose unit stands elsewhere."""
    return said.partition(" ")[0]


def edge_words(said: Data, included: str, excluded: str) -> Words:
    """Which side owns an edge, of two sentences; nothing where the clause does not say."""
    return [message({"included": included, "excluded": excluded}[said["edge"]])] if "edge" in said else []


LIMIT_EDGE = (noted("The limit itself is included."), noted("The limit itself is not included."))
LOWER_EDGE = (noted("The lower edge itself is included."), noted("The lower edge itself is not included."))
