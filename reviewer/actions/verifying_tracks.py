"""Following every kept track again, and naming each frame that comes out otherwise."""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

from reviewer import casefile, measuring, video
from reviewer.actions.following import follow_clicks
from reviewer.actions.reviewing import Review
from reviewer.measuring import KeptTrack
from reviewer.reports import Difference
from reviewer.terms.exact import Degrees
from reviewer.terms.problems import ReviewerError

TOLERANCE = 50
"""Thousandths of a degree by which a followed angle may differ: libraries differ in pictures' last digits."""
MOMENT = Decimal("0.001")
"""Seconds by which a top's moment may differ, for the same reason."""
FRAME, TOP = ("angle_deg", "u_deg"), ("value_deg", "u_deg")


def check_tracks(state: casefile.CaseState, review: Review, found: Mapping[str, Path]) -> bool:
    """Follow each kept track again where its recording is in ``found``; whether all of them could be read."""
    damaged: list[Difference] = []
    here: list[tuple[KeptTrack, Path]] = []
    elsewhere: list[KeptTrack] = []
    for record in state.tracks:
        try:
            track = measuring.track_from_record(record)
        except ReviewerError as fault:
            damaged.append(Difference("track", str(record["id"]), str(fault), "a whole track"))
            continue
        path = found.get(_recording(record, state))
        if path is None:
            elsewhere.append(track)
        else:
            here.append((track, path))
    cited = [
        one for track in (*(one for one, _ in here), *elsewhere) for one in _cited_otherwise(track, state)
    ]
    if damaged or cited or here:
        again = (one for track, path in here for one in _followed_otherwise(track, path))
        review.step("tracks", [*damaged, *cited, *again])
    if elsewhere:
        review.skip("tracks", f"recording not here: {', '.join(track.id for track in elsewhere)}")
    return not damaged


def _recording(record: Mapping[str, Any], state: casefile.CaseState) -> str:
    """SHA-256 of the recording a track was taken on."""
    named: str | None = record.get("recording")
    return named or (state.recording.sha256 if state.recording else "")


def _cited_otherwise(track: KeptTrack, state: casefile.CaseState) -> Iterator[Difference]:
    """Every cast that cites this track with another angle than that of its top."""
    for mark in state.marks:
        angle = mark.angle
        if angle and angle.reading == track.id and (angle.value, angle.uncertainty) != track.top:
            stored, kept = (
                f"{angle.value}, standard uncertainty {angle.uncertainty}",
                _said(track.document["top"], TOP),
            )
            yield Difference("track", f"{track.id} as cited by {mark.id}", stored, kept)


def _followed_otherwise(track: KeptTrack, path: Path) -> Iterator[Difference]:
    try:
        with video.open_recording(path) as shown:
            again = follow_clicks(track.clicks, f"track {track.id}", shown, track.span_ms)
    except ReviewerError as fault:
        yield Difference("track", track.id, "a track", f"refused: {fault}")
        return
    yield from _frames_otherwise(track, again["frames"])
    old, new = track.document["top"], again["top"]
    if not _alike(old, new, TOP) or not _at_one_moment(old, new):
        yield Difference("track", f"{track.id} top", _said(old, TOP), _said(new, TOP))


def _frames_otherwise(track: KeptTrack, again: Sequence[Mapping[str, Any]]) -> Iterator[Difference]:
    """Every frame that is good in one and not in the other, or has another angle."""
    kept, derived = ({one["frame"]: one for one in frames} for frames in (track.document["frames"], again))
    for frame in sorted(kept.keys() | derived.keys()):
        old, new = (
            (found if (found := one.get(frame)) and found["state"] == "good" else None)
            for one in (kept, derived)
        )
        if not _alike(old, new, FRAME):
            yield Difference("track", f"{track.id} frame {frame}", _said(old, FRAME), _said(new, FRAME))


def _alike(old: Mapping[str, Any] | None, new: Mapping[str, Any] | None, sizes: tuple[str, str]) -> bool:
    if old is None or new is None:
        return old is new
    apart = (Degrees.parse(old[size]) - Degrees.parse(new[size]) for size in sizes)
    return all(abs(one.thousandths) <= TOLERANCE for one in apart)


def _at_one_moment(old: Mapping[str, Any] | None, new: Mapping[str, Any] | None) -> bool:
    """Whether two tops that are alike are on one frame, and at one time."""
    if old is None or new is None:
        return True
    was, now = ([Decimal(one) for one in (top["time_s"], *top["interval_s"])] for top in (old, new))
    apart = (abs(one - other) for one, other in zip(was, now, strict=True))
    return old["frame"] == new["frame"] and max(apart) <= MOMENT


def _said(one: Mapping[str, Any] | None, sizes: tuple[str, str]) -> str:
    if one is None:
        return "none"
    when = f" at {one['time_s']} s" if "time_s" in one else ""
    return f"frame {one['frame']}{when}: {one[sizes[0]]}, standard uncertainty {one[sizes[1]]}"
