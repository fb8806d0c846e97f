"""When a picture is shown: whole ticks of the stream's rational time base."""

import re
from dataclasses import dataclass
from typing import Self

from reviewer.terms.messages import message


@dataclass(frozen=True, slots=True)
class TimeBase:
    """The length of one tick in seconds, as a ratio of whole numbers."""

    numerator: int
    denominator: int

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read ``1/90000``; ValueError for anything else."""
        found = re.fullmatch(r"([1-9][0-9]{0,9})/([1-9][0-9]{0,9})", text)
        if found is None:
            raise ValueError(message("{text} is not a time base such as 1/90000", text=repr(text)))
        return cls(int(found[1]), int(found[2]))

    def __str__(self) -> str:
        return f"{self.numerator}/{self.denominator}"


@dataclass(frozen=True, slots=True)
class FrameTime:
    """A frame's identity: its presentation time in ticks of a time base.

    Attributes:
        pts: whole ticks.
        time_base: length of a tick.
        occurrence: 0, or how many frames before it in display order have the same tick.
    """

    pts: int
    time_base: TimeBase
    occurrence: int = 0

    def milliseconds(self) -> int:
        """Whole milliseconds since tick 0, halves rounded up. For people: never an identity."""
        ticks = self.pts * self.time_base.numerator * 1000
        return (2 * ticks + self.time_base.denominator) // (2 * self.time_base.denominator)

    def seconds(self) -> str:
        """Seconds with three places as decimal text, such as ``1.285``."""
        size = self.milliseconds()
        whole, places = divmod(abs(size), 1000)
        return f"{'-' if size < 0 else ''}{whole}.{places:03d}"
