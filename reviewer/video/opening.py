"""Opening a recording: its index, checked by a trial, and its first picture."""

from fractions import Fraction
from itertools import islice
from pathlib import Path

from av.video.frame import VideoFrame

from reviewer.terms.pictures import RecordingFacts
from reviewer.terms.times import TimeBase
from reviewer.video.colour import converter
from reviewer.video.container import open_container
from reviewer.video.errors import refused
from reviewer.video.indexing import Index, decoded, index_by_decoding, index_of, packets
from reviewer.video.orientation import orientation_of, square_size
from reviewer.video.recording import Recording

TRIAL = 16
"""Frames decoded at opening to see whether packets are frames."""


def open_recording(path: Path) -> Recording:
    """Open a recording and index it; `VideoError` says what is wrong with the file."""
    container, stream = open_container(path, "NONE")
    with container:
        # Asked of a closed file, the stream answers with rubbish.
        ticks, aspect = stream.time_base or Fraction(1), stream.sample_aspect_ratio or Fraction(1)
        index = index_of(container, stream)
    first = _first_frames(path)
    if index is not None:
        index = index.beginning_with(tuple(frame.pts for frame in first))
    if index is None:
        index = _counted(path)
    if not first or not index.pts:
        raise refused(
            "no-frames", path, "No picture of the recording can be decoded.", "Copy it again from the camera."
        )
    return _recording(path, index, first[0], ticks, aspect)


def picture_hashes(path: Path) -> tuple[str, ...]:
    """`Recording.picture_hash` of every frame of a file, in display order; `VideoError`."""
    with open_recording(path) as recording:
        return tuple(recording.hashes())


def _first_frames(path: Path) -> tuple[VideoFrame, ...]:
    container, stream = open_container(path, "NONE")
    with container:
        frames = (frame for frame, _ in decoded(packets(container, stream)) if frame is not None)
        return tuple(islice(frames, TRIAL))


def _counted(path: Path) -> Index:
    container, stream = open_container(path, "AUTO")
    with container:
        return index_by_decoding(container, stream)


def _recording(path: Path, index: Index, first: VideoFrame, ticks: Fraction, aspect: Fraction) -> Recording:
    coded = first.width, first.height
    turn, square = orientation_of(first), square_size(coded, aspect)
    facts = RecordingFacts(
        sha256="",
        time_base=TimeBase(ticks.numerator, ticks.denominator),
        pts=index.pts,
        key_frames=index.key_frames,
        counted_by="decoding" if index.by_decoding else "index",
        coded=coded,
        displayed=(square[1], square[0]) if turn.sideways else square,
        rotation=turn.rotation,
        pixel_aspect=f"{aspect.numerator}/{aspect.denominator}",
    )
    return Recording(path, index, facts, converter(square, turn))
