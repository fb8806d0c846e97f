"""Clicks near the top of a cast, followed through the recording: the curve of the angle, and the top."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from reviewer import exchange, measuring, video
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.documents import schema
from reviewer.actions.marking import Change, citing, next_evidence_id
from reviewer.actions.opening import fingerprinted
from reviewer.measuring import KeptTrack
from reviewer.terms.exact import Degrees
from reviewer.terms.messages import message, spoken
from reviewer.terms.pictures import Picture, RecordingFacts
from reviewer.terms.problems import DocumentError, Problem, ReviewerError
from reviewer.terms.readings import Clicks


def follow_file(recording: Path, clicks: Path, span_ms: int) -> dict[str, Any]:
    """Follow the joints of a ``reviewer.clicks/1`` file: ``reviewer.track/1``.

    ``span_ms`` to each side of each clicked frame. All problems of span and clicks at once.
    """
    document = exchange.read_document(clicks, schema("clicks"), "clicks")
    with video.open_recording(recording) as shown:
        return follow_request(document, clicks.name, shown, span_ms)


def follow_request(
    document: dict[str, Any], where: str, shown: video.Recording, span_ms: int
) -> dict[str, Any]:
    """One request's track as a document."""
    return follow_clicks(clicked_in(document), where, shown, span_ms)


def follow_on(
    recording: Path, clicks: Sequence[Clicks], span_ms: int, going_on: Callable[[], bool]
) -> dict[str, Any]:
    """The track of clicks on several frames of a recording, which opens anew: from any thread.

    ``going_on`` is asked before each picture; where it says no, an AuditError ends the following.
    """
    with video.open_recording(recording) as shown:
        return follow_clicks(clicks, "clicks", shown, span_ms, going_on)


def follow_clicks(
    clicked: Sequence[Clicks],
    where: str,
    shown: video.Recording,
    span_ms: int,
    going_on: Callable[[], bool] = lambda: True,
) -> dict[str, Any]:
    """The track of clicks on several frames, in order of time: ``reviewer.track/1``."""
    problems = [*_of_span(span_ms), *_of_frames(clicked, shown.facts, where)]
    if problems:
        raise DocumentError(problems)

    def picture(frame: int) -> Picture | None:
        if not going_on():
            raise AuditError(
                Problem("stopped", where, message("Following was stopped."), message("Follow again."))
            )
        try:
            found = shown.evidence(frame)
        except video.VideoError:
            return None
        return None if found.suspect else found

    track = measuring.follow(clicked, shown.facts, picture, span_ms)
    tells = {"time_base": str(shown.facts.time_base), "line": clicked[0].line, "span_ms": span_ms}
    return measuring.track_json(track) | tells


def keep_track(audit: Audit, clicks: Path, span_ms: int, recording: Path, mark_id: str | None) -> Change:
    """Follow the joints of a ``reviewer.clicks/1`` file and keep the track, as `take_track` does."""
    document = exchange.read_document(clicks, schema("clicks"), "clicks")
    return take_track(audit, clicked_in(document), span_ms, recording, mark_id)


def take_track(
    audit: Audit, clicks: Sequence[Clicks], span_ms: int, recording: Path, mark_id: str | None
) -> Change:
    """Follow clicks through one of the case's recordings and keep the track as evidence.

    With a mark, the top becomes that cast's angle in the same step; an AuditError where there is no top.
    """
    facts = fingerprinted(recording)
    audit.cited(facts.sha256)  # a recording of another case is refused before the work is done
    in_order = tuple(sorted(clicks, key=lambda one: one.frame))
    with video.open_recording(recording) as shown:
        found = follow_clicks(in_order, "clicks", shown, span_ms)
    return keep_followed(audit, in_order, span_ms, found, facts.sha256, mark_id)


def keep_followed(
    audit: Audit,
    clicks: tuple[Clicks, ...],
    span_ms: int,
    found: Mapping[str, Any],
    recording: str | None,
    mark_id: str | None,
) -> Change:
    """Keep a track that was followed on one of the case's recordings, None for the first."""
    named = audit.own_name(recording)
    track = KeptTrack(next_evidence_id(audit), clicks, span_ms, found)
    record = measuring.track_to_record(track) | ({"recording": named} if named else {})
    if mark_id is None:
        audit.case.append("track-taken", {"track": record})
        return Change(frozenset({"readings"}))
    value, uncertainty = _top(track)
    mark = citing(audit, mark_id, track.id, value, uncertainty, (recording, found["top"]["pts"]))
    audit.case.append("track-confirmed", {"track": record, "mark": mark.to_json()})
    return Change(frozenset({"marks", "sheet", "readings"}), mark_id)


def _top(track: KeptTrack) -> tuple[Degrees, Degrees]:
    if track.top is None:
        why = track.document["why_no_top"]
        said = message("This track has no top that could be confirmed: {why}.", why=spoken(why))
        raise AuditError(
            Problem("no-top", "top", said, message("Click nearer to the top, or on more frames."))
        )
    return track.top


def clicked_in(document: Mapping[str, Any]) -> list[Clicks]:
    """The clicks of each clicked frame of a ``reviewer.clicks/1`` document, in order of time."""
    return [Clicks.from_json({**document, **frame}) for frame in _clicked(document)]


def _clicked(document: Mapping[str, Any]) -> list[dict[str, Any]]:
    """The clicked frames, in order of time."""
    several = document.get("clicks") or [{"frame": document["frame"], "body": document["body"]}]
    return sorted(several, key=lambda one: int(one["frame"]))


def _of_span(span_ms: int) -> Iterator[Problem]:
    if not 0 <= span_ms <= measuring.LONGEST_SPAN_MS:
        said = message(
            "Joints are followed for 0 to {most} ms to each side of a clicked frame.",
            most=measuring.LONGEST_SPAN_MS,
        )
        yield Problem(
            "span", f"span {span_ms} ms", said, message("Give a shorter span, and click on more frames.")
        )


def _of_frames(clicked: Sequence[Clicks], facts: RecordingFacts, where: str) -> Iterator[Problem]:
    frames = [clicks.frame for clicks in clicked]
    for frame in sorted({frame for frame in frames if frames.count(frame) > 1}):
        remedy = message("Put all clicks on one frame together; several of one joint pool.")
        yield Problem(
            "frame-twice", f"{where}: frame {frame}", message("This frame is listed more than once."), remedy
        )
    if not measuring.is_elevation(clicked[0].line, clicked[0].against):
        remedy = message("Ask for a line such as shoulder-ankle, against the horizontal.")
        said = message("Only the elevation of a body line is followed.")
        yield Problem("line-not-followed", f"{where}: line {clicked[0].line}", said, remedy)
    if clicked[0].picture != facts.displayed:
        shown = "{} x {}".format(*facts.displayed)
        yield Problem(
            "other-picture",
            f"{where}: picture",
            message("The recording has another size."),
            message("It is {shown}.", shown=shown),
        )
    for clicks in clicked:
        if not 0 <= clicks.frame < len(facts.pts):
            remedy = message("Give a frame from 0 to {last}.", last=len(facts.pts) - 1)
            yield Problem(
                "frame-out-of-range", f"{where}: frame {clicks.frame}", message("No such frame."), remedy
            )
        try:
            measuring.refuse_unmeasurable(clicks)
        except ReviewerError as fault:
            yield from (
                Problem(one.code, f"{where}: frame {clicks.frame}: {one.where}", one.message, one.remedy)
                for one in fault.problems
            )
