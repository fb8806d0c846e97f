"""Two sealed sheets settled line by line, both originals kept."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from reviewer import auditing, casefile, scoring
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.consenting import carry_consent
from reviewer.actions.marking import Change, next_mark_id
from reviewer.actions.notes import kept_words
from reviewer.actions.opening import open_case
from reviewer.actions.second import SET_UP, refuse_unsealed
from reviewer.auditing import AGREED, Thing
from reviewer.terms.marks import Mark
from reviewer.terms.messages import Translate, as_written, listed, message, noted
from reviewer.terms.problems import Problem
from reviewer.terms.vocabulary import NEITHER

_NOTHING_THERE = {
    "first": noted("The first sheet has nothing on this line."),
    "second": noted("The second sheet has nothing on this line."),
}


def begin_settlement(first: Path, second: Path, path: Path, author: str) -> Audit:
    """Begin the case that settles two sealed sheets; what both agree on is on it from the start."""
    with open_case(first, author=None) as one, open_case(second, author=None) as other:
        _refuse_apart(one, other)
        sheets = [_sheet(audit) for audit in (one, other)]
        agreed = [
            _as_settled(thing.matched.first.mark, sheets).to_json()
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
    """Take one judge's view of an open line, or neither's."""
    chosen = _the_line(audit, line)
    if chosen["taken"] is not None:
        said, remedy = (
            message("This line is settled already."),
            message("`reviewer settle reopen` opens it again."),
        )
        raise AuditError(Problem("settled", line, said, remedy))
    wanted = None if taken == NEITHER else chosen[taken]
    if taken != NEITHER and wanted is None:
        said = message(_NOTHING_THERE[taken])
        raise AuditError(
            Problem("nothing-there", line, said, message("Take {neither} to leave it out.", neither=NEITHER))
        )
    if wanted is None:
        _refuse_left_behind(audit, line)
    marks = [] if wanted is None else [_placed(audit, line, Mark.from_json(wanted), taken).to_json()]
    audit.case.append("line-settled", {"line": line, "taken": taken, "marks": marks})
    return Change(frozenset({"marks", "sheet"}))


def reopen_line(audit: Audit, line: str, because: str) -> Change:
    """Open a line again, also one on which both sheets agree: what stood for it leaves the settled sheet.

    The reason is kept; both originals stay as they are, and what was taken before stays in the chain.
    """
    if _the_line(audit, line)["taken"] is None:
        raise AuditError(
            Problem("line-open", line, message("This line is open."), message("Take a view of it."))
        )
    if not because.strip():
        said = message("A line that was settled is opened again for a reason.")
        raise AuditError(Problem("no-reason", line, said, message("Say why with --because.")))
    present = {mark.id for mark in audit.marks}
    marks = [name for name in _standing(audit, line) if name in present]
    digest = kept_words(audit, because, "--because")
    audit.case.append("line-reopened", {"line": line, "because": digest, "marks": marks})
    return Change(frozenset({"marks", "sheet"}))


def settlement_document(audit: Audit, tell: Translate = as_written) -> dict[str, Any]:
    """``reviewer.settlement/1``: every line, whose view was taken, and the score; ``tell`` says problems."""
    lines = settlement_lines(audit)
    sheets = _begun(audit)["sheets"]
    return {
        "format": "reviewer.settlement/1",
        "sheets": [{key: one[key] for key in ("judge", "case", "head")} for one in sheets],
        "lines": lines,
        "open": sum(one["taken"] is None for one in lines),
        "final_score": None if audit.state.limited_to else str(audit.sheet.final_score),
        "problems": [problem.to_json(tell) for problem in audit.sheet.problems],
    }


def open_lines(audit: Audit) -> list[str]:
    """The lines of a settlement that nobody has settled yet; none in a case that settles nothing."""
    if audit.state.settlement is None:
        return []
    return [one["line"] for one in settlement_lines(audit) if one["taken"] is None]


def settlement_lines(audit: Audit) -> list[dict[str, Any]]:
    """Everything either sheet has, in the order of the routine, and why a line was opened again."""
    sheets, state = _begun(audit)["sheets"], audit.state
    return [
        {
            "line": f"L{number}",
            "kind": thing.matched.kind,
            "state": thing.state,
            "first": None if thing.matched.first is None else thing.matched.first.mark.to_json(),
            "second": None if thing.matched.second is None else thing.matched.second.mark.to_json(),
            "taken": state.settled.get(f"L{number}", "both" if thing.state == AGREED else None),
            **_reopened(audit, f"L{number}"),
        }
        for number, thing in enumerate(_things(audit, sheets), start=1)
    ]


def _the_line(audit: Audit, line: str) -> dict[str, Any]:
    found = next((one for one in settlement_lines(audit) if one["line"] == line), None)
    if found is None:
        said = message("The settlement has no such line.")
        raise AuditError(Problem("unknown-line", line, said, message("`reviewer settle show` lists them.")))
    return found


def _of_line(audit: Audit, line: str) -> list[casefile.Event]:
    """What was decided of a line and not undone, oldest first."""
    gone = casefile.undone_by(audit.case.events)
    kinds = ("line-settled", "line-reopened")
    decided = (one for one in audit.case.events if one.kind in kinds and one.hash not in gone)
    return [one for one in decided if one.payload["line"] == line]


def _reopened(audit: Audit, line: str) -> dict[str, Any]:
    """By whom and why a line was opened again, where it was."""
    events = [one for one in _of_line(audit, line) if one.kind == "line-reopened"]
    told = [{"by": one.author, "because": audit.case.text(one.payload["because"])} for one in events]
    return {"reopened": told} if told else {}


def _standing(audit: Audit, line: str) -> tuple[str, ...]:
    """Ids of the marks that stand for a line on the settled sheet."""
    decided = _of_line(audit, line)
    if decided and decided[-1].kind == "line-reopened":
        return ()
    if decided:
        return tuple(mark["id"] for mark in decided[-1].payload["marks"])
    found = _the_line(audit, line)
    return (found["first"]["id"],) if found["state"] == AGREED else ()


def _begun(audit: Audit) -> Mapping[str, Any]:
    if audit.state.settlement is None:
        said, remedy = (
            message("This case settles nothing."),
            message("Begin one with `reviewer settle begin`."),
        )
        raise AuditError(Problem("no-settlement", audit.path.name, said, remedy))
    return audit.state.settlement


def _refuse_apart(one: Audit, other: Audit) -> None:
    """Sheets to be settled are sealed, of one recording and by one edition."""
    refuse_unsealed((one, other))
    where, problems = f"{one.path.name}, {other.path.name}", []
    if one.case.events[0].hash == other.case.events[0].hash:
        said = message("This is one case, not two.")
        raise AuditError(Problem("one-case", where, said, message("Name the cases of two judges.")))
    for audit in (one, other):
        if audit.state.sealed is None:
            remedy = message("`reviewer seal {path}` when it is done.", path=audit.path)
            said = message("Only sealed sheets are settled.")
            problems.append(Problem("not-sealed", audit.path.name, said, remedy))
    shown = [{cited.sha256 for cited in audit.state.recordings} for audit in (one, other)]
    if shown[0] != shown[1]:
        said = message("These cases are of different recordings.")
        problems.append(Problem("other-recording", where, said, message("Settle cases of one routine.")))
    if one.book.sha256 != other.book.sha256 or one.book.chosen != other.book.chosen:
        said = message("These cases are scored by different editions, or read differently.")
        problems.append(Problem("other-edition", where, said, message("Settle sheets of one edition.")))
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
    marks = [tuple(Mark.from_json(one) for one in sheet["marks"]) for sheet in sheets]
    judges = [_judges(sheet) for sheet in sheets]
    both = tuple(zip(marks, judges, strict=True))
    first, second = (auditing.side(own, scoring.score(own, audit.book, of), base) for own, of in both)
    mine, theirs = (scoring.Trial(own, audit.book, of) for own, of in both)
    return auditing.compare(first, second, (mine, theirs)).things


def _judges(sheet: Mapping[str, Any]) -> tuple[str, ...]:
    """The judge who scores on a kept sheet where none of its faults says whose it is."""
    return () if _named(sheet) else (sheet["judge"],)


def _named(sheet: Mapping[str, Any]) -> set[str]:
    return {mark["judge"] for mark in sheet["marks"] if mark.get("judge") is not None}


def _placed(audit: Audit, line: str, mark: Mark, taken: str) -> Mark:
    """A mark as it stands on the settled sheet: on the element as settled, and with an id of its own there.

    Of a line that was reopened that is the id of what stood for it, which faults may name.
    """
    kept = _as_settled(mark, _begun(audit)["sheets"])
    if mark.element is not None:
        kept = replace(kept, element=_settled_element(audit, line, mark.element, taken))
    known = {one.id for one in audit.marks}
    before = next(iter(_stood(audit, line)), None)
    if before is not None and before not in known:
        return replace(kept, id=before)
    return kept if kept.id not in known else replace(kept, id=next_mark_id(audit))


def _settled_element(audit: Audit, line: str, element: str, taken: str) -> str:
    """The id on the settled sheet of an element of one of the two sheets; refused while it is not settled."""
    lines = (one for one in settlement_lines(audit) if one[taken] is not None)
    own = next((one for one in lines if one[taken]["id"] == element), None)
    if own is not None and own["taken"] not in (None, NEITHER):
        return _standing(audit, own["line"])[0]
    where = own["line"] if own is not None else element
    if own is None or own["taken"] is None:
        said, remedy = (
            message("The element of this fault is not settled: {where} is open.", where=where),
            message("Settle {where} first.", where=where),
        )
    else:
        said = message(
            "The element of this fault was left out: {where} is settled as neither's.", where=where
        )
        remedy = message(
            "Take {neither} here too, or open {where} again with `reviewer settle reopen`.",
            neither=NEITHER,
            where=where,
        )
    raise AuditError(Problem("element-open", line, said, remedy))


def _refuse_left_behind(audit: Audit, line: str) -> None:
    """An element is not left out while faults that stand on it are on the settled sheet."""
    stood = set(_stood(audit, line))
    faults = {mark.id for mark in audit.marks if mark.element in stood}
    if not faults:
        return
    lines = [one["line"] for one in settlement_lines(audit) if faults & set(_standing(audit, one["line"]))]
    added = sorted(faults - {name for own in lines for name in _standing(audit, own)})
    named = ", ".join((*lines, *added))
    said = message("Faults on this element stand on the settled sheet: {named}.", named=named)
    steps = [message("open {line} again with `reviewer settle reopen`", line=own) for own in lines]
    steps += [message("take {mark} back with `reviewer marks withdraw`", mark=name) for name in added]
    raise AuditError(Problem("faults-left", line, said, message("First {steps}.", steps=listed(steps))))


def _stood(audit: Audit, line: str) -> tuple[str, ...]:
    """Ids of the marks that stood for a line before it was opened again."""
    reopened = (one for one in _of_line(audit, line) if one.kind == "line-reopened")
    return tuple(name for one in reopened for name in one.payload["marks"])


def _as_settled(mark: Mark, sheets: Sequence[Mapping[str, Any]]) -> Mark:
    """A mark without what belongs to the sealed case it is from.

    The value of an angle stays, the reading behind it is evidence there. Where each sheet is one judge's, the
    settled one is that of who settles, not a panel of both.
    """
    if all(len(_named(sheet)) < 2 for sheet in sheets):
        mark = replace(mark, judge=None)
    if mark.angle is None or mark.angle.reading is None:
        return mark
    return replace(mark, angle=replace(mark.angle, reading=None))
