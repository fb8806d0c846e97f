"""Placing, changing and withdrawing marks; undo and redo; readings; the posted score.

Each is one event on disk before it returns, and says what kinds of thing changed.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from reviewer import __version__, measuring
from reviewer.actions.audit import Audit, AuditError, Shown
from reviewer.casefile import EVIDENCE, Event
from reviewer.terms.codes import no_code
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.marks import CastAngle, Mark
from reviewer.terms.messages import message, spoken
from reviewer.terms.problems import Problem
from reviewer.terms.readings import Clicks, Reading

_MARKS = frozenset({"marks", "sheet"})
_ANYTHING = _MARKS | {"readings", "posted", "recordings", "covers"}


@dataclass(frozen=True, slots=True)
class Change:
    """What an action changed, and the mark's id if one.

    Kinds are among ``marks readings sheet posted case recordings covers``.
    """

    what: frozenset[str]
    mark: str | None = None


def place_mark(
    audit: Audit,
    *,
    kind: str,
    code: str,
    order: int | None = None,
    start: int | None = None,
    end: int | None = None,
    at: int | None = None,
    roles: tuple[str, ...] = (),
    conditions: tuple[str, ...] = (),
    angle: CastAngle | None = None,
    element: str | None = None,
    amount: Points | None = None,
    seen: str | None = None,
    arguable: bool = True,
    judge: str | None = None,
    recording: str | None = None,
) -> Change:
    """Put a new mark into the case under the next free id; refused where the edition knows no such code.

    ``recording`` is the SHA-256 of the one its ticks belong to, None for the first. A mark without ticks then
    goes with its element, or to the attempt that counts.
    """
    timed = any(tick is not None for tick in (start, end, at))
    mark = Mark(
        id=next_mark_id(audit),
        kind=kind,
        code=code,
        order=order,
        start=start,
        end=end,
        at=at,
        roles=roles,
        conditions=conditions,
        angle=angle,
        element=element,
        amount=amount,
        seen=seen,
        arguable=arguable,
        judge=judge,
        recording=recording if recording or timed else untimed_home(audit, element),
    )
    return keep_mark(audit, mark)


def keep_mark(audit: Audit, mark: Mark) -> Change:
    """Put a mark with an id of its own into the case."""
    mark = replace(mark, recording=audit.own_name(mark.recording))
    _refuse_unscorable(audit, mark)
    audit.case.append("mark-placed", {"mark": mark.to_json()})
    return Change(_MARKS, mark.id)


def change_mark(audit: Audit, mark: Mark) -> Change:
    """Replace the mark of the same id."""
    _mark(audit, mark.id)
    mark = replace(mark, recording=audit.own_name(mark.recording))
    _refuse_unscorable(audit, mark)
    audit.case.append("mark-changed", {"mark": mark.to_json()})
    return Change(_MARKS, mark.id)


def counting_recording(audit: Audit) -> str | None:
    """The first recording of the attempt that counts, or None where the case cites none."""
    shown = (one.sha256 for one in audit.state.recordings if one.attempt == audit.state.attempt)
    return next(shown, None)


def untimed_home(audit: Audit, element: str | None) -> str | None:
    """The recording a mark without ticks goes with: its element's, else the first of what counts."""
    for mark in audit.marks:
        if mark.id == element:
            return mark.recording
    return counting_recording(audit)


def withdraw_mark(audit: Audit, mark_id: str) -> Change:
    """Take a mark back; a fault that belongs to a withdrawn element stays, and the sheet says so."""
    _mark(audit, mark_id)
    audit.case.append("mark-withdrawn", {"id": mark_id})
    return Change(_MARKS, mark_id)


def undo(audit: Audit) -> Change:
    """Undo this author's latest event."""
    audit.case.undo()
    return Change(_ANYTHING)


def redo(audit: Audit) -> Change:
    """Redo what this author undid last."""
    audit.case.redo()
    return Change(_ANYTHING)


def step_taken(audit: Audit) -> Event:
    """The change that the latest undo or redo was about."""
    steps = (one for one in reversed(audit.case.events) if one.kind in ("undone", "redone"))
    about = next(steps).payload["event"]
    return next(one for one in audit.case.events if one.hash == about)


def take_reading(
    audit: Audit, clicks: Clicks, reading_id: str | None = None, recording: str | None = None
) -> Reading:
    """Measure clicks on a frame of one of the case's recordings and keep the reading as evidence."""
    reading = _measured(audit, clicks, reading_id, recording)
    audit.case.append("reading-taken", {"reading": _record(audit, reading, recording)})
    return reading


def take_and_confirm(audit: Audit, clicks: Clicks, mark_id: str, recording: str | None = None) -> Change:
    """Measure clicks and make the reading this cast's angle: one gesture, one event, one step of undo."""
    reading = _measured(audit, clicks, None, recording)
    at = (recording, reading.pts)
    mark = citing(audit, mark_id, reading.id, reading.value, reading.uncertainty, at)
    record = _record(audit, reading, recording)
    audit.case.append("reading-confirmed", {"reading": record, "mark": mark.to_json()})
    return Change(_MARKS | {"readings"}, mark_id)


