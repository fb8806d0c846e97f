"""How long something took, from the first frame on which each of two events shows.

An event shows first on one frame, so it happened after the frame before was taken and no later than this
one was: at any moment of that gap alike. The moment is therefore the gap's middle, with a rectangular
distribution of half the gap either side (JCGM 100:2008, 4.3.7), and a duration is the difference of two.

That a camera's clock may itself run fast or slow, and that taking a picture needs its exposure, is not in the
figures.
"""

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from fractions import Fraction
from math import sqrt

from reviewer.measuring.errors import MeasuringError
from reviewer.terms.messages import message
from reviewer.terms.pictures import RecordingFacts
from reviewer.terms.problems import Problem

WITHIN, BEYOND, CANNOT_SAY = "within", "beyond", "cannot be said at 95 %"
"""What may be said of a duration against a limit."""


@dataclass(frozen=True, slots=True)
class Gap:
    """What lies between a frame and the one before, in ticks.

    ``assumed``: there is no earlier moment in the recording, so the following gap stands for it.
    """

    ticks: int
    assumed: bool = False


@dataclass(frozen=True, slots=True)
class Duration:
    """The time from one event to another, in whole microseconds, each figure rounded once.

    Attributes:
        value: difference of the middles of the two gaps; negative when the second event came first.
        uncertainty: standard uncertainty.
        interval: lower and upper end of the symmetric interval of 95 % confidence.
    """

    value: int
    uncertainty: int
    interval: tuple[int, int]


def duration(facts: RecordingFacts, first: int, last: int) -> Duration:
    """From the event that first shows on frame ``first`` to the one that first shows on ``last``.

    The two moments count as independent, also within one gap, and which came first is not presumed.
    IndexError outside the recording; `MeasuringError` where a recording is of one moment only.
    """
    gaps = [_seconds(facts, gap_before(facts, frame).ticks) for frame in (first, last)]
    between = _seconds(facts, facts.time(last).pts - facts.time(first).pts)
    value, half = between - (gaps[1] - gaps[0]) / 2, coverage(*gaps)
    return Duration(
        value=round(value * 1_000_000),
        uncertainty=round(1e6 * sqrt((gaps[0] ** 2 + gaps[1] ** 2) / 12)),
        interval=(round(1e6 * (float(value) - half)), round(1e6 * (float(value) + half))),
    )


def gap_before(facts: RecordingFacts, frame: int) -> Gap:
    """The gap before a frame. Frames of one tick share it: no gap at all would claim an exactness that
    times which stand still do not have. IndexError and `MeasuringError` as for `duration`.
    """
    pts = facts.time(frame).pts
    earlier, later = bisect_left(facts.pts, pts) - 1, bisect_right(facts.pts, pts)
    if earlier >= 0:
        return Gap(pts - facts.pts[earlier])
    if later < len(facts.pts):
        return Gap(facts.pts[later] - pts, assumed=True)
    raise MeasuringError(
        Problem(
            "one-moment",
            f"frame {frame}",
            message("All frames of the recording have the same time, so no duration can be taken from it."),
            message("Take the duration from a recording whose frames have times of their own."),
        )
    )


def coverage(first: Fraction, second: Fraction) -> float:
    """Half the width of the interval that holds 95 % of the difference of two moments, in the gaps' unit.

    The difference of two rectangular quantities of widths g >= h has a trapezoidal distribution (JCGM 101,
    6.4.4): level to (g - h) / 2 either side, then falling to nothing at (g + h) / 2. A slope leaves outside
    ``k`` the share ((g + h) / 2 - k)² / (2 g h) on each side; the level holds 2 k / g within ``k``.
    """
    wide, narrow = max(first, second), min(first, second)
    on_slope = float(wide + narrow) / 2 - sqrt(0.05 * wide * narrow)
    return on_slope if on_slope >= float(wide - narrow) / 2 else 0.95 * float(wide) / 2


def against_limit(found: Duration, limit: int) -> str:
    """Whether a duration kept to a limit of whole microseconds; the limit itself does.

    ``within`` or ``beyond`` where the whole interval of 95 % lies on one side; else it cannot be said.
    """
    low, high = found.interval
    if high <= limit:
        return WITHIN
    return BEYOND if low > limit else CANNOT_SAY


def _seconds(facts: RecordingFacts, ticks: int) -> Fraction:
    return Fraction(ticks * facts.time_base.numerator, facts.time_base.denominator)
