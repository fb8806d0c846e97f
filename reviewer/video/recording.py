"""A recording: what it holds, and any frame of it, exactly."""

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from threading import RLock
from types import TracebackType
from typing import Self

from av.video.frame import VideoFrame

from reviewer.terms.pictures import Picture, RecordingFacts
from reviewer.video.colour import Converter, matrix_of
from reviewer.video.errors import missing, out_of_range
from reviewer.video.fingerprints import native_hash
from reviewer.video.indexing import Index
from reviewer.video.keeping import Kept
from reviewer.video.reading import Reader


class Recording:
    """An open recording; made by `open_recording`, closed by ``with`` or ``close``.

    One lock guards the decoder and every stored picture, since a stored picture touched by two threads at
    once ends the program. What is given out (`Picture`, text) is free of it.

    Attributes:
        path: the file.
        facts: what it holds; ``suspect`` and ``missing`` grow as damage is met while decoding.
    """

    def __init__(self, path: Path, index: Index, facts: RecordingFacts, converter: Converter) -> None:
        self.path, self.facts = path, facts
        self._index, self._converter = index, converter
        self._lock = RLock()
        self._reader = Reader(path, index, "NONE")
        self._kept: Kept[VideoFrame] = Kept()
        self._shown: Kept[Picture] = Kept()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the file; asking for pictures afterwards is a fault of the program."""
        with self._lock:
            self._reader.close()
            self._kept.clear()
            self._shown.clear()

    def picture(self, frame: int) -> Picture:
        """The frame as displayed, the same bytes each time; `VideoError` where there is none."""
        with self._lock:
            picture = self._shown.get(frame)
            if picture is None:
                picture = self._converted(frame, self._stored(frame))
                self._shown.keep(frame, picture, len(picture.bgra))
            return picture

    def pictures(self, start: int, stop: int) -> Iterator[Picture]:
        """Frames ``start`` up to but not including ``stop``, decoded once forward, for playing.

        Where the file is damaged these may differ from `picture`, which is the one to cite. `VideoError`.
        """
        self._check(start)
        reader = Reader(self.path, self._index, "AUTO")
        try:
            run = reader.run_from(start)
            while True:
                with self._lock:
                    number, stored = next(run, (stop, None))
                    if stored is None or number >= stop:
                        return
                    picture = self._converted(number, stored)
                yield picture
        finally:
            reader.close()

    def picture_hash(self, frame: int) -> str:
        """SHA-256 of the stored picture as FFmpeg's framehash gives it (rotation off); `VideoError`."""
        with self._lock:
            return native_hash(self._stored(frame))

    def hashes(self) -> Iterator[str]:
        """`picture_hash` of every frame in order, decoded once forward; empty text for a missing frame."""
        for frame in range(len(self.facts.pts)):
            with self._lock:
                stored = self._found(frame)
                yield "" if stored is None else native_hash(stored)

    def _converted(self, number: int, stored: VideoFrame) -> Picture:
        pixels = self._converter.pixels(stored)
        return Picture(
            size=self.facts.displayed,
            bgra=pixels.tobytes(),
            frame=number,
            time=self.facts.time(number),
            matrix=matrix_of(stored)[0],
            suspect=self._is_suspect(number),
        )

    def _is_suspect(self, frame: int) -> bool:
        return any(first <= frame <= last for first, last in self.facts.suspect)

    def _check(self, frame: int) -> None:
        if not 0 <= frame < len(self.facts.pts):
            raise out_of_range(self.path, frame, len(self.facts.pts))

    def _stored(self, frame: int) -> VideoFrame:
        self._check(frame)
        found = self._found(frame)
        if found is None:
            raise missing(self.path, frame)
        return found

    def _found(self, frame: int) -> VideoFrame | None:
        kept = self._kept.get(frame)
        if kept is not None:
            return kept
        if frame in self.facts.missing:
            return None
        for start in self._reader.starts_for(frame):
            for number, stored in self._reader.frames_to(frame, start):
                self._kept.keep(number, stored, sum(plane.buffer_size for plane in stored.planes))
            self._note_damage()
            found = self._kept.get(frame)
            if found is not None:
                return found
            if self._is_suspect(frame):
                break  # Damage explains it: a longer run-up would not bring it back.
        self.facts = replace(self.facts, missing=tuple(sorted({*self.facts.missing, frame})))
        return None

    def _note_damage(self) -> None:
        """Mark from each reported error to the end of its group of pictures: what follows rests on it."""
        if not self._reader.damage:
            return
        stretches = {(first, self._group_end(first)) for first in self._reader.damage}
        self._reader.damage.clear()
        self.facts = replace(self.facts, suspect=_joined({*self.facts.suspect, *stretches}))

    def _group_end(self, frame: int) -> int:
        after = bisect_right(self.facts.key_frames, frame)
        ends = (*self.facts.key_frames, len(self.facts.pts))
        return ends[after] - 1


def _joined(stretches: set[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    """Stretches in order, those that overlap made one."""
    joined: list[tuple[int, int]] = []
    for first, last in sorted(stretches):
        if joined and first <= joined[-1][1]:
            joined[-1] = joined[-1][0], max(last, joined[-1][1])
        else:
            joined.append((first, last))
    return tuple(joined)
