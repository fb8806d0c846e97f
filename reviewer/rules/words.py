"""Words for what a rule book says: names of its codes, lists, amounts and edges."""

from collections.abc import Iterable, Mapping
from typing import Any

from reviewer.terms.rulebook import RuleBook

Data = Mapping[str, Any]
"""The fields of a clause, as text, lists and mappings of text."""
Words = list[str]

OFTEN = {"each": "each time", "element": "once an element", "exercise": "once an exercise"}
STATUS = {
    "listed": "Listed",
    "lower division": "Of the lower division only",
    "restricted": "Restricted",
    "unlisted": "Unlisted: without value here",
}


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

    def of(self, kind: str, codes: str | Iterable[str], last: str = "and") -> str:
        """Names of codes of a kind, joined: ``mount and dismount``."""
        names = getattr(self, kind)
        every = [codes] if isinstance(codes, str) else list(codes)
        return joined([names.get(code, code) for code in every], last)


def joined(words: Iterable[str], last: str = "and") -> str:
    """``a, b and c``; ``a; b, c; and d`` where one of them has a comma."""
    every = list(words)
    comma, end = (", ", " ") if not any("," in word for word in every) or len(every) < 2 else ("; ", "; ")
    return f"{end}{last} ".join(filter(None, (comma.join(every[:-1]), *every[-1:])))


def amount(fault: Data) -> str:
    """What a fault costs: ``0.500``, ``up to 0.300`` or ``0.100 or 0.300``."""
    if "up-to" in fault:
        return f"up to {number(fault['up-to'])}"
    return joined(map(number, fault.get("one-of", [fault.get("amount", "")])), "or")


def number(quantity: str) -> str:
    """The number of a quantity whose unit stands elsewhere."""
    return quantity.partition(" ")[0]


def edge_words(said: Data, limit: str) -> Words:
    """Which side owns an edge; nothing where the clause does not say."""
    ways = {"included": "is included", "excluded": "is not included"}
    return [f"{limit} itself {ways[said['edge']]}."] if "edge" in said else []


def counted_from(said: Data) -> str:
    """From when a time is counted; nothing where the clause does not say."""
    return f", counted from {said['counted-from']}" if "counted-from" in said else ""
