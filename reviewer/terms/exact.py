"""Exact quantities: whole thousandths of a unit, made from decimal text and never from a float."""

import re
from dataclasses import dataclass
from typing import Self

from reviewer.terms.messages import message

_DECIMAL = re.compile(r"(-?)([0-9]{1,9})(?:\.([0-9]{1,3}))?")


@dataclass(frozen=True, order=True, slots=True)
class Thousandths:
    """A quantity in whole thousandths of its unit. Different kinds never mix."""

    thousandths: int

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read decimal text with at most three places, such as ``-0.05``; ValueError otherwise."""
        found = _DECIMAL.fullmatch(text)
        if found is None:
            raise ValueError(
                message("{text} is not a decimal number with at most three places", text=repr(text))
            )
        sign, whole, places = found.groups()
        size = int(whole) * 1000 + int((places or "").ljust(3, "0"))
        return cls(-size if sign else size)

    def __str__(self) -> str:
        whole, places = divmod(abs(self.thousandths), 1000)
        return f"{'-' if self.thousandths < 0 else ''}{whole}.{places:03d}"

    def __add__(self, other: Self) -> Self:
        self._same_kind(other)
        return type(self)(self.thousandths + other.thousandths)

    def __sub__(self, other: Self) -> Self:
        self._same_kind(other)
        return type(self)(self.thousandths - other.thousandths)

    def __neg__(self) -> Self:
        return type(self)(-self.thousandths)

    def __mul__(self, times: int) -> Self:
        return type(self)(self.thousandths * times)

    def __bool__(self) -> bool:
        return self.thousandths != 0

    def _same_kind(self, other: Self) -> None:
        if type(self) is not type(other):
            raise TypeError(f"{type(self).__name__} and {type(other).__name__} do not mix")


class Points(Thousandths):
    """Thousandths of a point of score."""


class Degrees(Thousandths):
    """Thousandths of a degree of angle."""


class Millimetres(Thousandths):
    """Thousandths of a millimetre of length."""


class Pixels(Thousandths):
    """Thousandths of a pixel of the picture as displayed."""
