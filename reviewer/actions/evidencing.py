"""What was measured, as a report says and draws it: readings, pools, lengths and followed casts."""

from collections.abc import Iterator, Mapping
from typing import Any

from reviewer import drawing, measuring
from reviewer.actions import figures
from reviewer.actions.audit import Audit
from reviewer.measuring import KeptTrack
from reviewer.terms.intervals import degrees_told, half_of, told
from reviewer.terms.marks import Mark
from reviewer.terms.readings import Clicks, Reading, Requirement, Verdict
from reviewer.terms.shapes import Shape
from reviewer.words import Saying

_ENGLISH = Saying()


def evidence(audit: Audit, say: Saying = _ENGLISH) -> dict[str, Any]:
    """All that was measured and kept; what there is none of is left out, but for readings."""
    found = {
        "tracks": [_track(audit, track, say) for track in audit.tracks],
        "pools": [{"id": one["id"], "of": list(one["of"])} | one["pooled"] for one in audit.state.pools],
        "lengths": [
            {"id": one["id"], "frame": one["clicks"]["frame"], "line": one["clicks"]["line"]} | one["length"]
            for one in audit.state.lengths
        ],
    }
    readings = [_reading(audit, reading, say) for reading in audit.readings]
    return {"readings": readings} | {name: some for name, some in found.items() if some}


def measured_frames(audit: Audit, recording: str | None) -> set[int]:
    """Frames of a recording that something was measured on, or that a followed cast was highest on."""
    readings = {one.clicks.frame for one in _readings_on(audit, recording) if one.pts is not None}
    return readings | {track.document["top"]["frame"] for track in _topped_on(audit, recording)}


def overlay(audit: Audit, frame: int, size: tuple[int, int], recording: str | None, say: Saying) -> str:
    """The protractor's shapes of everything measured on a frame, as SVG; empty where nothing was."""
    shapes = tuple(_shapes(audit, frame, size, recording, say))
    return drawing.svg(shapes, size, say("Protractor on frame {frame}", frame=frame)) if shapes else ""


def drawn_on(
    audit: Audit, recording: str | None, size: tuple[int, int], say: Saying
) -> Mapping[int, tuple[Shape, ...]]:
    """What was measured on each frame of a recording as shapes, followed casts on all their frames."""
    found: dict[int, tuple[Shape, ...]] = {}
    for track in _tracks_on(audit, recording):
        line = _line_of(track)
        for one in track.document["frames"]:
            shapes = drawing.followed(one, line, size, say)
            found[one["frame"]] = (*found.get(one["frame"], ()), *shapes)
    for frame in {one.clicks.frame for one in _readings_on(audit, recording)}:
        found[frame] = tuple(_shapes(audit, frame, size, recording, say))
    return {frame: shapes for frame, shapes in found.items() if shapes}


def decisive_frame(audit: Audit, mark: Mark) -> int | None:
    """The frame that decides over a mark: the one its angle was measured on, else the one it is shown at."""
    cited = mark.angle.reading if mark.angle is not None else None
    on = mark.recording
    readings = {one.id: one.clicks.frame for one in _readings_on(audit, on) if one.pts is not None}
    tops = {one.id: int(one.document["top"]["frame"]) for one in _topped_on(audit, on)}
    if cited is not None and cited in readings | tops:
        return (readings | tops)[cited]
    shown = audit.shown((mark.id,))
    return shown[0].frame if shown else None


def said_of(audit: Audit, frame: int, recording: str | None, say: Saying) -> list[str]:
    """What was measured on a frame, in words for a caption."""
    readings = [
        _said(one, _limit(audit, one.clicks), say)
        for one in _readings_on(audit, recording)
        if one.clicks.frame == frame
    ]
    tops = (track.document["top"] for track in _topped_on(audit, recording))
    top_of = say("top of the cast")
    return readings + [f"{top_of} {say.word(degrees_told(top))}" for top in tops if top["frame"] == frame]


def _said(reading: Reading, limit: Requirement | None, say: Saying) -> str:
    """The words that are drawn over the still, for a caption."""
    size = told(reading.value, half_of(reading.value, reading.interval), "°")
    if limit is None:
        return f"{say.word(reading.through)} {say.word(size)}"
    rays = ", ".join(drawing.limit_words(limit, say))
    return say("cast angle {size}, {limits}", size=size, limits=rays)


