"""The closed list of what can happen to a case, and what each event must say."""

import re
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import Any

from reviewer.terms.consents import USES, is_day
from reviewer.terms.covers import Cover, Followed
from reviewer.terms.exact import Points
from reviewer.terms.inquiries import FINDINGS, Answer, Inquiry
from reviewer.terms.marks import CREDITS, CastAngle
from reviewer.terms.measures import Measure
from reviewer.terms.posted import PostedSheet
from reviewer.terms.rulebook import OTHER, STATED
from reviewer.terms.sheets import PARTS
from reviewer.terms.times import TimeBase
from reviewer.terms.vocabulary import TAKEN

MOST_FRAMES = 10_000_000
"""Frames of the longest recording a case may cite: 46 hours at 60 a second."""

MOST_ATTEMPTS = 99
"""The highest number an attempt may have."""

CONFERENCES = ("before", "after")
"""When a panel's scores were given: before the judges conferred, or after."""

Check = Callable[[Any], bool]


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
    if kind == "recording-cited" and not _agrees(payload):
        return "the frames of recording-cited do not agree with its ticks"
    if kind == "recordings-joined" and payload["a"] == payload["b"]:
        return "recordings-joined names one recording twice"
    if kind == "head-followed" and not _reads(Followed.from_json, payload):
        return "head-followed has unsound covers"
    return None


def _is_text(said: Any) -> bool:
    return isinstance(said, str)


def _is_name(said: Any) -> bool:
    return isinstance(said, str) and bool(said)


def _is_whole(said: Any) -> bool:
    return isinstance(said, int) and not isinstance(said, bool)


def _is_sha256(said: Any) -> bool:
    return isinstance(said, str) and re.fullmatch("[0-9a-f]{64}", said) is not None


def _are_hashes(said: Any) -> bool:
    return isinstance(said, Mapping) and all(map(_is_name, said)) and all(map(_is_sha256, said.values()))


def _parses(parse: Callable[[Any], object]) -> Check:
    def check(said: Any) -> bool:
        try:
            parse(said)
        except (ValueError, TypeError, KeyError, AttributeError):
            return False
        return True

    return check


def _is_mark(said: Any) -> bool:
    """Only what reads as a mark and would be written as one: no stray types."""
    if not isinstance(said, Mapping):
        return False
    for key, value in said.items():
        check = _OF_A_MARK.get(key)
        if check is not None and (value is not None or check is _are_listed) and not check(value):
            return False
    return all(said.get(key) is not None for key in ("id", "kind", "code"))


def _are_listed(said: Any) -> bool:
    return isinstance(said, (list, tuple)) and all(map(_is_name, said))


def _is_angle(said: Any) -> bool:
    return not said or _reads(CastAngle.from_json, said)


def _are_points(said: Any) -> bool:
    return isinstance(said, str) and _read_as_points(said)


@lru_cache(4096)
def _read_as_points(text: str) -> bool:
    """Amounts are few and stand in most marks."""
    return _parses(Points.parse)(text)


_OF_A_MARK: Mapping[str, Check] = {
    **dict.fromkeys(("id", "kind", "code", "element", "seen", "judge", "recording", "called"), _is_name),
    **dict.fromkeys(("order", "start", "end", "at"), _is_whole),
    "roles": _are_listed,
    "with": _are_listed,
    "angle": _is_angle,
    "amount": _are_points,
    "clock": _parses(Measure.time),
    "length": _parses(Measure.length),
    "credit": CREDITS.__contains__,
}
"""What must hold for each key of a mark where it is not None; other keys are not looked at."""


def _is_reading(said: Any) -> bool:
    if not isinstance(said, Mapping) or not _is_name(said.get("id")):
        return False
    return said.get("recording") is None or _is_sha256(said["recording"])


def _is_track(said: Any) -> bool:
    """A reading over time: it has the clicks of several frames, how far it goes, and what was found."""
    clicks = said.get("clicks") if _is_reading(said) else None
    return (
        isinstance(clicks, (list, tuple))
        and bool(clicks)
        and all(isinstance(one, Mapping) for one in clicks)
        and _is_whole(said.get("span_ms"))
        and isinstance(said.get("track"), Mapping)
    )


