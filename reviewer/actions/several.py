"""Several recordings in one case: cameras at other seats, joined in time; and attempts, of which one counts.

A recording is named by its SHA-256.
"""

import re
from pathlib import Path
from typing import Any

from reviewer import casefile
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.marking import Change
from reviewer.actions.merging import conflicts_of, doubled_in
from reviewer.actions.opening import cited, fingerprinted
from reviewer.terms.codes import no_athlete_code
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem
from reviewer.words import Saying

_ENGLISH = Saying()
MOST_ATTEMPTS = casefile.MOST_ATTEMPTS
_SHOWN = frozenset({"recordings", "marks", "sheet"})


def add_recording(audit: Audit, path: Path, attempt: int = 1) -> Change:
    """Cite one more recording of this start, as showing an attempt; its file is never copied."""
    _refuse_no_attempt(attempt)
    facts = fingerprinted(path)
    if any(one.sha256 == facts.sha256 for one in audit.state.recordings):
        raise AuditError(
            Problem(
                "known-recording",
                path.name,
                message(
                    "The case cites this already, as recording {number}.",
                    number=audit.number_of(facts.sha256),
                ),
                message("Work with that one; `reviewer recordings attempt` moves it to another attempt."),
            )
        )
    audit.case.append("recording-cited", cited(facts) | ({"attempt": attempt} if attempt > 1 else {}))
    audit.found_at(path, facts)
    return Change(_SHOWN)


def join_recordings(audit: Audit, first: str, frame: int, second: str, other_frame: int) -> Change:
    """Keep that a frame of each of two recordings shows the same instant; of one pair the last one counts."""
    a, b = audit.cited(first), audit.cited(second)
    _refuse_apart(audit, a, b)
    a_pts, b_pts = audit.time(frame, first).pts, audit.time(other_frame, second).pts
    _refuse_single(audit, a, b)
    found = casefile.offset_of(a, a_pts, b, b_pts)
    said = {"a": first, "a_pts": a_pts, "b": second, "b_pts": b_pts}
    measured = {"offset_us": found.microseconds, "u_us": found.uncertainty}
    audit.case.append("recordings-joined", said | measured)
    return Change(_SHOWN)


def count_attempt(audit: Audit, attempt: int) -> Change:
    """Say which attempt counts; the marks of the others stay in the case and earn and cost nothing."""
    shown = sorted({one.attempt for one in audit.state.recordings})
    if attempt not in shown:
        said = message("No recording of this case shows attempt {attempt}.", attempt=attempt)
        remedy = (
            message("Name one of: {shown}.", shown=", ".join(map(str, shown)))
            if shown
            else message("Add its recording first.")
        )
        raise AuditError(Problem("attempt-without-recordings", f"attempt {attempt}", said, remedy))
    audit.case.append("attempt-counted", {"attempt": attempt})
    return Change(_SHOWN)


def assign_attempt(audit: Audit, recording: str, attempt: int) -> Change:
    """Say that a cited recording shows another attempt; its marks go with it."""
    _refuse_no_attempt(attempt)
    known = audit.cited(recording)
    if known.attempt == attempt:
        said = message(
            "Recording {number} shows attempt {attempt} already.",
            number=audit.number_of(recording),
            attempt=attempt,
        )
        raise AuditError(
            Problem("same-attempt", f"attempt {attempt}", said, message("Name another attempt."))
        )
    audit.case.append("attempt-assigned", {"sha256": recording, "attempt": attempt})
    return Change(_SHOWN)


def counterpart(audit: Audit, frame: int, *, of: str, on: str) -> int | None:
    """The frame of ``on`` that is on screen in the middle of a frame of ``of``; None past the other's ends.

    An AuditError where the two are not joined.
    """
    here, there = audit.cited(of), audit.cited(on)
    tick = audit.time(frame, of).pts
    if of == on:
        return frame
    found = _offset(audit, there, here)
    if found is None:
        raise AuditError(_not_joined(audit.number_of(of), audit.number_of(on)))
    return casefile.counterpart(here, tick, there, found)


def offset(audit: Audit, first: str, second: str) -> tuple[int, int] | None:
    """What to add to a time of the second recording to have that of the first, and its standard uncertainty.

    Both in whole microseconds; None where the two are not joined. The instant lies anywhere in the time each
    frame is on screen: u = sqrt((d1^2 + d2^2) / 12) for one join (rectangular distributions,
    JCGM 100:2008, 4.3.7), and variances add up along a way through others.
    """
    found = _offset(audit, audit.cited(first), audit.cited(second))
    return None if found is None else (found.microseconds, found.uncertainty)


def recording_named(audit: Audit, name: str) -> str:
    """The recording that a position from 1, or at least six digits of its SHA-256, stands for."""
    known = [one.sha256 for one in audit.state.recordings]
    if name.isascii() and name.isdigit() and len(name) < 6:
        found = known[int(name) - 1 : int(name)] if int(name) else []
    else:
        found = [one for one in known if re.fullmatch("[0-9a-f]{6,64}", name) and one.startswith(name)]
    if len(found) != 1:
        said = message("The case cites {count} recordings, and this names none of them.", count=len(known))
        remedy = message(
            "Give its place, such as 1, or six digits or more of its SHA-256; see `recordings list`."
        )
        raise AuditError(Problem("unknown-recording", name or "recording", said, remedy))
    return found[0]


