"""What a benchmark finds: a figure, how far its rounds lay apart, what it should reach, what stood beside."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from statistics import median
from time import perf_counter

Seconds = dict[str, list[float]]
"""Seconds that each contestant took in each round."""

OURS, PLAIN, OPENCV = "ours", "plain libav", "OpenCV"


@dataclass(frozen=True, slots=True)
class Figure:
    """One finding.

    Attributes:
        what: what was measured.
        value: the figure itself: the median of its rounds, unless ``what`` says otherwise.
        unit: ``x`` for a ratio, ``%`` or ``ms``.
        rounds: how many rounds (or accesses) it rests on.
        low, high: the least and the greatest of them.
        at_least, at_most: what it should reach, where something is asked of it.
        beside: other figures of the same run by name, unit included.
    """

    what: str
    value: float
    unit: str
    rounds: int
    low: float
    high: float
    at_least: float | None = None
    at_most: float | None = None
    beside: Mapping[str, float] = field(default_factory=dict)

    @property
    def reached(self) -> bool | None:
        """Whether it is what it should be; None where nothing is asked of it."""
        if self.at_least is None and self.at_most is None:
            return None
        low_enough = self.at_most is None or self.value <= self.at_most
        return low_enough and (self.at_least is None or self.value >= self.at_least)


def timed(work: Callable[[], object]) -> float:
    """Seconds that a piece of work takes."""
    begun = perf_counter()
    work()
    return perf_counter() - begun


def interleaved(contestants: Mapping[str, Callable[[int], float]], rounds: int) -> Seconds:
    """Let each take its turn in every round, the order reversed in every other one.

    A contestant is given the round's number and says how many seconds its work took.
    """
    names = list(contestants)
    seconds: Seconds = {name: [] for name in names}
    for turn in range(rounds):
        for name in names if turn % 2 == 0 else reversed(names):
            seconds[name].append(contestants[name](turn))
    return seconds


def ratios(seconds: Seconds, name: str, over: str) -> list[float]:
    """One contestant's time as part of another's, round by round."""
    return [one / other for one, other in zip(seconds[name], seconds[over], strict=True)]


def cost(
    what: str, seconds: Seconds, *, over: str = PLAIN, at_most: float | None, beside: Mapping[str, float]
) -> Figure:
    """Our time as part of another's: the less the better."""
    found = ratios(seconds, OURS, over)
    return Figure(what, median(found), "x", len(found), min(found), max(found), None, at_most, beside)


def speed(
    what: str, seconds: Seconds, *, over: str = PLAIN, at_least: float | None, beside: Mapping[str, float]
) -> Figure:
    """Our speed as part of another's: the more the better."""
    found = ratios(seconds, over, OURS)
    return Figure(what, median(found), "x", len(found), min(found), max(found), at_least, None, beside)


def each_in_ms(seconds: Seconds, pieces: int) -> dict[str, float]:
    """Every contestant's milliseconds for one piece of work, the median of its rounds."""
    return {f"{name}, ms": 1000 * median(taken) / pieces for name, taken in seconds.items()}


def frames_a_second(seconds: Seconds, frames: int) -> dict[str, float]:
    """Every contestant's frames a second, the median of its rounds."""
    return {f"{name}, frames/s": frames / median(taken) for name, taken in seconds.items()}


def percentile(values: Sequence[float], share: float) -> float:
    """The least value that at least this share (0 to 1) of the values do not exceed: nearest rank."""
    ranked = sorted(values)
    return ranked[max(0, -(-int(share * 1000) * len(ranked) // 1000) - 1)]
