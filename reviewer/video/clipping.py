"""Scenes → a clip: H.264 in MP4, each scene one picture that stays for exactly as long as it is told to.

No sound, no place, no device and no date come in, since nothing but pictures is handed over; what the encoder
says of itself is taken out. Pictures are stored in the order they are shown, so a clip begins at tick 0. The
number of the encoder's threads is fixed, as it would otherwise change the pictures from machine to machine.
"""

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from fractions import Fraction
from pathlib import Path

import av
from av.bitstream import BitStreamFilterContext
from av.container import OutputContainer
from av.packet import Packet
from av.video.frame import PictureType, VideoFrame
from av.video.reformatter import ColorPrimaries, ColorRange, Colorspace, ColorTrc
from av.video.stream import VideoStream

from reviewer.terms.clips import Scene
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem
from reviewer.video.errors import VideoError, refused
from reviewer.video.laying import Layer
from reviewer.video.working import ahead

FINEST_TICK = 2**31 - 1
"""Ticks a second at most (ISO/IEC 14496-12, 8.4.2: a time scale of 32 bits; libav takes 31)."""
_NOMINAL = 60
"""Pictures a second by which the encoder chooses its level; the times are the scenes'."""
_FARTHEST = 60
"""Pictures from one that decodes on its own to the next, at most."""
CODING = {"preset": "fast", "crf": "20", "bf": "0", "threads": "4", "x264-params": "mbtree=0"}
"""Macroblock trees are off: with them pictures depend on what memory held before."""
_NO_REMARKS = "filter_units=remove_types=6"  # SEI messages, in which the encoder names itself

GoingOn = Callable[[], bool]


def write_clip(
    path: Path, scenes: Iterable[Scene], size: tuple[int, int], rate: int, going_on: GoingOn
) -> int:
    """Write a clip of ``rate`` ticks a second; how many pictures it has.

    ``size``: width and height, both even. ``going_on`` is asked before each scene. `VideoError` where it says
    no, where there is nothing to show and where the file cannot be written; what was written by then stays.
    """
    count, encoding, composed = 0, _Encoding(path, size, rate), ahead(_composed(scenes, size))
    try:
        for frame, scene in composed:
            if not going_on():
                raise _stopped(path)
            encoding.add(frame, scene)
            count += 1
        if not count:
            raise _nothing(path)
        encoding.end()
    finally:
        composed.close()
        encoding.close()
    return count


def _composed(scenes: Iterable[Scene], size: tuple[int, int]) -> Iterator[tuple[VideoFrame, Scene]]:
    layer = Layer(size)
    for scene in scenes:
        yield layer.stored(scene), scene


def _stopped(path: Path) -> VideoError:
    said, remedy = message("The clip was stopped."), message("Make it again when there is time.")
    return refused("stopped", path, said, remedy)


def _nothing(path: Path) -> VideoError:
    said, remedy = message("No picture of this can be decoded."), message("Choose other frames.")
    return refused("nothing-to-show", path, said, remedy)


class _Encoding:
    """A file that is being written."""

    def __init__(self, path: Path, size: tuple[int, int], rate: int) -> None:
        self._path, self._base = path, Fraction(1, rate)
        self._lasting: dict[int, int] = {}
        self._tick = 0
        with _writing(path):
            self._container = _opened(path, rate)
            self._stream = _stream(self._container, size, self._base)
            self._filter = BitStreamFilterContext(_NO_REMARKS, self._stream)

    def add(self, frame: VideoFrame, scene: Scene) -> None:
        """Encode the picture of the next scene."""
        frame.pts, frame.time_base = self._tick, self._base
        frame.pict_type = PictureType.I if scene.begins else PictureType.NONE
        self._lasting[self._tick] = scene.ticks
        self._tick += scene.ticks
        self._encode(frame)

    def end(self) -> None:
        """Write what is still on its way, and the file's index."""
        self._encode(None)
        with _writing(self._path):
            self._container.close()

    def close(self) -> None:
        """Let go of the file, whatever became of it."""
        with suppress(OSError, av.error.FFmpegError):
            self._container.close()

    def _encode(self, frame: VideoFrame | None) -> None:
        with _writing(self._path):
            for packet in self._stream.encode(frame):
                self._write(packet)

    def _write(self, packet: "Packet[VideoStream]") -> None:
        if packet.pts is None:
            return
        packet.duration = self._lasting.pop(packet.pts)
        for kept in self._filter.filter(packet):
            self._container.mux(kept)


def _opened(path: Path, rate: int) -> OutputContainer:
    options = {
        "movflags": "+faststart",
        "fflags": "+bitexact",
        "video_track_timescale": str(rate),
        "movie_timescale": str(rate),
    }
    return av.open(f"file:{path.absolute()}", "w", format="mp4", options=options)


def _stream(container: OutputContainer, size: tuple[int, int], base: Fraction) -> VideoStream:
    stream = container.add_stream("libx264", rate=_NOMINAL, options=CODING)
    stream.width, stream.height = size
    stream.pix_fmt = "yuv420p"
    stream.time_base = base
    coder = stream.codec_context
    coder.time_base, coder.gop_size, coder.max_b_frames = base, _FARTHEST, 0
    coder.colorspace, coder.color_range = int(Colorspace.ITU709), int(ColorRange.MPEG)
    coder.color_primaries, coder.color_trc = int(ColorPrimaries.BT709), int(ColorTrc.BT709)
    return stream


@contextmanager
def _writing(path: Path) -> Iterator[None]:
    try:
        yield
    except (OSError, av.error.FFmpegError) as fault:
        said = message("The clip cannot be written: {strerror}.", strerror=fault.strerror)
        remedy = message(
            "See that there is room on the disk and that you may write there, and make it again."
        )
        raise VideoError(Problem("clip-not-written", str(path), said, remedy)) from None
