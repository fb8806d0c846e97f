"""A picture as the bytes of a PNG or JPEG file: same picture, same bytes."""

from fractions import Fraction

import numpy as np
from av.codec.context import CodecContext
from av.video.codeccontext import VideoCodecContext
from av.video.frame import VideoFrame
from av.video.reformatter import ColorPrimaries, ColorRange, Colorspace, ColorTrc, VideoReformatter
from numpy.typing import NDArray

from reviewer.terms.pictures import Picture
from reviewer.video.colour import FLAGS

_FLAG_BITEXACT, _FLAG_QSCALE = 1 << 23, 1 << 1
# libavcodec's scale 1 (finest) to 31; 2 is about what other encoders call quality 92.
_JPEG_STEPS = (2, 3, 4, 5, 6, 8, 10, 13, 17)
_SIZES = (1000, 682, 528, 441, 374, 286, 242, 203, 171)
"""Of a picture at each step, in thousandths of the finest: measured on grainy film, here to guess by."""
_BLOCK, _EVERY = 16, 4
"""Rows of a block, and of how many rows of blocks one is enough to guess by."""
_SMALLEST = 360
"""Rows below which no picture is halved."""


def png(picture: Picture) -> bytes:
    """The picture as an 8-bit RGB PNG that says it is sRGB; no time, no software's name."""
    frame = _rgb(picture)
    frame.color_primaries, frame.color_trc = ColorPrimaries.BT709, ColorTrc.IEC61966_2_1
    return _encoded(_encoder("png", frame), frame)


def jpeg(picture: Picture, most: int | None = None) -> bytes:
    """The picture as a JPEG for reports (JFIF: BT.601, full range); no time, no software's name.

    Where it would take more than ``most`` bytes it becomes coarser, and where that is not enough half as wide
    and high. A picture of few rows may take more all the same.
    """
    pixels = _pixels(picture)
    if most is None:
        return _jpeg(_full_range(pixels), 0)
    found = _coarser(pixels, most)
    while len(found) > most and len(pixels) >= 2 * _SMALLEST:
        pixels = _halved(pixels)
        found = _coarser(pixels, most)
    return found


def _coarser(pixels: NDArray[np.uint8], most: int) -> bytes:
    """At the finest step that fits, else at the coarsest."""
    size, last = _guess(pixels), len(_JPEG_STEPS) - 1
    step = next((n for n, share in enumerate(_SIZES) if size * share <= most * _SIZES[0]), last)
    frame = _full_range(pixels)
    found = _jpeg(frame, step)
    while len(found) > most and step < last:
        step += 1
        found = _jpeg(frame, step)
    return found


def _guess(pixels: NDArray[np.uint8]) -> int:
    """How many bytes the picture takes at the finest step, by every fourth row of its blocks."""
    rows = len(pixels) // _BLOCK * _BLOCK
    if rows < _EVERY * _BLOCK:
        return len(_jpeg(_full_range(pixels), 0))
    blocks = pixels[:rows].reshape(-1, _BLOCK, *pixels.shape[1:])[::_EVERY]
    some = np.ascontiguousarray(blocks.reshape(-1, *pixels.shape[1:]))
    step = len(_JPEG_STEPS) // 2
    size = len(_jpeg(_full_range(some), step)) * len(pixels) // len(some)
    return size * _SIZES[0] // _SIZES[step]


def _halved(pixels: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Half as wide and high: each pixel the mean of four, rounded."""
    high, wide = len(pixels) // 2, pixels.shape[1] // 2
    fours = pixels[: 2 * high, : 2 * wide].reshape(high, 2, wide, 2, 4)
    halved: NDArray[np.uint8] = ((fours.sum((1, 3), np.uint16) + 2) // 4).astype(np.uint8)
    return halved


def _full_range(pixels: NDArray[np.uint8]) -> VideoFrame:
    return VideoReformatter().reformat(
        VideoFrame.from_ndarray(pixels, "bgra"),
        format="yuvj444p",
        dst_colorspace=Colorspace.ITU601,
        dst_color_range=ColorRange.JPEG,
        interpolation=FLAGS,
        threads=1,
    )


def _jpeg(frame: VideoFrame, step: int) -> bytes:
    encoder = _encoder("mjpeg", frame)
    encoder.flags |= _FLAG_QSCALE
    encoder.qmin = encoder.qmax = _JPEG_STEPS[step]
    encoder.options = {"dct": "int"}  # the others depend on the processor
    return _encoded(encoder, frame)


def _rgb(picture: Picture) -> VideoFrame:
    return VideoFrame.from_ndarray(np.ascontiguousarray(_pixels(picture)[..., 2::-1]), "rgb24")


def _pixels(picture: Picture) -> NDArray[np.uint8]:
    width, height = picture.size
    return np.frombuffer(picture.bgra, np.uint8).reshape(height, width, 4)


def _encoder(name: str, frame: VideoFrame) -> VideoCodecContext:
    encoder = CodecContext.create(name, "w")
    assert isinstance(encoder, VideoCodecContext)
    encoder.width, encoder.height, encoder.pix_fmt = frame.width, frame.height, frame.format.name
    encoder.time_base = Fraction(1, 25)
    encoder.thread_count = 1
    encoder.flags |= _FLAG_BITEXACT
    return encoder


def _encoded(encoder: VideoCodecContext, frame: VideoFrame) -> bytes:
    frame.pts, frame.time_base = 0, encoder.time_base
    return b"".join(bytes(packet) for packet in [*encoder.encode(frame), *encoder.encode(None)])
