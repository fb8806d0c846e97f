"""Sheets made ready to be compared, from marks alone."""

from collections.abc import Container, Sequence

from reviewer import auditing, rules, scoring
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import Totals
from reviewer.terms.times import TimeBase

BOOK = rules.load(rules.find("demo-bars-2"))
MILLISECONDS = TimeBase(1, 1000)


def sheet(
    marks: Sequence[Mark], book: RuleBook = BOOK, judges: Sequence[str] = (), clock: TimeBase | None = None
) -> auditing.Side:
    return auditing.side(tuple(marks), scoring.score(marks, book, judges), clock)


def compared(
    first: auditing.Side, second: auditing.Side, books: tuple[RuleBook, RuleBook] = (BOOK, BOOK)
) -> auditing.Comparison:
    mine, theirs = (total(book, one.letters) for one, book in zip((first, second), books, strict=True))
    return auditing.compare(first, second, (mine, theirs))


def total(book: RuleBook, letters: Sequence[str]) -> auditing.Totalled:
    """Checks each mark, as the program need not: what it takes for sound must be so."""

    def of(marks: Sequence[Mark], changed: Container[str]) -> Totals | None:
        found = scoring.totals(marks, book, letters)
        assert found == scoring.totals(marks, book, letters, changed)
        return found

    return of


def element(name: str, code: str, order: int, *roles: str) -> Mark:
    return Mark(name, "element", code, order=order, roles=roles)


def timed(name: str, code: str, start: int, end: int, *roles: str) -> Mark:
    return Mark(name, "element", code, start=start, end=end, roles=roles)


def fault(name: str, code: str, on: str, amount: str, at: int | None = None, seen: str | None = None) -> Mark:
    return Mark(name, "fault", code, element=on, amount=Points.parse(amount), at=at, seen=seen)
