"""Documents in and out: marks with the readings they cite, checked against their schemas."""

import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

from reviewer import exchange, settings
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.interpreting import choose_interpretation, refuse_not_open
from reviewer.actions.marking import keep_mark, take_reading, untimed_home
from reviewer.casefile import Place, on_one_line
from reviewer.terms.canonical import readable
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem, ReviewerError
from reviewer.terms.readings import Clicks, Reading
from reviewer.terms.times import TimeBase


@cache
def schema(name: str) -> dict[str, Any]:
    """One of the JSON Schemas that travel with the program, such as ``marks``."""
    place = settings.shipped("annotations") / "schemas" / f"{name}.schema.json"
    found: dict[str, Any] = json.loads(place.read_text(encoding="utf-8"))
    return found


@dataclass(frozen=True, slots=True)
class MarksRead:
    """A marks document as it is scored.

    Attributes:
        marks: those of the attempt that counts, on one line of time.
        set_aside: ids of the others.
        attempt: the one that counts, or None where the document has no several recordings.
        rule_book: the edition it names, or None.
        interpretations: clause id to the reading chosen, where the rule leaves it open.
        judges: letters of judges who score also where they deduct nothing.
        places: where the times of each recording belong, by its SHA-256; empty where none is named.
        posted: the score the panel posted, or None.
    """

    marks: tuple[Mark, ...]
    set_aside: tuple[str, ...]
    attempt: int | None
    rule_book: str | None
    interpretations: Mapping[str, str]
    judges: tuple[str, ...]
    places: Mapping[str, Place]
    posted: Points | None


def read_marks(path: Path) -> MarksRead:
    """The marks of a ``reviewer.marks/1`` document."""
    document = exchange.read_document(path, schema("marks"), "marks")
    marks, named = exchange.marks_from_document(document, path.name), document.get("rule_book")
    chosen: Mapping[str, str] = document.get("interpretations", {})
    judges = tuple(document.get("judges", ()))
    posted = Points.parse(document["posted"]) if document.get("posted") is not None else None
    places = {entry["sha256"]: _place(entry) for entry in document.get("recordings", ())}
    if not places:
        return MarksRead(marks, (), None, named, chosen, judges, _only_place(document), posted)
    first, attempt = _first(document) or "", document["attempt"]
    own = tuple(mark for mark in marks if places[mark.recording or first].attempt == attempt)
    aside = tuple(mark.id for mark in marks if mark not in own)
    lined = on_one_line(own, places, first)
    return MarksRead(lined, aside, attempt, named, chosen, judges, places, posted)


def import_marks(audit: Audit, path: Path) -> int:
    """Bring a marks document into the case, readings first; how many marks came.

    All of it is brought in or nothing: a refused document leaves the case as it was, and every problem names
    the document.
    """
    document = exchange.read_document(path, schema("marks"), "marks")
    marks = exchange.marks_from_document(document, path.name)
    _refuse_foreign(audit, document, marks, path)
    _refuse_known(audit, marks, path)
    try:
        with audit.case.together():
            _bring_in(audit, document, marks)
    except ReviewerError as fault:
        raise DocumentError(
            replace(one, where=f"{path.name}: {one.where}") for one in fault.problems
        ) from None
    return len(marks)


def _bring_in(audit: Audit, document: Mapping[str, Any], marks: tuple[Mark, ...]) -> None:
    refuse_not_open(audit, document.get("interpretations", {}))
    own = _first(document) if audit.state.recordings else None
    for entry in document.get("readings", ()):
        take_reading(audit, Clicks.from_json(entry["clicks"]), entry["id"], entry.get("recording") or own)
    _keep_marks(audit, marks, own)
    for clause, reading in document.get("interpretations", {}).items():
        choose_interpretation(audit, clause, reading)
    if document.get("posted") is not None:
        audit.case.append("posted-entered", {"score": str(Points.parse(document["posted"]))})


