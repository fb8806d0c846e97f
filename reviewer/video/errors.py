"""What can be wrong with a recording, each with its place and what mends it."""

from pathlib import Path

from reviewer.terms.messages import Message, message
from reviewer.terms.problems import Problem, ReviewerError


class VideoError(ReviewerError):
    """A recording, or one frame of it, cannot be read; holds one problem."""


def refused(code: str, path: Path, said: Message, remedy: Message) -> VideoError:
    """The error for a whole file."""
    return VideoError(Problem(code, str(path), said, remedy))


def unreadable(path: Path) -> VideoError:
    """The file is there and may not be read."""
    return refused(
        "recording-unreadable",
        path,
        message("The file cannot be read."),
        message("Check its permissions and its drive."),
    )


def out_of_range(path: Path, frame: int, count: int) -> VideoError:
    """A frame number past either end."""
    said = message(
        "Frame {frame} is not in the recording, which has frames 0 to {last}.", frame=frame, last=count - 1
    )
    remedy = message("Ask for a frame from 0 to {last}.", last=count - 1)
    return VideoError(Problem("frame-out-of-range", f"{path}: frame {frame}", said, remedy))


def missing(path: Path, frame: int) -> VideoError:
    """A frame that the index promises and the decoder does not give."""
    said = message("The file lists this frame, but its picture is damaged beyond decoding.")
    remedy = message("Use a frame beside it, or a fresh copy of the recording.")
    return VideoError(Problem("frame-missing", f"{path}: frame {frame}", said, remedy))


def changed(path: Path) -> VideoError:
    """The file no longer holds what it held when it was opened."""
    return refused(
        "recording-changed",
        path,
        message("The file has changed since it was opened."),
        message("Open it again; if another program still writes to it, wait until that is done."),
    )


def no_such_stream(path: Path, stream: int, streams: int) -> VideoError:
    """A number of moving pictures that the file does not hold."""
    said = message(
        "The file's moving pictures are numbered from 0, and {stream} is not among them.", stream=stream
    )
    remedy = message("Ask for a number from 0 to {last}.", last=streams - 1)
    return VideoError(Problem("no-such-stream", f"{path}: stream {stream}", said, remedy))


def too_large(path: Path, width: int, height: int) -> VideoError:
    """Pictures larger than any camera's."""
    return refused(
        "picture-too-large",
        path,
        message(
            "Its pictures are said to be {width} x {height} points, more than can be opened here.",
            width=width,
            height=height,
        ),
        message("Check the file; if it is right, convert it to at most 16384 points a side."),
    )
