"""Beginning a case and opening one; finding its recordings again when they moved."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache
from hashlib import sha256
from itertools import pairwise
from pathlib import Path
from typing import Any

from reviewer import casefile, rules, video
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.cited import open_facts
from reviewer.actions.offered import DEFAULT_BOOK
from reviewer.terms.codes import no_athlete_code
from reviewer.terms.messages import message
from reviewer.terms.pictures import RecordingFacts
from reviewer.terms.problems import Problem
from reviewer.terms.rulebook import RuleBook

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
    unnamed = no_athlete_code(athlete_code, "athlete code")
    if unnamed is not None:
        raise AuditError(unnamed)
    book = rules.load(rules.find(rule_book))
    facts = fingerprinted(recording) if recording else None
    case = casefile.create_case(path, author, athlete_code, consent)
    choose_book(case, book)
    if facts and recording:
        cite(case, cited(facts), recording)
        return Audit(case, {facts.sha256: recording}, {facts.sha256: facts})
    return Audit(case)


def choose_book(case: casefile.Case, book: RuleBook) -> None:
    """Keep an edition's text in a case, which is scored by it from now on."""
    case.keep_book(book.text)
    case.append("rule-book-chosen", chosen_book(book))


def cite(case: casefile.Case, how: Mapping[str, Any], recording: Path) -> None:
    """Let a case cite a recording, as `cited` says it, and remember where it lies on this machine."""
    case.append("recording-cited", how)
    case.remember_place(how["sha256"], recording.resolve())


def open_case(path: Path, *, author: str | None, recording: Path | Sequence[Path] | None = None) -> Audit:
    """Open a case, to write as ``author`` or to read only; its recordings where they can be found.

    A recording that is named must be one that the case cites; one that merely moved is found beside the case
    by its fingerprint. Without a recording the marks and the score are there all the same.
    """
    case = casefile.open_case(path, author)
    try:
        named = _named(case, several(recording))
        audit = Audit(case, named | _found_again(case, set(named)))
        _ = audit.facts  # a file that is no recording is refused here, not at the first picture
        return audit
    except BaseException:
        case.close()
        raise


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


def chosen_book(book: RuleBook) -> dict[str, Any]:
    """How an event names an edition: its id, its fingerprint and that of each clause."""
    clauses = {name: sha256(text.encode()).hexdigest() for name, text in rules.clause_data(book).items()}
    return {"id": book.id, "sha256": book.sha256, "clauses": clauses}


def fingerprinted(recording: Path) -> RecordingFacts:
    """What a recording holds, with the fingerprint of its bytes."""
    facts = open_facts(recording)
    return replace(facts, sha256=video.fingerprint(recording))


def several(paths: Path | Sequence[Path] | None) -> tuple[Path, ...]:
    """None, one or several files as several."""
    return (paths,) if isinstance(paths, Path) else tuple(paths or ())


def other_recording(recording: Path) -> Problem:
    """The problem of a file that is none of the recordings a case cites."""
    return Problem(
        "recording-changed",
        recording.name,
        message("This is not the recording the case cites: the fingerprints differ."),
        message("Name the file the marks were placed on, or start a new case for this one."),
    )


def _named(case: casefile.Case, recordings: Sequence[Path]) -> dict[str, Path]:
    known = {one.sha256 for one in case.state.recordings}
    found = {}
    for recording in recordings:
        fingerprint = video.fingerprint(recording)
        if known and fingerprint not in known:
            raise AuditError(other_recording(recording))
        if known and case.author:
            case.remember_place(fingerprint, recording.resolve())
        found[fingerprint] = recording
    return found


def is_film(path: Path) -> bool:
    """Whether a file is named as recordings are."""
    return path.suffix.lower() in _SUFFIXES


def _found_again(case: casefile.Case, named: set[str]) -> dict[str, Path]:
    """The remembered place where the file there is unchanged, else one of the same bytes beside the case."""
    missing = [one.sha256 for one in case.state.recordings if one.sha256 not in named]
    nearby = sorted(case.path.parent.iterdir()) if missing else []
    films = [path for path in nearby if is_film(path)]
    fingerprint = cache(video.fingerprint)
    found = {}
    for wanted in missing:
        remembered = case.place(wanted)
        for place in [remembered, *films] if remembered else films:
            if place.is_file() and fingerprint(place) == wanted:
                found[wanted] = place
                break
    return found
