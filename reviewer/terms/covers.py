"""What hides a head in one picture, and in a whole recording."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from typing import Any, Self

from reviewer.terms.canonical import canonical
from reviewer.terms.exact import Pixels
from reviewer.terms.shapes import Spot

Stretch = tuple[int, int]
"""First and last frame of some that follow each other."""


@dataclass(frozen=True, slots=True)
class Cover:
    """An ellipse along the axes of the picture as displayed; what lies under it is not shown.

    Attributes:
        centre: its middle.
        across, down: half of its width and of its height.
    """

    centre: Spot
    across: Pixels
    down: Pixels

    @classmethod
    def of_whole(cls, x: int, y: int, across: int, down: int) -> Self:
        """A cover in whole pixels."""
        return cls(Spot(Pixels(1000 * x), Pixels(1000 * y)), Pixels(1000 * across), Pixels(1000 * down))

    @classmethod
    def from_json(cls, said: Mapping[str, Any]) -> Self:
        """From what an event says; ValueError for one that hides nothing."""
        x, y = (Pixels.parse(one) for one in said["at"])
        across, down = Pixels.parse(said["across"]), Pixels.parse(said["down"])
        if across.thousandths <= 0 or down.thousandths <= 0:
            raise ValueError("a cover has a width and a height")
        return cls(Spot(x, y), across, down)

    def to_json(self) -> dict[str, Any]:
        """What an event says of it."""
        at = [str(self.centre.x), str(self.centre.y)]
        return {"at": at, "across": str(self.across), "down": str(self.down)}


@dataclass(frozen=True, slots=True)
class Placed:
    """A cover put over a head by hand, or the word that it is out of sight.

    Attributes:
        head: the head's letter, such as ``a``; one who is covered has no other name.
        frame: number of the frame.
        cover: what hides it there; None where it is out of sight from here on, until it is covered again.
    """

    head: str
    frame: int
    cover: Cover | None

    @classmethod
    def from_json(cls, said: Mapping[str, Any]) -> Self:
        """From what an event says; ValueError where it is unsound."""
        covered = said["cover"]
        frame = said["frame"]
        if not isinstance(said["head"], str) or not said["head"]:
            raise ValueError("a head has a letter")
        if not isinstance(frame, int) or isinstance(frame, bool) or frame < 0:
            raise ValueError("a frame is a whole number from 0")
        return cls(said["head"], frame, None if covered is None else Cover.from_json(covered))

    def to_json(self) -> dict[str, Any]:
        """What an event says of it."""
        return {
            "head": self.head,
            "frame": self.frame,
            "cover": None if self.cover is None else self.cover.to_json(),
        }


@dataclass(frozen=True, slots=True)
class Followed:
    """A head followed through a whole recording from the covers placed by hand.

    Attributes:
        head: its letter.
        placed: fingerprint of those covers, `fingerprint_of`.
        covers: for each frame of the recording what hides the head; None where it is out of sight.
        lost: stretches where nobody can tell where it is, for which its cover has grown.
    """

    head: str
    placed: str
    covers: tuple[Cover | None, ...]
    lost: tuple[Stretch, ...]

    @classmethod
    def from_json(cls, said: Mapping[str, Any]) -> Self:
        """From what an event says; ValueError where it is unsound."""
        covers = tuple(None if one is None else _whole(one) for one in said["covers"])
        lost = tuple((first, last) for first, last in said["lost"])
        if not all(0 <= first <= last < len(covers) for first, last in lost):
            raise ValueError("a lost stretch lies in the recording")
        if not isinstance(said["head"], str) or not isinstance(said["placed"], str):
            raise ValueError("a head has a letter, its covers a fingerprint")
        return cls(said["head"], said["placed"], covers, lost)

    def to_json(self) -> dict[str, Any]:
        """What an event says of it: covers as x, y, half width and half height in whole pixels."""
        return {
            "head": self.head,
            "placed": self.placed,
            "covers": [None if one is None else _in_whole(one) for one in self.covers],
            "lost": [list(stretch) for stretch in self.lost],
        }


def fingerprint_of(placed: Sequence[Placed]) -> str:
    """SHA-256 of the covers placed over one head, in order of frames."""
    return sha256(canonical([one.to_json() for one in placed])).hexdigest()


def _whole(said: Sequence[int]) -> Cover:
    x, y, across, down = said
    if not all(isinstance(one, int) and not isinstance(one, bool) for one in said) or min(across, down) < 1:
        raise ValueError("a cover is four whole numbers")
    return Cover.of_whole(x, y, across, down)


def _in_whole(one: Cover) -> list[int]:
    sizes = (one.centre.x, one.centre.y, one.across, one.down)
    return [size.thousandths // 1000 for size in sizes]
