"""A recording: what it holds, and any frame of it, exactly."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import cached_property
from threading import RLock
from types import TracebackType
from typing import Self

import numpy as np
from av.video.frame import VideoFrame

from reviewer.terms.pictures import Picture, RecordingFacts
from reviewer.video.colour import Converter, matrix_of, treatment_of
from reviewer.video.container import SEARCHING, SURE, Decoding, Origin
from reviewer.video.errors import changed, missing, out_of_range
from reviewer.video.examining import Examined, Examiner, groups_near, search
from reviewer.video.fingerprints import native_hash
from reviewer.video.indexing import Index
from reviewer.video.keeping import Kept, Shares
from reviewer.video.picking import pick, run
from reviewer.video.reading import FROM_START, Reader

_NEAR, _AHEAD = 8, 64
"""Pictures made ready to be shown, and decoded, in the direction of travel."""


class Recording:
    """An open recording; made by `open_recording`, closed by ``with`` or ``close``.

    Sound groups of pictures are decoded by several threads, which gives the same pictures as one; a group in
    which any error is met is examined and decoded again by one thread (`Examiner`), each time the same.

    One lock guards the decoders and every stored picture, since a stored picture touched by two threads at
    once ends the program. What is given out (`Picture`, text) is free of it.

    Attributes:
        path: the file.
        facts: what it holds; ``suspect`` and ``missing`` grow as damage is met while decoding.
        index: where its frames lie in the file.
        converter: from its stored pictures to shown ones.
    """

    def __init__(
        self,
        origin: Origin,
        index: Index,
        facts: RecordingFacts,
        converter: Converter,
        shares: Shares,
        reader: Reader,
    ) -> None:
        self.path, self.facts = origin.path, facts
        self._origin = origin
        self.index, self.converter = index, converter
        self._lock = RLock()
        self._swift = reader
        self._kept: Kept[VideoFrame] = Kept(shares.stored)
        self._shown: Kept[Picture] = Kept(shares.shown)
        self._unsound: set[int] = set()
        self._gradual = False
        self._examiner = Examiner(index, self.reader)
        shown = shares.shown // (4 * facts.displayed[0] * facts.displayed[1])
        self._near = max(0, min(_NEAR, shown - 2))  # so many that they do not drive out the one they are near
        self._ahead = max(2, min(_AHEAD, shares.frames // 3))
        self._behind = shares.frames // 2
        self.take_note(index.torn)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the file; asking for pictures afterwards is a fault of the program."""
        with self._lock:
            self._swift.close()
            self._examiner.close()
            if "_sure" in self.__dict__:
                self._sure.close()
            self._kept.clear()
            self._shown.clear()

    def picture(self, frame: int) -> Picture:
        """The frame as displayed; `VideoError` where there is none.

        The same bytes each time, but where an error shows itself only to the search that `evidence` makes.
        """
        with self._lock:
            picture = self._shown.get(frame)
            if picture is None:
                picture = self._converted(frame, self._stored(frame))
                self._shown.keep(frame, picture, len(picture.bgra))
            return picture

    def pictures(self, start: int, stop: int) -> Iterator[Picture]:
        """`evidence` of frames ``start`` up to but not including ``stop``, less those that are missing."""
        self._check(start)
        for frame in range(start, min(stop, len(self.facts.pts))):
            with self._lock:
                self.examine(frame)
                found = self._found(frame) is not None
            if found:
                yield self.evidence(frame)

    def at_hand(self, frame: int) -> Picture | None:
        """`picture` where it is ready to be shown, else None; never waits, whatever other threads do."""
        return self._shown.peek(frame)

    def is_decoded(self, frame: int) -> bool:
        """Whether `picture` takes no decoding."""
        return self._shown.peek(frame) is not None or self._kept.peek(frame) is not None

    def prepare(self, frame: int, step: int) -> Iterator[None]:
        """Make ready what a judge will want next who travels forward (1) or back (-1) from a frame.

        A little work at each step of the iteration, so that it can be broken off for something better. What
        lies the other way comes after.
        """
        yield from self.run_before(frame, step)
        yield from self.run_before(frame, -step)

    def run_before(self, frame: int, step: int) -> Iterator[None]:
        """`prepare` in one direction only, as when frames follow each other in time."""
        near = [n for n in (frame + step * ahead for ahead in range(1, self._near + 1)) if self._has(n)]
        yield from self.make_shown(number for number in near if self.is_decoded(number))
        yield from self._read_on(frame, step)
        yield from self.make_shown(near)

    def make_shown(self, frames: Iterable[int]) -> Iterator[None]:
        """Make frames ready to be shown, less those that are missing; step by step."""
        for number in frames:
            if self.at_hand(number) is None:
                yield from self.read(number, number)
                if number not in self.facts.missing:
                    self.picture(number)
                yield

    def read(self, first: int, last: int) -> Iterator[None]:
        """Decode what is not yet decoded of frames ``first`` to ``last``, in order, step by step.

        Of what is decoded on the way, as much as memory allows is kept, for a judge who steps back.
        """
        for frame in range(max(0, first), min(last + 1, len(self.facts.pts))):
            if not self.is_decoded(frame):
                yield from self._steps_to(frame, first - self._behind)

    def _read_on(self, frame: int, step: int) -> Iterator[None]:
        """One more run in the direction of travel, once half of the present one is used up."""
        end = frame
        while self._has(end) and (self.is_decoded(end) or end in self.facts.missing):
            if abs(end - frame) > self._ahead // 2:
                return
            end += step
        if self._has(end):
            yield from self.read(*sorted((end, end + step * (self._ahead - 1))))

    def _has(self, frame: int) -> bool:
        return 0 <= frame < len(self.facts.pts)

    def is_suspect(self, frame: int) -> bool:
        """Whether the frame lies in a stretch known to be damaged."""
        return any(first <= frame <= last for first, last in self.facts.suspect)

    def picture_hash(self, frame: int) -> str:
        """SHA-256 of the stored picture as FFmpeg's framehash gives it (rotation off); `VideoError`.

        Its group of pictures is searched for errors first, as for `evidence`.
        """
        with self._lock:
            self.examine(frame)
            return native_hash(self._stored(frame))

    def hashes(self) -> Iterator[str]:
        """`picture_hash` of every frame in order; empty text for a missing frame.

        First the whole file is searched for errors, so that what is damaged is known and decoded with care.
        """
        found = self._searched()
        for frame in range(len(self.facts.pts)):
            with self._lock:
                if frame not in found:
                    stored = self._found(frame)
                    found[frame] = "" if stored is None else native_hash(stored)
            yield found.pop(frame)

    def evidence(self, frame: int) -> Picture:
        """`picture`, its group of pictures searched for errors first, so that ``suspect`` is certain."""
        with self._lock:
            suspect = self.examine(frame)
            return replace(self.picture(frame), suspect=suspect)

    def chosen(self, frames: Iterable[int]) -> Iterator[tuple[Picture, str]]:
        """`evidence` and `picture_hash` of frames in ascending order, a sound group decoded only once."""
        reader = self.reader(SEARCHING)
        try:
            for frame, stored in pick(self.index, reader, self._in_order(frames)):
                if stored is None or self.is_suspect(frame):
                    yield self.evidence(frame), self.picture_hash(frame)
                else:
                    yield self._converted(frame, stored), native_hash(stored)
        finally:
            reader.close()

    def cut(self, first: int, last: int) -> Iterator[Picture]:
        """`evidence` of frames ``first`` to ``last``, less those that are missing, in one pass where sound.

        For a thread of its own: it reads with a decoder of its own.
        """
        self._check(first)
        self._check(last)
        reader, after = self.reader(SEARCHING), first
        try:
            for number, stored in run(self.index, reader, first, last):
                if self.is_suspect(number):
                    break
                yield self._converted(number, stored)
                after = number + 1
        finally:
            reader.close()
        if after <= last:
            yield from self.pictures(after, last + 1)

    def _in_order(self, frames: Iterable[int]) -> tuple[int, ...]:
        for frame in (asked := sorted(set(frames))):
            self._check(frame)
        return tuple(asked)

    def examine(self, frame: int) -> bool:
        """Search the frame's group of pictures for errors; whether the frame rests on one. `VideoError`."""
        with self._lock:
            self._check(frame)
            for group in self.index.groups_of(frame):
                self._take_in(self._examiner.examine(group))
            return self.is_suspect(frame)

    def _searched(self) -> dict[int, str]:
        """Hashes of the frames of sound groups; the others are examined."""
        reader, doubtful = self.reader(SEARCHING), set(self._unsound)
        try:
            found = {number: native_hash(stored) for number, stored in search(self.index, reader, doubtful)}
        finally:
            reader.close()
        with self._lock:
            for group in sorted(doubtful):
                self._take_in(self._examiner.examine(group))
            doubtful |= self._unsound
        group_of = self.index.start_for
        return {frame: digest for frame, digest in found.items() if group_of(frame) not in doubtful}

    def _is_sound(self, frame: int) -> bool:
        return self.index.start_for(frame) not in self._unsound

    def take_note(self, damage: Iterable[int], *, gradual: bool = False) -> None:
        """Mark from each packet with an error to the end of its group of pictures, which rests on it."""
        with self._lock:
            packets = tuple(damage)
            self._gradual = self._gradual or gradual
            self._distrust({self.index.group_of(packet) for packet in packets} - self._unsound)
            stretches = {self.index.spoilt_from(packet, gradual=self._gradual) for packet in packets}
            found = {stretch for stretch in stretches if stretch is not None}
            if found - set(self.facts.suspect):
                self.facts = replace(self.facts, suspect=_joined({*self.facts.suspect, *found}))

    def reader(self, decoding: Decoding) -> Reader:
        """Another reader of the same file, for a thread of its own."""
        return Reader(self._origin, self.index, decoding)

    @cached_property
    def _sure(self) -> Reader:
        return self.reader(SURE)

    def _converted(self, number: int, stored: VideoFrame) -> Picture:
        pixels = np.ascontiguousarray(self.converter.pixels(stored))
        return Picture(
            size=self.facts.displayed,
            bgra=pixels.reshape(-1).data,
            frame=number,
            time=self.facts.time(number),
            matrix=matrix_of(stored)[0],
            suspect=self.is_suspect(number),
            treatment=treatment_of(stored),
        )

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
        for _ in self._steps_to(frame):
            pass
        return self._kept.get(frame)

    def _steps_to(self, frame: int, first: int = 0) -> Iterator[None]:
        """Decode up to a frame, keeping what is decoded on the way from ``first`` on."""
        with self._lock:
            if frame in self._kept or frame in self.facts.missing:
                return
            self._kept.wanted = frame
            sound = self._is_sound(frame)
        if sound:
            yield from self._swiftly_to(frame, first)
        with self._lock:
            if frame not in self._kept:
                self._surely_to(frame)

    def _swiftly_to(self, frame: int, first: int) -> Iterator[None]:
        start = self.index.start_for(frame)
        run = self._swift.frames_to(frame, start, onward=True)
        while True:
            with self._lock:
                number, stored = next(run, (0, None))
                if self._swift.damage:
                    self._distrust({start, *groups_near(self.index, self._swift.damage)})
                    return
                if stored is None:
                    return
                if number >= first:
                    self._keep(number, stored)
            yield

    def _distrust(self, groups: set[int]) -> None:
        """Let go of what was decoded of damaged groups: threads conceal an error differently each time."""
        self._unsound |= groups
        self._swift.damage.clear()
        self._kept.drop_where(lambda number: self.index.start_for(number) in groups)
        self._shown.drop_where(lambda number: self.index.start_for(number) in groups)

    def _take_in(self, found: Examined) -> None:
        self.take_note(found.damage, gradual=found.gradual)

    def _surely_to(self, frame: int) -> None:
        group = self.index.start_for(frame)
        self.examine(frame)
        found = self._examiner.examine(group)
        for start in dict.fromkeys((found.start, FROM_START)):
            for number, stored in self._sure.frames_to(frame, start, onward=False):
                if self.index.start_for(number) == group:  # the others are but a run-up
                    self._keep(number, stored)
            self.take_note(self._sure.damage)
            if frame in self._kept:
                return
            if self.is_suspect(frame):
                break  # Damage explains it: a longer run-up would not bring it back.
        if not self._origin.is_untouched():
            raise changed(self.path)
        self.facts = replace(self.facts, missing=tuple(sorted({*self.facts.missing, frame})))

    def _keep(self, number: int, stored: VideoFrame) -> None:
        self._kept.keep(number, stored, sum(plane.buffer_size for plane in stored.planes))


def _joined(stretches: set[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    """Stretches in order, those that overlap made one."""
    joined: list[tuple[int, int]] = []
    for first, last in sorted(stretches):
        if joined and first <= joined[-1][1]:
            joined[-1] = joined[-1][0], max(last, joined[-1][1])
        else:
            joined.append((first, last))
    return tuple(joined)
