"""Beginning a case and opening one; finding its recording again when it moved."""

from collections.abc import Iterator
from dataclasses import replace
from hashlib import sha256
from itertools import pairwise
from pathlib import Path
from typing import Any

from reviewer import casefile, rules, video
from reviewer.actions.audit import Audit, AuditError, open_facts
from reviewer.terms.pictures import RecordingFacts
from reviewer.terms.problems import Problem
from reviewer.terms.rulebook import RuleBook

DEFAULT_BOOK = "demo-bars-2"
_SUFFIXES = (".mp4", ".mov", ".m4v", ".mkv", ".webm", ".ts", ".mts", ".m2ts", ".avi", ".mpg", ".mpeg")


def start_case(
    path: Path,
    *,
    author: str,
    athlete_code: str,
    consent: str,
    rule_book: str = DEFAULT_BOOK,
    recording: Path | None = None,
) -> Audit:
    """Begin a case: a new file that cites the recording by fingerprint and keeps the edition's text.

    Everything is read before the file is made, so that a fault leaves nothing behind.
    """
    book = rules.load(rules.find(rule_book))
    facts = _fingerprinted(recording) if recording else None
    case = casefile.create_case(path, author, athlete_code, consent)
    case.keep_book(book.text)
    case.append("rule-book-chosen", _chosen(book))
    if facts and recording:
        case.append("recording-cited", cited(facts))
        case.remember_place(facts.sha256, recording.resolve())
    return Audit(case, recording, facts)


def open_case(path: Path, *, author: str | None, recording: Path | None = None) -> Audit:
    """Open a case, to write as ``author`` or to read only; its recording where it can be found.

    A recording that is named must be the one the case cites; one that merely moved is found beside the case
    by its fingerprint. Without a recording the marks and the score are there all the same.
    """
    case = casefile.open_case(path, author)
    try:
        place = _named(case, recording) if recording else _found_again(case)
        return Audit(case, place, open_facts(place) if place else None)
    except BaseException:
        case.close()
        raise


def cite_recording(audit: Audit, recording: Path) -> None:
    """Name the recording of a case that was begun without one."""
    facts = _fingerprinted(recording)
    known = audit.state.recording
    if known and known.sha256 != facts.sha256:
        raise AuditError(_other_recording(recording))
    if not known:
        audit.case.append("recording-cited", cited(facts))
    audit.case.remember_place(facts.sha256, recording.resolve())
    audit.recording_path, audit.facts = recording, facts


def cited(facts: RecordingFacts) -> dict[str, Any]:
    """How an event cites a recording: fingerprint, and the ticks of its frames as runs of equal steps."""
    return {
        "sha256": facts.sha256,
        "frames": len(facts.pts),
        "time_base": str(facts.time_base),
        "first_pts": facts.pts[0],
        "last_pts": facts.pts[-1],
        "pts_runs": list(_runs(facts.pts)),
    }


def _runs(pts: tuple[int, ...]) -> Iterator[list[int]]:
    start, step, count = pts[0], 0, 1
    for before, after in pairwise(pts):
        if count > 1 and after - before != step:
            yield [start, step, count]
            start, step, count = after, 0, 1
        else:
            step, count = after - before, count + 1
    yield [start, step, count]


def _chosen(book: RuleBook) -> dict[str, Any]:
    clauses = {name: sha256(text.encode()).hexdigest() for name, text in rules.clause_data(book).items()}
    return {"id": book.id, "sha256": book.sha256, "clauses": clauses}


def _fingerprinted(recording: Path) -> RecordingFacts:
    facts = open_facts(recording)
    return replace(facts, sha256=video.fingerprint(recording))


def _named(case: casefile.Case, recording: Path) -> Path:
    known = case.state.recording
    fingerprint = video.fingerprint(recording)
    if known and known.sha256 != fingerprint:
        raise AuditError(_other_recording(recording))
    if known and case.author:
        case.remember_place(fingerprint, recording.resolve())
    return recording


def _found_again(case: casefile.Case) -> Path | None:
    """The remembered place if the file there is unchanged, else a file of the same bytes beside the case."""
    known = case.state.recording
    if known is None:
        return None
    remembered = case.place(known.sha256)
    nearby = [path for path in sorted(case.path.parent.iterdir()) if path.suffix.lower() in _SUFFIXES]
    for place in [remembered, *nearby] if remembered else nearby:
        if place.is_file() and video.fingerprint(place) == known.sha256:
            return place
    return None


def _other_recording(recording: Path) -> Problem:
    return Problem(
        "recording-changed",
        recording.name,
        "This is not the recording the case cites: the fingerprints differ.",
        "Name the file the marks were placed on, or start a new case for this one.",
    )
