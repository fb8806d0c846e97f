"""Clauses that contradict each other, each alone sound: two answers to one question, or a circle."""

from collections import defaultdict
from collections.abc import Iterable, Mapping

from reviewer.rules.record import Record
from reviewer.terms.messages import Message, message, noted
from reviewer.terms.provisions import (
    Cap,
    CountingElements,
    Element,
    ElementValues,
    Fact,
    Fault,
    Few,
    InquiryRule,
    NoRole,
    PanelSize,
    PartOf,
    ReferenceBand,
    Required,
    RestrictedCost,
    Spread,
    Swallow,
    TimeLimit,
    Withheld,
)
from reviewer.terms.rulebook import Provision, RuleBook
from reviewer.terms.vocabulary import RESTRICTED, STATUSES

_IN_ROLE = noted("{status} in the role {role}")


def check_contradictions(record: Record, book: RuleBook) -> None:
    """Note every contradiction at the later clause, also one that only another reading makes."""
    lines = {clause.id: clause.line for clause in book.clauses}

    def wrong(one: Provision, code: str, said: Message, remedy: Message) -> None:
        record.wrong(code, said, remedy, lines.get(one.clause, record.fields.line))

    for read in (book, *(book.read_as({one.clause}) for one in book.interpretations)):
        for one, what in _answered_twice(read):
            wrong(
                one,
                "stated-twice",
                message("{what} was settled by a clause before.", what=what),
                message("Keep one of the two."),
            )
        for two, circle in _circles(read):
            wrong(
                two,
                "circle",
                message("This goes round in a circle: {circle}.", circle=circle),
                message("Break it: take one of them out."),
            )
        for three, said, remedy in _senseless(read):
            wrong(three, "contradiction", said, remedy)
    for clause, codes in _other_codes(book):
        hanging = message("What can be marked must not hang on a reading; {codes} would.", codes=codes)
        record.wrong(
            "contradiction", hanging, message("Keep the codes of both readings alike."), lines[clause]
        )


def _other_codes(book: RuleBook) -> Iterable[tuple[str, str]]:
    """Clauses whose other reading knows other codes than the stated one: no mark could be read both ways."""
    for one in book.interpretations:
        stated = {_code(part) for part in book.as_stated if part.clause == one.clause}
        differ = sorted(filter(None, stated ^ {_code(part) for part in one.provides}))
        if differ:
            yield one.clause, ", ".join(map(repr, differ))


def _code(part: Provision) -> str:
    """The code that a provision gives a meaning to; empty where it gives none."""
    return part.code if isinstance(part, (Element, Fault, Fact, Required)) else ""


def _answered_twice(book: RuleBook) -> Iterable[tuple[Provision, Message]]:
    questions: list[tuple[Provision, Message]] = []
    questions += [
        (one, message("The cap on {code}", code=repr(code))) for one in book.all(Cap) for code in one.faults
    ]
    questions += [(one, message("A panel of {judges}", judges=one.judges)) for one in book.all(PanelSize)]
    questions += [
        (one, message("The spread from {average}", average=one.average)) for one in book.all(Spread)
    ]
    questions += [
        (one, message("The reference band from {score}", score=one.reference))
        for one in book.all(ReferenceBand)
    ]
    questions += [
        (one, message("The time after {code}", code=repr(code)))
        for one in book.all(TimeLimit)
        for code in one.after
    ]
    questions += [
        (one, message("Inquiries, {question},", question=repr(one.settles))) for one in book.all(InquiryRule)
    ]
    questions += [(one, message("Fewer than {number}", number=one.number)) for one in book.all(Few)]
    questions += [
        (one, message(_IN_ROLE, status=repr(s), role=repr(one.role)))
        for one in book.all(NoRole)
        for s in one.statuses
    ]
    questions += [
        (one, message("Nobody in the role {role}", role=repr(one.role)))
        for one in book.all(NoRole)
        if one.when_none
    ]
    questions += [
        (one, message("The test {test} {value}", test=one.test, value=one.value))
        for one in book.all(Withheld)
    ]
    seen: set[Message] = set()
    for one, question in questions:
        if question in seen:
            yield one, question
        seen.add(question)


def _circles(book: RuleBook) -> Iterable[tuple[Provision, str]]:
    """Faults that swallow each other, and elements that are part of each other."""
    swallowed: dict[str, set[str]] = defaultdict(set)
    for one in book.all(Swallow):
        swallowed[one.by].update(one.faults)
        if circle := _way(swallowed, one.by, one.by):
            yield one, " > ".join(circle)
    parts: dict[str, set[str]] = defaultdict(set)
    for two in book.all(PartOf):
        for code in two.elements:
            parts[code].update(two.into)
            if circle := _way(parts, code, code):
                yield two, " > ".join(circle)


def _way(leads: Mapping[str, set[str]], start: str, end: str) -> tuple[str, ...]:
    """The codes from start to end, or nothing where no way leads there."""
    waiting: list[tuple[str, ...]] = [(start,)]
    seen: set[str] = set()
    while waiting:
        way = waiting.pop()
        for code in sorted(leads.get(way[-1], ())):
            if code == end:
                return (*way, code)
            if code not in seen:
                seen.add(code)
                waiting.append((*way, code))
    return ()


def _senseless(book: RuleBook) -> Iterable[tuple[Provision, Message, Message]]:
    values = book.one(ElementValues)
    for one in book.elements:
        if values is None and one.value is not None:
            said = message("{code} has a value, and no clause says what it is worth.", code=repr(one.code))
            yield one, said, message("Add 'element values'.")
        if one.status not in _spoken_of(book):
            said = message(
                "{code} is {status}, and no clause says what that means.",
                code=repr(one.code),
                status=repr(one.status),
            )
            yield one, said, message("Add a clause that withholds its credit or says what it costs.")
    counting = book.one(CountingElements)
    if counting is not None and values is None:
        yield counting, message("Counting elements need values."), message("Add 'element values'.")
    for required in book.all(Required):
        by_element = required.role is None and required.condition is None
        if by_element and not _fulfilled(book, required):
            said = message("No element fulfils the requirement {code}.", code=repr(required.code))
            yield required, said, message("Write 'fulfils' beside the elements that do.")
    for role in {one.role for one in book.all(NoRole)}:
        clauses = [one for one in book.all(NoRole) if one.role == role]
        if not any(one.when_none for one in clauses):
            said = message("Nothing is said where nobody takes the role {role}.", role=repr(role))
            yield clauses[0], said, message("Write 'when-none: yes'.")


def _spoken_of(book: RuleBook) -> set[str]:
    """The statuses that some clause gives a meaning; what is listed needs none."""
    said = {one.value for one in book.all(Withheld) if one.test == "status"}
    said |= {status for one in book.all(NoRole) for status in one.statuses}
    return said | {STATUSES[0]} | ({RESTRICTED} if book.one(RestrictedCost) else set())


def _fulfilled(book: RuleBook, required: Required) -> bool:
    others = (part for one in book.interpretations for part in one.provides)
    said = (one for one in (*book.as_stated, *others) if isinstance(one, Element))
    return any(required.code in one.fulfils for one in said)
