"""Decoding from a key frame forward: the only way pictures come out of a file."""

from collections.abc import Iterator
from pathlib import Path

import av
from av.video.frame import VideoFrame

from reviewer.video.container import Threads, open_container
from reviewer.video.indexing import Index, KeyFrame, VideoPacket, decoded, packets

FROM_START = -1
_LATE = 32  # frames decoded past a wanted one before it is given up as missing


class Reader:
    """One open file and its decoder, read in runs; not for two threads at once.

    Attributes:
        start: number of the key frame the present run began at, ``FROM_START``, or None before the first run.
        position: number of the frame given last, -1 at the start of the file.
        damage: numbers of frames at which decoding reported an error, or None as none did.
    """

    def __init__(self, path: Path, index: Index, threads: Threads) -> None:
        self._path, self._index, self._threads = path, index, threads
        self._container, self._stream = open_container(path, threads)
        self._numbers = {pts: number for number, pts in enumerate(index.pts)}
        self._run: Iterator[tuple[int, VideoFrame]] = iter(())
        self._liked = 0
        self.start: int | None = None
        self.position = -1
        self.damage: list[int] = []

    def close(self) -> None:
        """Let go of the file."""
        self._run = iter(())
        self._container.close()

    def frames_to(self, frame: int, start: int) -> Iterator[tuple[int, VideoFrame]]:
        """Numbered frames up to the wanted one: from the key frame, or onward where the run is past that."""
        if start != self.start or frame <= self.position:
            self.begin(start)
        return self._until(frame)

    def starts_for(self, frame: int) -> tuple[int, ...]:
        """Key frames to try: its own, the one before, the file's start (gradual refresh needs a run-up)."""
        own = self._index.start_for(frame)
        return tuple(dict.fromkeys((own, max(own - 1, FROM_START), FROM_START)))

    def run_from(self, frame: int) -> Iterator[tuple[int, VideoFrame]]:
        """Numbered frames from the wanted one to the end of the file."""
        self.begin(self._index.start_for(frame))
        return ((number, picture) for number, picture in self._run if number >= frame)

    def _until(self, frame: int) -> Iterator[tuple[int, VideoFrame]]:
        for number, picture in self._run:
            self.position = max(self.position, number)
            if number > frame + _LATE:
                return
            yield number, picture
            if number == frame:
                return

    def begin(self, start: int) -> None:
        """Start a run at a key frame: what it gives depends on nothing that was decoded before."""
        self.start, self.position = start, -1
        source = self._reopened() if start == FROM_START else self._sought(self._index.keys[start])
        self._run = self._numbered(source)

    def _numbered(self, source: Iterator[VideoPacket]) -> Iterator[tuple[int, VideoFrame]]:
        given = 0
        for picture, packet in decoded(source):
            if picture is None:
                self._damaged(packet.pts)
                continue
            number = given if self._index.by_decoding else self._numbers.get(picture.pts or 0)
            given += 1
            if number is None:
                continue
            if picture.is_corrupt:
                self.damage.append(number)
            yield number, picture

    def _damaged(self, pts: int | None) -> None:
        number = None if pts is None else self._numbers.get(pts)
        if number is not None:
            self.damage.append(number)

    def _reopened(self) -> Iterator[VideoPacket]:
        self._container.close()
        self._container, self._stream = open_container(self._path, self._threads)
        return packets(self._container, self._stream)

    def _sought(self, key: KeyFrame) -> Iterator[VideoPacket]:
        """Packets from exactly the wanted key frame: each way of asking is checked before it is believed."""
        ways = self._ways(key)
        for turn in range(len(ways)):
            way = (self._liked + turn) % len(ways)
            found = self._landed(ways[way], key)
            if found is not None:
                self._liked = way
                return found
        return self._reopened()

    def _ways(self, key: KeyFrame) -> tuple[int, ...]:
        """Targets in the order tried: Matroska and MP4 seek by pts, MPEG-TS by dts, others near either."""
        dts = key.pts if key.dts is None else key.dts
        last = len(self._index.pts) - 1
        step = (self._index.pts[last] - self._index.pts[0]) // max(last, 1)
        return key.pts, dts, 2 * key.pts - dts, key.pts + 2 * step, key.pts + 4 * step, dts - step

    def _landed(self, target: int, key: KeyFrame) -> Iterator[VideoPacket] | None:
        try:
            self._container.seek(target, stream=self._stream)
        except (av.error.FFmpegError, OSError):
            return None
        source = packets(self._container, self._stream)
        first = next(source, None)
        if first is None or first.pts != key.pts or not first.is_keyframe:
            return None
        return _put_back(first, source)


def _put_back(first: VideoPacket, rest: Iterator[VideoPacket]) -> Iterator[VideoPacket]:
    yield first
    yield from rest
