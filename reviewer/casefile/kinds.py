"""The closed list of what can happen to a case, and what each event must say."""

from collections.abc import Mapping
from typing import Any

from reviewer.casefile.payloads import (
    Check,
    agrees,
    are_among,
    are_hashes,
    are_judges,
    are_listed,
    are_marks,
    are_pairs,
    are_runs,
    are_scores,
    are_sheets,
    are_stretches,
    is_answer,
    is_attempt,
    is_conference,
    is_cover,
    is_inquiry,
    is_length,
    is_list,
    is_mark,
    is_moment,
    is_name,
    is_pool,
    is_reading,
    is_reading_of_a_rule,
    is_sha256,
    is_size,
    is_taken,
    is_text,
    is_track,
    is_use,
    is_whole,
    parses,
    reads,
)
from reviewer.terms.consents import USES, WHOSE, is_day
from reviewer.terms.covers import Followed
from reviewer.terms.exact import Points
from reviewer.terms.posted import PostedSheet
from reviewer.terms.sheets import PARTS
from reviewer.terms.times import TimeBase


def payload_fault(kind: str, payload: Any) -> str | None:
    """What is wrong with an event's payload, as the end of a sentence; None for a sound one."""
    checks = KINDS.get(kind)
    if checks is None:
        return f"there is no event of the kind {kind!r}"
    if not isinstance(payload, Mapping):
        return "its payload is not an object"
    for key, is_sound in checks.items():
        if key not in payload:
            return f"{kind} lacks {key!r}"
        if not is_sound(payload[key]):
            return f"{kind} has an unsound {key!r}"
    for key, is_sound in OPTIONAL.get(kind, {}).items():
        if key in payload and not is_sound(payload[key]):
            return f"{kind} has an unsound {key!r}"
    if kind == "recording-cited" and not agrees(payload):
        return "the frames of recording-cited do not agree with its ticks"
    if kind == "recordings-joined" and payload["a"] == payload["b"]:
        return "recordings-joined names one recording twice"
    if kind == "head-followed" and not reads(Followed.from_json, payload):
        return "head-followed has unsound covers"
    return None


EVIDENCE = ("reading", "track", "length", "pool")
"""What a case keeps of measuring, by the names of their keys in events; their ids are of one series."""

LEFT = frozenset({"report-written", "clip-written"})
"""Events that say what left the case. No finding changes with them: made again, it has the same bytes."""

KINDS: Mapping[str, Mapping[str, Check]] = {
    "case-opened": {"athlete_code": is_text, "consent": is_text},
    "consent-changed": {"consent": is_text},
    "recording-cited": {
        "sha256": is_sha256,
        "frames": is_whole,
        "time_base": parses(TimeBase.parse),
        "first_pts": is_whole,
        "last_pts": is_whole,
        "pts_runs": are_runs,
    },
    "recordings-joined": {
        "a": is_sha256,
        "a_pts": is_whole,
        "b": is_sha256,
        "b_pts": is_whole,
        "offset_us": is_whole,
        "u_us": is_size,
    },
    "attempt-assigned": {"sha256": is_sha256, "attempt": is_attempt},
    "attempt-counted": {"attempt": is_attempt},
    "rule-book-chosen": {"id": is_name, "sha256": is_sha256, "clauses": are_hashes},
    "interpretation-chosen": {"clause": is_name, "reading": is_reading_of_a_rule},
    "panel-entered": {"when": is_conference, "scores": are_scores},
    "mark-placed": {"mark": is_mark},
    "mark-changed": {"mark": is_mark},
    "mark-withdrawn": {"id": is_name},
    "reading-taken": {"reading": is_reading},
    "reading-confirmed": {"reading": is_reading, "mark": is_mark},
    "track-taken": {"track": is_track},
    "track-confirmed": {"track": is_track, "mark": is_mark},
    "length-taken": {"length": is_length},
    "readings-pooled": {"pool": is_pool},
    "pool-confirmed": {"pool": is_pool, "mark": is_mark},
    "second-begun": {"of": is_sha256},
    "sealed": {"head": is_sha256},
    "settlement-begun": {"sheets": are_sheets, "agreed": are_marks},
    "line-settled": {"line": is_name, "taken": is_taken, "marks": are_marks},
    "line-reopened": {"line": is_name, "because": is_sha256, "marks": are_listed},
    "inquiry-filed": {"inquiry": is_inquiry},
    "inquiry-answered": {"answer": is_answer},
    "inquiry-withdrawn": {"id": is_name},
    "posted-entered": {"score": parses(Points.parse)},
    "posted-sheet-entered": {"sheet": parses(PostedSheet.from_json)},
    "audit-limited": {"parts": are_among(PARTS)},
    "note-written": {"sha256": is_sha256, "at": is_moment},
    "cover-placed": {
        "recording": is_sha256,
        "head": is_name,
        "frame": is_size,
        "pts": is_whole,
        "cover": is_cover,
    },
    "cover-removed": {"recording": is_sha256, "head": is_name, "frame": is_size, "pts": is_whole},
    "head-followed": {
        "recording": is_sha256,
        "head": is_name,
        "placed": is_sha256,
        "covers": is_list,
        "lost": is_list,
    },
    "covers-reviewed": {"recording": is_sha256, "first": is_size, "last": is_size, "sha256": is_sha256},
    "cases-merged": {},
    "undone": {"event": is_sha256},
    "redone": {"event": is_sha256},
    "report-written": {"files": are_hashes},
    "clip-written": {"sha256": is_sha256, "use": is_use, "shown": are_stretches},
}
"""Every kind of event, and for each key of its payload what must hold."""

OPTIONAL: Mapping[str, Mapping[str, Check]] = {
    "recording-cited": {"attempt": is_attempt},
    "cases-merged": {"same": are_pairs, "judges": are_judges},
    "consent-changed": {"for": are_among(USES), "until": is_day, "by": WHOSE.__contains__},
}
"""Keys a payload may lack, as those that were written before there were such keys do."""

_SCORED = (
    "mark-placed",
    "mark-changed",
    "mark-withdrawn",
    "reading-taken",
    "reading-confirmed",
    "track-taken",
    "track-confirmed",
    "length-taken",
    "readings-pooled",
    "pool-confirmed",
    "line-settled",
    "line-reopened",
    "interpretation-chosen",
    "attempt-assigned",
    "attempt-counted",
)
"""What a score is made of, its edition aside."""

UNDOABLE = (
    *_SCORED,
    "inquiry-filed",
    "inquiry-answered",
    "inquiry-withdrawn",
    "posted-entered",
    "posted-sheet-entered",
    "audit-limited",
    "panel-entered",
    "note-written",
    "recordings-joined",
    "cover-placed",
    "cover-removed",
    "head-followed",
    "covers-reviewed",
)
"""Kinds that undo takes back. Consent, what is cited and what was given away stay as they were said."""

EDITION = "rule-book-chosen"
"""Taken back too where a case was scored by another edition before."""

CLOSED_BY_SEAL = (*_SCORED, EDITION)
"""What may not happen any more once a sheet is sealed, nor be undone: what its score is made of."""
