"""Sheets made ready to be compared, from marks alone."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from reviewer import auditing, rules, scoring
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark, in_routine_order
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
    mine, theirs = (Scored(one, book) for one, book in zip((first, second), books, strict=True))
    return auditing.compare(first, second, (mine, theirs))


class Scored:
    """Marks tried otherwise by scoring them all again, held against what is derived again of them alone."""

    def __init__(self, side: auditing.Side, book: RuleBook) -> None:
        letters = side.letters
        marks = [one.mark for one in side.marks]
        self._trial, self._book, self._letters = scoring.Trial(marks, book, letters), book, letters
        unsound = {problem.where for problem in side.sheet.problems}
        self._sound = {mark.id: mark for mark in in_routine_order(tuple(marks)) if mark.id not in unsound}

    def totals(
        self, changed: Mapping[str, Mark | None], elements: Sequence[Mark] | None = None
    ) -> Totals | None:
        found = self._trial.totals(changed, elements)
        assert found == self._scored(changed, elements)
        return found

    def _scored(self, changed: Mapping[str, Mark | None], elements: Sequence[Mark] | None) -> Totals | None:
        marks = [mark for mark in {**self._sound, **changed}.values() if mark is not None]
        if elements is None:
            elements = [mark for mark in marks if mark.kind == "element"]
        others = [untimed(mark, None) for mark in marks if mark.kind != "element"]
        listed = [untimed(mark, order) for order, mark in enumerate(elements)]
        sheet = scoring.score([*listed, *others], self._book, self._letters)
        return None if sheet.problems else Totals(sheet.start_value, sheet.final_score)


def untimed(mark: Mark, order: int | None) -> Mark:
    return replace(mark, order=order, start=None, end=None, at=None)


def element(name: str, code: str, order: int, *roles: str) -> Mark:
    return Mark(name, "element", code, order=order, roles=roles)


def timed(name: str, code: str, start: int, end: int, *roles: str) -> Mark:
    return Mark(name, "element", code, start=start, end=end, roles=roles)


def fault(name: str, code: str, on: str, amount: str, at: int | None = None, seen: str | None = None) -> Mark:
    return Mark(name, "fault", code, element=on, amount=Points.parse(amount), at=at, seen=seen)