def _keep_marks(audit: Audit, marks: tuple[Mark, ...], own: str | None) -> None:
    """Elements before faults; all refusals at once, but those that only follow from another."""
    problems: dict[str, tuple[Problem, ...]] = {}
    for mark in sorted(marks, key=lambda one: one.kind != "element"):
        try:
            if mark.element not in problems:
                keep_mark(audit, replace(mark, recording=mark.recording or own or _home(audit, mark)))
        except ReviewerError as fault:
            problems[mark.id] = fault.problems
    if problems:
        raise AuditError(one for own_problems in problems.values() for one in own_problems)


def export_marks(audit: Audit) -> dict[str, Any]:
    """The case's marks, and the clicks of its readings, as a ``reviewer.marks/1`` document."""
    cited = audit.state.recording
    document = exchange.marks_document(
        audit.marks,
        audit.book.id,
        cited.sha256 if cited else None,
        cited.time_base if cited else "1/1000",
    )
    document |= _several(audit) if len(audit.state.recordings) > 1 else {}
    chosen = dict(sorted(audit.state.interpretations.items()))
    document |= {"interpretations": chosen} if chosen else {}
    readings = [_reading(audit, one) for one in audit.readings]
    posted = {"posted": str(audit.posted)} if audit.posted is not None else {}
    return document | ({"readings": readings} if readings else {}) | posted


def marks_text(audit: Audit) -> str:
    """The marks document as a readable file."""
    return readable(export_marks(audit)).decode()


def _several(audit: Audit) -> dict[str, Any]:
    """What a reader needs to put the marks of several recordings in order."""
    places = audit.state.places
    entries = [
        {
            "sha256": one.sha256,
            "time_base": one.time_base,
            "attempt": one.attempt,
            "line": places[one.sha256].line,
            "shift_s": "{}/{}".format(*places[one.sha256].shift.as_integer_ratio()),
        }
        for one in audit.state.recordings
    ]
    return {"attempt": audit.state.attempt, "recordings": entries}


def _first(document: Mapping[str, Any]) -> str | None:
    """The recording of the marks that name none."""
    listed: list[str] = [entry["sha256"] for entry in document.get("recordings", ())]
    named: str | None = document.get("recording_sha256")
    return named or next(iter(listed), None)


def _place(entry: Mapping[str, Any]) -> Place:
    """Where a document says that the times of a recording belong."""
    base = TimeBase.parse(entry["time_base"])
    return Place(entry["attempt"], entry["line"], base, Fraction(entry["shift_s"]))


def _only_place(document: Mapping[str, Any]) -> dict[str, Place]:
    """Of the one recording of a document that lists none; empty where it names none, or not its ticks."""
    named, base = document.get("recording_sha256"), document.get("time_base")
    return {named: Place(1, 1, TimeBase.parse(base), Fraction(0))} if named and base else {}


def _reading(audit: Audit, reading: Reading) -> dict[str, Any]:
    named = audit.reading_on(reading.id)
    written = {"id": reading.id, "clicks": reading.clicks.to_json()}
    return written | ({"recording": named} if named else {})


def _home(audit: Audit, mark: Mark) -> str | None:
    timed = mark.moment() is not None or mark.end is not None
    return None if timed else untimed_home(audit, mark.element)


def _refuse_foreign(audit: Audit, document: dict[str, Any], marks: tuple[Mark, ...], path: Path) -> None:
    """Marks and readings of recordings that the case does not cite stay out."""
    known = {one.sha256 for one in audit.state.recordings}
    named = [("recording_sha256", document.get("recording_sha256"))] if known else []
    named += [(mark.id, mark.recording) for mark in marks]
    named += [(entry["id"], entry.get("recording")) for entry in document.get("readings", ())]
    problems = [
        Problem(
            "other-recording",
            f"{path.name}: {where}",
            message("These marks were placed on another recording."),
            message("Bring them into the case of that recording, or add it to this one."),
        )
        for where, digest in named
        if digest is not None and digest not in known
    ]
    if problems:
        raise AuditError(problems)


def _refuse_known(audit: Audit, marks: tuple[Mark, ...], path: Path) -> None:
    known = {mark.id for mark in audit.marks}
    problems = [
        Problem(
            "known-mark",
            f"{path.name}: {mark.id}",
            message("The case has a mark of this id."),
            message("Give it another id."),
        )
        for mark in marks
        if mark.id in known
    ]
    if problems:
        raise AuditError(problems)
