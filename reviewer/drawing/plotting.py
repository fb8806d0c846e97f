"""A plot's frame: time across, degrees up, with round ticks; ratios, rounded once to tenths of a pixel."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from reviewer.terms.exact import Pixels
from reviewer.terms.shapes import Label, Segment, Shape, Spot
from reviewer.words import Saying

LETTERS = 18
"""Height of letters, in pixels; with these a plot 640 wide can still be read on a screen 360 wide."""
LETTER_WIDTH = Fraction(56, 100)
"""Of a letter's height, on average."""
LEFT, TOP, RIGHT, BOTTOM = 54, 30, 172, 30
"""Pixels around the plot, for words."""
_DEGREES = (1, 2, 5, 10, 15, 30, 45, 90)
_SECONDS = tuple(Fraction(n, 1000) for size in (1, 10, 100, 1000, 10_000) for n in (size, 2 * size, 5 * size))

Range = tuple[Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class Plot:
    """Where seconds and degrees lie.

    Attributes:
        size: of the whole drawing, in pixels.
        seconds, degrees: the least and the greatest that are shown.
    """

    size: tuple[int, int]
    seconds: Range
    degrees: Range

    @property
    def right(self) -> int:
        """Where the plot ends, in pixels."""
        return self.size[0] - RIGHT

    @property
    def bottom(self) -> int:
        """Where the axis of time lies, in pixels."""
        return self.size[1] - BOTTOM

    def x(self, seconds: Fraction) -> Fraction:
        """Pixels across."""
        low, high = self.seconds
        return LEFT + (seconds - low) * (self.right - LEFT) / (high - low)

    def y(self, degrees: Fraction) -> Fraction:
        """Pixels down; what would lie outside lies on the edge."""
        low, high = self.degrees
        kept = max(low, min(degrees, high))
        return self.bottom - (kept - low) * (self.bottom - TOP) / (high - low)

    def at(self, seconds: Fraction, degrees: Fraction) -> Spot:
        """Where a moment of an elevation lies."""
        return spot(self.x(seconds), self.y(degrees))

    def axes(self, say: Saying) -> tuple[Shape, ...]:
        """Both axes, with a line and a number at each round step; degrees at the left, seconds below."""
        corner = spot(LEFT, self.bottom)
        shapes: list[Shape] = []
        for tick in _ticks(self.degrees, self._step_up()):
            down, words = self.y(tick), f"{tick}°".replace("-", "−")
            shapes += [
                Segment(spot(LEFT, down), spot(self.right, down), "grid"),
                Label(spot(LEFT - 6 - width(words), down + Fraction(LETTERS, 3)), words, "number"),
            ]
        step = self._step_across()
        for tick in _ticks(self.seconds, step):
            across, words = self.x(tick), say.word(_decimal(tick, step))
            shapes += [
                Segment(spot(across, self.bottom), spot(across, self.bottom + 5), "axis"),
                Label(spot(across - width(words) / 2, self.bottom + LETTERS + 6), words, "number"),
            ]
        unit = Label(spot(self.right + 8, self.bottom + LETTERS + 6), say("seconds"), "number")
        up = Segment(corner, spot(LEFT, TOP), "axis")
        return *shapes, unit, up, Segment(corner, spot(self.right, self.bottom), "axis")

    def _step_up(self) -> Fraction:
        most = (self.bottom - TOP) // (2 * LETTERS)
        span = self.degrees[1] - self.degrees[0]
        return next((Fraction(step) for step in _DEGREES if span <= step * most), Fraction(_DEGREES[-1]))

    def _step_across(self) -> Fraction:
        most = (self.right - LEFT) // (5 * LETTERS)
        span = self.seconds[1] - self.seconds[0]
        return next((step for step in _SECONDS if span <= step * most), _SECONDS[-1])


def spot(x: Fraction | int, y: Fraction | int) -> Spot:
    """A spot in tenths of a pixel."""
    return Spot(Pixels(100 * round(10 * x)), Pixels(100 * round(10 * y)))


def width(words: str) -> Fraction:
    """About how wide words are, in pixels."""
    return LETTERS * LETTER_WIDTH * len(words)


def spanned(sizes: Sequence[Fraction], least: Fraction) -> Range:
    """From the least to the greatest with a little room, and no narrower than ``least``."""
    low, high = min(sizes), max(sizes)
    room = max((high - low) / 20, (least - (high - low)) / 2)
    return low - room, high + room


def _ticks(shown: Range, step: Fraction) -> list[Fraction]:
    first = ceil(shown[0] / step)
    return [step * k for k in range(first, int(shown[1] // step) + 1)]


def _decimal(tick: Fraction, step: Fraction) -> str:
    """With as many places as the step needs."""
    places = next(k for k in range(4) if (step * 10**k).denominator == 1)
    whole, rest = divmod(abs(round(tick * 10**places)), 10**places)
    sign = "-" if tick < 0 else ""
    return f"{sign}{whole}.{rest:0{places}d}" if places else f"{sign}{whole}"
