"""Small pictures: a stored picture to a JPEG of a few kilobytes, and back to the screen.

They are for finding one's way, never evidence: scaled by area, compressed, and shown only until the full
picture is there.
"""

from fractions import Fraction

import numpy as np
from av.codec.context import CodecContext
from av.packet import Packet
from av.video.codeccontext import VideoCodecContext
from av.video.frame import VideoFrame
from av.video.reformatter import ColorRange, Interpolation, VideoReformatter

from reviewer.terms.pictures import Picture, RecordingFacts
from reviewer.video.colour import Converter, converter, full_range, matrix_of
from reviewer.video.orientation import Orientation

LONGEST = 480
"""Pixels of a small picture's longer side."""

FORMAT = "yuvj420p"
_FAR = 4
"""From how many times smaller on, points are picked rather than averaged: of 4K, averaging costs too much."""
_CODES = {"bt709": 1, "fcc": 4, "bt601": 6, "smpte240m": 7, "bt2020": 9}  # of ITU-T H.273, table 4
_BT709 = 1
_FLAG_QSCALE = 1 << 1
_STEP = 5 * 118  # libavcodec's quantiser 1 (finest) to 31, times its unit


def small_size(full: tuple[int, int]) -> tuple[int, int]:
    """Width and height, both even, of the small picture of a full one; never larger than it, 2 at least."""
    scale = min(Fraction(1), Fraction(LONGEST, max(full)))
    width, height = (max(2, int(side * scale) // 2 * 2) for side in full)
    return width, height


class Shrinker:
    """Makes small pictures of one recording's frames; not for two threads at once.

    ``square``: size before turning, with square pixels.
    """

    def __init__(self, square: tuple[int, int], wide_range: bool) -> None:
        self._size = small_size(square)
        far = square[0] > _FAR * self._size[0]
        self._way = Interpolation.FAST_BILINEAR if far else Interpolation.AREA
        self._scaler, self._packer = VideoReformatter(), VideoReformatter()
        self._toned = converter(self._size, Orientation()) if wide_range else None
        self._encoder = _encoder(self._size)
        self._given = 0

    def matrix(self, frame: VideoFrame) -> int:
        """Code of the matrix that the JPEG of this frame is in."""
        return _BT709 if self._toned is not None else _CODES.get(matrix_of(frame)[0], _BT709)

    def jpeg(self, frame: VideoFrame) -> bytes:
        """The picture as stored, not turned, as a JPEG in the stream's own matrix and full range."""
        small = self._small(frame)
        small.pts, small.time_base = self._given, self._encoder.time_base
        self._given += 1
        return b"".join(bytes(packet) for packet in self._encoder.encode(small))

    def _small(self, frame: VideoFrame) -> VideoFrame:
        if self._toned is not None:
            native = self._scaler.reformat(frame, *self._size, interpolation=self._way, threads=1)
            return self._packed(self._toned, native)
        _, matrix = matrix_of(frame)
        return self._scaler.reformat(
            frame,
            *self._size,
            format=FORMAT,
            src_colorspace=matrix,
            dst_colorspace=matrix,
            interpolation=self._way,
            src_color_range=ColorRange.JPEG if full_range(frame) else ColorRange.MPEG,
            dst_color_range=ColorRange.JPEG,
            threads=1,
        )

    def _packed(self, toned: Converter, native: VideoFrame) -> VideoFrame:
        shown = VideoFrame.from_ndarray(np.ascontiguousarray(toned.pixels(native)), "bgra")
        return self._packer.reformat(
            shown, format=FORMAT, dst_colorspace=_BT709, dst_color_range=ColorRange.JPEG, threads=1
        )


class Enlarger:
    """Shows small pictures; not for two threads at once."""

    def __init__(self, square: tuple[int, int], turn: Orientation, facts: RecordingFacts) -> None:
        self._facts, self._turn = facts, turn
        self._converter = converter(small_size(square), turn)
        decoder = CodecContext.create("mjpeg", "r")
        assert isinstance(decoder, VideoCodecContext)
        decoder.thread_count = 1
        self._decoder = decoder

    def picture(self, jpeg: bytes, frame: int, matrix: int, suspect: bool) -> Picture:
        """The small picture as displayed; ``matrix`` is a code of ITU-T H.273."""
        (stored,) = self._decoder.decode(Packet(jpeg))
        stored.colorspace, stored.color_range = matrix, ColorRange.JPEG
        pixels = self._converter.pixels(stored)
        return Picture(
            size=(pixels.shape[1], pixels.shape[0]),
            bgra=pixels.tobytes(),
            frame=frame,
            time=self._facts.time(frame),
            matrix=matrix_of(stored)[0],
            suspect=suspect,
            stands_for=self._facts.displayed,
        )


def _encoder(size: tuple[int, int]) -> VideoCodecContext:
    encoder = CodecContext.create("mjpeg", "w")
    assert isinstance(encoder, VideoCodecContext)
    encoder.width, encoder.height, encoder.pix_fmt = *size, FORMAT
    encoder.time_base = Fraction(1, 25)
    encoder.thread_count = 1
    encoder.flags |= _FLAG_QSCALE
    encoder.global_quality = _STEP
    return encoder
