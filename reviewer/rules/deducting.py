"""Readers of the clauses on execution faults, caps, what swallows what, facts and time limits."""

from collections.abc import Iterator

from reviewer.rules.record import Record
from reviewer.terms.exact import Points
from reviewer.terms.measures import Measure
from reviewer.terms.messages import message
from reviewer.terms.provisions import (
    Cap,
    Courtesy,
    ExecutionFrom,
    Fact,
    Fault,
    OneError,
    Swallow,
    TimeLimit,
)
from reviewer.terms.vocabulary import HELD_AGAINST, SCOPES

_STEP = Points.parse("0.05")
_AMOUNTS = ("amount", "up-to", "one-of")
EDGES = ("included", "excluded")


def fault(record: Record, clause: str) -> Iterator[Fault]:
    """An execution fault and its permitted amounts."""
    amounts = _amounts(record)
    scope = record.choice("scope", SCOPES)
    code, name = record.code("fault"), record.text("name")
    full_from = record.degrees("full-from") if record.has("full-from") else None
    flat = len(amounts) < 2 and not record.has("up-to")
    yield Fault(code, name, amounts, flat, scope, full_from, clause)


def cap(record: Record, clause: str) -> Iterator[Cap]:
    """Faults that together cost at most so much."""
    yield Cap(record.codes("faults"), record.points("at-most"), clause)


def swallow(record: Record, clause: str) -> Iterator[Swallow]:
    """A fault that leaves nothing of others."""
    unless, faults = record.codes("unless", needed=False), record.codes("faults")
    yield Swallow(record.code("by"), faults, record.code("role"), unless, clause)


def one_error(record: Record, clause: str) -> Iterator[OneError]:
    """Faults that are one error under several names."""
    faults = record.codes("faults")
    if len(faults) < 2:
        record.wrong(
            "bad-value",
            message("One error under one name needs no clause."),
            message("Name two faults or more."),
        )
    yield OneError(faults, clause)


def fact(record: Record, clause: str) -> Iterator[Fact]:
    """A fact about the exercise."""
    longer = record.measure("more-than", Measure.length, "9 in") if record.has("more-than") else None
    yield Fact(record.code("fact"), record.text("name"), record.points("takes"), longer, clause)


def time_limit(record: Record, clause: str) -> Iterator[TimeLimit]:
    """The time to go on after a fault."""
    record.text("counted-from")
    within = record.measure("within", Measure.time, "45 seconds")
    yield TimeLimit(record.codes("after"), within, record.flag("edge", *EDGES), clause)


def courtesy(record: Record, clause: str) -> Iterator[Courtesy]:
    """The least score there is."""
    yield Courtesy(record.points("at-least"), record.choice("held-against", HELD_AGAINST), clause)


def execution_from(record: Record, clause: str) -> Iterator[ExecutionFrom]:
    """What judges' scores begin from."""
    yield ExecutionFrom(record.points("value"), clause)


def _amounts(record: Record) -> tuple[Points, ...]:
    said = [key for key in _AMOUNTS if record.has(key)]
    if len(said) != 1:
        record.wrong(
            "amount",
            message("A fault has one of 'amount', 'up-to' or 'one-of'."),
            message("Write exactly one of them."),
        )
        return (Points(0),)
    if said[0] == "one-of":
        found = record.several("one-of")
        if not found:
            record.wrong(
                "bad-value", message("'one-of' names no amount."), message("Write such as [0.100 points].")
            )
        return found or (Points(0),)
    before = len(record.problems)
    most = record.points(said[0])
    if len(record.problems) > before:
        return (most,)
    if said[0] == "amount":
        return (most,)
    steps, rest = divmod(most.thousandths, _STEP.thousandths)
    if rest or not steps:
        record.wrong(
            "bad-value",
            message("'up-to' must come in steps of 0.05."),
            message("Write such as '0.300 points'."),
        )
        return (most,)
    return tuple(_STEP * step for step in range(1, steps + 1))
