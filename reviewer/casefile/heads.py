"""The heads that are covered in the recordings of a case: placed by hand, followed, looked through."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from reviewer.casefile.chain import Event
from reviewer.terms.covers import Followed, Placed

COVERING = ("cover-placed", "cover-removed", "head-followed", "covers-reviewed")
"""Kinds of event that speak of heads."""


@dataclass(frozen=True, slots=True)
class Reviewed:
    """Somebody looked through the covers of a stretch and found every head hidden.

    Attributes:
        first, last: frames of the stretch.
        sha256: of the covers on it, as they were then.
        by: who looked.
    """

    first: int
    last: int
    sha256: str
    by: str


@dataclass(frozen=True, slots=True)
class Heads:
    """The heads in one recording.

    Attributes:
        placed: what was put by hand, by head and frame.
        followed: as each head was followed last, as events say it.
        reviews: who looked through what, oldest first.
    """

    placed: Mapping[tuple[str, int], Placed] = field(default_factory=dict)
    followed: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    reviews: tuple[Reviewed, ...] = ()

    @property
    def letters(self) -> tuple[str, ...]:
        """The heads that have a cover somewhere."""
        return tuple(sorted({one.head for one in self.placed.values() if one.cover is not None}))

    def of(self, head: str) -> tuple[Placed, ...]:
        """What was placed over one head, in order of frames."""
        own = [one for (letter, _), one in self.placed.items() if letter == head]
        return tuple(sorted(own, key=lambda one: one.frame))

    def trail(self, head: str) -> Followed | None:
        """How a head was followed last, or None."""
        found = self.followed.get(head)
        return None if found is None else Followed.from_json(found)

    def after(self, event: Event) -> "Heads":
        """The heads after an event that speaks of them."""
        said = event.payload
        match event.kind:
            case "cover-placed":
                one = Placed.from_json(said)
                return replace(self, placed={**self.placed, (one.head, one.frame): one})
            case "cover-removed":
                left = {key: one for key, one in self.placed.items() if key != (said["head"], said["frame"])}
                return replace(self, placed=left)
            case "head-followed":
                return replace(self, followed={**self.followed, said["head"]: said})
        looked = Reviewed(said["first"], said["last"], said["sha256"], event.author)
        return replace(self, reviews=(*self.reviews, looked))
