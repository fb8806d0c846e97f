"""What a sheet remarks without moving points: doubts, warnings, and what a judge decided."""

from collections.abc import Iterator, Mapping, Sequence

from reviewer.scoring.execution import charged, spared_on
from reviewer.scoring.panel import holds, size_is_known
from reviewer.scoring.routine import Credit
from reviewer.scoring.sorting import Sorted
from reviewer.scoring.starting import missing
from reviewer.scoring.values import counting
from reviewer.terms.marks import Mark
from reviewer.terms.messages import either, message, noted
from reviewer.terms.provisions import CountingElements, ElementValues, JudgeDecides, OneError, TimeLimit
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import Note, Spreading


def notes(marks: Sorted, credit: Credit, spread: Spreading | None, book: RuleBook) -> tuple[Note, ...]:
    """Every remark, in a fixed order of kinds."""
    sheets = marks.faults.values()
    return (
        *_cannot_tell(marks.casts, book),
        *_roles(credit, book),
        *_given(credit, book),
        *_not_counting(credit, book),
        *_requirements(credit, book),
        *(note for own in sheets for note in _two_names(own, book)),
        *(note for own in sheets for note in _not_on_top(own, credit, book)),
        *(note for own in sheets for note in _time(own, credit, book)),
        *_of_no_judge(marks.faults),
        *_slowed(marks.slowed),
        *_lengths(marks.facts, book),
        *_panel(len(sheets), spread, book),
    )


def _cannot_tell(open_casts: Mapping[str, tuple[str, ...]], book: RuleBook) -> Iterator[Note]:
    for name, states in open_casts.items():
        if len(states) > 1:
            why = message(
                "It cannot be told whether the cast is {states}; the gymnast is favoured.",
                states=either(states),
            )
            yield Note("cannot-tell", book.cast.guard.clause, (name,), why)


def _roles(credit: Credit, book: RuleBook) -> Iterator[Note]:
    names = {one.code: one.name.lower() for one in book.roles}
    for one in credit.placed:
        for role in one.mark.roles:
            if role not in one.element.may_be:
                why = message("{name} is not listed as a {role}.", name=one.element.name, role=names[role])
                yield Note("role-not-allowed", one.element.clause, (one.mark.id,), why)


def _given(credit: Credit, book: RuleBook) -> Iterator[Note]:
    rule = book.one(JudgeDecides)
    for one in credit.placed if rule is not None else ():
        if rule is not None and one.mark.credit == "given":
            why = message("The judge gives {name} its credit.", name=one.element.name)
            yield Note("credit-given", rule.clause, (one.mark.id,), why)


def _not_counting(credit: Credit, book: RuleBook) -> Iterator[Note]:
    rule = book.one(CountingElements)
    if rule is None or book.one(ElementValues) is None:
        return
    kept = {one.mark.id for one in counting(credit, book)}
    for one in credit.earning:
        if one.element.value is not None and one.mark.id not in kept:
            why = message(
                "{name} is not among the {number} that count.", name=one.element.name, number=rule.number
            )
            yield Note("not-counting", rule.clause, (one.mark.id,), why)


def _requirements(credit: Credit, book: RuleBook) -> Iterator[Note]:
    for required in missing(credit, book):
        if required.gives:
            why = message("{name} is missing.", name=required.name)
            yield Note("requirement-missing", required.clause, (), why)


def _two_names(faults: Sequence[Mark], book: RuleBook) -> Iterator[Note]:
    for rule in book.all(OneError):
        for element in dict.fromkeys(mark.element for mark in faults if mark.element):
            named = [mark for mark in faults if mark.element == element and mark.code in rule.faults]
            if len({mark.code for mark in named}) > 1:
                names = " and ".join(
                    book.fault_of[code].name for code in dict.fromkeys(m.code for m in named)
                )
                why = message("This may be one error under several names: {names}.", names=names)
                yield Note("one-error", rule.clause, tuple(mark.id for mark in named), why)


def _not_on_top(faults: Sequence[Mark], credit: Credit, book: RuleBook) -> Iterator[Note]:
    tolerance = book.cast.tolerance
    spared = spared_on(credit, charged(credit, book), book)
    for mark in faults if spared else ():
        if mark.element in spared and mark.code in tolerance.spared:
            why = message(
                "{name} is not taken on top of the {points} for the cast's height.",
                name=book.fault_of[mark.code].name,
                points=tolerance.points,
            )
            yield Note("not-on-top", tolerance.clause, (mark.id,), why)


def _time(faults: Sequence[Mark], credit: Credit, book: RuleBook) -> Iterator[Note]:
    for rule in book.all(TimeLimit):
        for mark in faults:
            late = mark.clock is not None and mark.clock.exceeds(
                rule.within, edge_included=rule.edge_included
            )
            if late and mark.code in rule.after:
                why = message(
                    "{clock} is more than the {within} there are to go on: the exercise is ended here, "
                    "and what comes after is no part of it.",
                    clock=mark.clock,
                    within=rule.within,
                )
                yield Note("time-limit", rule.clause, (mark.id, *_after(mark, credit)), why)


def _after(fault: Mark, credit: Credit) -> Iterator[str]:
    """Ids of the elements that come after the one a fault belongs to."""
    ids = [one.mark.id for one in credit.placed]
    if fault.element in ids:
        yield from ids[ids.index(fault.element) + 1 :]


def _of_no_judge(faults: Mapping[str, Sequence[Mark]]) -> Iterator[Note]:
    """Faults without a letter beside those of the one judge who has one, and whose they are taken to be."""
    for judge, own in faults.items():
        unsaid = tuple(mark.id for mark in own if mark.judge is None)
        if unsaid and len(unsaid) < len(own):
            why = message(
                "No judge is named; taken as those of judge {judge}, the only one named.", judge=judge
            )
            yield Note("judge-unsaid", None, unsaid, why)


def _slowed(marks: Sequence[Mark]) -> Iterator[Note]:
    if marks:
        why = message("Slow motion showed what is scored here; the score at full speed is stated apart.")
        yield Note("only-slowed", None, tuple(mark.id for mark in marks), why)


def _lengths(facts: Sequence[Mark], book: RuleBook) -> Iterator[Note]:
    for mark in facts:
        if not holds(mark, book):
            fact = book.fact_of[mark.code]
            why = message("{length} is not more than {limit}.", length=mark.length, limit=fact.more_than)
            yield Note("length-within", fact.clause, (mark.id,), why)


def _panel(judges: int, spread: Spreading | None, book: RuleBook) -> Iterator[Note]:
    if not size_is_known(judges, book):
        said = noted("The edition says nothing of a panel of {judges}: all scores are averaged.")
        why = message(said, judges=judges)
        yield Note("panel-size", book.panel.clause, (), why)
    if spread is not None and not spread.within:
        why = message(
            "The judges lie {spread} apart; {allowed} is allowed.",
            spread=spread.spread,
            allowed=spread.allowed,
        )
        yield Note("spread", spread.clause, (), why)
