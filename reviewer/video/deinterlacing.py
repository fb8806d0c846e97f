"""One moment of a frame that stores two, line by line.

Of two moments the first in time is shown; each line between is the rounded mean of the two around it. That
looks at nothing but the one frame, so the picture is the same whichever way it is reached. It costs half the
detail down the picture. (Filters that compare with the frames around need them decoded, and given one frame
alone put the second moment back.)
"""

from typing import Any

import av
import numpy as np
from av.filter import Graph
from av.video.frame import VideoFrame
from numpy.typing import NDArray

TREATMENT = "first of two interlaced moments, lines between filled in"

Lines = NDArray[np.unsignedinteger[Any]]
"""Lines × points of one plane."""


def is_interlaced(frame: VideoFrame) -> bool:
    """Whether the frame says it holds two moments."""
    return bool(frame.interlaced_frame)


def first_line(frame: VideoFrame) -> int:
    """0 where the first moment lies in lines 0, 2, 4 and so on, 1 where it lies in the others.

    The frame's own mark, which only a filter can be asked about: it lets a frame through or not.
    """
    graph = Graph()
    size = f"video_size={frame.width}x{frame.height}:pix_fmt={frame.format.name}"
    source = graph.add("buffer", f"{size}:time_base=1/25")
    graph.link_nodes(source, graph.add("select", "eq(interlace_type,TOPFIRST)"), graph.add("buffersink"))
    graph.configure()
    graph.vpush(frame)
    try:
        graph.vpull()
    except av.error.BlockingIOError:
        return 1
    return 0


def filled(lines: Lines, first: int) -> Lines:
    """The moment that has lines ``first``, ``first`` + 2 and so on; at the edges a line is repeated."""
    if len(lines) < 2:
        return lines
    kept = lines[first::2]
    shown = lines.copy()
    above, below = kept[:-1], kept[1:]
    shown[first + 1 :: 2][: len(above)] = (above | below) - ((above ^ below) >> 1)
    if first == 1:
        shown[0] = shown[1]
    if (len(lines) - 1 - first) % 2:
        shown[-1] = shown[-2]
    return shown
