"""A picture as the bytes of a PNG or JPEG file: same picture, same bytes."""

from fractions import Fraction

import numpy as np
from av.codec.context import CodecContext
from av.video.codeccontext import VideoCodecContext
from av.video.frame import VideoFrame
from av.video.reformatter import ColorPrimaries, ColorRange, Colorspace, ColorTrc, VideoReformatter

from reviewer.terms.pictures import Picture
from reviewer.video.colour import FLAGS

_FLAG_BITEXACT, _FLAG_QSCALE = 1 << 23, 1 << 1
# libavcodec's scale 1 (finest) to 31; 2 is about what other encoders call quality 92. One step is 118.
_JPEG_STEPS = (2, 3, 4, 5, 6, 8, 10, 13, 17, 23, 31)
_JPEG_STEP = 118


def png(picture: Picture) -> bytes:
    """The picture as an 8-bit RGB PNG that says it is sRGB; no time, no software's name."""
    frame = _rgb(picture)
    frame.color_primaries, frame.color_trc = ColorPrimaries.BT709, ColorTrc.IEC61966_2_1
    return _encoded(_encoder("png", frame), frame)


def jpeg(picture: Picture, most: int | None = None) -> bytes:
    """The picture as a JPEG for reports (JFIF: BT.601, full range); no time, no software's name.

    Coarser, down to the coarsest step, until it takes no more than ``most`` bytes.
    """
    frame = _full_range(picture)
    step = 0
    while True:
        found = _jpeg(frame, _JPEG_STEPS[step])
        if most is None or len(found) <= most or step == len(_JPEG_STEPS) - 1:
            return found
        step = _next_step(step, len(found), most)


def _next_step(step: int, size: int, most: int) -> int:
    """The first coarser step at which the size may fit, if it shrinks as the step grows."""
    fitting = (
        n for n, each in enumerate(_JPEG_STEPS) if n > step and each * most >= _JPEG_STEPS[step] * size
    )
    return next(fitting, len(_JPEG_STEPS) - 1)


def _full_range(picture: Picture) -> VideoFrame:
    return VideoReformatter().reformat(
        _rgb(picture),
        format="yuvj444p",
        dst_colorspace=Colorspace.ITU601,
        dst_color_range=ColorRange.JPEG,
        interpolation=FLAGS,
        threads=1,
    )


def _jpeg(frame: VideoFrame, step: int) -> bytes:
    encoder = _encoder("mjpeg", frame)
    encoder.flags |= _FLAG_QSCALE
    encoder.global_quality = step * _JPEG_STEP
    encoder.options = {"dct": "int"}  # the others depend on the processor
    return _encoded(encoder, frame)


def _rgb(picture: Picture) -> VideoFrame:
    width, height = picture.size
    pixels = np.frombuffer(picture.bgra, np.uint8).reshape(height, width, 4)
    return VideoFrame.from_ndarray(np.ascontiguousarray(pixels[..., 2::-1]), "rgb24")


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
