"""From brightness and colour at every point to red, green and blue, each rounded to the nearest.

What libavfilter's ``scale`` makes of 4:4:4 pictures with this choice is the recommendation's formula,
rounded: within 0.5 of it over the whole cube of colours, the same bytes with and without the processor's
vector instructions and on any number of threads (measured with FFmpeg 8.1 on x86-64; it is the code that
FFmpeg calls ``unstable``). It ends the program where a line is no whole number of its blocks, so lines are
padded to be one. FFmpeg's older code, used for stretching, is kept to one thread: on several it gave other
numbers now and then (red, green, blue of 161x91 to 10 bits: 27 times in 400).
"""

from dataclasses import dataclass

from av.filter import Graph
from av.video.frame import VideoFrame
from av.video.reformatter import Interpolation

_UNSTABLE = 1 << 20
_BLOCK = 128  # points: four times the blocks of FFmpeg 8.1
_EXACT = Interpolation.ACCURATE_RND | Interpolation.BITEXACT
_STRETCHED = int(Interpolation.BILINEAR | _EXACT)
_MATRIXED = int(Interpolation.POINT | Interpolation.FULL_CHR_H_INT | _EXACT) | _UNSTABLE


@dataclass(frozen=True, slots=True)
class Stored:
    """What a 4:4:4 or planar RGB picture's numbers mean.

    Attributes:
        format: libav's name of its pixel format.
        size: width and height.
        matrix: ``scale``'s name of the matrix, or empty where the picture is RGB already.
        full_range: whether black is 0 and white the largest number.
    """

    format: str
    size: tuple[int, int]
    matrix: str
    full_range: bool


class Matrixing:
    """Turns pictures of one kind into RGB of a size and format; not for two threads at once."""

    def __init__(self, stored: Stored, size: tuple[int, int], rgb: str) -> None:
        """``rgb`` is libav's name of the format given out, such as ``bgra``."""
        self._graph = graph = Graph()
        width, height = stored.size
        tags = "" if stored.matrix else ":colorspace=gbr:range=pc"
        source = f"video_size={width}x{height}:pix_fmt={stored.format}:time_base=1/25{tags}"
        nodes = [graph.add("buffer", source)]
        if size != stored.size:
            nodes.append(graph.add("scale", f"w={size[0]}:h={size[1]}:flags={_STRETCHED}:threads=1"))
            nodes.append(graph.add("format", f"pix_fmts={stored.format}"))
        if size[0] % _BLOCK:
            nodes.append(graph.add("pad", f"w={-(-size[0] // _BLOCK) * _BLOCK}"))
        nodes += [graph.add("scale", _options(stored)), graph.add("format", f"pix_fmts={rgb}")]
        graph.link_nodes(*nodes, graph.add("buffersink")).configure()

    def rgb(self, frame: VideoFrame) -> VideoFrame:
        """The frame as RGB, lines perhaps padded on the right."""
        self._graph.vpush(frame)
        return self._graph.vpull()


def _options(stored: Stored) -> str:
    options = f"flags={_MATRIXED}:sws_dither=none:out_range=pc"
    if not stored.matrix:
        return options
    return f"{options}:in_color_matrix={stored.matrix}:in_range={'pc' if stored.full_range else 'tv'}"
