"""The yardstick: the shortest loops over libav that do the work, with nothing of ours in them."""

from bisect import bisect_right
from pathlib import Path

import av
import numpy as np
from av.container import InputContainer
from av.video.frame import VideoFrame
from av.video.reformatter import VideoReformatter
from av.video.stream import VideoStream
from numpy.typing import NDArray

Opened = tuple[InputContainer, VideoStream]


def opened(path: Path, threads: str = "AUTO") -> Opened:
    """The file and its first stream of moving pictures; ``threads`` as libav's thread type."""
    container = av.open(str(path))
    stream = container.streams.video[0]
    stream.thread_type = threads
    return container, stream


def decode(source: Opened) -> int:
    """Decode all that is left; how many frames."""
    container, stream = source
    return sum(1 for _ in container.decode(stream))


def demux(source: Opened) -> None:
    """Read every packet of the stream."""
    container, stream = source
    for _ in container.demux(stream):
        pass


def ticks(path: Path) -> tuple[int, ...]:
    """Times of the packets that are shown, in order."""
    container, stream = opened(path, "NONE")
    with container:
        listed = [p.pts for p in container.demux(stream) if p.pts is not None and not p.is_discard]
    return tuple(sorted(listed))


def aims(path: Path) -> tuple[int, ...]:
    """Where to seek for each of `ticks`: its own time.

    MPEG-TS is sought by decoding times, whether or not a key frame is there: the last key frame's before it.
    """
    container, stream = opened(path, "NONE")
    with container:
        if container.format.name != "mpegts":
            return ticks(path)
        keys = sorted(
            (p.pts, p.dts)
            for p in container.demux(stream)
            if p.is_keyframe and p.pts is not None and p.dts is not None
        )
    return tuple(keys[max(0, bisect_right(keys, (pts, pts)) - 1)][1] for pts in ticks(path))


def sought(source: Opened, pts: int, aim: int | None = None) -> VideoFrame | None:
    """Seek to a time, or to where one must aim, and decode forward to the first frame that is no earlier."""
    container, stream = source
    try:
        container.seek(pts if aim is None else aim, stream=stream)
        return next((f for f in container.decode(stream) if f.pts is not None and f.pts >= pts), None)
    except (av.error.FFmpegError, OSError):
        return None


def converted(source: Opened, pts: int, scaler: VideoReformatter) -> None:
    """The same, and its conversion for a screen."""
    found = sought(source, pts)
    if found is not None:
        scaler.reformat(found, format="bgra")


def rows_of(frame: VideoFrame) -> NDArray[np.uint8]:
    """The frame as rows × columns × (blue, green, red)."""
    return np.asarray(frame.to_ndarray(format="bgr24"), np.uint8)
