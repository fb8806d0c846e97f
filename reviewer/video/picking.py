"""Chosen frames of a recording, each group of pictures decoded once and searched for errors on the way."""

from collections.abc import Iterator, Sequence

from av.video.frame import VideoFrame

from reviewer.video.examining import THREADS
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
