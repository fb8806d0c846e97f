"""Clicks near the top of a cast, followed through the recording: the curve of the angle, and the top."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from reviewer import exchange, measuring, video
from reviewer.actions.documents import schema
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
    clicked = [Clicks.from_json({**document, **frame}) for frame in _clicked(document)]
    problems = [*_of_span(span_ms), *_of_frames(clicked, shown.facts, where)]
    if problems:
        raise DocumentError(problems)

    def picture(frame: int) -> Picture | None:
        try:
            found = shown.evidence(frame)
        except video.VideoError:
            return None
        return None if found.suspect else found

    track = measuring.follow(clicked, shown.facts, picture, span_ms)
    tells = {"time_base": str(shown.facts.time_base), "line": document["line"], "span_ms": span_ms}
    return measuring.track_json(track) | tells


def _clicked(document: Mapping[str, Any]) -> list[dict[str, Any]]:
    """The clicked frames, in order of time."""
    several = document.get("clicks") or [{"frame": document["frame"], "body": document["body"]}]
    return sorted(several, key=lambda one: int(one["frame"]))


def _of_span(span_ms: int) -> Iterator[Problem]:
    if not 0 <= span_ms <= measuring.LONGEST_SPAN_MS:
        said = f"Joints are followed for 0 to {measuring.LONGEST_SPAN_MS} ms to each side of a clicked frame."
        yield Problem("span", f"span {span_ms} ms", said, "Give a shorter span, and click on more frames.")


def _of_frames(clicked: list[Clicks], facts: RecordingFacts, where: str) -> Iterator[Problem]:
    frames = [clicks.frame for clicks in clicked]
    for frame in sorted({frame for frame in frames if frames.count(frame) > 1}):
        remedy = "Put all clicks on one frame together; several of one joint pool."
        yield Problem(
            "frame-twice", f"{where}: frame {frame}", "This frame is listed more than once.", remedy
        )
    if clicked[0].picture != facts.displayed:
        shown = "{} x {}".format(*facts.displayed)
        yield Problem(
            "other-picture", f"{where}: picture", "The recording has another size.", f"It is {shown}."
        )
    for clicks in clicked:
        if not 0 <= clicks.frame < len(facts.pts):
            remedy = f"Give a frame from 0 to {len(facts.pts) - 1}."
            yield Problem("frame-out-of-range", f"{where}: frame {clicks.frame}", "No such frame.", remedy)
        try:
            measuring.refuse_unmeasurable(clicks)
        except ReviewerError as fault:
            yield from (
                Problem(one.code, f"{where}: frame {clicks.frame}: {one.where}", one.message, one.remedy)
                for one in fault.problems
            )
