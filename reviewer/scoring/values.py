"""Difficulty where elements have values: which elements count, what they are worth, what joins them."""

from collections.abc import Iterator
from itertools import pairwise

from reviewer.scoring.routine import Credit, Placed
from reviewer.terms.exact import Points
from reviewer.terms.messages import message
from reviewer.terms.provisions import Connection, CountingElements, ElementValues, RoleBonus, Side
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import Line

STAGE = "start-value"


def value_lines(credit: Credit, book: RuleBook) -> Iterator[Line]:
    """A line for each counting element, in routine order, and for each connection that gains."""
    values = book.one(ElementValues)
    if values is None:
        return
    for one in counting(credit, book):
        points = values.of(one.element.value or "")
        why = message("{name} counts {points}.", name=one.element.name, points=points)
        yield Line(values.clause, STAGE, None, points, (one.mark.id,), why, book.source(values.clause))
    for one, bonus in _bonuses(credit, book, values):
        why = message("{name} gives {points}.", name=one.element.name, points=bonus.points)
        source = book.source(bonus.clause)
        yield Line(bonus.clause, STAGE, None, bonus.points, (one.mark.id,), why, source)
    for first, second, rule in _joined(credit, book, values):
        why = message("{first} into {second}.", first=first.element.name, second=second.element.name)
        ids = (first.mark.id, second.mark.id)
        yield Line(rule.clause, STAGE, None, rule.points, ids, why, book.source(rule.clause))


def counting(credit: Credit, book: RuleBook) -> tuple[Placed, ...]:
    """The credited elements that count, in routine order: the highest, the earlier of two as high."""
    values, limit = book.one(ElementValues), book.one(CountingElements)
    with_value = [one for one in credit.earning if one.element.value is not None]
    if values is None or limit is None:
        return tuple(with_value)
    always = [one for one in with_value if limit.always and limit.role in one.mark.roles]
    first = {one.mark.id for one in always}
    others = [one for one in with_value if one.mark.id not in first]
    others.sort(key=lambda one: -values.rank(one.element.value or ""))
    kept = {one.mark.id for one in (always + others)[: limit.number]}
    return tuple(one for one in with_value if one.mark.id in kept)


def values_total(credit: Credit, book: RuleBook) -> int:
    """Thousandths of all `value_lines`."""
    values = book.one(ElementValues)
    if values is None:
        return 0
    worth = {letter: points.thousandths for letter, points in values.values}
    total = sum(worth[one.element.value or ""] for one in counting(credit, book))
    total += sum(bonus.points.thousandths for _, bonus in _bonuses(credit, book, values))
    return total + sum(rule.points.thousandths for _, _, rule in _joined(credit, book, values))


def most_and_least(sure: Credit, possible: Credit, book: RuleBook) -> tuple[Points, Points]:
    """Bounds on what values and connections come to, between what surely and what possibly earns.

    Least: the sure ones, of which each element that always counts may crowd out one, and no connection.
    Most: the highest of all possible ones, and every possible connection.
    """
    values, limit = book.one(ElementValues), book.one(CountingElements)
    if values is None:
        return Points(0), Points(0)
    number = limit.number if limit else len(possible.earning)
    always = [one for one in possible.placed if limit and limit.always and limit.role in one.mark.roles]
    least = _highest(sure, values, max(number - len(always), 0))
    most = _highest(possible, values, number)
    gains = sum(rule.points.thousandths for _, _, rule in _joined(possible, book, values))
    gains += sum(bonus.points.thousandths for _, bonus in _bonuses(possible, book, values))
    return Points(least), Points(most + gains)


def _bonuses(credit: Credit, book: RuleBook, values: ElementValues) -> Iterator[tuple[Placed, RoleBonus]]:
    for bonus in book.all(RoleBonus):
        for one in credit.earning:
            spared = any(said in bonus.not_when for said in one.mark.conditions)
            if bonus.role in one.mark.roles and not spared and _reaches(one, bonus.at_least, values):
                yield one, bonus


def _reaches(one: Placed, least: str, values: ElementValues) -> bool:
    letter = one.element.value
    return letter is not None and values.rank(letter) >= values.rank(least)


def _highest(credit: Credit, values: ElementValues, number: int) -> int:
    worth = [values.of(one.element.value).thousandths for one in credit.earning if one.element.value]
    return sum(sorted(worth, reverse=True)[:number])


def _joined(
    credit: Credit, book: RuleBook, values: ElementValues
) -> Iterator[tuple[Placed, Placed, Connection]]:
    rules = book.all(Connection)
    earning = {one.mark.id for one in credit.earning}
    for first, second in pairwise(one for one in credit.placed if not one.merged):
        if first.mark.id in earning and second.mark.id in earning:
            fitting = [rule for rule in rules if _joins(rule, first, second, values)]
            if fitting:
                yield first, second, max(fitting, key=lambda rule: rule.points)


def _joins(rule: Connection, first: Placed, second: Placed, values: ElementValues) -> bool:
    if rule.joined_by not in first.mark.conditions:
        return False
    ways = [(first, second), (second, first)] if rule.any_order else [(first, second)]
    return any(_is(rule.first, a, values) and _is(rule.second, b, values) for a, b in ways)


def _is(side: Side, one: Placed, values: ElementValues) -> bool:
    if not _reaches(one, side.at_least, values):
        return False
    return not side.conditions or any(said in side.conditions for said in one.mark.conditions)
