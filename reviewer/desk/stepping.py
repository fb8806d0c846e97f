"""What the latest undo or redo was about, in words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from reviewer import actions
from reviewer.terms.messages import noted
from reviewer.words import Saying

if TYPE_CHECKING:
    from reviewer.actions import Audit

STEPS = {
    "mark-placed": noted("{mark} placed"),
    "mark-changed": noted("{mark} changed"),
    "mark-withdrawn": noted("{mark} withdrawn"),
    "reading-taken": noted("reading {reading} taken"),
    "reading-confirmed": noted("the angle of {mark} measured"),
    "readings-pooled": noted("readings pooled"),
    "pool-confirmed": noted("the angle of {mark} pooled from readings"),
    "track-taken": noted("a cast followed"),
    "track-confirmed": noted("the angle of {mark} followed to its top"),
    "length-taken": noted("a length measured"),
    "line-settled": noted("a line of the sheet settled"),
    "line-reopened": noted("a line of the sheet opened again"),
    "interpretation-chosen": noted("{clause} read as “{reading}”"),
    "attempt-assigned": noted("a recording given to attempt {attempt}"),
    "attempt-counted": noted("attempt {attempt} counted"),
    "inquiry-filed": noted("inquiry {inquiry} filed"),
    "inquiry-answered": noted("inquiry {inquiry} answered"),
    "inquiry-withdrawn": noted("inquiry {inquiry} withdrawn"),
    "posted-entered": noted("posted score {score} entered"),
    "posted-sheet-entered": noted("the panel’s sheet entered"),
    "panel-entered": noted("the panel’s marks entered"),
    "audit-limited": noted("what is audited limited"),
    "note-written": noted("a note written"),
    "recordings-joined": noted("two recordings joined"),
    "cover-placed": noted("head {head} covered on frame {frame}"),
    "cover-removed": noted("the cover of head {head} on frame {frame} taken away"),
    "head-followed": noted("head {head} followed"),
    "covers-reviewed": noted("frames {first} to {last} looked through"),
    "rule-book-chosen": noted("edition {book} chosen"),
}
"""Every kind of change that can be undone."""
_NAMED = ("clause", "reading", "attempt", "score", "head", "frame", "first", "last")
"""What a sentence may name as the event has it."""


def undone(audit: Audit, say: Saying) -> str:
    """What was undone last."""
    return say("Undone: {what}.", what=_step(audit, say))


def redone(audit: Audit, say: Saying) -> str:
    """What was done again last."""
    return say("Done again: {what}.", what=_step(audit, say))


def _step(audit: Audit, say: Saying) -> str:
    event = actions.step_taken(audit)
    said, payload = STEPS[event.kind], event.payload
    return say(said, **{name: say.word(value) for name, value in _named(audit, payload).items()})


def _named(audit: Audit, payload: Mapping[str, Any]) -> dict[str, str]:
    """What the sentence of a step may name."""
    inquiry = payload.get("inquiry", payload.get("answer", {}))
    named = {name: str(payload[name]) for name in _NAMED if name in payload}
    if isinstance(payload.get("reading"), dict):
        named["reading"] = str(payload["reading"].get("id", ""))
    return named | {
        "mark": _mark(audit, payload),
        "inquiry": str(inquiry.get("inquiry", inquiry.get("id", payload.get("id", "")))),
        "book": str(payload.get("id", "")),
    }


def _mark(audit: Audit, payload: Mapping[str, Any]) -> str:
    """A mark by its code and id, also one that is there no more."""
    mark_id = payload.get("mark", payload).get("id", "")
    for event in reversed(audit.case.events):
        mark = event.payload.get("mark")
        if isinstance(mark, dict) and mark.get("id") == mark_id:
            return f"{mark['code']} {mark_id}"
    return str(mark_id)
