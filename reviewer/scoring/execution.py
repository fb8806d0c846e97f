"""One judge's deductions: scopes, what swallows what, caps, and the cast's tolerance."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from reviewer.scoring.casts import MET, WITHIN
from reviewer.scoring.routine import Credit, Placed
from reviewer.terms.elevations import elevation
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.messages import Message, message, noted
from reviewer.terms.provisions import Cap, Required, Swallow
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import Line, NotTaken

STAGE = "execution"


@dataclass(frozen=True, slots=True)
class Group:
    """Faults of which only the largest is taken: all in one scope, or a single one."""

    code: str
    faults: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class Taken:
    """One judge's faults sorted out.

    Attributes:
        groups: in the order of the marks.
        absorbed: faults that another on the same element leaves nothing of, with the clause that says so.
        spared: ids of the elements on which the cast's tolerance spared its faults.
    """

    groups: tuple[Group, ...]
    absorbed: tuple[tuple[Mark, Swallow], ...]
    spared: frozenset[str]


@dataclass(frozen=True, slots=True)
class Execution:
    """One judge's deductions, as lines, and the marked faults that cost nothing or less than marked."""

    judge: str
    taken: Taken
    lines: tuple[Line, ...]
    not_taken: tuple[NotTaken, ...]


def charged(credit: Credit, book: RuleBook) -> tuple[Placed, ...]:
    """The casts that are charged for lying within the tolerance.

    Once an exercise: the best cast, and only where no cast that counts reaches the limit. By element: each.
    """
    casts = [one for one in credit.placed if one.element.decides and not one.merged]
    if book.cast.tolerance.scope == "element":
        return tuple(one for one in casts if credit.states[one.mark.id] == WITHIN)
    counting = {one.mark.id for one in credit.counting}
    best = [one for one in casts if one.mark.id in counting and not _barred(one, book)]
    if any(credit.states[one.mark.id] == MET for one in best):
        return ()
    within = [one for one in best if credit.states[one.mark.id] == WITHIN]
    return (max(within, key=_height),) if within else ()


def spared_on(credit: Credit, charged: Sequence[Placed], book: RuleBook) -> frozenset[str]:
    """Ids of the elements on which the tolerance spares its faults."""
    if not charged:
        return frozenset()
    any_cast = book.cast.tolerance.spared_on_any
    casts = (one for one in credit.placed if one.element.decides)
    return frozenset(one.mark.id for one in (casts if any_cast else charged))


def take(faults: Sequence[Mark], placed: Sequence[Placed], spared: frozenset[str], book: RuleBook) -> Taken:
    """One judge's faults: those taken at all, grouped by scope, and those that another leaves nothing of."""
    found: dict[tuple[str, ...], list[Mark]] = {}
    absorbed = tuple(swallowed(faults, placed, book))
    for mark in left_over(faults, absorbed, spared, book):
        found.setdefault(scope(mark, book), []).append(mark)
    return Taken(
        tuple(Group(together[0].code, tuple(together)) for together in found.values()), absorbed, spared
    )


def left_over(
    faults: Sequence[Mark],
    absorbed: Iterable[tuple[Mark, Swallow]],
    spared: frozenset[str],
    book: RuleBook,
) -> Iterator[Mark]:
    """The faults that neither another leaves nothing of nor the tolerance spares."""
    gone, on_top = {mark.id for mark, _ in absorbed}, book.cast.tolerance.spared
    for mark in faults:
        if mark.id not in gone and not (mark.element in spared and mark.code in on_top):
            yield mark


def execution(judge: str, faults: Sequence[Mark], credit: Credit, book: RuleBook) -> Execution:
    """What one judge deducts, and what of the marks costs nothing."""
    within = charged(credit, book)
    taken = take(faults, credit.placed, spared_on(credit, within, book), book)
    lines = list(_tolerance(judge, within, book))
    not_taken = [_absorbed(judge, mark, rule, book) for mark, rule in taken.absorbed]
    room = {cap.clause: cap.at_most for cap in book.all(Cap)}
    cap_of = caps(book)
    for group in taken.groups:
        mark = max(group.faults, key=_amount)
        not_taken += [_beside(judge, other, mark, book) for other in group.faults if other is not mark]
        points = _amount(mark)
        cap = cap_of.get(group.code)
        if cap is not None and points > room[cap.clause]:
            not_taken.append(_capped(judge, mark, points - room[cap.clause], cap, book))
            points = room[cap.clause]
        if cap is not None:
            room[cap.clause] = room[cap.clause] - points
        if points:
            lines.append(_line(judge, mark, points, book))
    return Execution(judge, taken, tuple(lines), tuple(not_taken))


