"""What can be wrong with a recording, each with its place and what mends it."""

from pathlib import Path

from reviewer.terms.problems import Problem, ReviewerError


class VideoError(ReviewerError):
    """A recording, or one frame of it, cannot be read; holds one problem."""


def refused(code: str, path: Path, message: str, remedy: str) -> VideoError:
    """The error for a whole file."""
    return VideoError(Problem(code, str(path), message, remedy))


def unreadable(path: Path) -> VideoError:
    """The file is there and may not be read."""
    return refused(
        "recording-unreadable",
        path,
        "The file cannot be read.",
        "Check its permissions and its drive.",
    )


def out_of_range(path: Path, frame: int, count: int) -> VideoError:
    """A frame number past either end."""
    message = f"Frame {frame} is not in the recording, which has frames 0 to {count - 1}."
    remedy = f"Ask for a frame from 0 to {count - 1}."
    return VideoError(Problem("frame-out-of-range", f"{path}: frame {frame}", message, remedy))


def missing(path: Path, frame: int) -> VideoError:
    """A frame that the index promises and the decoder does not give."""
    message = "The file lists this frame, but its picture is damaged beyond decoding."
    remedy = "Use a frame beside it, or a fresh copy of the recording."
    return VideoError(Problem("frame-missing", f"{path}: frame {frame}", message, remedy))


def changed(path: Path) -> VideoError:
    """The file no longer holds what it held when it was opened."""
    return refused(
        "recording-changed",
        path,
        "The file has changed since it was opened.",
        "Open it again; if another program still writes to it, wait until that is done.",
    )


def no_such_stream(path: Path, stream: int, streams: int) -> VideoError:
    """A number of moving pictures that the file does not hold."""
    message = f"The file's moving pictures are numbered from 0, and {stream} is not among them."
    remedy = f"Ask for a number from 0 to {streams - 1}."
    return VideoError(Problem("no-such-stream", f"{path}: stream {stream}", message, remedy))


def too_large(path: Path, width: int, height: int) -> VideoError:
    """Pictures larger than any camera's."""
    return refused(
        "picture-too-large",
        path,
        f"Its pictures are said to be {width} x {height} points, more than can be opened here.",
        "Check the file; if it is right, convert it to at most 16384 points a side.",
    )
