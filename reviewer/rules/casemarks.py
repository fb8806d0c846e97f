"""The marks of a rule case, written so that a judge can read them."""

from collections.abc import Sequence
from typing import TypeVar

from reviewer.rules.record import Record
from reviewer.rules.tree import Fields
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.marks import CREDITS, EYE_VERDICTS, CastAngle, Mark
from reviewer.terms.measures import Measure
from reviewer.terms.messages import message
from reviewer.terms.rulebook import RuleBook

_Kind = TypeVar("_Kind", Points, Degrees)
_KINDS = ("element", "fault", "fact")
_SEEN = ("full-speed", "slowed")
_BY = ("eye", "protractor")


def read_marks(
    record: Record, written: Sequence[Fields], gone: Sequence[str], changes: Fields, book: RuleBook
) -> tuple[Mark, ...]:
    """The marks as written, without those that are gone, and with fields changed by id."""
    named = [(_id(fields, number), fields) for number, fields in enumerate(written, start=1)]
    known = {name for name, _ in named}
    for name in (*gone, *changes.values):
        if name not in known:
            record.wrong(
                "unknown-mark",
                message("There is no mark {name} to change.", name=repr(name)),
                message("Mend its id."),
            )
    kept = [(name, _changed(fields, changes.values.get(name))) for name, fields in named if name not in gone]
    placed = _in_place(record, kept)
    return tuple(
        _mark(Record(record.name, fields, record.problems), name, order, book)
        for order, (name, fields) in enumerate(placed, start=1)
    )


def _id(fields: Fields, number: int) -> str:
    found = Record("", fields, [])
    return found.text("id") if found.has("id") else f"m{number}"


def _changed(fields: Fields, change: object) -> Fields:
    if not isinstance(change, Fields):
        return fields
    return Fields(fields.values | change.values, fields.lines | change.lines, fields.line)


def _in_place(record: Record, kept: Sequence[tuple[str, Fields]]) -> list[tuple[str, Fields]]:
    """Each mark where it says, before or after another, and else where it is written."""
    placed: list[tuple[str, Fields]] = []
    for name, fields in kept:
        said = Record(record.name, fields, record.problems)
        beside = next((key for key in ("before", "after") if said.has(key)), None)
        if beside is None:
            placed.append((name, fields))
            continue
        names = [one for one, _ in placed]
        other = said.text(beside)
        if other not in names:
            said.wrong(
                "unknown-mark",
                message("There is no mark {other} here.", other=repr(other)),
                message("Name one that comes before."),
            )
            continue
        placed.insert(names.index(other) + (beside == "after"), (name, fields))
    return placed


def _mark(record: Record, name: str, order: int, book: RuleBook) -> Mark:
    for key in ("id", "before", "after"):
        record.has(key)
    kinds = [kind for kind in _KINDS if record.has(kind)]
    if len(kinds) != 1:
        record.wrong(
            "bad-value",
            message("A mark is an element, a fault or a fact."),
            message("Write exactly one of them."),
        )
        return Mark(name, _KINDS[0], "")
    kind = kinds[0]
    code = record.text(kind)
    mark = Mark(
        id=name,
        kind=kind,
        code=code,
        order=order,
        roles=record.codes("roles", needed=False),
        conditions=record.codes("with", needed=False),
        angle=_angle(record),
        element=record.text("on") if record.has("on") else None,
        amount=_amount(record, code, book) if kind == "fault" else None,
        arguable=record.flag("arguable", "yes", "no") if record.has("arguable") else True,
        seen=record.choice("seen", _SEEN) if record.has("seen") else None,
        judge=record.text("judge") if record.has("judge") else None,
        called=record.text("called") if record.has("called") else None,
        credit=record.choice("credit", CREDITS) if record.has("credit") else None,
        clock=record.measure("clock", Measure.time, "46 s") if record.has("clock") else None,
        length=record.measure("length", Measure.length, "10 in") if record.has("length") else None,
    )
    record.finish()
    return mark


def _amount(record: Record, code: str, book: RuleBook) -> Points | None:
    if record.has("amount"):
        return _thousandths(record, "amount", Points)
    fault = book.fault_of.get(code)
    return fault.amounts[0] if fault is not None and fault.flat else None


def _angle(record: Record) -> CastAngle | None:
    value = _thousandths(record, "angle", Degrees) if record.has("angle") else None
    spread = _thousandths(record, "u", Degrees) if record.has("u") else None
    verdict = record.choice("verdict", EYE_VERDICTS) if record.has("verdict") else None
    by = record.choice("by", _BY) if record.has("by") else _BY[0]
    return None if value is None and verdict is None else CastAngle(by, value, spread, verdict)


def _thousandths(record: Record, key: str, kind: type[_Kind]) -> _Kind:
    """A number without its unit, as a judge writes it in a case."""
    text = record.text(key)
    try:
        return kind.parse(text)
    except ValueError:
        record.wrong(
            "bad-value",
            message("{key}: {text} is no amount.", key=repr(key), text=repr(text)),
            message("Write such as 0.100."),
            record.line(key),
        )
        return kind(0)