def recordings_document(audit: Audit) -> dict[str, Any]:
    """``reviewer.recordings/1``: which recordings, where they lie, which attempt counts, and the offsets."""
    entries = describe_recordings(audit)
    for entry in entries:
        place = audit.recording_paths.get(entry["sha256"])
        entry["where"] = None if place is None else str(place)
    return {"format": "reviewer.recordings/1", "attempt": audit.state.attempt, "recordings": entries}


def describe_recordings(audit: Audit) -> list[dict[str, Any]]:
    """Each recording as a report says it: fingerprint, attempt, offset to the first of its attempt."""
    return [_described(audit, number, one) for number, one in enumerate(audit.state.recordings, start=1)]


def warnings_of(audit: Audit) -> tuple[Problem, ...]:
    """Where merged cases differ, and what makes the order of the marks that count uncertain."""
    counting = [mark for mark in audit.marks if mark.moment() is not None]
    counting = [mark for mark in counting if audit.attempt_of(mark) == audit.state.attempt]
    numbers = sorted({one.number for one in audit.shown(mark.id for mark in counting)})
    places = audit.state.places
    lines = {places[audit.state.recordings[number - 1].sha256].line for number in numbers}
    unordered = (_unordered(numbers),) if len(lines) > 1 else ()
    named = no_athlete_code(audit.athlete_code, "athlete code")
    return (*conflicts_of(audit), *doubled_in(audit), *unordered, *((named,) if named else ()))


def _described(audit: Audit, number: int, one: casefile.RecordingCited) -> dict[str, Any]:
    same = [other for other in audit.state.recordings if other.attempt == one.attempt]
    found = _offset(audit, same[0], one) if same[0] != one else None
    return {
        "number": number,
        "sha256": one.sha256,
        "frames": one.frames,
        "time_base": one.time_base,
        "attempt": one.attempt,
        "counts": one.attempt == audit.state.attempt,
        "offset": None
        if found is None
        else {
            "to": audit.number_of(same[0].sha256),
            "seconds": _seconds(found.microseconds),
            "u_s": _seconds(found.uncertainty),
        },
    }


def _offset(
    audit: Audit, first: casefile.RecordingCited, second: casefile.RecordingCited
) -> casefile.Offset | None:
    return casefile.offsets_from(first, audit.state.recordings, audit.state.joins).get(second.sha256)


def _seconds(microseconds: int) -> str:
    whole, places = divmod(abs(microseconds), 1_000_000)
    return f"{'-' if microseconds < 0 else ''}{whole}.{places:06d}"


def _refuse_no_attempt(attempt: int) -> None:
    if not 1 <= attempt <= MOST_ATTEMPTS:
        remedy = message("Give a number from 1 to {most}.", most=MOST_ATTEMPTS)
        raise AuditError(
            Problem("no-attempt", f"attempt {attempt}", message("There is no such attempt."), remedy)
        )


def _refuse_apart(audit: Audit, a: casefile.RecordingCited, b: casefile.RecordingCited) -> None:
    where = f"recordings {audit.number_of(a.sha256)} and {audit.number_of(b.sha256)}"
    if a == b:
        said, remedy = message("A recording cannot be joined with itself."), message("Name two recordings.")
        raise AuditError(Problem("same-recording", where, said, remedy))
    if a.attempt != b.attempt:
        said = message(
            "They show attempts {attempt} and {other}, which share no instant.",
            attempt=a.attempt,
            other=b.attempt,
        )
        remedy = message("Join recordings of one attempt, or move one with `reviewer recordings attempt`.")
        raise AuditError(Problem("other-attempt", where, said, remedy))


def _refuse_single(audit: Audit, *both: casefile.RecordingCited) -> None:
    for one in both:
        start, end = one.on_screen(one.pts[0])
        if start == end:
            where = f"recording {audit.number_of(one.sha256)}"
            said = message("It has one picture only, so nobody knows how long that was on screen.")
            raise AuditError(
                Problem("one-picture", where, said, message("Join a recording of at least two pictures."))
            )


def _not_joined(first: int, second: int) -> Problem:
    where = f"recordings {first} and {second}"
    said = message(
        "They are not joined, so no frame of one is known to show what a frame of the other shows."
    )
    return Problem(
        "recordings-not-joined", where, said, message("Set a common instant: `reviewer recordings join`.")
    )


def _unordered(numbers: list[int]) -> Problem:
    where = f"recordings {', '.join(map(str, numbers))}"
    said = message(
        "They hold marks that count and are not joined; marks of one are taken to follow those of the other."
    )
    remedy = message(
        "Set a common instant with `reviewer recordings join`, so that the order is that of the routine."
    )
    return Problem("recordings-not-joined", where, said, remedy)
