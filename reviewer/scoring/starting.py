"""The start value: what is missing, restricted or not begun is taken from it; what a book gives is gained."""

from collections.abc import Iterator, Sequence

from reviewer.scoring.routine import Credit, Placed
from reviewer.scoring.values import value_lines, values_total
from reviewer.terms.exact import Points
from reviewer.terms.messages import Message, message
from reviewer.terms.provisions import NoRole, Required, RestrictedCost, ValueParts
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import Line
from reviewer.terms.vocabulary import RESTRICTED

STAGE = "start-value"


def start_lines(credit: Credit, book: RuleBook) -> tuple[Line, ...]:
    """The lines between the book's start value and the routine's."""
    return (*value_lines(credit, book), *owed_lines(credit, book))


def owed_lines(credit: Credit, book: RuleBook) -> tuple[Line, ...]:
    """Of these lines, those that do not come from the values of elements."""
    return (*_value_parts(credit, book), *_requirements(credit, book), *marked_lines(credit.placed, book))


def marked_lines(placed: Sequence[Placed], book: RuleBook) -> tuple[Line, ...]:
    """Of these lines, those that come from what was marked, whatever the casts are."""
    return (*_restricted(placed, book), *_roles(placed, book))


def earned_total(credit: Credit, book: RuleBook) -> int:
    """Thousandths of the lines that come from what was earned: all but `marked_lines`."""
    needed = book.one(ValueParts)
    total = -_lacking(credit, needed) * needed.points.thousandths if needed is not None else 0
    for required in book.all(Required):
        met = any(meets(required, one) for one in credit.counting)
        if met == required.gives:
            total += required.points.thousandths if required.gives else -required.points.thousandths
    return total + values_total(credit, book)


def _lacking(credit: Credit, needed: ValueParts) -> int:
    return max(needed.number - len(credit.earning), 0)


def missing(credit: Credit, book: RuleBook) -> Iterator[Required]:
    """The requirements that no element meets."""
    for required in book.all(Required):
        if not any(meets(required, one) for one in credit.counting):
            yield required


def meets(required: Required, one: Placed) -> bool:
    """Whether an element that counts meets a requirement."""
    roles = one.mark.roles
    if roles and any(role in required.not_in for role in roles):
        return False
    if one.mark.code in required.not_elements:
        return False
    if required.role is not None:
        return required.role in roles and required.role in one.element.may_be
    if required.condition is not None:
        return required.condition in one.mark.conditions
    return required.code in one.element.fulfils


def _value_parts(credit: Credit, book: RuleBook) -> Iterator[Line]:
    needed = book.one(ValueParts)
    if needed is not None and _lacking(credit, needed):
        counted = {"earned": len(credit.earning), "needed": needed.number}
        why = message("{earned} of {needed} value parts were earned.", **counted)
        yield _line(book, needed.clause, -(needed.points * _lacking(credit, needed)), (), why)


def _requirements(credit: Credit, book: RuleBook) -> Iterator[Line]:
    lacking = {required.code for required in missing(credit, book)}
    for required in book.all(Required):
        if required.gives and required.code not in lacking:
            meeting = next(one.mark.id for one in credit.counting if meets(required, one))
            why = message("{name} is met.", name=required.name)
            yield _line(book, required.clause, required.points, (meeting,), why)
        elif not required.gives and required.code in lacking:
            tried = tuple(one.mark.id for one in credit.placed if meets(required, one))
            why = message("{name} is missing.", name=required.name)
            yield _line(book, required.clause, -required.points, tried, why)


def _restricted(placed: Sequence[Placed], book: RuleBook) -> Iterator[Line]:
    cost = book.one(RestrictedCost)
    charged: set[str] = set()
    for one in placed if cost is not None else ():
        if cost is None or one.element.status != RESTRICTED or one.merged:
            continue
        if cost.repeated == "once" and one.mark.code in charged:
            continue
        charged.add(one.mark.code)
        why = message("{name} is restricted in this division.", name=one.element.name)
        yield _line(book, cost.clause, -cost.points, (one.mark.id,), why)


def _roles(placed: Sequence[Placed], book: RuleBook) -> Iterator[Line]:
    rules = book.all(NoRole)
    for role in dict.fromkeys(rule.role for rule in rules):
        own = [rule for rule in rules if rule.role == role]
        taking = [one for one in placed if role in one.mark.roles]
        void = [next((rule for rule in own if _is_void(one, rule)), None) for one in taking]
        fits = [rule for rule in own if rule.when_none] if not taking else void
        if fits and fits[0] is not None and all(rule is not None for rule in fits):
            why = message("There is no {role} that the division allows.", role=_name(book, role))
            ids = tuple(one.mark.id for one in taking)
            yield _line(book, fits[0].clause, -fits[0].points, ids, why)


def _is_void(one: Placed, rule: NoRole) -> bool:
    spared = any(condition in rule.not_when for condition in one.mark.conditions)
    return one.element.status in rule.statuses and not spared and one.mark.credit != "given"


def _name(book: RuleBook, role: str) -> str:
    return next(one.name for one in book.roles if one.code == role).lower()


def _line(book: RuleBook, clause: str, points: Points, marks: tuple[str, ...], why: Message) -> Line:
    return Line(clause, STAGE, None, points, marks, why, book.source(clause))
