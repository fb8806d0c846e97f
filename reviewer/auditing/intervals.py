"""Figures of a sample with their intervals of 95 %, and how large a sample would have to be."""

from collections.abc import Callable
from dataclasses import dataclass
from math import sqrt
from statistics import NormalDist, fmean, stdev

from reviewer.terms.messages import noted

WIDEST_SHARE, WIDEST_POINTS = 0.4, 0.2
"""Of a share or coefficient, of points: a wider interval settles nothing. Our choice, no source."""
_Z = NormalDist().inv_cdf(0.975)
_MOST = 100_000
FEW = noted("Two routines are needed at least.")
STEADY = noted("The differences are the same on every routine: no interval is defined.")

Interval = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of a sample.

    Attributes:
        value: the figure, or None where it is not defined.
        interval: its interval of 95 %, or None where that is not defined.
        number: how many routines it rests on.
        least: below how many routines the interval would be too wide to conclude anything, all else being as
            found here; None where no number is enough, or none can be told.
        why: why something is not defined; empty where all is.
    """

    value: float | None
    interval: Interval | None
    number: int
    least: int | None = None
    why: str = ""

    @property
    def enough(self) -> bool:
        """Whether anything can be concluded."""
        return self.interval is not None and self.least is not None and self.number >= self.least


def wilson(successes: int, number: int) -> Figure:
    """A share, with the score interval of Wilson (J Am Stat Assoc 22, 1927, from memory)."""
    if number == 0:
        return Figure(None, None, 0, why="No routine was judged by two.")
    share = successes / number
    least = least_number(lambda n: width(wilson_interval(share, n)), WIDEST_SHARE)
    return Figure(share, wilson_interval(share, number), number, least)


def wilson_interval(share: float, number: float) -> Interval:
    """Of a share of so many, which need not be a whole number."""
    grown = 1 + _Z**2 / number
    middle = (share + _Z**2 / (2 * number)) / grown
    half = _Z / grown * sqrt(share * (1 - share) / number + _Z**2 / (4 * number**2))
    return max(0.0, middle - half), min(1.0, middle + half)


def mean(values: list[float]) -> Figure:
    """A mean in points, with Student's interval."""
    if len(values) < 2:
        return Figure(values[0] if values else None, None, len(values), why=FEW)
    return around(fmean(values), stdev(values), len(values))


def around(middle: float, deviation: float, number: int) -> Figure:
    """A figure whose standard error is a deviation over the root of the number, with Student's interval."""
    if deviation == 0:
        return Figure(middle, None, number, why=STEADY)
    least = least_number(lambda n: 2 * _half(deviation, n), WIDEST_POINTS)
    half = _half(deviation, number)
    return Figure(middle, (middle - half, middle + half), number, least)


def spread(values: list[float]) -> Figure:
    """A standard deviation in points, with the interval of chi-squared."""
    from scipy.special import chdtri  # slow to import

    if len(values) < 2:
        return Figure(None, None, len(values), why=FEW)
    deviation = stdev(values)
    if deviation == 0:
        return Figure(deviation, None, len(values), why=STEADY)

    def bound(number: int, above: float) -> float:
        return deviation * sqrt((number - 1) / float(chdtri(number - 1, above)))

    def interval(number: int) -> Interval:
        return bound(number, 0.025), bound(number, 0.975)

    least = least_number(lambda n: width(interval(n)), WIDEST_POINTS)
    return Figure(deviation, interval(len(values)), len(values), least)


def least_number(wide: Callable[[int], float], widest: float) -> int | None:
    """The fewest routines, from two, whose interval is at most so wide; widths shrink as the number grows."""
    most = 2
    while not wide(most) <= widest:  # neither is an interval that is not defined
        most *= 2
        if most > _MOST:
            return None
    low, high = most // 2, most
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if wide(middle) <= widest else (middle, high)
    return high


def width(interval: Interval) -> float:
    """From one end to the other."""
    return interval[1] - interval[0]


def _half(deviation: float, number: int) -> float:
    """Half of Student's interval."""
    from scipy.special import stdtrit  # slow to import

    return float(stdtrit(number - 1, 0.975)) * deviation / sqrt(number)
