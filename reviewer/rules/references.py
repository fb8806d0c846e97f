"""No reference in a rule book leads nowhere, and no code is given twice."""

from collections.abc import Iterable
from typing import Any

from reviewer.rules.clauses import Gathered
from reviewer.rules.record import Record
from reviewer.terms.rulebook import Clause, Named


def check_references(
    record: Record,
    clauses: tuple[Clause, ...],
    roles: tuple[Named, ...],
    conditions: tuple[Named, ...],
    gathered: Gathered,
) -> None:
    """Note every unknown code, at the clause that uses it, and every code or clause id given twice."""
    check = _References(record, clauses)
    check.unique("clause id", ((clause.id, clause.line) for clause in clauses))
    known = {"role": {one.code for one in roles}, "condition": {one.code for one in conditions}}
    for kind, attribute in (
        ("element", "element"),
        ("fault", "fault"),
        ("fact", "fact"),
        ("requirement", "requirement"),
    ):
        said = gathered.all(attribute)
        known[kind] = {one.code for one in said}
        check.unique(kind, ((one.code, check.line(one.clause)) for one in said))
    for kind, part, codes in _uses(gathered):
        check.known(kind, part, codes, known[kind])


def _uses(gathered: Gathered) -> Iterable[tuple[str, Any, tuple[str, ...]]]:
    """Each use of a code: its kind, the part of a clause that uses it, the codes."""
    for one in gathered.all("element"):
        yield "role", one, one.may_be
        yield "requirement", one, one.fulfils
    for one in gathered.all("requirement"):
        yield "role", one, (*one.not_in, *([one.role] if one.role else []))
    for one in gathered.all("withheld"):
        if one.test in ("condition", "parts"):
            yield "condition" if one.test == "condition" else "role", one, (one.value,)
    for one in gathered.all("one element"):
        yield "element", one, one.elements
        yield "condition", one, (one.parted_by,)
    for one in gathered.all("part of"):
        yield "element", one, (*one.elements, *one.into)
    for one in gathered.all("no role"):
        yield "role", one, (one.role,)
    for one in gathered.all("swallow"):
        yield "fault", one, (one.by, *one.faults)
        yield "role", one, (one.role,)
        yield "condition", one, one.unless
    for one in (*gathered.all("cap"), *gathered.all("cast tolerance")):
        yield "fault", one, one.faults


class _References:
    def __init__(self, record: Record, clauses: tuple[Clause, ...]) -> None:
        self.record = record
        self.lines = {clause.id: clause.line for clause in clauses}

    def line(self, clause: str) -> int:
        return self.lines.get(clause, self.record.fields.line)

    def unique(self, what: str, said: Iterable[tuple[str, int]]) -> None:
        seen: set[str] = set()
        for code, line in said:
            if code and code in seen:
                self.record.wrong("given-twice", f"The {what} {code!r} is given twice.", "Keep one.", line)
            seen.add(code)

    def known(self, kind: str, part: Any, codes: tuple[str, ...], known: set[str]) -> None:
        for code in codes:
            if code and code not in known:
                what = f"The {kind} {code!r} is not in this book."
                self.record.wrong(
                    f"unknown-{kind}", what, f"Add the {kind} or mend the code.", self.line(part.clause)
                )
