"""A stored picture with brightness and colour at every point: stored colour is repeated, not blended."""

import re
from typing import Any

import numpy as np
from av.video.frame import VideoFrame
from av.video.plane import VideoPlane

from reviewer.video.deinterlacing import Lines, filled, first_line, is_interlaced

_PLANAR = re.compile(r"(?:yuvj?a?4([0124]{2})p|gray)(?:(\d+)le)?")
# Points across and down that share one colour, by the last two figures of the sampling's name.
_SHARED = {"44": (1, 1), "22": (2, 1), "20": (2, 2), "40": (1, 2), "11": (4, 1), "10": (4, 4)}


def at_every_point(frame: VideoFrame, room: VideoFrame | None = None) -> VideoFrame | None:
    """The frame as 4:4:4 planes of its own depth, one moment of two; None where it is not made of planes.

    Transparency is left out; a grey picture gets neutral colour. ``room`` is a frame given earlier and needed
    no longer: fresh memory costs more than the work.
    """
    found = _PLANAR.fullmatch(frame.format.name)
    if found is None or any(plane.line_size <= 0 for plane in frame.planes):
        return None
    depth = int(found[2] or 8)
    shown = _room(frame, f"yuv444p{depth}le" if depth > 8 else "yuv444p", room)
    first = first_line(frame) if is_interlaced(frame) else None
    for number, plane in enumerate(shown.planes):
        if number and found[1] is None:
            lines_of(plane, depth)[:] = 1 << (depth - 1)
            continue
        lines = lines_of(frame.planes[number], depth)
        moment = lines if first is None else filled(lines, first)
        _spread(moment, plane, _SHARED[found[1]] if number else (1, 1))
    return shown


def moment_of(planar: VideoFrame, first: int) -> VideoFrame:
    """The moment of a planar RGB frame that has lines ``first``, ``first`` + 2 and so on."""
    shown = VideoFrame(planar.width, planar.height, planar.format.name)
    depth = planar.format.components[0].bits
    for plane, stored in zip(shown.planes, planar.planes, strict=True):
        lines_of(plane, depth)[:] = filled(lines_of(stored, depth), first)
    return shown


def _room(frame: VideoFrame, planar: str, room: VideoFrame | None) -> VideoFrame:
    if room and (room.width, room.height, room.format.name) == (frame.width, frame.height, planar):
        return room
    return VideoFrame(frame.width, frame.height, planar)


def lines_of(plane: VideoPlane, depth: int) -> Lines:
    """What a plane of ``depth`` bits holds; a view, padding left out."""
    return _stored(plane, np.dtype(np.uint8 if depth == 8 else np.uint16))[: plane.height, : plane.width]


def _stored(plane: VideoPlane, kind: np.dtype[Any]) -> Lines:
    rows: Lines = np.frombuffer(memoryview(plane), np.uint8).reshape(-1, plane.line_size).view(kind)
    return rows


def _spread(lines: Lines, plane: VideoPlane, shared: tuple[int, int]) -> None:
    """Write each number ``shared`` times across and down: across as one wider number (0x12 as 0x1212)."""
    across, down = shared
    wide = np.dtype(f"u{across * lines.itemsize}")
    ones = sum(1 << 8 * lines.itemsize * place for place in range(across))
    target = _stored(plane, wide)[: plane.height, : lines.shape[1]]
    np.multiply(lines, wide.type(ones), out=target[::down], dtype=wide)
    for offset in range(1, down):
        rows = target[offset::down]
        rows[:] = target[::down][: len(rows)]
