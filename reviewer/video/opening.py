"""Opening a recording: its index, checked by a trial, and its first picture."""

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from av.video.frame import VideoFrame

from reviewer.terms.messages import message
from reviewer.terms.pictures import RecordingFacts
from reviewer.terms.times import TimeBase
from reviewer.video.colour import converter, transfer_of
from reviewer.video.container import SURE, SWIFT, Opened, Origin, moving_pictures, open_container
from reviewer.video.deinterlacing import is_interlaced
from reviewer.video.errors import VideoError, refused
from reviewer.video.indexing import Index, Source, index_by_decoding, index_of
from reviewer.video.keeping import MEMORY, Shares
from reviewer.video.orientation import orientation_of, square_size
from reviewer.video.reading import Reader
from reviewer.video.recording import Recording

TRIAL = 4
"""Frames decoded at opening to see whether packets are frames."""


@dataclass(frozen=True, slots=True)
class _Heading:
    """What the container says of the chosen stream. Asked of a closed file, a stream answers with rubbish."""

    ticks: Fraction
    aspect: Fraction
    streams: int
    time_code: str | None


def open_recording(path: Path, *, memory: int = MEMORY, stream: int = 0) -> Recording:
    """Open a recording and index it; `VideoError` says what is wrong with the file.

    ``memory``: bytes it may take while open. ``stream``: which of the file's moving pictures, from 0.
    """
    origin = Origin.of(path, stream)
    opened = open_container(path, SWIFT, stream)
    heading = _heading(opened)
    index = index_of(*opened)
    first = _first_frames(origin, index)
    if index is not None:
        index = index.beginning_with(tuple(source for _, source in first))
    if index is None:
        index = _counted(path, stream)
        first = first or (_first_frames(origin, index) if index.pts else [])
    if not first or not index.pts:
        opened[0].close()
        raise _no_frames(path)
    return _recording(origin, index, first[0][0], heading, memory, Reader(origin, index, SWIFT, opened))


def _heading(opened: Opened) -> _Heading:
    container, stream = opened
    return _Heading(
        stream.time_base or Fraction(1),
        stream.sample_aspect_ratio or Fraction(1),
        len(moving_pictures(container)),
        stream.metadata.get("timecode") or container.metadata.get("timecode"),
    )


def _first_frames(origin: Origin, index: Index | None) -> list[tuple[VideoFrame, Source]]:
    """A few frames from the start, by one thread; none without an index."""
    if index is None:
        return []
    reader = Reader(origin, index, SURE)
    try:
        return reader.first(TRIAL)
    finally:
        reader.close()


def _counted(path: Path, stream: int) -> Index:
    """The index by decoding; where errors are met, by one thread, which counts the same each time."""
    for decoding in (SWIFT, SURE):
        opened = open_container(path, decoding, stream)
        with opened[0]:
            index, sound = index_by_decoding(*opened)
        if sound:
            break
    return index


def _no_frames(path: Path) -> VideoError:
    return refused(
        "no-frames",
        path,
        message("No picture of the recording can be decoded."),
        message("Copy it again from the camera."),
    )


def _recording(
    origin: Origin, index: Index, first: VideoFrame, heading: _Heading, memory: int, reader: Reader
) -> Recording:
    coded = first.width, first.height
    turn, square = orientation_of(first), square_size(coded, heading.aspect)
    facts = RecordingFacts(
        sha256="",
        time_base=TimeBase(heading.ticks.numerator, heading.ticks.denominator),
        pts=index.pts,
        key_frames=index.key_frames,
        counted_by="decoding" if index.by_decoding else "index",
        coded=coded,
        displayed=(square[1], square[0]) if turn.sideways else square,
        rotation=turn.rotation,
        pixel_aspect=f"{heading.aspect.numerator}/{heading.aspect.denominator}",
        interlaced=is_interlaced(first),
        transfer=transfer_of(first),
        stream=origin.stream,
        streams=heading.streams,
        time_code=heading.time_code,
    )
    stored = sum(plane.buffer_size for plane in first.planes)
    return Recording(origin, index, facts, converter(square, turn), Shares.of(memory, stored), reader)
