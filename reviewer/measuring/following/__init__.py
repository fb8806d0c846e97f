"""A body line followed from clicked frames to both sides, and the highest moment of the cast."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import partial

from reviewer.measuring.errors import MeasuringError
from reviewer.measuring.following.blending import blended
from reviewer.measuring.following.records import track_json
from reviewer.measuring.following.sight import Sight
from reviewer.measuring.following.stretching import Pictures, Seen, Stretch
from reviewer.measuring.following.topping import top_of
from reviewer.measuring.following.track import Spots, Top, Track
from reviewer.measuring.protractor import measure
from reviewer.terms.bodylines import FAR
from reviewer.terms.messages import listed, message, spoken
from reviewer.terms.pictures import RecordingFacts
from reviewer.terms.problems import Problem
from reviewer.terms.readings import Clicks, Reading

LONGEST_SPAN_MS = 5000
"""The farthest that is followed to each side of a clicked frame."""

__all__ = ["LONGEST_SPAN_MS", "Pictures", "Top", "Track", "follow", "track_json"]


def follow(clicked: Sequence[Clicks], facts: RecordingFacts, pictures: Pictures, span_ms: int) -> Track:
    """Follow the joints ``span_ms`` to each side of each clicked frame, and find the top.

    All of ``clicked`` ask for the elevation of one line and carry the same apparatus; a line to the lowest
    part goes through the part that was lowest when clicked. `MeasuringError` for clicks that give no angle,
    or lead through other parts. The same pictures give the same track.
    """
    _refuse_both_sides(clicked)
    readings = [measure(clicks) for clicks in clicked]
    clicked = [replace(clicks, line=_one_line(readings)) for clicks in clicked]
    first = Sight(clicked[0])
    sights = {clicks.frame: first.of(clicks) for clicks in clicked}
    seconds = partial(_seconds, facts)
    seen = {
        clicks.frame: Stretch(clicks, sights[clicks.frame], seconds).seen(
            pictures, _within(facts, clicks.frame, span_ms)
        )
        for clicks in clicked
    }
    frames = blended(seen, sights, facts.pts.__getitem__, seconds)
    top, why = top_of(frames, facts.time_base)
    check, through = readings[0].calibration.check, readings[0].through
    return Track(frames, top, why, check, through, _turned(seen.values()))


def _refuse_both_sides(clicked: Sequence[Clicks]) -> None:
    """Joints of one side are followed: of both, the middles were measured."""
    far = {name for clicks in clicked for name, spots in clicks.body if name.endswith(FAR) and spots}
    if far:
        said = message("Joints of both sides cannot be followed: {joints}.", joints=listed(sorted(far)))
        remedy = message("Leave them out to follow one side, or measure the top's frame by itself.")
        raise MeasuringError(Problem("both-sides", "body", said, remedy))


def _one_line(readings: Sequence[Reading]) -> str:
    found = {reading.through: reading.clicks.frame for reading in readings}
    if len(found) > 1:
        lines = [
            message("{line} on frame {frame}", line=spoken(through), frame=frame)
            for through, frame in found.items()
        ]
        wrong = message(
            "The lowest part is not the same on every clicked frame: {lines}.", lines=listed(lines)
        )
        raise MeasuringError(
            Problem("lines-differ", "line", wrong, message("Follow from one of them at a time."))
        )
    return readings[0].through


def _turned(seen: Iterable[Seen]) -> float | None:
    """How far the camera was turned since a clicked frame, at most; None where that cannot be told."""
    turns = [told.turned for one in seen for told in one.values() if isinstance(told, Spots)]
    return None if None in turns else max((one for one in turns if one is not None), default=0.0)


def _within(facts: RecordingFacts, frame: int, span_ms: int) -> range:
    """The frames shown within the span of a frame's moment."""
    tick = Fraction(facts.time_base.numerator, facts.time_base.denominator)
    reach = Fraction(span_ms, 1000) / tick
    first = last = frame
    while first > 0 and facts.pts[frame] - facts.pts[first - 1] <= reach:
        first -= 1
    while last + 1 < len(facts.pts) and facts.pts[last + 1] - facts.pts[frame] <= reach:
        last += 1
    return range(first, last + 1)


def _seconds(facts: RecordingFacts, frame: int) -> float:
    return facts.pts[frame] * facts.time_base.numerator / facts.time_base.denominator
