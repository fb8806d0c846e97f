"""One pass over a whole recording, in the background: small pictures, and where it is damaged."""

from collections import deque
from collections.abc import Callable
from concurrent.futures import Executor, Future, wait
from dataclasses import replace
from pathlib import Path
from threading import Lock
from typing import Any, BinaryIO, Self

from av.video.frame import VideoFrame

from reviewer.terms.pictures import Picture
from reviewer.video.container import SEARCHING, SURE
from reviewer.video.errors import unreadable
from reviewer.video.examining import Examiner, search
from reviewer.video.fingerprints import fingerprint
from reviewer.video.recording import Recording
from reviewer.video.shrinking import Enlarger, Shrinker
from reviewer.video.smallstore import Made, SmallStore, not_written

GoingOn = Callable[[int, int], bool]
"""Told frames done and frames in all; False stops the pass. It may wait, to give way to other work."""

_NONE = (0, 0)


Add = Callable[[int, VideoFrame], None]
_WAITING = 4
"""Pictures decoded and not yet made small, at most."""


class _HaltedError(Exception):
    """The pass was told to stop."""


class _Queue:
    """Tasks handed to another thread, a few at a time; the first fault of any is raised here."""

    def __init__(self, beside: Executor) -> None:
        self._beside = beside
        self._tasks: deque[Future[None]] = deque()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        wait(self._tasks)
        for task in self._tasks:
            task.result()

    def put(self, doing: Callable[[BinaryIO, int, VideoFrame], None], *what: Any) -> None:
        """One more task; waits while there are too many."""
        self._tasks.append(self._beside.submit(doing, *what))
        if len(self._tasks) > _WAITING:
            self._tasks.popleft().result()


class Survey:
    """Small pictures of one recording: those made so far can be asked for while others are being made.

    `run` belongs to one thread, `picture` to another. ``threads`` decode it; 0: as many as there
    are cores.

    Attributes:
        sha256: fingerprint of the file, empty until the pass has read it.
        complete: whether every frame has been seen.
    """

    def __init__(self, recording: Recording, store: SmallStore, threads: int = 0) -> None:
        self._decoding = replace(SEARCHING, count=threads)
        self.sha256, self.complete = "", False
        self._recording, self._store = recording, store
        square, turn = recording.converter.square, recording.converter.orientation
        self._enlarger = Enlarger(square, turn, recording.facts)
        self._shrinker = Shrinker(square, recording.facts.transfer != "sdr")
        self._places: list[tuple[int, int]] = [_NONE] * len(recording.facts.pts)
        self._file: BinaryIO | None = None
        self._part: Path | None = None
        self._matrix = 1
        self._damage: list[int] = []
        self._gradual = False
        self._guard = Lock()

    def close(self) -> None:
        """Let go of the file; an unfinished one is removed. Only when `run` has ended."""
        self._put_file(None)
        if self._part is not None:
            self._part.unlink(missing_ok=True)

    def picture(self, frame: int) -> Picture | None:
        """The small picture of a frame, or None where there is none yet; never waits for decoding.

        Who asks may still mean the recording that this one took the place of: it may have more frames.
        """
        start, length = self._places[frame] if frame < len(self._places) else _NONE
        with self._guard:
            if self._file is None or not length:
                return None
            try:
                self._file.seek(start)
                jpeg = self._file.read(length)
            except OSError:
                return None
            suspect = self._recording.is_suspect(frame)
            return self._enlarger.picture(jpeg, frame, self._matrix, suspect) if len(jpeg) == length else None

    def run(self, going_on: GoingOn, beside: Executor) -> None:
        """Fingerprint the file, then find or make its small pictures; `VideoError` says why it stopped.

        ``beside`` runs one task at a time: it makes the small pictures while this thread decodes.
        """

        def tell(done: int) -> None:
            if not going_on(done, len(self._places)):
                raise _HaltedError

        try:
            self.sha256 = fingerprint(self._recording.path, lambda done, size: tell(0))
            key = f"{self.sha256}-{self._recording.facts.stream}"
            self._take(self._store.find(key, len(self._places)) or self._made(key, tell, beside))
        except _HaltedError:
            return
        self.complete = True

    def _take(self, made: Made) -> None:
        self._put_file(made.data)
        self._matrix = made.matrix
        self._places[:] = made.places
        self._recording.take_note(made.damage, gradual=made.gradual)

    def _made(self, key: str, tell: Callable[[int], None], beside: Executor) -> Made:
        self._part = self._store.begin(key)
        self._put_file(self._part)
        try:
            with self._part.open("ab", buffering=0) as out, _Queue(beside) as queue:
                self._through(lambda number, stored: queue.put(self._add, out, number, stored), tell)
        except OSError as fault:
            raise not_written(self._part.parent, fault) from None
        made = Made(
            self._part, tuple(self._places), self._matrix, tuple(sorted({*self._damage})), self._gradual
        )
        self._put_file(None)  # some systems rename no open file
        finished = self._store.finish(key, self._part, made)
        self._part = None
        return finished

    def _through(self, add: Add, tell: Callable[[int], None]) -> None:
        """Every frame once by several threads; groups with errors again by one."""
        reader, doubtful = self._recording.reader(self._decoding), set[int]()
        try:
            for number, stored in search(self._recording.index, reader, doubtful):
                tell(number)
                add(number, stored)
        finally:
            reader.close()
        if doubtful:
            self._again(add, sorted(doubtful), tell)

    def _again(self, add: Add, groups: list[int], tell: Callable[[int], None]) -> None:
        examiner = Examiner(self._recording.index, self._recording.reader)
        reader, index = self._recording.reader(SURE), self._recording.index
        try:
            for group in groups:
                found = examiner.examine(group)
                self._damage, self._gradual = [*self._damage, *found.damage], self._gradual or found.gradual
                self._recording.take_note(found.damage, gradual=found.gradual)
                for number, stored in reader.frames_to(index.last_of(group), found.start, onward=False):
                    tell(number)
                    if index.start_for(number) == group:
                        add(number, stored)
        finally:
            examiner.close()
            reader.close()

    def _add(self, out: BinaryIO, number: int, stored: VideoFrame) -> None:
        jpeg, start = self._shrinker.jpeg(stored), out.tell()
        written = out.write(jpeg)
        self._matrix = self._shrinker.matrix(stored)
        self._places[number] = (start, written) if written == len(jpeg) else _NONE

    def _put_file(self, path: Path | None) -> None:
        """Read small pictures from this file, or from none."""
        with self._guard:
            if self._file is not None:
                self._file.close()
            try:
                self._file = path.open("rb", buffering=0) if path is not None else None
            except OSError:
                self._file = None
                raise unreadable(path or Path()) from None