def _is_length(said: Any) -> bool:
    """A length has the clicks it was measured from, and what was found."""
    return _is_reading(said) and all(isinstance(said.get(key), Mapping) for key in ("clicks", "length"))


def _is_pool(said: Any) -> bool:
    """A pool names the readings it is made of, and has their common value."""
    if not _is_reading(said) or not isinstance(said.get("of"), (list, tuple)):
        return False
    return len(said["of"]) > 1 and all(map(_is_name, said["of"])) and isinstance(said.get("pooled"), Mapping)


def _is_reading_of_a_rule(said: Any) -> bool:
    return said in (STATED, OTHER)


def _is_inquiry(said: Any) -> bool:
    """A question: who asks, about what, and what of the sheet it names."""
    if not isinstance(said, Mapping):
        return False
    named = all(_is_name(said.get(key)) for key in ("id", "asked_by", "about"))
    return named and _reads(Inquiry.from_json, said) and _are_names(said, "marks", "clauses")


def _is_answer(said: Any) -> bool:
    if not isinstance(said, Mapping) or said.get("finding") not in FINDINGS:
        return False
    named = _is_name(said.get("inquiry")) and _are_names(said, "marks", "readings")
    return named and _reads(Answer.from_json, said)


def _are_names(said: Mapping[str, Any], *keys: str) -> bool:
    """Whether lists hold ids, and the words beside are the fingerprint of a text."""
    lists = [said.get(key, ()) for key in keys]
    worded = said.get("words") is None or _is_sha256(said["words"])
    return worded and all(isinstance(one, (list, tuple)) and all(map(_is_name, one)) for one in lists)


def _reads(read: Callable[[Mapping[str, Any]], Any], said: Mapping[str, Any]) -> bool:
    try:
        read(said)
    except (AttributeError, KeyError, TypeError, ValueError):
        return False
    return True


def _is_conference(said: Any) -> bool:
    return said in CONFERENCES


def _are_scores(said: Any) -> bool:
    return (
        isinstance(said, Mapping)
        and bool(said)
        and all(map(_is_name, said))
        and all(map(_parses(Points.parse), said.values()))
    )


def _are_among(known: Sequence[str]) -> Check:
    def check(said: Any) -> bool:
        return isinstance(said, (list, tuple)) and all(one in known for one in said)

    return check


def _is_attempt(said: Any) -> bool:
    return _is_whole(said) and 1 <= said <= MOST_ATTEMPTS


def _is_size(said: Any) -> bool:
    return _is_whole(said) and said >= 0


def _are_runs(said: Any) -> bool:
    return isinstance(said, (list, tuple)) and bool(said) and all(map(_is_run, said))


def _is_run(said: Any) -> bool:
    return isinstance(said, (list, tuple)) and len(said) == 3 and all(map(_is_whole, said)) and said[2] > 0


def _agrees(payload: Mapping[str, Any]) -> bool:
    """Whether the runs of ticks never fall, begin and end as said and make as many frames as said."""
    runs = payload["pts_runs"]
    ends = [start + step * (count - 1) for start, step, count in runs]
    rising = all(step >= 0 for _, step, _ in runs)
    apart = all(end <= after[0] for end, (_, after) in zip(ends, pairwise(runs), strict=False))
    whole = payload["frames"] == sum(count for _, _, count in runs) <= MOST_FRAMES
    return (
        rising and apart and whole and (payload["first_pts"], payload["last_pts"]) == (runs[0][0], ends[-1])
    )


def _are_sheets(said: Any) -> bool:
    """The two sealed sheets of a settlement: whose case, its head, and its marks as they stood."""
    return isinstance(said, (list, tuple)) and len(said) == 2 and all(map(_is_sheet, said))


def _is_sheet(said: Any) -> bool:
    if not isinstance(said, Mapping) or not isinstance(said.get("marks"), (list, tuple)):
        return False
    named = _is_name(said.get("judge")) and all(_is_sha256(said.get(key)) for key in ("case", "head"))
    return named and all(map(_is_mark, said["marks"]))


def _are_marks(said: Any) -> bool:
    return isinstance(said, (list, tuple)) and all(map(_is_mark, said))


def _is_taken(said: Any) -> bool:
    return said in TAKEN


