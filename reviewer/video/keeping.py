"""A few recent pictures kept at hand, bounded in bytes."""

from collections import OrderedDict
from typing import Generic, TypeVar

KEPT_BYTES = 96 << 20
"""Bytes kept of each kind: about 70 stored or 26 shown pictures of 1280 × 720."""

Kind = TypeVar("Kind")


class Kept(Generic[Kind]):
    """Pictures by frame number; the one asked for longest ago goes first."""

    def __init__(self, most: int = KEPT_BYTES) -> None:
        self._most, self._bytes = most, 0
        self._held: OrderedDict[int, tuple[Kind, int]] = OrderedDict()

    def get(self, frame: int) -> Kind | None:
        """The picture, or None where it is not kept."""
        found = self._held.get(frame)
        if found is None:
            return None
        self._held.move_to_end(frame)
        return found[0]

    def keep(self, frame: int, picture: Kind, size: int) -> None:
        """Keep a picture of so many bytes, the newest always."""
        self._drop(frame)
        self._held[frame] = picture, size
        self._bytes += size
        while self._bytes > self._most and len(self._held) > 1:
            self._drop(next(iter(self._held)))

    def clear(self) -> None:
        """Let go of all."""
        self._held.clear()
        self._bytes = 0

    def _drop(self, frame: int) -> None:
        _, size = self._held.pop(frame, (None, 0))
        self._bytes -= size
