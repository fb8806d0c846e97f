"""The protractor on a document: clicks in, a reading out."""

from collections.abc import Iterator, Sequence
from contextlib import AbstractContextManager, nullcontext
from dataclasses import replace
from pathlib import Path
from typing import Any

from reviewer import exchange, measuring, video
from reviewer.actions.documents import schema
from reviewer.terms.exact import Degrees
from reviewer.terms.messages import message
from reviewer.terms.pictures import RecordingFacts
from reviewer.terms.problems import DocumentError, Problem, ReviewerError
from reviewer.terms.readings import Clicks, Requirement, Verdict


def measure_file(path: Path, recording: Path | None = None) -> dict[str, Any]:
    """Measure a ``reviewer.clicks/1`` file: ``reviewer.reading/1``."""
    document = exchange.read_document(path, schema("clicks"), "clicks")
    with _opened(recording) as shown:
        return measure_request(document, path.name, shown)


def measure_together(paths: Sequence[Path], recording: Path | None = None) -> dict[str, Any]:
    """Several judges' `reviewer.clicks/1` files of one frame, pooled: ``reviewer.pooled/1``."""
    documents = [exchange.read_document(path, schema("clicks"), "clicks") for path in paths]
    with _opened(recording) as shown:
        asked = [
            _clicked(document, path.name, shown) for document, path in zip(documents, paths, strict=True)
        ]
    for (clicks, _), path in zip(asked, paths, strict=True):
        _refuse_length(clicks, path.name)
    readings = [measuring.measure(clicks, pts) for clicks, pts in asked]
    try:
        found = measuring.pooled(readings)
    except ReviewerError as fault:
        names = ", ".join(path.name for path in paths)
        raise DocumentError(tuple(replace(one, where=names) for one in fault.problems)) from None
    doubtful = any(one.calibration.doubtful for one in readings)
    rule = _verdict(documents[0], found.value, found.uncertainty, doubtful)
    return measuring.pooled_json(found, readings, rule)


def measure_batch(path: Path, recording: Path | None = None) -> Iterator[dict[str, Any]]:
    """Measure many requests, one a line; one answer a line in the same order, for bad ones too."""
    with _opened(recording) as shown:
        for number, line in exchange.read_lines(path):
            where = f"{path.name}: line {number}"
            try:
                document = exchange.parse_document(line, schema("clicks"), "each request", where)
                yield measure_request(document, where, shown)
            except ReviewerError as fault:
                yield unanswered(fault)


def measure_request(document: dict[str, Any], where: str, shown: video.Recording | None) -> dict[str, Any]:
    """One request's reading with its verdict, as a document; with the recording, whether that is damaged."""
    clicks, pts = _clicked(document, where, shown)
    if measuring.is_length(clicks.line):
        _refuse_limit(document, where)
        return measuring.length_json(measuring.length(clicks))
    if not measuring.is_elevation(clicks.line, clicks.against):
        _refuse_limit(document, where)
    reading = measuring.measure(clicks, pts)
    return measuring.reading_json(
        reading, _verdict(document, reading.value, reading.uncertainty, reading.calibration.doubtful)
    )


def _clicked(
    document: dict[str, Any], where: str, shown: video.Recording | None
) -> tuple[Clicks, int | None]:
    """The clicks of a request, and the tick of their frame where the recording is there."""
    clicks = Clicks.from_json(_one_frame(document, where))
    if shown is None:
        return clicks, None
    pts = _tick(clicks, shown.facts, where)
    return replace(clicks, suspect=shown.examine(clicks.frame)), pts


def _refuse_length(clicks: Clicks, where: str) -> None:
    if measuring.is_length(clicks.line):
        said, remedy = (
            message("Lengths do not pool."),
            message("Ask for each on its own, or leave the others out."),
        )
        raise DocumentError(Problem("not-alike", f"{where}: line {clicks.line}", said, remedy))


def _opened(recording: Path | None) -> AbstractContextManager[video.Recording | None]:
    return video.open_recording(recording) if recording is not None else nullcontext()


def unanswered(fault: ReviewerError) -> dict[str, Any]:
    """The answer to a request that could not be measured."""
    problems = [problem.to_json() for problem in fault.problems]
    return {"format": "reviewer.reading/1", "value_deg": None, "problems": problems}


def _refuse_limit(document: dict[str, Any], where: str) -> None:
    if document.get("requirement") is not None:
        said = message(
            "A limit belongs to the elevation of a body line, which this request does not ask for."
        )
        remedy = message("Leave `requirement` out, or ask for a line against the horizontal.")
        raise DocumentError(Problem("no-limit", f"{where}: requirement", said, remedy))


def _verdict(
    document: dict[str, Any], value: Degrees, uncertainty: Degrees, doubtful: bool
) -> Verdict | None:
    asked = document.get("requirement")
    if asked is None:
        return None
    limit, tolerance = Degrees.parse(asked["at_least_deg"]), Degrees.parse(asked.get("tolerance_deg", "0"))
    edges = (asked.get("limit_included", True), asked.get("tolerance_included", True))
    return measuring.verdict(value, uncertainty, Requirement(limit, tolerance, *edges), doubtful=doubtful)


def _one_frame(document: dict[str, Any], where: str) -> dict[str, Any]:
    several = document.get("clicks")
    if several is None:
        return document
    if len(several) != 1:
        raise DocumentError(
            Problem(
                "several-frames",
                f"{where}: clicks",
                message("A reading is of one frame and this request names several."),
                message("Ask for each frame on its own; `--batch` takes one request a line."),
            )
        )
    return {**document, **several[0]}


def _tick(clicks: Clicks, facts: RecordingFacts, where: str) -> int:
    if not 0 <= clicks.frame < len(facts.pts):
        remedy = message("Give a frame from 0 to {last}.", last=len(facts.pts) - 1)
        raise DocumentError(
            Problem("frame-out-of-range", f"{where}: frame {clicks.frame}", message("No such frame."), remedy)
        )
    if clicks.picture != facts.displayed:
        shown = "{} x {}".format(*facts.displayed)
        raise DocumentError(
            Problem(
                "other-picture",
                f"{where}: picture",
                message("The recording has another size."),
                message("It is {shown}.", shown=shown),
            )
        )
    return facts.pts[clicks.frame]