def enter_posted(audit: Audit, score: Points) -> Change:
    """Keep the score the panel posted."""
    audit.case.append("posted-entered", {"score": str(score)})
    return Change(frozenset({"posted"}))


def citing(
    audit: Audit,
    mark_id: str,
    evidence: str,
    value: Degrees,
    uncertainty: Degrees,
    at: tuple[str | None, int | None] = (None, None),
) -> Mark:
    """A cast with the angle of a reading or a track, cited by its id; refused where it cannot be scored.

    ``at`` is where that was measured, recording and tick: a mark that ends before or begins after it is
    another one.
    """
    mark = _mark(audit, mark_id)
    recording, pts = at
    if audit.own_name(mark.recording) == audit.own_name(recording) and is_elsewhere(mark, pts):
        said = message(
            "{evidence} was measured outside {code} {mark_id}: it belongs to another moment.",
            evidence=evidence,
            code=mark.code,
            mark_id=mark_id,
        )
        remedy = message("Name the mark it was measured on, or set where that one starts and ends.")
        raise AuditError(Problem("another-moment", mark_id, said, remedy))
    angle = CastAngle("protractor", value, uncertainty, reading=evidence)
    mark = mark.found_later(angle)  # nobody measures while pictures run
    _refuse_unscorable(audit, mark)
    return mark


def is_elsewhere(mark: Mark, pts: int | None) -> bool:
    """Whether a mark with a start and an end does not hold a tick of its recording."""
    if pts is None or mark.start is None or mark.end is None:
        return False
    return not mark.start <= pts <= mark.end


def next_mark_id(audit: Audit) -> str:
    """An id that no mark ever had."""
    return _next_id("m", {mark.id for mark in audit.marks} | _ids_ever(audit))


def next_evidence_id(audit: Audit) -> str:
    """An id that no reading and no track ever had."""
    return _next_id("r", {reading.id for reading in audit.readings} | _ids_ever(audit))


def frames_of(audit: Audit, mark_ids: tuple[str, ...], recording: str | None = None) -> tuple[int, ...]:
    """Frame numbers of those among these marks that are timed on one recording; None is the first."""
    return tuple(frame for frame, _ in audit.frames(mark_ids, recording))


def frames_shown(audit: Audit, mark_ids: tuple[str, ...]) -> tuple[Shown, ...]:
    """The frame each timed one among these marks is shown at, on whichever recording, in routine order."""
    return audit.shown(mark_ids)


def _measured(audit: Audit, clicks: Clicks, reading_id: str | None, recording: str | None) -> Reading:
    pts = audit.time(clicks.frame, recording).pts if recording or audit.cited_pts else None
    return replace(measuring.measure(clicks, pts), id=reading_id or next_evidence_id(audit))


def _record(audit: Audit, reading: Reading, recording: str | None) -> dict[str, Any]:
    """The reading as the case keeps it, with the recording it was taken on where that is not the first."""
    named = audit.own_name(recording)
    record = measuring.reading_to_record(reading) | {"version": __version__}
    return record | ({"recording": named} if named else {})


def _mark(audit: Audit, mark_id: str) -> Mark:
    found = next((mark for mark in audit.marks if mark.id == mark_id), None)
    if found is None:
        raise AuditError(_unknown("mark", mark_id))
    return found


def _refuse_unscorable(audit: Audit, mark: Mark) -> None:
    """A mark that the edition cannot read is refused at the door, not found later on the sheet."""
    unnamed = None if mark.judge is None else no_code(mark.judge, mark.id)
    problems = [] if unnamed is None else [unnamed]
    problems += [problem for problem in audit.what_if(mark).problems if problem.where == mark.id]
    if problems:
        raise AuditError(problems)


def _unknown(what: str, name: str) -> Problem:
    return Problem(
        f"unknown-{what}",
        name,
        message("The case has no {what} of that id.", what=spoken(what)),
        message("Look it up with `reviewer marks list`."),
    )


def _ids_ever(audit: Audit) -> set[str]:
    """Ids once used are not used again, so that an undone event can be redone."""
    payloads: list[Mapping[str, Any]] = [event.payload for event in audit.case.events]
    named = [payload.get(what) for payload in payloads for what in ("mark", *EVIDENCE)]
    named += [mark for payload in payloads for mark in payload.get("marks", ())]
    return {one["id"] for one in named if isinstance(one, Mapping)}


def _next_id(letter: str, known: set[str]) -> str:
    numbers = [int(name[1:]) for name in known if name[:1] == letter and name[1:].isdigit()]
    return f"{letter}{max(numbers, default=0) + 1}"
