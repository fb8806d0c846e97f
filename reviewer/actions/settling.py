"""Two sealed sheets settled line by line, both originals kept."""

from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from reviewer import auditing, casefile, scoring
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.consenting import carry_consent
from reviewer.actions.marking import Change, next_mark_id
from reviewer.actions.opening import open_case
from reviewer.actions.second import SET_UP, refuse_unsealed
from reviewer.auditing import AGREED, Thing
from reviewer.terms.marks import Mark
from reviewer.terms.problems import Problem
from reviewer.terms.sheets import Totals
from reviewer.terms.vocabulary import NEITHER


def begin_settlement(first: Path, second: Path, path: Path, author: str) -> Audit:
    """Begin the case that settles two sealed sheets; what both agree on is on it from the start."""
    with open_case(first, author=None) as one, open_case(second, author=None) as other:
        _refuse_apart(one, other)
        sheets = [_sheet(audit) for audit in (one, other)]
        agreed = [
            _without_reading(thing.matched.first.mark).to_json()
            for thing in _things(one, sheets)
            if thing.matched.first is not None and thing.state == AGREED
        ]
        consent = one.permission.common_with(other.permission)
        settled = casefile.create_case(path, author, one.athlete_code, consent.word)
        for text in one.case.books().values():
            settled.keep_book(text)
        for event in _set_up(one):
            settled.append(event.kind, event.payload)
        for sha256, place in one.recording_paths.items():
            settled.remember_place(sha256, place.resolve())
        carry_consent(consent, settled)
        settled.append("settlement-begun", {"sheets": sheets, "agreed": agreed})
        return Audit(settled, one.recording_paths)


def settle_line(audit: Audit, line: str, taken: str) -> Change:
    """Take one judge's view of a line, or neither's."""
    lines = {one["line"]: one for one in settlement_lines(audit)}
    if line not in lines:
        said = "The settlement has no such line."
        raise AuditError(Problem("unknown-line", line, said, "`reviewer settle show` lists them."))
    if lines[line]["taken"] is not None:
        said = "This line is settled already."
        raise AuditError(Problem("settled", line, said, "Undo it first."))
    wanted = None if taken == NEITHER else lines[line][taken]
    if taken != NEITHER and wanted is None:
        said = f"The {taken} sheet has nothing on this line."
        raise AuditError(Problem("nothing-there", line, said, f"Take {NEITHER} to leave it out."))
    marks = [] if wanted is None else [_placed(audit, Mark.from_json(wanted), taken).to_json()]
    audit.case.append("line-settled", {"line": line, "taken": taken, "marks": marks})
    return Change(frozenset({"marks", "sheet"}))


def settlement_document(audit: Audit) -> dict[str, Any]:
    """``reviewer.settlement/1``: every line, whose view was taken, and the score as it stands."""
    lines = settlement_lines(audit)
    sheets = _begun(audit)["sheets"]
    return {
        "format": "reviewer.settlement/1",
        "sheets": [{key: one[key] for key in ("judge", "case", "head")} for one in sheets],
        "lines": lines,
        "open": sum(one["state"] != AGREED and one["taken"] is None for one in lines),
        "final_score": None if audit.state.limited_to else str(audit.sheet.final_score),
    }


def settlement_lines(audit: Audit) -> list[dict[str, Any]]:
    """Everything either sheet has, in the order of the routine."""
    sheets = _begun(audit)["sheets"]
    return [
        {
            "line": f"L{number}",
            "kind": thing.matched.kind,
            "state": thing.state,
            "first": None if thing.matched.first is None else thing.matched.first.mark.to_json(),
            "second": None if thing.matched.second is None else thing.matched.second.mark.to_json(),
            "taken": "both" if thing.state == AGREED else audit.state.settled.get(f"L{number}"),
        }
        for number, thing in enumerate(_things(audit, sheets), start=1)
    ]


