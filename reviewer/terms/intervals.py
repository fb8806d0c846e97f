"""A measured size as people are told it: its value ± half of the interval that holds it with 95 %.

That half is the expanded uncertainty of JCGM 100:2008 (GUM), 6.2; it is rounded up to the places shown, as
7.2.6 allows. Standard uncertainties are left to documents and to budgets that are headed so.
"""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any, TypeVar

from reviewer.terms.exact import Degrees, Millimetres, Thousandths

Size = TypeVar("Size", bound=Thousandths)
Z95_MILLIONTHS = 1_959_964
"""The two-sided 95 % point of the normal distribution."""


def tenths(size: Thousandths) -> str:
    """Degrees, millimetres or pixels with one place, halves away from zero."""
    whole = (abs(size.thousandths) + 50) // 100
    return f"{'−' if size.thousandths < 0 and whole else ''}{whole // 10}.{whole % 10}"


def tenths_up(size: Thousandths) -> str:
    """One place, rounded up, of what is not negative."""
    whole = -(-size.thousandths // 100)
    return f"{whole // 10}.{whole % 10}"


def expanded(uncertainty: Size) -> Size:
    """Half of the interval of 95 % that a standard uncertainty stands for, where no interval is given."""
    return type(uncertainty)(-(-uncertainty.thousandths * Z95_MILLIONTHS // 1_000_000))


def half_of(value: Size, interval: tuple[Size, Size]) -> Size:
    """How far an interval reaches from its value, to the farther side."""
    low, high = interval
    return max(value - low, high - value)


def told(value: Thousandths, half: Thousandths, unit: str) -> str:
    """Such as ``−43.2° ± 1.2° (95 %)``; ``unit`` with the space before it, if any."""
    return f"{tenths(value)}{unit} ± {tenths_up(half)}{unit} (95 %)"


def degrees_told(found: Mapping[str, Any]) -> str:
    """`told` of a document with ``value_deg`` and ``interval95_deg``, or ``u_deg`` alone."""
    value = Degrees.parse(found["value_deg"])
    if "interval95_deg" in found:
        low, high = (Degrees.parse(end) for end in found["interval95_deg"])
        return told(value, half_of(value, (low, high)), "°")
    return told(value, expanded(Degrees.parse(found["u_deg"])), "°")


def millimetres_told(found: Mapping[str, Any]) -> str:
    """`told` of a document with ``value_mm`` and ``interval95_mm``."""
    value, low, high = (Millimetres.parse(one) for one in (found["value_mm"], *found["interval95_mm"]))
    return told(value, half_of(value, (low, high)), " mm")


def seconds_told(seconds: str, uncertainty: str) -> str:
    """Decimal seconds with their standard uncertainty in whole milliseconds: ``0.497 s ± 0.030 s (95 %)``."""
    value, u = (int(Decimal(text) * 1_000_000) for text in (seconds, uncertainty))
    half = -(-u * Z95_MILLIONTHS // 1_000_000_000)
    whole = (abs(value) + 500) // 1000
    return f"{'−' if value < 0 and whole else ''}{_milli(whole)} s ± {_milli(half)} s (95 %)"


def _milli(thousandths: int) -> str:
    return f"{thousandths // 1000}.{thousandths % 1000:03d}"