@lru_cache(maxsize=64)
def caps(book: RuleBook) -> dict[str, Cap]:
    """Fault code to the cap it falls under."""
    return {code: cap for cap in book.all(Cap) for code in cap.faults}


def swallowed(
    faults: Sequence[Mark], placed: Sequence[Placed], book: RuleBook
) -> Iterator[tuple[Mark, Swallow]]:
    """The faults of which another on the same element leaves nothing, each with the clause that says so."""
    rules = book.all(Swallow)
    falling = {rule.by for rule in rules}
    fallen: dict[str, set[str]] = {}
    for mark in faults:
        if mark.code in falling and mark.element is not None:
            fallen.setdefault(mark.element, set()).add(mark.code)
    if not fallen:
        return
    elements = {one.mark.id: one.mark for one in placed if one.mark.id in fallen}
    for mark in faults:
        element = elements.get(mark.element or "")
        if element is not None:
            by = fallen[element.id]
            rule = next((rule for rule in rules if _swallows(rule, mark.code, by, element)), None)
            if rule is not None:
                yield mark, rule


def _swallows(rule: Swallow, code: str, beside: set[str], element: Mark) -> bool:
    return (
        code in rule.faults
        and rule.by in beside
        and rule.role in element.roles
        and not any(said in rule.unless for said in element.conditions)
    )


def _height(one: Placed) -> int:
    """Thousandths of a degree; a cast of which only a verdict was said lies lowest."""
    value = one.mark.angle.value if one.mark.angle else None
    return -1_000_000 if value is None else value.thousandths


def _barred(one: Placed, book: RuleBook) -> bool:
    """Whether its role keeps a cast from the requirement it would fulfil."""
    fulfilling = [rule for rule in book.all(Required) if rule.code in one.element.fulfils]
    return any(role in rule.not_in for rule in fulfilling for role in one.mark.roles)


def _tolerance(judge: str, within: Sequence[Placed], book: RuleBook) -> Iterator[Line]:
    tolerance = book.cast.tolerance
    for one in within if tolerance.points else ():
        template = noted("The best cast lies within the tolerance below the limit, {limit}.")
        if tolerance.scope == "element":
            template = noted("The cast lies within the tolerance below the limit, {limit}.")
        why = message(template, limit=elevation(book.cast.at_least))
        source = book.source(tolerance.clause)
        yield Line(tolerance.clause, STAGE, judge, -tolerance.points, (one.mark.id,), why, source)


def _line(judge: str, mark: Mark, points: Points, book: RuleBook) -> Line:
    clause, why, source = _said_of_faults(book)[mark.code]
    return Line(clause, STAGE, judge, -points, (mark.id,), why, source)


@lru_cache(maxsize=64)
def _said_of_faults(book: RuleBook) -> dict[str, tuple[str, Message, str]]:
    """Fault code to its clause, the reason a line gives, and what the clause rests on."""
    return {
        one.code: (one.clause, message("{name}.", name=one.name), book.source(one.clause))
        for one in book.faults
    }


def _absorbed(judge: str, mark: Mark, rule: Swallow, book: RuleBook) -> NotTaken:
    names = {"name": book.fault_of[mark.code].name, "by": book.fault_of[rule.by].name}
    return NotTaken(rule.clause, judge, (mark.id,), message("{by} leaves nothing of: {name}.", **names))


def _beside(judge: str, mark: Mark, larger: Mark, book: RuleBook) -> NotTaken:
    fault = book.fault_of[mark.code]
    scope = "an exercise" if fault.scope == "exercise" else "an element"
    why = message("{name} is taken once {scope}.", name=fault.name, scope=scope)
    return NotTaken(fault.clause, judge, (mark.id, larger.id), why)


def _capped(judge: str, mark: Mark, lost: Points, cap: Cap, book: RuleBook) -> NotTaken:
    name = book.fault_of[mark.code].name
    why = message("{lost} of {name} lie above {most} in all.", lost=lost, name=name, most=cap.at_most)
    return NotTaken(cap.clause, judge, (mark.id,), why)


def scope(mark: Mark, book: RuleBook) -> tuple[str, ...]:
    """What faults have in common of which only the largest is taken: the code, and where it was."""
    reaches = book.fault_of[mark.code].scope
    if reaches == "exercise":
        return (mark.code,)
    if reaches == "element" and mark.element is not None:
        return (mark.code, mark.element)
    return (mark.code, mark.element or "", mark.id)


def _amount(mark: Mark) -> Points:
    return mark.amount or Points(0)
