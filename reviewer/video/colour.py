"""The one pinned way from a stored picture to blue, green, red.

libswscale with bit-exact, accurately rounded, fully interpolated chroma, on one thread: the same bytes each
time with one version of the library. The matrix is the stream's; an untagged picture is taken as BT.709 from
720 rows up and as BT.601 below (common practice, no source). No tone mapping: HDR is shown as coded.
"""

from dataclasses import dataclass

import numpy as np
from av.video.format import VideoFormat
from av.video.frame import VideoFrame
from av.video.reformatter import ColorRange, Colorspace, Interpolation, VideoReformatter

from reviewer.video.orientation import Orientation, Pixels

FLAGS = (
    Interpolation.BILINEAR
    | Interpolation.ACCURATE_RND
    | Interpolation.FULL_CHR_H_INT
    | Interpolation.FULL_CHR_H_INP
    | Interpolation.BITEXACT
)
"""Flags of every conversion; BILINEAR spreads colour and scales pixels that are not square."""

HD_ROWS = 720

# Matrix codes of ITU-T H.273, table 4, to our name and libswscale's.
_MATRICES = {
    1: ("bt709", Colorspace.ITU709),
    4: ("fcc", Colorspace.FCC),
    5: ("bt601", Colorspace.ITU601),
    6: ("bt601", Colorspace.ITU601),
    7: ("smpte240m", Colorspace.SMPTE240M),
    9: ("bt2020", Colorspace.BT2020),
    10: ("bt2020", Colorspace.BT2020),
}


def matrix_of(frame: VideoFrame) -> tuple[str, Colorspace]:
    """Name of the matrix and libswscale's number for it."""
    if VideoFormat(frame.format.name).is_rgb:
        return "rgb", Colorspace.ITU709
    untagged = 1 if frame.height >= HD_ROWS else 6
    return _MATRICES.get(int(frame.colorspace), _MATRICES[untagged])


def full_range(frame: VideoFrame) -> bool:
    """Whether black is 0 and white 255, rather than 16 and 235."""
    return frame.color_range == ColorRange.JPEG or frame.format.name.startswith("yuvj")


@dataclass(slots=True)
class Converter:
    """Converts frames of one stream; not for two threads at once."""

    square: tuple[int, int]
    orientation: Orientation
    _scaler: VideoReformatter

    def pixels(self, frame: VideoFrame) -> Pixels:
        """Rows × columns × (blue, green, red, 255), as displayed; a view, not a copy."""
        _, matrix = matrix_of(frame)
        converted = self._scaler.reformat(
            frame,
            *self.square,
            format="bgra",
            src_colorspace=matrix,
            dst_colorspace=matrix,
            interpolation=FLAGS,
            src_color_range=ColorRange.JPEG if full_range(frame) else ColorRange.MPEG,
            dst_color_range=ColorRange.JPEG,
            threads=1,
        )
        width, height = self.square
        plane = converted.planes[0]
        rows = np.frombuffer(memoryview(plane), np.uint8).reshape(-1, plane.line_size)[:height, : 4 * width]
        return self.orientation.shown(rows.reshape(height, width, 4))


def converter(square: tuple[int, int], orientation: Orientation) -> Converter:
    """A converter to ``square`` (width, height before turning) and then turned."""
    return Converter(square, orientation, VideoReformatter())
