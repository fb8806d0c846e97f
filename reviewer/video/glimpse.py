"""The first picture of a file at once, before anything is listed: to be looked at, never to be measured on.

Its colours are those of libav's own conversion. Whatever needs more than that (turned, interlaced, high
range, pixels that are not square) has no glimpse.
"""

from dataclasses import dataclass
from pathlib import Path

import av
from av.error import FFmpegError

_HIGH_RANGE = (16, 18)
"""Transfer characteristics of PQ and HLG (ITU-T H.273)."""


@dataclass(frozen=True, slots=True)
class Glimpse:
    """A picture as rows of 32-bit pixels, blue first; a row takes ``stride`` bytes."""

    width: int
    height: int
    stride: int
    bgra: bytes


def glimpse(path: Path) -> Glimpse | None:
    """The first picture; None where the file has none that can be shown as it is stored."""
    try:
        with av.open(str(path)) as box:
            if not box.streams.video:
                return None
            frame = next(box.decode(video=0))
            pixels = box.streams.video[0].sample_aspect_ratio
            plain = not (frame.rotation or frame.interlaced_frame or frame.color_trc in _HIGH_RANGE)
            if not plain or (pixels is not None and pixels not in (0, 1)):
                return None
            plane = frame.reformat(format="bgra").planes[0]
            return Glimpse(frame.width, frame.height, plane.line_size, bytes(plane))
    except (FFmpegError, StopIteration, ValueError, OSError):
        return None
