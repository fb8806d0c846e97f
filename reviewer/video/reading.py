"""Decoding from a key frame forward: the only way pictures come out of a file."""

from collections.abc import Iterator
from itertools import islice

import av
from av.video.frame import PictureType, VideoFrame

from reviewer.video.container import Decoding, Opened, Origin, open_container
from reviewer.video.errors import changed
from reviewer.video.indexing import Index, Source, Sources, VideoPacket, decoded, flushing, packets, sign_of

FROM_START = -1
_LATE = 32  # frames decoded past a wanted one before it is given up as missing

Run = Iterator[tuple[int, VideoFrame]]
"""Frames of one decoding run with their numbers."""


class _StrayedError(Exception):
    """The file does not give the packets that were listed."""


class Reader:
    """One open file and its decoder, read in runs; not for two threads at once.

    Attributes:
        opened: the file and its stream.
        position: number of the frame given last, or one less than the run's first.
        damage: places of the packets at which this run's decoding reported an error, oldest first; not of
            pictures shown before its key frame, which lack what they rest on.
        gradual: whether a key frame was met that is no whole picture but the start of a gradual refresh.
    """

    def __init__(
        self, origin: Origin, index: Index, decoding: Decoding, opened: Opened | None = None
    ) -> None:
        self._origin, self._index, self._decoding = origin, index, decoding
        self.opened = opened or self._open()
        self._sources = Sources()
        self._run: Run = iter(())
        self._liked = 0
        self._start: int | None = None
        self._first, self.position = 0, -1
        self.damage: list[int] = []
        self.gradual = False

    def close(self) -> None:
        """Let go of the file."""
        self._run = iter(())
        self.opened[0].close()

    def frames_to(self, frame: int, start: int, *, onward: bool) -> Run:
        """Numbered frames up to the wanted one and on until it is settled; `VideoError` for a changed file.

        From the key frame ``start``; but further along the present run where that is on its way: in the same
        group of pictures, or with ``onward`` across groups.
        """
        if not self._is_on_the_way(frame, start, onward):
            self.begin(start)
        try:
            yield from self._until(frame)
        except _StrayedError:
            self.begin(FROM_START)
            try:
                yield from self._until(frame)
            except _StrayedError:
                raise changed(self._origin.path) from None

    def first(self, most: int) -> list[tuple[VideoFrame, Source]]:
        """The file's first frames that decode, whether or not the index knows them."""
        given = []
        run = decoded(self._from_start())
        for frame in islice((frame for frame, _ in run if frame is not None), most):
            source = self._sources.of(frame)
            if source is not None:
                given.append((frame, source))
        return given

    def run_from(self, start: int) -> Run:
        """Numbered frames from a key frame to the end of the file; `VideoError` for a changed file."""
        self.begin(start)
        try:
            yield from self._run
        except _StrayedError:
            raise changed(self._origin.path) from None

    def begin(self, start: int) -> None:
        """Start a run at a key frame: what it gives depends on nothing that was decoded before.

        `VideoError` for a file that was written over; one that grew or was renamed is still the same.
        """
        if self._origin.is_another_now():
            raise changed(self._origin.path)
        self._start, self.damage = start, []
        self._first = 0 if start == FROM_START else self._index.keys[start].shown
        self.position = self._first - 1
        self._run = self._numbered(self._from_start() if start == FROM_START else self._sought(start))

    def _is_on_the_way(self, frame: int, start: int, onward: bool) -> bool:
        if self._start is None or frame <= self.position:
            return False
        if start == self._start:
            return True
        return onward and start != FROM_START and self.position >= self._index.keys[start].shown - 1

    def _until(self, wanted: int) -> Run:
        frame = self._index.settled[wanted]
        for number, picture in self._run:
            self.position = max(self.position, number)
            if number > frame + _LATE:
                return
            yield number, picture
            if number == frame:
                return

    def _numbered(self, source: Iterator[VideoPacket]) -> Run:
        """Frames with their numbers; several threads end at an error, after which they lose packets."""
        for picture, _ in decoded(source):
            found = self._sources.of(picture) if picture is not None else None
            if picture is None or (found is not None and picture.is_corrupt):
                self._note(found[0] if found is not None else self._sources.place)
            if self.damage and self._decoding.threads == "AUTO":
                return
            if picture is None or found is None:
                continue
            if picture.pict_type != PictureType.I and self._index.is_key(found[0]):
                self.gradual = True
            number = self._index.numbers.get(found, -1)
            if number >= self._first:  # those shown before the key frame lack what they rest on
                yield number, picture

    def _note(self, place: int) -> None:
        number = self._index.numbers.get((place, 0))
        if number is None or number >= self._first:
            self.damage.append(place)

    def _placed(self, source: Iterator[VideoPacket], first: int = 0) -> Iterator[VideoPacket]:
        self._sources = Sources(first)
        return self._sources.placed(self._as_listed(source, first))

    def _as_listed(self, source: Iterator[VideoPacket], place: int) -> Iterator[VideoPacket]:
        """The packets, each checked against the list; where a file has grown, none beyond the list.

        The last one listed may have been cut off then.
        """
        signs = self._index.signs
        for packet in source:
            if packet.size:
                fits = place < len(signs) and signs[place].fits(sign_of(packet))
                if not fits and place < len(signs) - 1:
                    raise _StrayedError
                if not fits:
                    yield flushing(self.opened[1])
                    return
                place += 1
            yield packet

    def _open(self) -> Opened:
        return open_container(self._origin.path, self._decoding, self._origin.stream)

    def _from_start(self) -> Iterator[VideoPacket]:
        """Packets from the first one on."""
        ways = self._ways(0) if self._index.signs else ()
        found = next(filter(None, (self._landed(target, 0) for target in ways)), None)
        return found or self._reopened()

    def _reopened(self) -> Iterator[VideoPacket]:
        self.opened[0].close()
        self.opened = self._open()
        return self._placed(packets(*self.opened))

    def _sought(self, start: int) -> Iterator[VideoPacket]:
        """Packets from exactly the wanted key frame: each way of asking is checked before it is believed."""
        place = self._index.keys[start].packet
        ways = self._ways(place)
        for turn in range(len(ways)):
            way = (self._liked + turn) % len(ways)
            found = self._landed(ways[way], place)
            if found is not None:
                self._liked = way
                return found
        return self._reopened()

    def _ways(self, place: int) -> tuple[int, ...]:
        """Targets in the order tried: Matroska and MP4 seek by pts, MPEG-TS by dts, others near either."""
        sign, last = self._index.signs[place], len(self._index.pts) - 1
        pts = sign.pts if sign.pts is not None else sign.dts or 0
        dts = sign.dts if sign.dts is not None else pts
        step = (self._index.pts[last] - self._index.pts[0]) // max(last, 1)
        return pts, dts, 2 * pts - dts, pts + 2 * step, pts + 4 * step, dts - step

    def _landed(self, target: int, place: int) -> Iterator[VideoPacket] | None:
        try:
            self.opened[0].seek(target, stream=self.opened[1])
        except (av.error.FFmpegError, OSError):
            return None
        source = packets(*self.opened)
        first = next(source, None)
        if first is None or not self._index.signs[place].fits(sign_of(first)):
            return None
        return self._placed(_put_back(first, source), place)


def _put_back(first: VideoPacket, rest: Iterator[VideoPacket]) -> Iterator[VideoPacket]:
    yield first
    yield from rest
