"""Marks as a ``reviewer.marks/1`` document, out and in."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from reviewer.exchange.documents import place
from reviewer.terms.codes import no_code
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message, reason
from reviewer.terms.problems import DocumentError, Problem


def marks_document(
    marks: Sequence[Mark], rule_book: str, recording_sha256: str | None, time_base: str
) -> dict[str, Any]:
    """``reviewer.marks/1``."""
    return {
        "format": "reviewer.marks/1",
        "rule_book": rule_book,
        "recording_sha256": recording_sha256,
        "time_base": time_base,
        "marks": [mark.to_json() for mark in marks],
    }


def marks_from_document(document: Mapping[str, Any], where: str = "marks document") -> tuple[Mark, ...]:
    """The marks of a document that its schema has passed.

    A DocumentError names every judge who may stand there by name, every id that stands twice, every mark that
    ends before it starts, every fault whose element is not in the document, and every mark of a recording
    that is not.
    """
    marks, problems = [], []
    for number, entry in enumerate(document["marks"]):
        try:
            marks.append(Mark.from_json(entry))
        except ValueError as fault:
            at = place(where, ("marks", number))
            problems.append(
                Problem(
                    "not-a-quantity",
                    at,
                    message("{reason}.", reason=reason(fault)),
                    message("Write it such as 0.100."),
                )
            )
    if not problems:
        problems.extend(_named(document, marks, where))
        problems.extend(_contradictions(marks, where))
        problems.extend(_unlisted(document, marks, where))
    if problems:
        raise DocumentError(problems)
    return tuple(marks)


def _named(document: Mapping[str, Any], marks: Sequence[Mark], where: str) -> Iterator[Problem]:
    """Judges who stand there by what may be a name."""
    panel = enumerate(document.get("judges", ()))
    named: list[tuple[str, str | None]] = [(place(where, ("judges", number)), one) for number, one in panel]
    named += [(place(where, ("marks", number, "judge")), mark.judge) for number, mark in enumerate(marks)]
    yield from (problem for at, one in named if one is not None and (problem := no_code(one, at)))


def _contradictions(marks: Sequence[Mark], where: str) -> Iterator[Problem]:
    times = Counter(mark.id for mark in marks)
    elements = {mark.id for mark in marks if mark.kind == "element"}
    for number, mark in enumerate(marks):
        entry = ("marks", number)
        if times[mark.id] > 1:
            said = message("{count} marks have the id {id}.", count=times[mark.id], id=repr(mark.id))
            yield Problem("same-id", place(where, (*entry, "id")), said, message("Give each its own."))
        if mark.start is not None and mark.end is not None and mark.end < mark.start:
            said, remedy = message("It ends before it starts."), message("Exchange start and end.")
            yield Problem("ends-before-start", place(where, (*entry, "end")), said, remedy)
        if mark.element is not None and mark.element not in elements:
            said = message("No element of this document has the id {element}.", element=repr(mark.element))
            remedy = message("Name the element the fault belongs to.")
            yield Problem("unknown-element-mark", place(where, (*entry, "element")), said, remedy)


def _unlisted(document: Mapping[str, Any], marks: Sequence[Mark], where: str) -> Iterator[Problem]:
    """Recordings listed twice, and those named without being listed."""
    listed = [entry["sha256"] for entry in document.get("recordings", ())]
    for number, digest in enumerate(listed):
        if digest in listed[:number]:
            at = place(where, ("recordings", number, "sha256"))
            yield Problem(
                "same-recording", at, message("This recording stands twice."), message("Name each once.")
            )
    own = document.get("recording_sha256")
    known = listed or [own]
    named: list[tuple[tuple[str | int, ...], str | None]] = [(("recording_sha256",), own)]
    named += [(("marks", number, "recording"), mark.recording) for number, mark in enumerate(marks)]
    for steps, digest in named:
        if digest is not None and digest not in known:
            said = message("This recording is not among those of the document.")
            yield Problem(
                "unlisted-recording", place(where, steps), said, message("List it under recordings.")
            )