def _shapes(
    audit: Audit, frame: int, size: tuple[int, int], recording: str | None, say: Saying
) -> Iterator[Shape]:
    for reading in _readings_on(audit, recording):
        if reading.clicks.frame == frame:
            yield from figures.on_frame(reading, _limit(audit, reading.clicks), say)
    for track in _topped_on(audit, recording):
        if track.document["top"]["frame"] == frame:
            frames: dict[int, Mapping[str, Any]] = {one["frame"]: one for one in track.document["frames"]}
            yield from drawing.followed(frames[frame], _line_of(track), size, say)


def _readings_on(audit: Audit, recording: str | None) -> tuple[Reading, ...]:
    """The readings on a recording; of those of the same clicks, which merged cases both hold, the first."""
    wanted = audit.own_name(recording)
    found = (one for one in audit.readings if audit.own_name(audit.reading_on(one.id)) == wanted)
    return tuple({one.clicks: one for one in reversed(tuple(found))}.values())[::-1]


def _tracks_on(audit: Audit, recording: str | None) -> tuple[KeptTrack, ...]:
    wanted = audit.own_name(recording)
    return tuple(one for one in audit.tracks if audit.own_name(audit.reading_on(one.id)) == wanted)


def _topped_on(audit: Audit, recording: str | None) -> tuple[KeptTrack, ...]:
    """The tracks on a recording that have a top."""
    return tuple(one for one in _tracks_on(audit, recording) if one.document["top"] is not None)


def _line_of(track: KeptTrack) -> str:
    """The joints a followed angle is of."""
    found: str = track.document.get("through", track.clicks[0].line)
    return found


def _limit(audit: Audit, clicks: Clicks) -> Requirement | None:
    """The edition's limit, where it is the edition's line that was measured."""
    cast = audit.book.cast
    own = clicks.line == cast.line and measuring.is_elevation(clicks.line, clicks.against)
    return cast.requirement if own else None


def _reading(audit: Audit, reading: Reading, say: Saying) -> dict[str, Any]:
    rule = _verdict(audit, reading)
    document = measuring.reading_json(reading, rule) | {"residuals_drawn": figures.residuals(reading, say)}
    if limit := _limit(audit, reading.clicks):
        document |= {"limit": _held_against(limit, reading, audit.book.cast.guard_per_mille)}
    if len(audit.state.recordings) > 1:
        document |= {"recording_number": audit.number_of(audit.reading_on(reading.id))}
    return {"id": reading.id, "frame": reading.clicks.frame, "pts": reading.pts} | document


def _held_against(limit: Requirement, reading: Reading, guard: int) -> dict[str, Any]:
    """The limit a verdict rests on, whose edges count as reached, and how clear of them it had to be."""
    return {
        "at_least_deg": str(limit.at_least),
        "tolerated_to_deg": str(limit.at_least - limit.tolerance),
        "reached_at": limit.reached_at,
        "tolerated_at": limit.tolerated_at,
        "clear_by_deg": str(measuring.clear_by(reading.uncertainty, guard)),
    }


def _verdict(audit: Audit, reading: Reading) -> Verdict | None:
    """Of the edition's own line only: a limit belongs to no other."""
    limit, guard = _limit(audit, reading.clicks), audit.book.cast.guard_per_mille
    return measuring.held_against(reading, limit, guard) if limit else None


def _track(audit: Audit, track: KeptTrack, say: Saying) -> dict[str, Any]:
    """What of a track a report says; all of it stands in the case."""
    found, cited = track.document, audit.cited(audit.reading_on(track.id))
    return {
        "id": track.id,
        "recording_number": audit.number_of(audit.reading_on(track.id)),
        "line": _line_of(track),
        "clicked_frames": [clicks.frame for clicks in track.clicks],
        "frames": len(found["frames"]),
        "top": found["top"],
        "why_no_top": found["why_no_top"],
        "lost": found["lost"],
        "check": found["calibration"]["check"],
        "camera": found["camera"]["said"],
        "curve": figures.curve(found, track.id, _limit(audit, track.clicks[0]), cited.base, say),
    }
