"""Which frames a stream holds, found by reading its packets without decoding them.

A frame is known by its packet's place in the file: times may be missing or stand twice, places cannot. A
decoder hands a packet's time on to the frame it makes and makes no other use of it, so the place travels as
the time. (Tying an object to a packet can lock a decoder with threads up for good: measured.)
"""

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from typing import TYPE_CHECKING, NamedTuple, cast

import av
from av.container import InputContainer
from av.packet import Packet
from av.video.frame import VideoFrame
from av.video.stream import VideoStream

if TYPE_CHECKING:
    VideoPacket = Packet[VideoStream]
else:  # The class is compiled and takes no type argument while running.
    VideoPacket = Packet

Source = tuple[int, int]
"""Where a frame comes from: place of its packet, and how many frames that packet gave before it."""


class Sign(NamedTuple):
    """What a packet is known again by: ticks, where the file has them, and bytes."""

    pts: int | None
    dts: int | None
    size: int

    def fits(self, other: "Sign") -> bool:
        """Whether both may be of one packet: after a seek some containers do not tell the storing time."""
        known = self.dts is None or other.dts is None or self.dts == other.dts
        return known and (self.pts, self.size) == (other.pts, other.size)


class KeyFrame(NamedTuple):
    """A place to start decoding: place of its packet, and number of the first frame not shown before it."""

    packet: int
    shown: int


@dataclass(frozen=True)
class Index:
    """Frames in display order.

    Attributes:
        pts: presentation time of each frame, in ticks, never falling.
        sources: where each frame comes from.
        signs: of every packet in file order.
        keys: starting places in file order, also those an edit list hides.
        key_frames: numbers of the frames that decode on their own.
        torn: places of packets that the container itself calls damaged, and of those before them, whose end
            may be what was lost.
        by_decoding: whether frames had to be counted by decoding; packets' times then say nothing.
    """

    pts: tuple[int, ...]
    sources: tuple[Source, ...]
    signs: tuple[Sign, ...]
    keys: tuple[KeyFrame, ...]
    key_frames: tuple[int, ...]
    torn: tuple[int, ...]
    by_decoding: bool

    @cached_property
    def numbers(self) -> dict[Source, int]:
        """Frame number by source."""
        return {source: number for number, source in enumerate(self.sources)}

    @cached_property
    def _key_places(self) -> frozenset[int]:
        return frozenset(key.packet for key in self.keys)

    def is_key(self, packet: int) -> bool:
        """Whether the container calls this packet a key frame."""
        return packet in self._key_places

    def is_hidden(self, packet: int) -> bool:
        """Whether a packet is never shown: by an edit list, or as there is none such before the first."""
        return packet < 0 or (not self.by_decoding and (packet, 0) not in self.numbers)

    @cached_property
    def settled(self) -> tuple[int, ...]:
        """For each frame, the number of the last frame shown among those stored up to it.

        Once that one is decoded, every error that may have spoilt the frame has shown itself.
        """
        order = sorted(range(len(self.sources)), key=self.sources.__getitem__)
        latest = dict(zip(order, accumulate(order, max), strict=True))
        return tuple(latest[number] for number in range(len(order)))

    def start_for(self, frame: int) -> int:
        """Number in ``keys`` of the last key frame shown no later than the frame, or -1 for the file's start.

        A leading picture of an open GOP is shown before its key frame, so it starts one key frame earlier.
        """
        return bisect_right(self.keys, frame, key=lambda key: key.shown) - 1

    def group_of(self, packet: int) -> int:
        """Number in ``keys`` of the last key frame stored no later than a packet, or -1."""
        return bisect_right(self.keys, packet, key=lambda key: key.packet) - 1

    def groups_of(self, frame: int) -> tuple[int, ...]:
        """Groups that a frame may rest on: the one it is shown in, and the one it is stored in."""
        return tuple(sorted({self.start_for(frame), self.group_of(self.sources[frame][0])}))

    def last_of(self, group: int) -> int:
        """Number of the last frame shown before the next key frame."""
        return self.keys[group + 1].shown - 1 if group + 1 < len(self.keys) else len(self.pts) - 1

    def spoilt_from(self, packet: int, *, gradual: bool) -> tuple[int, int] | None:
        """First and last frame that may rest on a damaged packet: to the next key frame; None for none.

        Frames stored after it may be shown before it, so the first is sought among all of them. Where key
        frames are ``gradual``, the picture is whole again only at the one after the next.
        """
        group = self.group_of(packet)
        last = self.last_of(min(group + gradual, len(self.keys) - 1))
        end = self.keys[group + 1].packet if group + 1 < len(self.keys) else len(self.signs)
        resting = [number for number, (place, _) in enumerate(self.sources) if packet <= place < end]
        first = min(resting, default=last + 1)
        return (first, last) if first <= last else None

    def beginning_with(self, given: tuple[Source, ...]) -> "Index | None":
        """The index from the first frame that decodes; None where packets are not frames.

        A recording cut in the middle of a group begins with packets that no decoder can show.
        """
        cut = self.numbers.get(given[0]) if given else None
        if cut is None or self.sources[cut : cut + len(given)] != given:
            return None
        return self._from(cut) if cut else self

    def _from(self, cut: int) -> "Index":
        keys = tuple(KeyFrame(key.packet, max(0, key.shown - cut)) for key in self.keys)
        numbers = tuple(number - cut for number in self.key_frames if number >= cut)
        return Index(
            self.pts[cut:], self.sources[cut:], self.signs, keys, numbers, self.torn, self.by_decoding
        )


