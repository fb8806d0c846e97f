"""A length or a time in the unit it was stated in: 9 in stays 9 in. Compared exactly, in whole numbers."""

import re
from dataclasses import dataclass
from typing import Self

from reviewer.terms.exact import Thousandths
from reviewer.terms.messages import message, spoken

LENGTHS = {"mm": 1_000, "cm": 10_000, "m": 1_000_000, "in": 25_400, "ft": 304_800}
"""Micrometres of each unit of length; an inch is 25.4 mm exactly (international yard and pound, 1959)."""
TIMES = {"s": 1, "second": 1, "seconds": 1, "minute": 60, "minutes": 60}
"""Seconds of each unit of time."""

TYPED_TIMES = "'64 s', '64', '1:04', '9 min' or '9 min 30 s'"
"""How people may write a time."""

_MEASURE = re.compile(r"(\d{1,6}(?:\.\d{1,3})?) ([a-z]+)")
_MOST_MINUTES, _MOST_SECONDS = r"[0-9]{1,4}(?:[.,][0-9]{1,3})?", r"[0-9]{1,5}(?:[.,][0-9]{1,3})?"
_MINUTES, _SECONDS = "(?:min|minutes?)", "(?:s|sec|seconds?)"
_TYPED = re.compile(
    rf"(?:({_MOST_MINUTES}) ?{_MINUTES})?(?: ?({_MOST_SECONDS}) ?{_SECONDS}?)?", re.IGNORECASE
)
_CLOCK = re.compile(r"([0-9]{1,4}):([0-5][0-9](?:[.,][0-9]{1,3})?)")


@dataclass(frozen=True, slots=True)
class Measure:
    """A number and its unit, as stated.

    Attributes:
        number: in thousandths of the unit, never negative.
        unit: one of `LENGTHS` or `TIMES`.
    """

    number: Thousandths
    unit: str

    @classmethod
    def length(cls, text: str) -> Self:
        """Read such as ``9 in``; ValueError otherwise."""
        return cls._parse(text, LENGTHS)

    @classmethod
    def time(cls, text: str) -> Self:
        """Read such as ``45 seconds``; ValueError otherwise."""
        return cls._parse(text, TIMES)

    @classmethod
    def typed_time(cls, text: str) -> Self:
        """Read a time as people write it, in one of the `TYPED_TIMES`; a bare number is seconds.

        ValueError for anything else, with the forms.
        """
        said = text.strip()
        found = _CLOCK.fullmatch(said) or _TYPED.fullmatch(said)
        if not said or found is None:
            raise ValueError(
                message("{text} is no time: write it as {forms}", text=repr(text), forms=spoken(TYPED_TIMES))
            )
        minutes, seconds = (None if one is None else _number(one) for one in found.groups())
        if seconds is None and minutes is not None:
            return cls(minutes, "minutes" if minutes.thousandths != 1000 else "minute")
        return cls((seconds or _NOUGHT) + (minutes or _NOUGHT) * TIMES["minute"], "s")

    def __str__(self) -> str:
        number = str(self.number)
        return f"{number.rstrip('0').rstrip('.')} {self.unit}"

    def __lt__(self, other: Self) -> bool:
        return self._size() < other._size()

    def exceeds(self, limit: Self, *, edge_included: bool) -> bool:
        """Whether it lies beyond a limit; the edge itself does not where the limit includes it."""
        return self._size() > limit._size() or (not edge_included and self._size() == limit._size())

    def _size(self) -> int:
        """Whole thousandths of a micrometre or of a second."""
        return self.number.thousandths * (LENGTHS | TIMES)[self.unit]

    @classmethod
    def _parse(cls, text: str, units: dict[str, int]) -> Self:
        found = _MEASURE.fullmatch(text)
        if found is None or found[2] not in units:
            raise ValueError(
                message("{text} is no measure in {units}", text=repr(text), units=", ".join(units))
            )
        return cls(Thousandths.parse(found[1]), found[2])


_NOUGHT = Thousandths(0)


def _number(text: str) -> Thousandths:
    """A number with a decimal point or comma."""
    return Thousandths.parse(text.replace(",", "."))
