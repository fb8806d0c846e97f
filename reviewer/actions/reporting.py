"""Writing a report: the page, the finding and the case, into one folder."""

import json
from collections.abc import Mapping
from concurrent.futures import Executor
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

from reviewer import __version__, casefile, reports
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.consenting import may_leave
from reviewer.actions.finding import GoingOn, always, finding, take_stills
from reviewer.actions.hiding import Hide, as_it_is, hiding
from reviewer.actions.outgoing import refuse_no_folder
from reviewer.actions.settling import open_lines
from reviewer.terms.canonical import readable
from reviewer.terms.consents import INQUIRY
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem
from reviewer.words import ENGLISH, Saying, saying

PAGE, PAPER, FINDING, CASE = "report.html", "report.pdf", "report.json", "case.json"
BOOK = "rule-book.yaml"
"""Name of the rule book among the documents attached to the paper."""


@dataclass(frozen=True, slots=True)
class ReportMade:
    """The files of a report by name, and the hash of the last event they are about."""

    files: Mapping[str, bytes]
    last_event: str


def write_report(
    audit: Audit,
    folder: Path,
    *,
    use: str = INQUIRY,
    today: str | None = None,
    language: str = ENGLISH,
    workers: Executor | None = None,
    uncovered: bool = False,
) -> dict[str, Any]:
    """Write page, paper, finding and case for a use that consent covers: ``reviewer.report/1``.

    Heads that the case covers are covered in its stills, and an AuditError says where nobody has looked
    through that; ``uncovered`` shows them, for an inquiry alone.

    The same case gives the same bytes with one version and one language of `words.LANGUAGES`. A writing
    audit keeps the fingerprints. Consent that ends is held against ``today``, such as ``2026-11-26``, and
    covers nothing without it. ``workers``: threads to compress stills with.
    """
    refuse_no_folder(folder)
    made = make_report(audit, use=use, today=today, language=language, workers=workers, uncovered=uncovered)
    return keep_report(audit, folder, made)


def make_report(
    audit: Audit,
    *,
    use: str = INQUIRY,
    today: str | None = None,
    language: str = ENGLISH,
    workers: Executor | None = None,
    going_on: GoingOn = always,
    uncovered: bool = False,
) -> ReportMade:
    """Everything of a report but the writing, which a door may do on a thread of its own on a case to read.

    ``going_on`` is asked before each still; where it says no, an AuditError ends it.
    """
    may_leave(audit, use, today, answers=True)
    hide = as_it_is if uncovered and use == INQUIRY else hiding(audit)
    files = _files(audit, saying(language), workers, going_on, hide)
    return ReportMade(files, audit.case.events[-1].hash)


def keep_report(audit: Audit, folder: Path, made: ReportMade) -> dict[str, Any]:
    """Write what was made: ``reviewer.report/1``. Refused where the case has gone on since."""
    refuse_no_folder(folder)
    if made.last_event != audit.case.events[-1].hash:
        said = message("The case has changed while its report was made.")
        raise AuditError(Problem("case-changed", audit.path.name, said, message("Write the report again.")))
    folder.mkdir(parents=True, exist_ok=True)
    for name, content in made.files.items():
        (folder / name).write_bytes(content)
    digests = {name: sha256(content).hexdigest() for name, content in made.files.items()}
    if audit.author is not None and digests != _written_last(audit):
        audit.case.append("report-written", {"files": digests})
    return {
        "format": "reviewer.report/1",
        "files": digests,
        "final_score": None if audit.state.limited_to else str(audit.sheet.final_score),
        "version": __version__,
        **({"only": list(audit.state.limited_to)} if audit.state.limited_to else {}),
        **({"open_lines": lines} if (lines := open_lines(audit)) else {}),
    }


def _written_last(audit: Audit) -> Mapping[str, str] | None:
    """Fingerprints of the report written last, if nothing has happened since."""
    last = audit.case.events[-1]
    return last.payload["files"] if last.kind == "report-written" else None


def case_bytes(audit: Audit) -> bytes:
    """``case.json`` without what left the case at its end: a report written again has the same bytes."""
    exported = audit.case.export()
    kinds = [event.kind for event in audit.case.events]
    while kinds and kinds[-1] in casefile.LEFT:
        kinds.pop()
    return readable(exported | {"events": exported["events"][: len(kinds)]})


def _files(
    audit: Audit, say: Saying, workers: Executor | None, going_on: GoingOn, hide: Hide
) -> Mapping[str, bytes]:
    stills, pictures = take_stills(audit, say, workers, going_on, hide=hide)
    found = json.loads(readable(finding(audit, stills, say)))
    case = case_bytes(audit)
    return {
        PAGE: reports.page(found, pictures).encode(),
        PAPER: reports.paper(found, pictures, attachments(audit, found, case)),
        FINDING: readable(found),
        CASE: case,
    }


def attachments(audit: Audit, found: dict[str, Any], case: bytes) -> dict[str, bytes]:
    """What the paper carries: the finding, the case with its marks, the rule book."""
    chosen = audit.state.rule_book
    text = audit.case.book(chosen.sha256) if chosen else None
    book = {} if text is None else {BOOK: text.encode()}
    return {FINDING: readable(found), CASE: case} | book
