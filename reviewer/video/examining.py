"""Finding the errors of a group of pictures, and where its decoding has to begin.

A decoder conceals what is damaged with what it decoded before. So a damaged group is always decoded from the
last sound group before it, by one thread: its pictures are then the same each time and, as far as measured,
those of a decoder that came from the start of the file.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from reviewer.video.container import STRICT, Decoding
from reviewer.video.indexing import Index
from reviewer.video.reading import FROM_START, Reader, Run

THREADS = 16
"""Packets by which a report may be late: the most threads libav takes by itself."""
FARTHEST = 8
"""Groups by which decoding begins earlier at most, lest a file with errors everywhere takes for ever."""
HELD = 16
"""Pictures a decoder holds at most (ITU-T H.264, A.3.1). The first pictures after a cut may rest on some that
were cut away: what only a strict decoder says of them is no damage."""


@dataclass(frozen=True, slots=True)
class Examined:
    """What is known of one group.

    Attributes:
        start: number of the key frame at which decoding has to begin, or ``FROM_START``.
        damage: places of packets with errors, from there to the group's end.
        gradual: whether key frames are but the starts of a gradual refresh.
    """

    start: int
    damage: tuple[int, ...]
    gradual: bool


class Examiner:
    """Examines groups with a strict decoder of its own; not for two threads at once."""

    def __init__(self, index: Index, reader: Callable[[Decoding], Reader]) -> None:
        self._index, self._make = index, reader
        self._reader: Reader | None = None
        self._known: dict[int, Examined] = {}

    def close(self) -> None:
        """Let go of the file."""
        if self._reader is not None:
            self._reader.close()

    def examine(self, group: int) -> Examined:
        """The group examined; `VideoError` for a file that has changed."""
        if group not in self._known:
            self._known[group] = self._examined(group)
        return self._known[group]

    def _examined(self, group: int) -> Examined:
        """From the group before; twice as far back while that begins with errors itself."""
        back = 1
        while True:
            start = max(FROM_START, group - back)
            damage, gradual = self._errors(start, group)
            begins_ill = any(self._index.group_of(place) == start for place in damage)
            if start == FROM_START or back == FARTHEST or not begins_ill:
                return Examined(start, damage, gradual)
            back *= 2

    def _errors(self, start: int, group: int) -> tuple[tuple[int, ...], bool]:
        """Places of errors, and whether a key frame was gradual: the next one is looked at too."""
        if self._reader is None:
            self._reader = self._make(STRICT)
        last = self._index.last_of(group)
        for frame in (last, last + 1):
            if 0 <= frame < len(self._index.pts):
                for _ in self._reader.frames_to(frame, start, onward=False):
                    pass
        told = (place for place in self._reader.damage if self._index.group_of(place) <= group)
        return tuple(place for place in told if not self._follows_a_cut(place)), self._reader.gradual

    def _follows_a_cut(self, place: int) -> bool:
        """Whether the recording begins, or an edit list hides pictures, shortly before a packet."""
        return any(self._index.is_hidden(one) for one in range(place - HELD, place + 1))


def groups_near(index: Index, places: Iterable[int]) -> set[int]:
    """Groups in which an error may lie that several threads report at these packets, or a little late."""
    return {index.group_of(max(0, place - late)) for place in places for late in (0, THREADS)}


def search(index: Index, reader: Reader, doubtful: set[int]) -> Run:
    """Every frame of the file by several threads; groups in which an error may lie are put into ``doubtful``.

    After an error the search goes on at the next group, so of doubtful groups some frames are not given.
    """
    start, lost = FROM_START, set(range(len(index.pts)))
    while start < len(index.keys):
        for number, stored in reader.run_from(start):
            lost.discard(number)
            yield number, stored
        if not reader.damage:
            break
        near = groups_near(index, reader.damage)
        doubtful |= near
        start = max(start, *near) + 1
    doubtful |= {index.start_for(number) for number in lost}
