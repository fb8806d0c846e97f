"""No reference in a rule book leads nowhere, and no code is given twice."""

from collections.abc import Iterable

from reviewer.rules.record import Record
from reviewer.terms.messages import message, spoken
from reviewer.terms.provisions import (
    Cap,
    CastTolerance,
    Connection,
    CountingElements,
    Element,
    ElementValues,
    NoRole,
    OneElement,
    OneError,
    PartOf,
    Required,
    RoleBonus,
    Swallow,
    TimeLimit,
    Withheld,
)
from reviewer.terms.rulebook import Provision, RuleBook

_Use = tuple[str, tuple[str, ...]]


def check_references(record: Record, book: RuleBook) -> None:
    """Note every unknown code, at the clause that uses it, and every code or clause id given twice."""
    check = _References(record, book)
    check.unique("clause id", ((one.id, one.line) for one in book.clauses))
    requirements = book.all(Required)
    check.unique("element", ((one.code, check.line(one)) for one in book.elements))
    check.unique("fault", ((one.code, check.line(one)) for one in book.faults))
    check.unique("fact", ((one.code, check.line(one)) for one in book.facts))
    check.unique("requirement", ((one.code, check.line(one)) for one in requirements))
    values = book.one(ElementValues)
    known = {
        "role": {one.code for one in book.roles},
        "condition": {one.code for one in book.conditions},
        "element": set(book.element_of),
        "fault": set(book.fault_of),
        "requirement": {one.code for one in requirements},
        "value": {letter for letter, _ in values.values} if values else set(),
    }
    others = (part for one in book.interpretations for part in one.provides)
    for part in (*book.as_stated, *others):
        for kind, codes in _uses(part):
            check.known(kind, part, codes, known[kind])


def _uses(one: Provision) -> Iterable[_Use]:
    """Each use of a code: its kind and the codes."""
    match one:
        case Element():
            yield from (("role", one.may_be), ("requirement", one.fulfils))
            yield "value", () if one.value is None else (one.value,)
        case Required():
            yield "role", (*one.not_in, *((one.role,) if one.role else ()))
            yield "condition", (one.condition,) if one.condition else ()
            yield "element", one.not_elements
        case Withheld(test="condition" | "parts"):
            yield "condition" if one.test == "condition" else "role", (one.value,)
        case OneElement():
            yield from (("element", one.elements), ("condition", (one.parted_by,)))
        case PartOf():
            yield "element", (*one.elements, *one.into)
        case NoRole():
            yield from (("role", (one.role,)), ("condition", one.not_when))
        case CountingElements():
            yield "role", (one.role,)
        case RoleBonus():
            yield from (("role", (one.role,)), ("condition", one.not_when), ("value", (one.at_least,)))
        case Connection():
            yield "condition", (one.joined_by, *one.first.conditions, *one.second.conditions)
            yield "value", (one.first.at_least, one.second.at_least)
        case Swallow():
            yield from (("fault", (one.by, *one.faults)), ("role", (one.role,)), ("condition", one.unless))
        case Cap() | OneError():
            yield "fault", one.faults
        case CastTolerance():
            yield "fault", one.spared
        case TimeLimit():
            yield "fault", one.after


class _References:
    def __init__(self, record: Record, book: RuleBook) -> None:
        self.record = record
        self.lines = {clause.id: clause.line for clause in book.clauses}

    def line(self, one: Provision) -> int:
        return self.lines.get(one.clause, self.record.fields.line)

    def unique(self, what: str, said: Iterable[tuple[str, int]]) -> None:
        seen: set[str] = set()
        for code, line in said:
            if code and code in seen:
                self.record.wrong(
                    "given-twice",
                    message("The {kind} {code} is given twice.", kind=spoken(what), code=repr(code)),
                    message("Keep one."),
                    line,
                )
            seen.add(code)

    def known(self, kind: str, part: Provision, codes: tuple[str, ...], known: set[str]) -> None:
        for code in codes:
            if code and code not in known:
                said, remedy = (
                    message("The {kind} {code} is not in this book.", kind=spoken(kind), code=repr(code)),
                    message("Add the {kind} or mend the code.", kind=spoken(kind)),
                )
                self.record.wrong(f"unknown-{kind}", said, remedy, self.line(part))
