"""One reader for each kind of clause: a closed list of typed rules, no formula and no code in the data."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from reviewer.rules.record import Record
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.readings import LINES
from reviewer.terms.rulebook import (
    CAST_FAULTS,
    REASONS,
    ROUNDINGS,
    SCOPES,
    STATUSES,
    TESTS,
    Amount,
    Cap,
    Count,
    Element,
    Fact,
    Fault,
    NoRole,
    OneElement,
    Panel,
    PartOf,
    Required,
    Spread,
    Swallow,
    Withheld,
)

_STEP = Points.parse("0.05")
_ANGLES = ("none", "decides", "noted")
_TAKES = ("value part", "requirement")


@dataclass
class Gathered:
    """What the clauses said, by kind; a list each, so that a second saying can be told."""

    parts: dict[str, list[Any]] = field(default_factory=dict)

    def add(self, kind: str, part: Any) -> None:
        """Keep one thing that a clause said."""
        self.parts.setdefault(kind, []).append(part)

    def all(self, kind: str) -> tuple[Any, ...]:
        """Everything said of this kind, in the order of the file."""
        return tuple(self.parts.get(kind, ()))

    def one(self, kind: str) -> Any:
        """What was said last of this kind, or None."""
        return self.parts.get(kind, [None])[-1]


def _elements(record: Record, clause: str, gathered: Gathered) -> None:
    status = record.choice("status", STATUSES)
    for one in record.records("elements"):
        element = Element(
            code=one.code("code"),
            name=one.text("name"),
            status=status,
            may_be=one.texts("may-be", needed=False),
            fulfils=one.texts("fulfils", needed=False),
            angle=one.choice("angle", _ANGLES) if one.has("angle") else "none",
            clause=clause,
        )
        one.finish()
        gathered.add("element", element)


def _fault(record: Record, clause: str, gathered: Gathered) -> None:
    flat = record.has("amount")
    if flat == record.has("up-to"):
        record.wrong("amount", "A fault has either 'amount' or 'up-to'.", "Write exactly one of the two.")
    most = record.points("amount") if flat else record.points("up-to")
    amounts = (most,) if flat else _menu(most)
    if not amounts:
        record.wrong("bad-value", "'up-to' must come in steps of 0.05.", "Write such as '0.300 points'.")
    scope = record.choice("scope", SCOPES)
    gathered.add("fault", Fault(record.code("fault"), record.text("name"), amounts, flat, scope, clause))


def _menu(most: Points) -> tuple[Points, ...]:
    steps, rest = divmod(most.thousandths, _STEP.thousandths)
    return () if rest else tuple(_STEP * step for step in range(1, steps + 1))


def _fact(record: Record, clause: str, gathered: Gathered) -> None:
    gathered.add("fact", Fact(record.code("fact"), record.text("name"), record.points("takes"), clause))


def _required(record: Record, clause: str, gathered: Gathered) -> None:
    role = record.code("role") if record.has("role") else None
    not_in = record.texts("not-in", needed=False)
    code, name, takes = record.code("requirement"), record.text("name"), record.points("takes")
    gathered.add("requirement", Required(code, name, role, not_in, takes, clause))


def _withheld(record: Record, clause: str, gathered: Gathered) -> None:
    reason = record.choice("reason", REASONS)
    takes = record.texts("takes")
    for word in takes:
        if word not in _TAKES:
            record.wrong("bad-value", f"{word!r} cannot be taken.", "Write " + " or ".join(_TAKES) + ".")
    tests = [test for test in TESTS if record.has(test)]
    if len(tests) != 1:
        record.wrong("test", "A withheld credit has one test.", "Write one of " + ", ".join(TESTS) + ".")
        return
    test, number = tests[0], 0
    if test == "times":
        value, number = "", record.number("times", "times")
    elif test == "parts":
        value, number = record.code("role"), record.number("parts", "parts")
    else:
        value = (
            record.choice(test, {"status": STATUSES, "cast": CAST_FAULTS}[test])
            if test in ("status", "cast")
            else record.code(test)
        )
    part, requirement = _TAKES[0] in takes, _TAKES[1] in takes
    gathered.add("withheld", Withheld(test, value, number, reason, part, requirement, clause))


def _one_element(record: Record, clause: str, gathered: Gathered) -> None:
    number = record.number("at-most", "in a row")
    parted = record.code("parted-by")
    gathered.add("one element", OneElement(record.texts("elements"), number, parted, clause))


def _part_of(record: Record, clause: str, gathered: Gathered) -> None:
    gathered.add("part of", PartOf(record.texts("elements"), record.texts("into"), clause))


def _no_role(record: Record, clause: str, gathered: Gathered) -> None:
    statuses = record.texts("statuses")
    for status in statuses:
        if status not in STATUSES:
            record.wrong(
                "bad-value", f"{status!r} is no status.", "Write one of " + ", ".join(STATUSES) + "."
            )
    gathered.add("no role", NoRole(record.code("role"), statuses, record.points("takes"), clause))


def _swallow(record: Record, clause: str, gathered: Gathered) -> None:
    unless = record.texts("unless", needed=False)
    faults, role = record.texts("faults"), record.code("role")
    gathered.add("swallow", Swallow(record.code("by"), faults, role, unless, clause))


def _cap(record: Record, clause: str, gathered: Gathered) -> None:
    gathered.add("cap", Cap(record.texts("faults"), record.points("at-most"), clause))


def _panel(record: Record, clause: str, gathered: Gathered) -> None:
    drop_from = record.number("drop-extremes-from", "judges")
    if drop_from < 3:
        record.wrong("bad-value", "Extremes drop from three judges on.", "Write '3 judges' or more.")
    gathered.add("panel", Panel(drop_from, record.choice("rounding", ROUNDINGS), clause))


def _spread(record: Record, clause: str, gathered: Gathered) -> None:
    gathered.add("spread", Spread(record.points("average-from"), record.points("allowed"), clause))


@dataclass(frozen=True)
class Limit:
    """A cast value and its clause: an angle, a number or a line with what goes with it."""

    angle: Degrees
    number: int
    line: str
    points: Points
    faults: tuple[str, ...]
    clause: str


def _cast_line(record: Record, clause: str, gathered: Gathered) -> None:
    line = record.choice("line", LINES)
    gathered.add("cast line", Limit(Degrees(0), 0, line, Points(0), (), clause))


def _cast_limit(record: Record, clause: str, gathered: Gathered) -> None:
    gathered.add("cast limit", Limit(record.degrees("at-least"), 0, "", Points(0), (), clause))


def _cast_tolerance(record: Record, clause: str, gathered: Gathered) -> None:
    spared = record.texts("not-on-top-of-it", needed=False)
    below, takes = record.degrees("below-limit"), record.points("takes")
    if below < Degrees(0):
        record.wrong("bad-value", "A tolerance is not negative.", "Write such as '10 degrees'.")
    gathered.add("cast tolerance", Limit(below, 0, "", takes, spared, clause))


def _guard_band(record: Record, clause: str, gathered: Gathered) -> None:
    times = record.number("clear-by", "thousandths of the standard uncertainty")
    gathered.add("guard band", Limit(Degrees(0), times, "", Points(0), (), clause))


def _amount(kind: str, key: str) -> "Reader":
    def read(record: Record, clause: str, gathered: Gathered) -> None:
        gathered.add(kind, Amount(record.points(key), clause))

    return read


def _count(kind: str, key: str) -> "Reader":
    def read(record: Record, clause: str, gathered: Gathered) -> None:
        number = record.number(key, "value parts")
        gathered.add(kind, Count(number, record.points("takes"), clause))

    return read


def _note(record: Record, clause: str, gathered: Gathered) -> None:
    record.text("says")


Reader = Callable[[Record, str, Gathered], None]

READERS: dict[str, Reader] = {
    "start": _amount("start", "value"),
    "value parts": _count("value parts", "needed"),
    "few value parts": _count("few parts", "fewer-than"),
    "elements": _elements,
    "requirement": _required,
    "restricted element": _amount("restricted", "takes"),
    "withheld": _withheld,
    "one element": _one_element,
    "part of": _part_of,
    "no role": _no_role,
    "cast line": _cast_line,
    "cast limit": _cast_limit,
    "cast tolerance": _cast_tolerance,
    "guard band": _guard_band,
    "fault": _fault,
    "cap": _cap,
    "swallow": _swallow,
    "fact": _fact,
    "panel": _panel,
    "spread": _spread,
    "courtesy": _amount("courtesy", "at-least"),
    "note": _note,
}
"""Rule name in the file to its reader: the closed list of what a clause can say."""

NEEDED = ("start", "value parts", "cast line", "cast limit", "cast tolerance", "guard band", "panel")
"""Kinds that every book says exactly once."""
ONCE = (*NEEDED, "few parts", "restricted", "courtesy")
"""Kinds that a book says at most once."""