def _begun(audit: Audit) -> Mapping[str, Any]:
    if audit.state.settlement is None:
        said, remedy = "This case settles nothing.", "Begin one with `reviewer settle begin`."
        raise AuditError(Problem("no-settlement", audit.path.name, said, remedy))
    return audit.state.settlement


def _refuse_apart(one: Audit, other: Audit) -> None:
    """Sheets to be settled are sealed, of one recording and by one edition."""
    refuse_unsealed((one, other))
    where, problems = f"{one.path.name}, {other.path.name}", []
    if one.case.events[0].hash == other.case.events[0].hash:
        said = "This is one case, not two."
        raise AuditError(Problem("one-case", where, said, "Name the cases of two judges."))
    for audit in (one, other):
        if audit.state.sealed is None:
            remedy = f"`reviewer seal {audit.path.name}` when it is done."
            said = "Only sealed sheets are settled."
            problems.append(Problem("not-sealed", audit.path.name, said, remedy))
    shown = [{cited.sha256 for cited in audit.state.recordings} for audit in (one, other)]
    if shown[0] != shown[1]:
        said = "These cases are of different recordings."
        problems.append(Problem("other-recording", where, said, "Settle cases of one routine."))
    if one.book.sha256 != other.book.sha256 or one.book.chosen != other.book.chosen:
        said = "These cases are scored by different editions, or read differently."
        problems.append(Problem("other-edition", where, said, "Settle sheets of one edition."))
    if problems:
        raise AuditError(tuple(problems))


def _sheet(audit: Audit) -> dict[str, Any]:
    """A sealed sheet as the settlement keeps it whole."""
    events = audit.case.events
    sealed = next(event for event in events if event.number == audit.state.sealed)
    marks = [mark.to_json() for mark in audit.counting_marks]
    return {"judge": sealed.author, "case": events[0].hash, "head": sealed.hash, "marks": marks}


def _set_up(audit: Audit) -> Iterator[casefile.Event]:
    gone = casefile.undone_by(audit.case.events)
    return (one for one in audit.case.events if one.kind in SET_UP and one.hash not in gone)


def _things(audit: Audit, sheets: Sequence[Mapping[str, Any]]) -> tuple[Thing, ...]:
    """The two sheets held against each other, by the edition of a case."""
    base = casefile.common_base(audit.state.places) if audit.state.places else None
    sides = []
    for sheet in sheets:
        marks = tuple(Mark.from_json(one) for one in sheet["marks"])
        sides.append(auditing.side(marks, scoring.score(marks, audit.book), base))

    def total(marks: Sequence[Mark], changed: Container[str]) -> Totals | None:
        return scoring.totals(marks, audit.book, (), changed)

    return auditing.compare(sides[0], sides[1], (total, total)).things


def _placed(audit: Audit, mark: Mark, taken: str) -> Mark:
    """A mark as it stands on the settled sheet: its own id there, on the element as settled."""
    kept = _without_reading(mark)
    if mark.element is not None:
        kept = replace(kept, element=_settled_element(audit, mark.element, taken))
    known = {one.id for one in audit.marks}
    return kept if kept.id not in known else replace(kept, id=next_mark_id(audit))


def _settled_element(audit: Audit, element: str, taken: str) -> str:
    """The id on the settled sheet of an element of one of the two sheets; refused while it is not settled."""
    for one in settlement_lines(audit):
        own = one[taken]
        if own is None or own["id"] != element or one["taken"] in (None, NEITHER):
            continue
        if one["state"] == AGREED:
            return str(one["first"]["id"])
        event = next(
            event
            for event in audit.case.events
            if event.kind == "line-settled" and event.payload["line"] == one["line"]
        )
        return str(event.payload["marks"][0]["id"])
    said = "The element of this fault is not settled, or left out."
    raise AuditError(Problem("element-open", element, said, "Settle the element's own line first."))


def _without_reading(mark: Mark) -> Mark:
    """The value of an angle stays; the reading behind it is evidence of the sealed case it was taken in."""
    if mark.angle is None or mark.angle.reading is None:
        return mark
    return replace(mark, angle=replace(mark.angle, reading=None))
