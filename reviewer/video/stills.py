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
_JPEG_STEPS = (2, 3, 4, 5, 6, 8, 10, 13, 17, 23, 31)
_SIZES = (1000, 682, 528, 441, 374, 286, 242, 203, 171, 146, 134)
"""Of a picture at each step, in thousandths of the finest: measured on grainy film, here to guess by."""


def png(picture: Picture) -> bytes:
    """The picture as an 8-bit RGB PNG that says it is sRGB; no time, no software's name."""
    frame = _rgb(picture)
    frame.color_primaries, frame.color_trc = ColorPrimaries.BT709, ColorTrc.IEC61966_2_1
    return _encoded(_encoder("png", frame), frame)


def jpeg(picture: Picture, most: int | None = None) -> bytes:
    """The picture as a JPEG for reports (JFIF: BT.601, full range); no time, no software's name.

    Coarser, down to the coarsest step, where it would take more than ``most`` bytes.
    """
    frame = _full_range(picture)
    if most is None:
        return _jpeg(frame, 0)
    width, height = picture.size
    guess = _step(width * height // 8, 0, most)  # one bit a pixel, as is usual at the finest step
    found = _jpeg(frame, guess)
    step = _step(len(found), guess, most)
    if step != guess:
        found = _jpeg(frame, step)
    while len(found) > most and step < len(_JPEG_STEPS) - 1:
        step += 1
        found = _jpeg(frame, step)
    return found


def _step(size: int, at: int, most: int) -> int:
    """The finest step that may fit, as a picture of this size at one step shrinks."""
    fitting = (step for step, share in enumerate(_SIZES) if size * share <= most * _SIZES[at])
    return next(fitting, len(_SIZES) - 1)


def _full_range(picture: Picture) -> VideoFrame:
    return VideoReformatter().reformat(
        VideoFrame.from_ndarray(_pixels(picture), "bgra"),
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
