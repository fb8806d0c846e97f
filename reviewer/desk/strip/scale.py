"""Where a moment lies on the strip: the whole routine in view, or closer and moved."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Scale:
    """Ticks against view pixels, downwards.

    Attributes:
        first, length: ticks of the recording on the screen, or of the marks where none is there.
        top, tall: view pixels from the widget's upper edge, and of what is in view.
        zoom: 1 shows the whole routine.
        part: which part is in view, as a share of the routine: 0 is its beginning.
    """

    first: int
    length: int
    top: float
    tall: float
    zoom: float = 1.0
    part: float = 0.0

    @property
    def whole(self) -> float:
        """Pixels of the whole routine."""
        return self.tall * self.zoom

    @property
    def beyond(self) -> float:
        """Pixels above the view."""
        return max(0.0, min(self.whole - self.tall, self.part * self.whole))

    def along(self, tick: int) -> float:
        """Pixels from the routine's beginning."""
        return (tick - self.first) / self.length * self.whole

    def y_of(self, tick: int) -> float:
        """Where a tick lies in the view."""
        return self.down(self.along(tick))

    def down(self, along: float) -> float:
        """Where a place of the routine lies in the view."""
        return self.top + along - self.beyond

    def tick_at(self, y: float) -> int:
        """The tick at a place of the view; beyond the routine its nearest end."""
        share = (y - self.top + self.beyond) / self.whole
        return round(self.first + max(0.0, min(1.0, share)) * self.length)

    def shows(self, y: float, room: float = 0.0) -> bool:
        """Whether a place is in view, or within ``room`` pixels of it."""
        return self.top - room <= y <= self.top + self.tall + room

    def part_with(self, along: float, y: float) -> float:
        """The part to have in view so that a place of the routine lies at ``y``."""
        beyond = max(0.0, min(self.whole - self.tall, along - (y - self.top)))
        return beyond / self.whole


def spread(places: list[float], tall: float, bottom: float) -> list[float]:
    """Move rising places apart by ``tall`` at least, each as near its own as can be, none past ``bottom``."""
    stands: list[float] = []
    for place in places:
        stands.append(max(place, stands[-1] + tall) if stands else place)
    limit = bottom
    for at in range(len(stands) - 1, -1, -1):
        stands[at] = min(stands[at], limit)
        limit = stands[at] - tall
    return stands


def kept(ranks: Sequence[int], room: int) -> list[int]:
    """Places of those that find room: lower ranks first, one rank thinned evenly where it does not fit."""
    found: list[int] = []
    for rank in sorted(set(ranks)):
        group, left = [at for at, one in enumerate(ranks) if one == rank], max(0, room - len(found))
        if len(group) > left:
            group = [group[at * len(group) // left] for at in range(left)]
        found += group
    return sorted(found)
