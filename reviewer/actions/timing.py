"""Moments of a recording by frame, seconds or time code, and durations between two of them."""

import re
from bisect import bisect_right
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from reviewer import measuring, video
from reviewer.measuring import BEYOND as BEYOND
from reviewer.measuring import WITHIN as WITHIN
from reviewer.terms.messages import message, reason
from reviewer.terms.pictures import RecordingFacts
from reviewer.terms.problems import Problem, ReviewerError
from reviewer.terms.timecodes import TimeCodes

MICRO = 1_000_000
"""Parts of a second that durations are told in."""
_FRAME = re.compile(r"-?[0-9]{1,9}")
_SECONDS = re.compile(r"(-?)([0-9]{1,9})(?:\.([0-9]{1,6}))?s")


class TimingError(ReviewerError):
    """A moment, or a limit, that was asked for cannot be found in the recording."""


def moments_document(path: Path, asked: Sequence[str]) -> dict[str, Any]:
    """``reviewer.moments/1``: each moment's frame, tick, seconds and time code.

    A moment is a frame number (``77``), seconds since tick 0 (``1.285s``) or a time code. `TimingError`
    holds a problem for each that the recording does not have.
    """
    codes = _time_codes(path)
    return {
        "format": "reviewer.moments/1",
        "time_base": str(codes.facts.time_base),
        "counting": _counting(codes),
        "moments": [
            _frame(codes.facts, text, frame) | {"time_code": str(codes.label(frame))}
            for text, frame in zip(asked, _frames(codes, asked, path.name), strict=True)
        ],
        "problems": [],
    }


def duration_document(path: Path, first: str, last: str, limit: str | None = None) -> dict[str, Any]:
    """``reviewer.duration/1``: the time between two events, from the frame on which each first shows.

    The moments are given as for `moments_document`; ``limit`` is decimal text in seconds. `TimingError` for
    what is not there, and for a limit on events given in reverse; `MeasuringError` for a single moment.
    """
    codes = _time_codes(path)
    allowed = None if limit is None else _limit(limit)
    frames = _frames(codes, (first, last), path.name)
    if allowed is not None and codes.facts.pts[frames[1]] < codes.facts.pts[frames[0]]:
        raise _reversed(path.name, first, last)
    found = measuring.duration(codes.facts, *frames)
    return {
        "format": "reviewer.duration/1",
        "time_base": str(codes.facts.time_base),
        "first": _event(codes.facts, first, frames[0]),
        "last": _event(codes.facts, last, frames[1]),
        "seconds": _decimal(found.value),
        "u_s": _decimal(found.uncertainty),
        "interval95_s": [_decimal(end) for end in found.interval],
        "limit_s": None if allowed is None else _decimal(allowed),
        "verdict": None if allowed is None else _verdict(found, allowed),
        "problems": [],
    }


def frame_of_moment(facts: RecordingFacts, text: str, where: str) -> int:
    """The frame that a moment, written as for `moments_document`, names; `TimingError`."""
    return _frames(TimeCodes.of(facts), (text,), where)[0]


def _time_codes(path: Path) -> TimeCodes:
    with video.open_recording(path) as recording:
        return TimeCodes.of(recording.facts)


def _counting(codes: TimeCodes) -> dict[str, Any]:
    return {
        "rate": str(codes.rate),
        "drop_frame": codes.scale.drop,
        "nominal": codes.nominal,
        "start": str(codes.label(0)),
        "unread_start": codes.unread,
    }


def _frames(codes: TimeCodes, asked: Sequence[str], name: str) -> list[int]:
    found = [_frame_of(codes, text, name) for text in asked]
    problems = [one for one in found if isinstance(one, Problem)]
    if problems:
        raise TimingError(problems)
    return [one for one in found if isinstance(one, int)]


def _frame_of(codes: TimeCodes, text: str, name: str) -> int | Problem:
    if _FRAME.fullmatch(text):
        return _numbered(codes.facts, int(text), name)
    if seconds := _SECONDS.fullmatch(text):
        return _on_screen(codes.facts, seconds, name)
    if ":" in text:
        return _labelled(codes, text, name)
    remedy = message(
        "Write a frame such as 77, seconds such as 1.285s, or a time code such as {label}.",
        label=codes.label(0),
    )
    return Problem("not-a-moment", f"{name}: {text}", message("This names no moment of a recording."), remedy)