def _are_pairs(said: Any) -> bool:
    """Pairs of ids of marks."""
    pairs = isinstance(said, (list, tuple)) and all(isinstance(one, (list, tuple)) for one in said)
    return pairs and all(len(one) == 2 and all(map(_is_name, one)) for one in said)


def _are_judges(said: Any) -> bool:
    return isinstance(said, Mapping) and all(map(_is_name, said)) and all(map(_is_name, said.values()))


def _is_cover(said: Any) -> bool:
    return said is None or _reads(Cover.from_json, said)


def _is_list(said: Any) -> bool:
    return isinstance(said, (list, tuple))


def _is_moment(said: Any) -> bool:
    return said is None or _is_whole(said)


EVIDENCE = ("reading", "track", "length", "pool")
"""What a case keeps of measuring, by the names of their keys in events; their ids are of one series."""

KINDS: Mapping[str, Mapping[str, Check]] = {
    "case-opened": {"athlete_code": _is_text, "consent": _is_text},
    "consent-changed": {"consent": _is_text},
    "recording-cited": {
        "sha256": _is_sha256,
        "frames": _is_whole,
        "time_base": _parses(TimeBase.parse),
        "first_pts": _is_whole,
        "last_pts": _is_whole,
        "pts_runs": _are_runs,
    },
    "recordings-joined": {
        "a": _is_sha256,
        "a_pts": _is_whole,
        "b": _is_sha256,
        "b_pts": _is_whole,
        "offset_us": _is_whole,
        "u_us": _is_size,
    },
    "attempt-assigned": {"sha256": _is_sha256, "attempt": _is_attempt},
    "attempt-counted": {"attempt": _is_attempt},
    "rule-book-chosen": {"id": _is_name, "sha256": _is_sha256, "clauses": _are_hashes},
    "interpretation-chosen": {"clause": _is_name, "reading": _is_reading_of_a_rule},
    "panel-entered": {"when": _is_conference, "scores": _are_scores},
    "mark-placed": {"mark": _is_mark},
    "mark-changed": {"mark": _is_mark},
    "mark-withdrawn": {"id": _is_name},
    "reading-taken": {"reading": _is_reading},
    "reading-confirmed": {"reading": _is_reading, "mark": _is_mark},
    "track-taken": {"track": _is_track},
    "track-confirmed": {"track": _is_track, "mark": _is_mark},
    "length-taken": {"length": _is_length},
    "readings-pooled": {"pool": _is_pool},
    "pool-confirmed": {"pool": _is_pool, "mark": _is_mark},
    "second-begun": {"of": _is_sha256},
    "sealed": {"head": _is_sha256},
    "settlement-begun": {"sheets": _are_sheets, "agreed": _are_marks},
    "line-settled": {"line": _is_name, "taken": _is_taken, "marks": _are_marks},
    "line-reopened": {"line": _is_name, "because": _is_sha256, "marks": _are_listed},
    "inquiry-filed": {"inquiry": _is_inquiry},
    "inquiry-answered": {"answer": _is_answer},
    "inquiry-withdrawn": {"id": _is_name},
    "posted-entered": {"score": _parses(Points.parse)},
    "posted-sheet-entered": {"sheet": _parses(PostedSheet.from_json)},
    "audit-limited": {"parts": _are_among(PARTS)},
    "note-written": {"sha256": _is_sha256, "at": _is_moment},
    "cover-placed": {
        "recording": _is_sha256,
        "head": _is_name,
        "frame": _is_size,
        "pts": _is_whole,
        "cover": _is_cover,
    },
    "cover-removed": {"recording": _is_sha256, "head": _is_name, "frame": _is_size, "pts": _is_whole},
    "head-followed": {"recording": _is_sha256, "head": _is_name, "placed": _is_sha256, "covers": _is_list},
    "covers-reviewed": {"recording": _is_sha256, "first": _is_size, "last": _is_size, "sha256": _is_sha256},
    "cases-merged": {},
    "undone": {"event": _is_sha256},
    "redone": {"event": _is_sha256},
    "report-written": {"files": _are_hashes},
}
"""Every kind of event, and for each key of its payload what must hold."""

OPTIONAL: Mapping[str, Mapping[str, Check]] = {
    "recording-cited": {"attempt": _is_attempt},
    "cases-merged": {"same": _are_pairs, "judges": _are_judges},
    "consent-changed": {"for": _are_among(USES), "until": is_day},
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
