"""Readers of the clauses on elements and what they earn: value, requirements, credit withheld."""

from collections.abc import Iterator

from reviewer.rules.record import Record
from reviewer.terms.messages import message
from reviewer.terms.provisions import (
    Connection,
    CountingElements,
    Element,
    ElementValues,
    Few,
    JudgeDecides,
    NoRole,
    OneElement,
    PartOf,
    Required,
    RestrictedCost,
    RoleBonus,
    Side,
    Start,
    ValueParts,
    Withheld,
)
from reviewer.terms.vocabulary import (
    CAST_FAULTS,
    COUNTINGS,
    ORDERS,
    REASONS,
    REPEATS,
    SAME_BY,
    STATUSES,
    TESTS,
    THAT_ROLE,
)

_ANGLES = ("none", "decides", "noted")
_TAKES = ("value part", "requirement")


def start(record: Record, clause: str) -> Iterator[Start]:
    """The start value before anything is missing."""
    yield Start(record.points("value"), clause)


def value_parts(record: Record, clause: str) -> Iterator[ValueParts]:
    """How many value parts a routine needs."""
    yield ValueParts(record.number("needed", "value parts"), record.points("takes"), clause)


def few_value_parts(record: Record, clause: str) -> Iterator[Few]:
    """What a short routine costs."""
    number, counting = record.number("fewer-than", "value parts"), record.choice("counting", COUNTINGS)
    yield Few(number, counting, record.points("takes"), clause)


def elements(record: Record, clause: str) -> Iterator[Element]:
    """Elements of one status."""
    status = record.choice("status", STATUSES)
    for one in record.records("elements"):
        yield Element(
            code=one.code("code"),
            name=one.text("name"),
            status=status,
            may_be=one.codes("may-be", needed=False),
            fulfils=one.codes("fulfils", needed=False),
            angle=one.choice("angle", _ANGLES) if one.has("angle") else _ANGLES[0],
            value=one.text("value") if one.has("value") else None,
            earns=one.number("earns", "times") if one.has("earns") else None,
            clause=clause,
        )
        one.finish()


def requirement(record: Record, clause: str) -> Iterator[Required]:
    """A special requirement."""
    role = record.code("role") if record.has("role") else None
    condition = record.code("condition") if record.has("condition") else None
    if role and condition:
        record.wrong(
            "test",
            message("A requirement is met by a role or by a condition."),
            message("Keep one of the two."),
        )
    gives = record.has("gives")
    if gives == record.has("takes"):
        record.wrong(
            "amount",
            message("A requirement either 'takes' or 'gives'."),
            message("Write exactly one of the two."),
        )
    yield Required(
        code=record.code("requirement"),
        name=record.text("name"),
        role=role,
        condition=condition,
        not_in=record.codes("not-in", needed=False),
        not_elements=record.codes("not-elements", needed=False),
        points=record.points("gives") if gives else record.points("takes"),
        gives=gives,
        clause=clause,
    )


def restricted_element(record: Record, clause: str) -> Iterator[RestrictedCost]:
    """What a restricted element costs."""
    yield RestrictedCost(record.points("takes"), record.choice("repeated", REPEATS), clause)


def withheld(record: Record, clause: str) -> Iterator[Withheld]:
    """When credit is withheld: one test a clause."""
    reason, takes = record.choice("reason", REASONS), record.texts("takes")
    for word in takes:
        if word not in _TAKES:
            record.wrong(
                "bad-value",
                message("{word} cannot be taken.", word=repr(word)),
                message("Write one of {words}.", words=", ".join(_TAKES)),
            )
    tests = [test for test in TESTS if record.has(test)]
    if len(tests) != 1:
        record.wrong(
            "test",
            message("A withheld credit has one test."),
            message("Write one of {words}.", words=", ".join(TESTS)),
        )
        return
    value, number = _tested(record, tests[0])
    neighbour, same_by = _repetition(record) if tests[0] == "times" else (False, SAME_BY[0])
    part, requirement = _TAKES[0] in takes, _TAKES[1] in takes
    yield Withheld(tests[0], value, number, neighbour, same_by, reason, part, requirement, clause)


def judge_decides(record: Record, clause: str) -> Iterator[JudgeDecides]:
    """A judge may give or withhold credit."""
    yield JudgeDecides(record.choice("reason", REASONS), clause)


def one_element(record: Record, clause: str) -> Iterator[OneElement]:
    """Neighbours that are one element."""
    number, parted = record.number("at-most", "in a row"), record.code("parted-by")
    yield OneElement(record.codes("elements"), number, parted, clause)


def part_of(record: Record, clause: str) -> Iterator[PartOf]:
    """A short cast that is part of what follows."""
    yield PartOf(record.codes("elements"), record.codes("into"), clause)


def no_role(record: Record, clause: str) -> Iterator[NoRole]:
    """What it costs when a role is not taken as the division allows."""
    statuses = record.codes("statuses")
    for status in statuses:
        if status not in STATUSES:
            said = message("{status} is no status.", status=repr(status))
            record.wrong("bad-value", said, message("Write one of {words}.", words=", ".join(STATUSES)))
    when_none, not_when = record.flag("when-none", "yes", "no"), record.codes("not-when", needed=False)
    yield NoRole(record.code("role"), statuses, not_when, when_none, record.points("takes"), clause)


def element_values(record: Record, clause: str) -> Iterator[ElementValues]:
    """What each letter is worth."""
    inner = record.inner("values")
    values = tuple((letter, inner.points(letter)) for letter in inner.fields.values)
    amounts = [points for _, points in values]
    if amounts != sorted(set(amounts)):
        record.wrong(
            "not-rising", message("The values of the letters must rise."), message("Write the lowest first.")
        )
    yield ElementValues(values, clause)


def counting_elements(record: Record, clause: str) -> Iterator[CountingElements]:
    """How many elements count."""
    number, role = record.number("at-most", "elements"), record.code("role")
    yield CountingElements(number, role, record.flag("that-role", *THAT_ROLE), clause)


def role_bonus(record: Record, clause: str) -> Iterator[RoleBonus]:
    """What a high element in one role gives."""
    role, least = record.code("role"), record.text("at-least")
    yield RoleBonus(role, least, record.codes("not-when", needed=False), record.points("gives"), clause)


def connection(record: Record, clause: str) -> Iterator[Connection]:
    """Two elements joined, and what they gain."""
    any_order = record.flag("order", *ORDERS)
    joined, gives = record.code("joined-by"), record.points("gives")
    yield Connection(_side(record, "first"), _side(record, "second"), any_order, joined, gives, clause)


def _tested(record: Record, test: str) -> tuple[str, int]:
    match test:
        case "times":
            return "", record.number("times", "times")
        case "parts":
            return record.code("role"), record.number("parts", "parts")
        case "status":
            return record.choice("status", STATUSES), 0
        case "cast":
            return record.choice("cast", CAST_FAULTS), 0
    return record.code(test), 0


def _repetition(record: Record) -> tuple[bool, str]:
    neighbour = record.flag("different-neighbour", "needed", "not needed")
    return neighbour, record.choice("same-by", SAME_BY)


def _side(record: Record, key: str) -> Side:
    inner = record.inner(key)
    side = Side(inner.text("at-least"), inner.codes("with", needed=False))
    inner.finish()
    return side