def packets(container: InputContainer, stream: VideoStream) -> Iterator[VideoPacket]:
    """The stream's packets in file order, the flushing one included; ends early where the file is torn."""
    try:
        yield from container.demux(stream)
    except (av.error.FFmpegError, ValueError):
        yield flushing(stream)


def flushing(stream: VideoStream) -> VideoPacket:
    """What makes a decoder give out the pictures it still holds."""
    flush = cast(VideoPacket, Packet())
    flush.stream = stream
    return flush


def sign_of(packet: VideoPacket) -> Sign:
    """What the packet is known again by."""
    return Sign(packet.pts, packet.dts, packet.size)


def decoded(source: Iterable[VideoPacket]) -> Iterator[tuple[VideoFrame | None, VideoPacket]]:
    """Each frame with the packet that released it; None for a packet that could not be decoded."""
    for packet in source:
        try:
            frames = packet.decode()
        except (av.error.FFmpegError, ValueError):
            yield None, packet
            continue
        for frame in frames:
            yield frame, packet


class Sources:
    """Ties the frames of one decoding run to the packets they are made of.

    Attributes:
        place: place in the file of the packet given last.
    """

    def __init__(self, first: int = 0) -> None:
        self.place = first - 1
        self._given: Counter[int] = Counter()

    def placed(self, source: Iterable[VideoPacket]) -> Iterator[VideoPacket]:
        """The packets with their places, counted on from the first, for times."""
        for packet in source:
            if packet.size:
                self.place += 1
                packet.pts = self.place
            yield packet

    def of(self, frame: VideoFrame) -> Source | None:
        """The frame's source; None for a frame that no packet is known to have made."""
        place = frame.pts
        if place is None or not 0 <= place <= self.place:
            return None
        self._given[place] += 1
        return place, self._given[place] - 1


class _Listed(NamedTuple):
    """What an index needs to know of a packet."""

    sign: Sign
    key: bool
    hidden: bool
    torn: bool


def _listed(packet: VideoPacket) -> _Listed:
    return _Listed(sign_of(packet), packet.is_keyframe, packet.is_discard, packet.is_corrupt)


def index_of(container: InputContainer, stream: VideoStream) -> Index | None:
    """The index by packets, or None where their times do not order the frames: missing, or twice the same."""
    listed = [_listed(packet) for packet in packets(container, stream) if packet.size]
    if any(one.sign.pts is None for one in listed):
        return None
    shown = sorted((cast(int, one.sign.pts), place) for place, one in enumerate(listed) if not one.hidden)
    if len({pts for pts, _ in shown}) != len(shown):
        return None
    sources = tuple((place, 0) for _, place in shown)
    keys = [(place, cast(int, one.sign.pts)) for place, one in enumerate(listed) if one.key]
    return _index(listed, tuple(pts for pts, _ in shown), sources, _starts(keys, shown), by_decoding=False)


def _starts(keys: list[tuple[int, int]], shown: list[tuple[int, int]]) -> list[KeyFrame]:
    return [KeyFrame(place, bisect_right(shown, (pts, place - 1))) for place, pts in keys]


def index_by_decoding(container: InputContainer, stream: VideoStream) -> tuple[Index, bool]:
    """Every frame decoded once; and whether all went well: no error, and a frame for each packet."""
    listed: list[_Listed] = []
    found: list[Source] = []
    given, sound = Sources(), True
    for frame, _ in decoded(given.placed(_noted(packets(container, stream), listed))):
        sound = sound and frame is not None and not frame.is_corrupt
        source = given.of(frame) if frame is not None else None
        if source is not None:
            found.append(source)
    places = {place: number for number, (place, nth) in enumerate(found) if not nth}
    keys = [KeyFrame(place, places[place]) for place, one in enumerate(listed) if one.key and place in places]
    given_times = [listed[place].sign.pts for place, _ in found]
    return _index(listed, _times(given_times, listed), tuple(found), keys, by_decoding=True), (
        sound and len(found) >= sum(not one.hidden for one in listed)
    )


def _index(
    listed: list[_Listed],
    pts: tuple[int, ...],
    sources: tuple[Source, ...],
    keys: list[KeyFrame],
    *,
    by_decoding: bool,
) -> Index:
    places = {place: number for number, (place, nth) in enumerate(sources) if not nth}
    key_frames = sorted(places[key.packet] for key in keys if key.packet in places)
    called = {place for place, one in enumerate(listed) if one.torn}
    torn = tuple(sorted(called | {place - 1 for place in called if place}))
    signs = tuple(one.sign for one in listed)
    return Index(pts, sources, signs, tuple(keys), tuple(key_frames), torn, by_decoding)


def _noted(source: Iterable[VideoPacket], listed: list[_Listed]) -> Iterator[VideoPacket]:
    for packet in source:
        if packet.size:
            listed.append(_listed(packet))
        yield packet


def _times(given: list[int | None], listed: list[_Listed]) -> tuple[int, ...]:
    """The frames' own times where they never fall; else the packets' in order (AVI has but storing times).

    Where neither says one for each frame, the latest time known stands for those that follow it.
    """
    shown = [one.sign for one in listed if not one.hidden]
    for said in (given, _in_order(sign.pts for sign in shown), _in_order(sign.dts for sign in shown)):
        times = [tick for tick in said if tick is not None]
        if len(times) == len(given) and times == sorted(times):
            return tuple(times)
    known = [tick for tick in given[:1] if tick is not None] or [0]
    return tuple(accumulate((known[0] if tick is None else tick for tick in given), max))


def _in_order(ticks: Iterable[int | None]) -> list[int | None]:
    """Ticks in order; nothing where one is missing."""
    listed = list(ticks)
    known = sorted(tick for tick in listed if tick is not None)
    return [*known] if len(known) == len(listed) else []
