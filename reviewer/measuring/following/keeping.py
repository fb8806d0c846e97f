"""A track as a case keeps it: the clicks, how far they were followed, and what was found."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from reviewer.measuring.errors import MeasuringError
from reviewer.terms.exact import Degrees
from reviewer.terms.messages import Message, message, reason
from reviewer.terms.problems import Problem
from reviewer.terms.readings import Clicks


@dataclass(frozen=True, slots=True)
class KeptTrack:
    """A track that a case keeps.

    Attributes:
        id: unique among the case's readings and tracks.
        clicks: of each clicked frame, in order of time.
        span_ms: how far each was followed to both sides.
        document: what was found, ``reviewer.track/1``.
    """

    id: str
    clicks: tuple[Clicks, ...]
    span_ms: int
    document: Mapping[str, Any]

    @property
    def top(self) -> tuple[Degrees, Degrees] | None:
        """Value and standard uncertainty of the top; None where there is none."""
        found = self.document["top"]
        return found and (Degrees.parse(found["value_deg"]), Degrees.parse(found["u_deg"]))


def track_to_record(track: KeptTrack) -> dict[str, Any]:
    """Everything of a track, as a case keeps it."""
    clicks = [one.to_json() for one in track.clicks]
    return {"id": track.id, "clicks": clicks, "span_ms": track.span_ms, "track": dict(track.document)}


def track_from_record(record: Mapping[str, Any]) -> KeptTrack:
    """The track a case kept, digit for digit; a MeasuringError names one that is damaged."""
    try:
        clicks = tuple(Clicks.from_json(one) for one in record["clicks"])
        track = KeptTrack(record["id"], clicks, record["span_ms"], record["track"])
        unsound = next(_unsound(track), None)
    except (ArithmeticError, AttributeError, IndexError, KeyError, TypeError, ValueError) as fault:
        raise _damaged(
            record, message("something is missing or of another kind ({reason})", reason=reason(fault))
        ) from None
    if unsound is not None:
        raise _damaged(record, unsound)
    return track


def _unsound(track: KeptTrack) -> Iterator[Message]:
    """What is not as it was kept, as far as can be told without following again."""
    document = track.document
    frames, top = document["frames"], document["top"]
    if document["format"] != "reviewer.track/1" or type(track.span_ms) is not int:
        yield message("it is no track of this version")
    if not frames or not track.clicks or not all(map(_is_sound_frame, frames)):
        yield message("a frame is not as frames are kept")
    if [one["frame"] for one in frames] != sorted({one["frame"] for one in frames}):
        yield message("its frames are not in order")
    if top is not None and not _is_sound_top(top, frames):
        yield message("its top is not as tops are kept")
    said = (document["calibration"]["check"], document["camera"]["said"], *_whys(document["lost"]))
    if not all(isinstance(one, str) for one in said) or not isinstance(
        document["why_no_top"], (str, type(None))
    ):
        yield message("a word is of another kind")


def _is_sound_frame(frame: Mapping[str, Any]) -> bool:
    good = frame["state"] == "good"
    sizes = (frame["angle_deg"], frame["u_deg"])
    read = [Degrees.parse(one) for one in sizes] if good else [one for one in sizes if one is not None]
    places = all(Decimal(side).is_finite() for spot in frame["points"].values() for side in spot)
    whole = type(frame["frame"]) is int and type(frame["pts"]) is int
    return whole and places and frame["state"] in ("good", "lost") and bool(read) is good


def _is_sound_top(top: Mapping[str, Any], frames: Sequence[Mapping[str, Any]]) -> bool:
    Degrees.parse(top["value_deg"])
    moments = [Decimal(one) for one in (top["time_s"], *top["interval_s"])]
    known = {(one["frame"], one["pts"]) for one in frames if one["state"] == "good"}
    return (
        len(moments) == 3
        and all(one.is_finite() for one in moments)
        and Degrees.parse(top["u_deg"]).thousandths >= 0
        and (top["frame"], top["pts"]) in known
    )


def _whys(lost: Sequence[Mapping[str, Any]]) -> Iterator[Any]:
    for stretch in lost:
        first, last = stretch["frames"]
        yield stretch["why"] if type(first) is int and type(last) is int else None


def _damaged(record: Mapping[str, Any], why: Message) -> MeasuringError:
    named = record.get("id") if isinstance(record, Mapping) else None
    where = f"track {named}" if isinstance(named, str) else "a track"
    said = message("This kept track is damaged: {why}.", why=why)
    return MeasuringError(
        Problem("damaged-track", where, said, message("Ask for a copy of the case that is whole."))
    )
