"""Rule books: which there are, what one says, what is wrong with one."""

from typing import Any

from reviewer import rules
from reviewer.terms.problems import Problem
from reviewer.terms.rulebook import RuleBook


def shipped_books() -> tuple[RuleBook, ...]:
    """The editions that travel with the program."""
    return tuple(rules.load(path) for path in rules.shipped())


def load_book(name: str) -> RuleBook:
    """A shipped edition by its id, or a file."""
    return rules.load(rules.find(name))


def check_book(name: str) -> tuple[Problem, ...]:
    """Every problem of a rule-book file; empty when sound."""
    return rules.check(rules.find(name))


def book_document(book: RuleBook) -> dict[str, Any]:
    """``reviewer.rules/1``: the edition's clauses with value, date and source."""
    return {
        "format": "reviewer.rules/1",
        "id": book.id,
        "sha256": book.sha256,
        "title": book.title,
        "division": book.division,
        "season": book.season,
        "cautions": list(book.cautions),
        "clauses": [
            {
                "id": one.id,
                "title": one.title,
                "value": one.value,
                "since": one.since,
                "source": str(one.source),
            }
            for one in book.clauses
        ],
        "elements": [{"code": one.code, "name": one.name} for one in book.elements],
        "faults": [
            {"code": one.code, "name": one.name, "amounts": [str(amount) for amount in one.amounts]}
            for one in book.faults
        ],
    }
