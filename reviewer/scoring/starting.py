"""The start value: what is missing, restricted or not begun is taken from the most there is."""

from collections.abc import Iterator

from reviewer.scoring.routine import Credit
from reviewer.terms.exact import Points
from reviewer.terms.messages import Message, message
from reviewer.terms.rulebook import Required, RuleBook
from reviewer.terms.sheets import Line

STAGE = "start-value"


def start_lines(credit: Credit, book: RuleBook) -> tuple[Line, ...]:
    """The lines that lower the start value."""
    return (
        *_value_parts(credit, book),
        *_requirements(credit, book),
        *_restricted(credit, book),
        *_roles(credit, book),
    )


def _value_parts(credit: Credit, book: RuleBook) -> Iterator[Line]:
    needed = book.value_parts
    lacking = needed.number - len(credit.value_parts)
    if lacking > 0:
        why = message(
            "{earned} of {needed} value parts were earned.",
            earned=len(credit.value_parts),
            needed=needed.number,
        )
        yield _line(book, needed.clause, needed.points * lacking, (), why)


def _requirements(credit: Credit, book: RuleBook) -> Iterator[Line]:
    for required in book.requirements:
        if not _met(required, credit):
            tried = tuple(
                one.mark.id
                for one in credit.placed
                if _would_meet(required, one.element.fulfils, one.mark.roles)
            )
            yield _line(
                book,
                required.clause,
                required.points,
                tried,
                message("{name} is missing.", name=required.name),
            )


def _met(required: Required, credit: Credit) -> bool:
    return any(_would_meet(required, one.element.fulfils, one.mark.roles) for one in credit.counting)


def _would_meet(required: Required, fulfils: tuple[str, ...], roles: tuple[str, ...]) -> bool:
    if required.role is not None:
        return required.role in roles
    return required.code in fulfils and not any(role in required.not_in for role in roles)


def _restricted(credit: Credit, book: RuleBook) -> Iterator[Line]:
    if book.restricted is None:
        return
    for one in credit.placed:
        if one.element.status == "restricted":
            why = message("{name} is restricted in this division.", name=one.element.name)
            yield _line(book, book.restricted.clause, book.restricted.points, (one.mark.id,), why)


def _roles(credit: Credit, book: RuleBook) -> Iterator[Line]:
    for rule in book.no_role:
        taking = [one for one in credit.placed if rule.role in one.mark.roles]
        if all(one.element.status in rule.statuses for one in taking):
            why = message("There is no {role} that the division allows.", role=rule.role)
            yield _line(book, rule.clause, rule.points, tuple(one.mark.id for one in taking), why)


def _line(book: RuleBook, clause: str, points: Points, marks: tuple[str, ...], why: Message) -> Line:
    return Line(clause, STAGE, None, -points, marks, why, str(book.clause(clause).source))
