"""A recording's frames as data: what the file holds, and one picture of it."""

from bisect import bisect_left, bisect_right
from dataclasses import dataclass

from reviewer.terms.times import FrameTime, TimeBase


@dataclass(frozen=True, slots=True)
class RecordingFacts:
    """What a recording holds, frame by frame in display order.

    Attributes:
        sha256: fingerprint of the file's bytes, or empty while nobody has asked for it.
        time_base: length of one tick.
        pts: presentation time of each frame, in ticks; never falling, and equal where the file says so.
        key_frames: numbers of the frames that decode on their own.
        counted_by: ``index`` (packets are frames) or ``decoding``.
        coded: width and height as stored, pixels.
        displayed: width and height as shown: rotated, mirrored, square pixels.
        rotation: degrees clockwise that turn the stored picture into the shown one: 0, 90, 180 or 270.
        pixel_aspect: width to height of a stored pixel, such as ``1/1``.
        missing: numbers of frames the index promises and the file cannot give.
        suspect: first and last frame number of each damaged stretch.
        interlaced: whether the file stores two moments, line by line, in each frame.
        transfer: ``sdr``, or the high-dynamic-range curve the pictures are stored with: ``hlg`` or ``pq``.
        stream: which of the file's moving pictures this is, from 0.
        streams: how many the file holds.
        time_code: SMPTE time code the file gives its first frame, or None.
    """

    sha256: str
    time_base: TimeBase
    pts: tuple[int, ...]
    key_frames: tuple[int, ...]
    counted_by: str
    coded: tuple[int, int]
    displayed: tuple[int, int]
    rotation: int
    pixel_aspect: str
    missing: tuple[int, ...] = ()
    suspect: tuple[tuple[int, int], ...] = ()
    interlaced: bool = False
    transfer: str = "sdr"
    stream: int = 0
    streams: int = 1
    time_code: str | None = None

    def time(self, frame: int) -> FrameTime:
        """The identity of a frame number; IndexError outside the recording."""
        if not 0 <= frame < len(self.pts):
            raise IndexError(frame)
        pts = self.pts[frame]
        return FrameTime(pts, self.time_base, frame - bisect_left(self.pts, pts))

    def frame_of(self, time: FrameTime) -> int:
        """The frame number of an identity; KeyError where no frame has it."""
        frame = bisect_left(self.pts, time.pts) + time.occurrence
        if not 0 <= frame < len(self.pts) or self.pts[frame] != time.pts or time.time_base != self.time_base:
            raise KeyError(time)
        return frame

    def frame_at(self, pts: int) -> int:
        """The number of the frame on screen at a tick: the last that does not begin after it."""
        return max(0, bisect_right(self.pts, pts) - 1)


@dataclass(frozen=True, slots=True)
class Picture:
    """One frame as displayed, rows from the top.

    Attributes:
        size: width and height in pixels.
        bgra: 4 bytes a pixel (blue, green, red, 255), no padding between rows.
        frame: 0-based number in display order.
        time: the frame's identity.
        matrix: colour matrix used to convert it, such as ``bt709``.
        suspect: whether the frame lies in a damaged stretch.
        treatment: what was done to it for display beyond turning and colour, in words, such as
            ``deinterlaced``.
        stands_for: size of the full picture where this is a small one in its stead; None for a full one.
    """

    size: tuple[int, int]
    bgra: bytes | memoryview
    frame: int
    time: FrameTime
    matrix: str
    suspect: bool
    treatment: tuple[str, ...] = ()
    stands_for: tuple[int, int] | None = None

    @property
    def full_size(self) -> tuple[int, int]:
        """Width and height of the picture that points are counted in."""
        return self.stands_for or self.size
