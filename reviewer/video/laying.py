"""Scenes as the stored pictures of a clip: heads covered, pictures laid, what is drawn laid over them."""

from collections.abc import Sequence
from io import BytesIO
from typing import Any

import av
import numpy as np
from av.filter import Graph
from av.filter.context import FilterContext
from av.video.frame import VideoFrame
from av.video.reformatter import ColorPrimaries, ColorRange, Colorspace, ColorTrc, VideoReformatter
from numpy.typing import NDArray

from reviewer.terms.clips import Laid, Scene, Sheet
from reviewer.terms.covers import Cover
from reviewer.terms.pictures import Picture
from reviewer.video.colour import FLAGS

_GROWN = 2.0
"""Pixels that a cover reaches beyond its ellipse: nothing of a head is left where pixels share a colour."""
_PLAIN = np.array([96, 96, 96, 255], np.uint8)
"""Blue, green, red and opacity of a cover."""
_BEHIND = np.array([24, 24, 24, 255], np.uint8)
"""Of what is seen where no picture lies."""
_MATRIXED = "flags=bilinear+bitexact:out_color_matrix=bt709:out_range=tv"

Pixels = NDArray[np.uint8]
"""Rows × columns × (blue, green, red, opacity)."""


class Layer:
    """Lays the scenes of one clip; not for two threads at once."""

    def __init__(self, size: tuple[int, int]) -> None:
        """``size``: width and height of the clip, both even."""
        self._size = size
        self._scaler = VideoReformatter()
        self._sheets: tuple[Sheet, ...] = ()
        self._blending = _Blending(size, ())

    def stored(self, scene: Scene) -> VideoFrame:
        """The scene as YUV 4:2:0 (ITU-R BT.709, limited range); covers lie beneath all that is drawn."""
        if scene.sheets != self._sheets:
            self._sheets, self._blending = scene.sheets, _Blending(self._size, scene.sheets)
        return self._blending.stored(self._pixels(scene.laid))

    def _pixels(self, laid: Sequence[Laid]) -> Pixels:
        if len(laid) == 1 and laid[0].size == self._size == laid[0].picture.size:
            return covered(laid[0].picture, laid[0].covers)
        width, height = self._size
        canvas = np.empty((height, width, 4), np.uint8)
        canvas[:] = _BEHIND
        for one in laid:
            (left, top), (across, down) = one.at, one.size
            canvas[top : top + down, left : left + across] = self._sized(one)
        return canvas

    def _sized(self, one: Laid) -> Pixels:
        pixels = covered(one.picture, one.covers)
        if one.size == one.picture.size:
            return pixels
        width, height = one.size
        stored = VideoFrame.from_ndarray(pixels, "bgra")
        shown = self._scaler.reformat(stored, width=width, height=height, interpolation=FLAGS, threads=1)
        return shown.to_ndarray().astype(np.uint8, copy=False)


def covered(picture: Picture, covers: Sequence[Cover]) -> Pixels:
    """The picture, every pixel whose centre lies in a cover or less than two pixels from it filled plain."""
    width, height = picture.size
    pixels = np.frombuffer(picture.bgra, np.uint8).reshape(height, width, 4)
    if not covers:
        return pixels
    filled = pixels.copy()
    for cover in covers:
        _fill(filled, cover)
    return filled


def _fill(pixels: Pixels, cover: Cover) -> None:
    height, width, _ = pixels.shape
    x, y = cover.centre.x.thousandths / 1000, cover.centre.y.thousandths / 1000
    across, down = cover.across.thousandths / 1000 + _GROWN, cover.down.thousandths / 1000 + _GROWN
    left, right = max(0, int(x - across)), min(width, int(x + across) + 2)
    top, bottom = max(0, int(y - down)), min(height, int(y + down) + 2)
    if left >= right or top >= bottom:
        return
    rows = ((np.arange(top, bottom) - y) / down)[:, None]
    columns = ((np.arange(left, right) - x) / across)[None, :]
    pixels[top:bottom, left:right][rows**2 + columns**2 <= 1] = _PLAIN


class _Blending:
    """A filter from composed pixels, with sheets laid over them, to stored pictures."""

    def __init__(self, size: tuple[int, int], sheets: Sequence[Sheet]) -> None:
        self._graph = graph = Graph()
        width, height = size
        self._source = graph.add("buffer", f"video_size={width}x{height}:pix_fmt=bgra:time_base=1/25")
        below = _linked(graph, self._source, "scale", _MATRIXED)
        below = _linked(graph, below, "format", "pix_fmts=yuv420p")
        nodes: list[tuple[FilterContext, VideoFrame]] = []
        for sheet in sheets:
            layer = VideoReformatter().reformat(_opened(sheet.png), format="yuva420p", **_TO)
            about = f"video_size={layer.width}x{layer.height}:pix_fmt=yuva420p:time_base=1/25"
            node = graph.add("buffer", f"{about}:colorspace=bt709:range=tv")
            over = graph.add("overlay", f"x={sheet.at[0]}:y={sheet.at[1]}:format=yuv420")
            below.link_to(over, 0, 0)
            node.link_to(over, 0, 1)
            nodes.append((node, layer))
            below = over
        self._sink = _linked(graph, below, "buffersink")
        graph.configure()
        for node, layer in nodes:
            layer.pts = 0
            node.push(layer)
            node.push(None)
        self._count = 0

    def stored(self, pixels: Pixels) -> VideoFrame:
        frame = VideoFrame.from_numpy_buffer(pixels, "bgra")
        frame.pts, self._count = self._count, self._count + 1
        self._source.push(frame)
        found = self._sink.pull()
        assert isinstance(found, VideoFrame)
        found.colorspace, found.color_range = int(Colorspace.ITU709), int(ColorRange.MPEG)
        found.color_primaries, found.color_trc = ColorPrimaries.BT709, ColorTrc.BT709
        return found


_TO: dict[str, Any] = {
    "src_color_range": ColorRange.JPEG,
    "dst_colorspace": Colorspace.ITU709,
    "dst_color_range": ColorRange.MPEG,
    "interpolation": FLAGS,
    "threads": 1,
}


def _linked(graph: Graph, below: FilterContext, name: str, options: str | None = None) -> FilterContext:
    node = graph.add(name, options)
    below.link_to(node)
    return node


def _opened(png: bytes) -> VideoFrame:
    with av.open(BytesIO(png), "r", format="png_pipe") as file:
        return next(file.decode(video=0))
