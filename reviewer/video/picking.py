"""Frames of a recording, each group of pictures decoded once and searched for errors on the way."""

from collections import deque
from collections.abc import Iterator, Sequence

from av.video.frame import VideoFrame

from reviewer.video.examining import HELD, THREADS
from reviewer.video.indexing import Index
from reviewer.video.reading import Reader


def pick(index: Index, reader: Reader, frames: Sequence[int]) -> Iterator[tuple[int, VideoFrame | None]]:
    """The frames, given in ascending order; None for one that a strict decoder has doubts about.

    A frame is given out when its groups of pictures have been read to their end, and as much further as the
    decoder's threads may be late with an error. ``reader`` must search: fast, and strict.
    """
    wanted, found, read_to = set(frames), dict[int, VideoFrame](), -1
    for frame in frames:
        groups = index.groups_of(frame)
        end = min(index.last_of(groups[-1]) + THREADS, len(index.pts) - 1)
        if end > read_to:
            for number, stored in reader.frames_to(end, groups[0], onward=not reader.damage):
                if number in wanted:
                    found[number] = stored
            read_to = end
        stored_there = found.pop(frame, None)
        yield frame, None if reader.damage or reader.gradual else stored_there


def run(index: Index, reader: Reader, first: int, last: int) -> Iterator[tuple[int, VideoFrame]]:
    """Frames from ``first`` on, up to ``last`` or to the first that there is any doubt about.

    Each is given out once so many more have come that no error of what it rests on can still be reported.
    ``reader`` must search: fast, and strict.
    """
    waiting: deque[tuple[int, VideoFrame]] = deque()
    wanted, end = first, min(last + THREADS + HELD, len(index.pts) - 1)
    for number, stored in reader.frames_to(end, index.start_for(first), onward=False):
        if first <= number <= last:
            waiting.append((number, stored))
        if reader.gradual:
            return
        if waiting and number - waiting[0][0] >= THREADS + HELD:
            if waiting[0][0] != wanted:
                return
            yield waiting.popleft()
            wanted += 1
    while waiting and waiting[0][0] == wanted and not reader.damage:
        yield waiting.popleft()
        wanted += 1
