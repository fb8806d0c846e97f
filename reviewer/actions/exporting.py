"""Marks, score lines and readings out of a case in open forms, for a use that consent covers."""

from collections.abc import Callable, Iterator, Mapping
from hashlib import sha256
from pathlib import Path
from typing import Any

from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.consenting import may_leave
from reviewer.actions.evidencing import evidence
from reviewer.actions.marking import counting_recording
from reviewer.actions.outgoing import write_file
from reviewer.actions.passages import footage_of, id_outside, judges_of, passages_of
from reviewer.actions.scores import audit_score
from reviewer.exchange.chapters import captions, chapters
from reviewer.exchange.csvout import Cell, table
from reviewer.exchange.timeline import timeline
from reviewer.exchange.webannotation import web_annotations
from reviewer.exchange.wording import npt
from reviewer.terms.consents import INQUIRY
from reviewer.terms.exact import Points
from reviewer.terms.messages import message
from reviewer.terms.passages import Footage, Passage
from reviewer.terms.problems import Problem

_Rows = Iterator[tuple[Cell, ...]]


def export_case(
    audit: Audit,
    form: str,
    out: Path,
    *,
    today: str,
    use: str = INQUIRY,
    recording: str | None = None,
    name: str | None = None,
    faults: bool = False,
    of: str = "marks",
) -> dict[str, Any]:
    """Write a case in one of `FORMS`: ``reviewer.export/1``. The same case gives the same bytes.

    ``recording`` is the SHA-256 of the one meant, None for the first of the attempt that counts; ``name``
    what it is called outside; ``faults`` asks for captions in place of chapters; ``of`` is one of `TABLES`.
    Attempts that do not count stay out.
    """
    may_leave(audit, use, today)
    passages = passages_of(audit)
    if form == "csv":
        content = _TABLES[of](audit, passages)
    else:
        footage = _the_recording(audit, recording, name)
        content = _written(audit, form, passages, footage, faults=faults)
    write_file(out, content, audit.recording_paths.values())
    return {
        "format": "reviewer.export/1",
        "as": form,
        "use": use,
        "sha256": sha256(content).hexdigest(),
        "marks": len(passages),
        "untimed": [one.id for one in passages if one.start is None],
        "left_out": list(audit.set_aside),
    }


def _the_recording(audit: Audit, recording: str | None, name: str | None) -> Footage:
    meant = recording or counting_recording(audit)
    if meant is None:
        said = message("The case cites no recording, so there is nothing that its marks could point into.")
        remedy = message("Export a table with `--as csv`, or name the recording in a case of its own.")
        raise AuditError(Problem("no-recording", audit.path.name, said, remedy))
    return footage_of(audit, meant, name)


def _written(
    audit: Audit, form: str, passages: tuple[Passage, ...], footage: Footage, *, faults: bool
) -> bytes:
    if form == "chapters":
        return captions(passages, footage) if faults else chapters(passages, footage)
    if form == "timeline":
        return timeline(passages, footage)
    counting = {one.recording for one in passages if one.recording not in (None, footage.sha256)}
    every = {digest: footage_of(audit, digest) for digest in counting if digest is not None}
    case = audit.case.events[0].hash
    return web_annotations(passages, every | {footage.sha256: footage}, case, audit.book.id)


def _marks(audit: Audit, passages: tuple[Passage, ...]) -> bytes:
    columns = ("id", "kind", "code", "name", "recording", "start_s", "end_s", "amount", "judge", "seen")
    return table((*columns, "clauses"), _mark_rows(audit, passages))


def _mark_rows(audit: Audit, passages: tuple[Passage, ...]) -> _Rows:
    footage = {one.sha256: footage_of(audit, one.sha256) for one in audit.state.recordings}
    called, judges = judges_of(audit), audit.sheet.judges
    alone = called.get(judges[0].judge, judges[0].judge) if len(judges) == 1 else None
    for one in passages:
        on = footage.get(one.recording or "")
        number = None if on is None else audit.number_of(on.sha256)
        start, end = _seconds(one.start, on, up=True), _seconds(one.end, on, up=False)
        named: tuple[Cell, ...] = (one.id, one.kind, one.code, one.name, number, start, end)
        judge = one.judge or (alone if one.kind == "fault" else None)
        yield (*named, one.amount, judge, one.seen, " ".join(one.clauses))


def _seconds(tick: int | None, footage: Footage | None, *, up: bool) -> str | None:
    return None if tick is None or footage is None else npt(tick - footage.first, footage.base, up=up)


def _lines(audit: Audit, _: tuple[Passage, ...]) -> bytes:
    columns = ("part", "judge", "points", "clause", "why", "marks", "source")
    return table(columns, _line_rows(audit))


def _line_rows(audit: Audit) -> _Rows:
    called = judges_of(audit)
    for one in audit_score(audit)["lines"]:
        judge = called.get(one["judge"], one["judge"])
        yield (
            one["stage"], judge, Points.parse(one["points"]), one["clause"],
            one["why"], " ".join(id_outside(mark, called) for mark in one["marks"]), one["source"],
        )  # fmt: skip


def _readings(audit: Audit, _: tuple[Passage, ...]) -> bytes:
    columns = ("id", "recording", "frame", "line", "value_deg", "u_deg", "low95_deg", "high95_deg")
    return table((*columns, "camera", "verdict"), _reading_rows(audit))


def _reading_rows(audit: Audit) -> _Rows:
    called = judges_of(audit)
    for one in evidence(audit)["readings"]:
        on = audit.reading_on(one["id"])
        number = audit.number_of(on) if audit.state.recordings else None
        low, high = one["interval95_deg"]
        angles = tuple(Points.parse(text) for text in (one["value_deg"], one["u_deg"], low, high))
        verdict = one["verdict"]["word"] if one["verdict"] else None
        name = id_outside(one["id"], called)
        yield name, number, one["frame"], one["through"], *angles, one["calibration"]["check"], verdict


_TABLES: Mapping[str, Callable[[Audit, tuple[Passage, ...]], bytes]] = {
    "marks": _marks,
    "lines": _lines,
    "readings": _readings,
}
