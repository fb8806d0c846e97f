"""Which frames a stream holds, found by reading its packets without decoding them."""

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, cast

import av
from av.container import InputContainer
from av.packet import Packet
from av.video.frame import VideoFrame
from av.video.stream import VideoStream

if TYPE_CHECKING:
    VideoPacket = Packet[VideoStream]
else:  # The class is compiled and takes no type argument while running.
    VideoPacket = Packet


@dataclass(frozen=True, slots=True)
class KeyFrame:
    """A place to start decoding: ticks of its packet; ``dts`` is missing in some Matroska files."""

    pts: int
    dts: int | None


@dataclass(frozen=True, slots=True)
class Index:
    """Frames in display order.

    Attributes:
        pts: presentation time of each frame, in ticks, strictly rising.
        keys: starting places by pts, also those an edit list hides.
        key_frames: numbers of the frames that decode on their own.
        by_decoding: whether frames had to be counted by decoding; packets' times then say nothing.
    """

    pts: tuple[int, ...]
    keys: tuple[KeyFrame, ...]
    key_frames: tuple[int, ...]
    by_decoding: bool

    def start_for(self, frame: int) -> int:
        """Number in ``keys`` of the last key frame shown no later than the frame, or -1 for the file's start.

        A leading picture of an open GOP is shown before its key frame, so it starts one key frame earlier.
        """
        return bisect_right(self.keys, self.pts[frame], key=lambda key: key.pts) - 1

    def beginning_with(self, decoded: tuple[int | None, ...]) -> "Index | None":
        """The index from the first frame that decodes; None where packets are not frames.

        A recording cut in the middle of a group begins with packets that no decoder can show.
        """
        if not decoded or decoded[0] not in self.pts:
            return None
        cut = self.pts.index(decoded[0])
        kept = self.pts[cut:]
        if kept[: len(decoded)] != decoded:
            return None
        numbers = tuple(number - cut for number in self.key_frames if number >= cut)
        return Index(kept, self.keys, numbers, self.by_decoding)


def packets(container: InputContainer, stream: VideoStream) -> Iterator[VideoPacket]:
    """The stream's packets in file order, the flushing one included; ends early where the file is torn."""
    try:
        yield from container.demux(stream)
    except (av.error.FFmpegError, ValueError):
        # The decoder still holds pictures from before the tear.
        flush = cast(VideoPacket, Packet())
        flush.stream = stream
        yield flush


def decoded(
    source: Iterable[VideoPacket],
) -> Iterator[tuple[VideoFrame | None, VideoPacket]]:
    """Each frame with the packet that released it; None for a packet that could not be decoded."""
    for packet in source:
        try:
            frames = packet.decode()
        except (av.error.FFmpegError, ValueError):
            yield None, packet
            continue
        for frame in frames:
            yield frame, packet


def index_of(container: InputContainer, stream: VideoStream) -> Index | None:
    """The index by packets, or None where packets are not frames or carry no usable times."""
    listed = [packet for packet in packets(container, stream) if packet.size]
    if any(packet.pts is None for packet in listed):
        return None
    shown = sorted(packet.pts for packet in listed if not packet.is_discard and packet.pts is not None)
    if len(set(shown)) != len(shown):
        return None
    keys = sorted((p.pts, p.dts, p.is_discard) for p in listed if p.is_keyframe and p.pts is not None)
    places = {pts: number for number, pts in enumerate(shown)}
    return Index(
        tuple(shown),
        tuple(KeyFrame(pts, dts) for pts, dts, _ in keys),
        tuple(places[pts] for pts, _, hidden in keys if not hidden),
        by_decoding=False,
    )


def index_by_decoding(container: InputContainer, stream: VideoStream) -> Index:
    """Every frame decoded once."""
    listed: list[VideoPacket] = []
    frames = [
        (frame.pts, frame.key_frame)
        for frame, _ in decoded(_noted(packets(container, stream), listed))
        if frame is not None
    ]
    ticks = sorted({packet.pts for packet in listed if packet.pts is not None and not packet.is_discard})
    keys = tuple(number for number, (_, is_key) in enumerate(frames) if is_key)
    return Index(_rising([pts for pts, _ in frames], ticks), (), keys, by_decoding=True)


def _noted(source: Iterable[VideoPacket], listed: list[VideoPacket]) -> Iterator[VideoPacket]:
    for packet in source:
        listed.append(packet)
        yield packet


def _rising(given: list[int | None], ticks: list[int]) -> tuple[int, ...]:
    """The decoder's times where they rise; else the packets' in order (AVI); else a tick on where stuck."""
    times = [pts for pts in given if pts is not None]
    if len(times) == len(given) and times == sorted(set(times)):
        return tuple(times)
    if len(ticks) == len(given):
        return tuple(ticks)
    rising: list[int] = []
    for pts in given:
        least = rising[-1] + 1 if rising else 0
        rising.append(least if pts is None else max(least, pts) if rising else pts)
    return tuple(rising)
