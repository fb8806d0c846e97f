"""Pictures kept at hand, bounded in bytes."""

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, Self, TypeVar

MEMORY = 1 << 30
"""Bytes an open recording may take, unless said otherwise."""

_IN_DECODERS = 40
"""Pictures that decoders and converters hold for themselves, with threads and reference pictures."""

Kind = TypeVar("Kind")


@dataclass(frozen=True, slots=True)
class Shares:
    """How the memory of a recording is shared out.

    Attributes:
        stored: bytes of pictures as stored.
        shown: bytes of pictures ready to be shown.
        frames: how many pictures the first are.
    """

    stored: int
    shown: int
    frames: int

    @classmethod
    def of(cls, memory: int, picture: int) -> Self:
        """Shares of ``memory`` bytes, with ``picture`` the size of one as stored; decoders come first."""
        shown = memory // 8
        stored = max(memory // 8, memory - shown - _IN_DECODERS * picture)
        return cls(stored, shown, stored // max(1, picture))


class Kept(Generic[Kind]):
    """Pictures by frame number; the one asked for longest ago goes first.

    Attributes:
        wanted: number of a frame that stays however large the others are.
    """

    def __init__(self, most: int) -> None:
        self.wanted: int | None = None
        self._most, self._bytes = most, 0
        self._held: OrderedDict[int, tuple[Kind, int]] = OrderedDict()

    def __contains__(self, frame: int) -> bool:
        return frame in self._held

    def get(self, frame: int) -> Kind | None:
        """The picture, or None where it is not kept."""
        found = self._held.get(frame)
        if found is None:
            return None
        self._held.move_to_end(frame)
        return found[0]

    def peek(self, frame: int) -> Kind | None:
        """The picture, or None, without counting as asked for: safe from any thread at any time."""
        found = self._held.get(frame)
        return found[0] if found is not None else None

    def keep(self, frame: int, picture: Kind, size: int) -> None:
        """Keep a picture of so many bytes, the newest always."""
        self._drop(frame)
        self._held[frame] = picture, size
        self._bytes += size
        if self._bytes > self._most:
            self._make_room(frame)

    def _make_room(self, newest: int) -> None:
        for other in list(self._held):
            if self._bytes <= self._most:
                return
            if other not in (newest, self.wanted):
                self._drop(other)

    def drop_where(self, unwanted: Callable[[int], bool]) -> None:
        """Let go of the frames whose number is unwanted."""
        for frame in [frame for frame in self._held if unwanted(frame)]:
            self._drop(frame)

    def clear(self) -> None:
        """Let go of all."""
        self._held.clear()
        self._bytes = 0

    def _drop(self, frame: int) -> None:
        _, size = self._held.pop(frame, (None, 0))
        self._bytes -= size