def _numbered(facts: RecordingFacts, frame: int, name: str) -> int | Problem:
    if 0 <= frame < len(facts.pts):
        return frame
    remedy = message("Give a frame from 0 to {last}.", last=len(facts.pts) - 1)
    return Problem(
        "frame-out-of-range", f"{name}: frame {frame}", message("The recording has no such frame."), remedy
    )


def _labelled(codes: TimeCodes, text: str, name: str) -> int | Problem:
    where, last = f"{name}: {text}", codes.label(len(codes.facts.pts) - 1)
    try:
        return codes.frame(text)
    except ValueError as fault:
        return Problem(
            "no-such-time-code",
            where,
            message("{reason}.", reason=reason(fault)),
            message("Write it like {last}.", last=last),
        )
    except KeyError:
        remedy = message("Give a time code from {label} to {last}.", label=codes.label(0), last=last)
        return Problem(
            "time-out-of-range", where, message("The recording has no frame at this time code."), remedy
        )


def _on_screen(facts: RecordingFacts, seconds: re.Match[str], name: str) -> int | Problem:
    """The frame on screen at a time, compared in the places that frames' times are shown with (three, or six
    where more were typed), so that a time as shown leads back to its frame."""
    sign, whole, typed = seconds.groups(default="")
    places, parts = (3, 1000) if len(typed) <= 3 else (6, MICRO)
    wanted = int(sign + whole + typed.ljust(places, "0"))

    def shown(pts: int) -> int:
        return _rounded(facts, pts, parts)

    frame = bisect_right(facts.pts, wanted, key=shown) - 1
    end = shown(2 * facts.pts[-1] - facts.pts[-2]) if len(facts.pts) > 1 else shown(facts.pts[-1])
    if frame >= 0 and (wanted < end or wanted == shown(facts.pts[-1])):
        return frame
    first, last = (facts.time(number).seconds() for number in (0, len(facts.pts) - 1))
    remedy = message("The first frame begins at {first}s, the last at {last}s.", first=first, last=last)
    where = f"{name}: {seconds[0]}"
    return Problem(
        "time-out-of-range", where, message("No frame of the recording is on screen then."), remedy
    )


def _frame(facts: RecordingFacts, asked: str, frame: int) -> dict[str, Any]:
    time = facts.time(frame)
    identity = {"asked": asked, "frame": frame, "pts": time.pts, "occurrence": time.occurrence}
    return identity | {"seconds": time.seconds()}


def _event(facts: RecordingFacts, asked: str, frame: int) -> dict[str, Any]:
    gap = measuring.gap_before(facts, frame)
    return _frame(facts, asked, frame) | {
        "seconds": _decimal(_rounded(facts, facts.pts[frame], MICRO)),
        "gap_s": _decimal(_rounded(facts, gap.ticks, MICRO)),
        "gap_assumed": gap.assumed,
    }


def _limit(text: str) -> int:
    found = _SECONDS.fullmatch(f"{text.removesuffix('s')}s")
    if found is None or found[1]:
        problem = Problem(
            "not-a-limit",
            f"limit {text}",
            message("A limit is a number of seconds."),
            message("Write it like 30 or 45.5."),
        )
        raise TimingError(problem)
    return int(found[2] + (found[3] or "").ljust(6, "0"))


def _reversed(name: str, first: str, last: str) -> TimingError:
    said = message("The second event lies before the first, and no limit can be held against that.")
    remedy = message("Give the earlier frame first, or leave the limit out.")
    return TimingError(Problem("frames-reversed", f"{name}: {first} to {last}", said, remedy))


def _verdict(found: measuring.Duration, limit: int) -> dict[str, str]:
    rule = (
        f"At most {_decimal(limit)} s; decided where the whole 95 % interval lies on one side, "
        "the limit itself being kept."
    )
    return {"word": measuring.against_limit(found, limit), "rule": rule}


def _rounded(facts: RecordingFacts, ticks: int, parts: int) -> int:
    """Ticks in whole parts of a second, so many to one; halves up as in `FrameTime.seconds`."""
    scaled, whole = ticks * facts.time_base.numerator * parts, facts.time_base.denominator
    return (2 * scaled + whole) // (2 * whole)


def _decimal(microseconds: int) -> str:
    whole, places = divmod(abs(microseconds), MICRO)
    return f"{'-' if microseconds < 0 else ''}{whole}.{places:06}"
