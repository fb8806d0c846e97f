"""Pictures to an H.264 file as a phone or a camcorder would write it.

BT.709, limited range, long groups of pictures, B-frames.
"""

import struct
from collections.abc import Iterable, Sequence
from fractions import Fraction
from pathlib import Path

import av
import numpy as np
from av.video.reformatter import ColorRange, Colorspace
from solids import Pixels

BT709, LIMITED = 1, 1  # codes of ITU-T H.273; range as the codec library counts it
H264 = {"crf": "21", "preset": "slow", "g": "180", "keyint_min": "25", "bf": "3", "threads": "2"}
ONE = 1 << 16  # 1.0 in the 16.16 numbers of a track header


def encode(
    path: Path,
    pictures: Iterable[Pixels],
    size: tuple[int, int],
    rate: Fraction,
    ticks_per_s: int,
    pts: Sequence[int] = (),
    crf: int | None = None,
) -> None:
    """Write RGB `pictures` of `size` (width, height) at a constant `rate`, the index first.

    `pts` are the ticks of the pictures where they come unevenly; `crf` is how coarse they may become.
    """
    chosen = H264 if crf is None else H264 | {"crf": str(crf)}
    base = Fraction(1, ticks_per_s) if pts else 1 / rate
    options = {"movflags": "+faststart", "video_track_timescale": str(ticks_per_s)}
    with av.open(str(path), "w", format="mp4", options=options) as out:
        stream = out.add_stream("libx264", rate=rate, options=chosen)
        stream.width, stream.height, stream.pix_fmt = *size, "yuv420p"
        context = stream.codec_context
        context.color_range, context.colorspace = LIMITED, BT709
        context.color_primaries, context.color_trc = BT709, BT709
        context.time_base = base
        for index, picture in enumerate(pictures):
            out.mux(stream.encode(_frame(picture, pts[index] if pts else index, base)))
        out.mux(stream.encode(None))


def _frame(picture: Pixels, pts: int, time_base: Fraction) -> av.VideoFrame:
    frame = av.VideoFrame.from_ndarray(np.ascontiguousarray(picture), format="rgb24").reformat(
        format="yuv420p", src_colorspace=Colorspace.ITU709, dst_colorspace=Colorspace.ITU709,
        src_color_range=ColorRange.JPEG, dst_color_range=ColorRange.MPEG)  # fmt: skip
    frame.pts, frame.time_base = pts, time_base
    frame.color_primaries, frame.color_trc = BT709, BT709
    return frame


def turn_clockwise(path: Path, coded_height: int) -> None:
    """Say in the track header that players shall turn the picture by 90 degrees clockwise.

    ISO/IEC 14496-12, 8.3.2 (from memory): matrix {a b u c d v x y w}:
    (p, q) becomes (a p + c q + x, b p + d q + y).
    """
    data = bytearray(path.read_bytes())
    header = data.index(b"tkhd") + 4
    if data[header] != 0:
        raise ValueError("track header of an unexpected version")
    matrix = (0, ONE, 0, -ONE, 0, 0, coded_height * ONE, 0, 1 << 30)
    struct.pack_into(">9i", data, header + 40, *matrix)
    path.write_bytes(data)
