"""Documents in and out: marks with the readings they cite, checked against their schemas."""

import json
from functools import cache
from pathlib import Path
from typing import Any

from reviewer import exchange, settings
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.marking import keep_mark, take_reading
from reviewer.terms.canonical import readable
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.problems import Problem
from reviewer.terms.readings import Clicks


@cache
def schema(name: str) -> dict[str, Any]:
    """One of the JSON Schemas that travel with the program, such as ``marks``."""
    place = settings.shipped("annotations") / "schemas" / f"{name}.schema.json"
    found: dict[str, Any] = json.loads(place.read_text(encoding="utf-8"))
    return found


def read_marks(path: Path) -> tuple[tuple[Mark, ...], str | None]:
    """The marks of a ``reviewer.marks/1`` document and the rule book it names."""
    document = exchange.read_document(path, schema("marks"), "marks")
    return exchange.marks_from_document(document), document.get("rule_book")


def import_marks(audit: Audit, path: Path) -> int:
    """Bring a marks document into the case, readings first; how many marks came.

    Everything is checked before anything is written: a refused document leaves the case as it was.
    """
    document = exchange.read_document(path, schema("marks"), "marks")
    marks = exchange.marks_from_document(document)
    _refuse_foreign(audit, document, path)
    _refuse_known(audit, marks, path)
    for entry in document.get("readings", ()):
        take_reading(audit, Clicks.from_json(entry["clicks"]), entry["id"])
    for mark in sorted(marks, key=lambda one: one.kind != "element"):
        keep_mark(audit, mark)
    if document.get("posted") is not None:
        audit.case.append("posted-entered", {"score": str(Points.parse(document["posted"]))})
    return len(marks)


def export_marks(audit: Audit) -> dict[str, Any]:
    """The case's marks, and the clicks of its readings, as a ``reviewer.marks/1`` document."""
    cited = audit.state.recording
    document = exchange.marks_document(
        audit.marks,
        audit.book.id,
        cited.sha256 if cited else None,
        cited.time_base if cited else "1/1000",
    )
    readings = [{"id": one.id, "clicks": one.clicks.to_json()} for one in audit.readings]
    posted = {"posted": str(audit.posted)} if audit.posted is not None else {}
    return document | ({"readings": readings} if readings else {}) | posted


def marks_text(audit: Audit) -> str:
    """The marks document as a readable file."""
    return readable(export_marks(audit)).decode()


def _refuse_foreign(audit: Audit, document: dict[str, Any], path: Path) -> None:
    cited, named = audit.state.recording, document.get("recording_sha256")
    if named and cited and named != cited.sha256:
        raise AuditError(
            Problem(
                "other-recording",
                f"{path.name}: recording_sha256",
                "These marks were placed on another recording.",
                "Bring them into the case of that recording.",
            )
        )


def _refuse_known(audit: Audit, marks: tuple[Mark, ...], path: Path) -> None:
    known = {mark.id for mark in audit.marks}
    problems = [
        Problem(
            "known-mark", f"{path.name}: {mark.id}", "The case has a mark of this id.", "Give it another id."
        )
        for mark in marks
        if mark.id in known
    ]
    if problems:
        raise AuditError(problems)
