"""Several judges' readings of one cast pooled into one value, with their reproducibility.

What each judge adds by clicking the body is independent and lessens with their number; what the apparatus,
the lens and the side of the body may be wrong by is the same for all and does not (JCGM 100, F.1.2.3).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from statistics import fmean, stdev

from reviewer.measuring.coverage import factor95
from reviewer.measuring.errors import MeasuringError
from reviewer.measuring.judging import GOOD
from reviewer.measuring.trueplane import APPARATUS, BLUR, BODY
from reviewer.terms.exact import Degrees
from reviewer.terms.messages import listed, message, spoken
from reviewer.terms.problems import Problem
from reviewer.terms.readings import Reading

_DOUBT = 0.001
"""Chance below which judges do not differ so by their clicks alone."""


@dataclass(frozen=True, slots=True)
class Pooled:
    """One value of several readings.

    Attributes:
        value: their mean.
        uncertainty: its standard uncertainty.
        interval: lower and upper end of the interval of 95 % confidence.
        reproducibility: standard deviation from judge to judge (ISO 5725-1), each having measured once.
        budget: pairs of source and its standard uncertainty.
        check: ``good``, or what is doubtful.
    """

    value: Degrees
    uncertainty: Degrees
    interval: tuple[Degrees, Degrees]
    reproducibility: Degrees
    budget: tuple[tuple[str, Degrees], ...]
    check: str


def pooled(readings: Sequence[Reading]) -> Pooled:
    """Two or more readings of one line on one frame; a MeasuringError where they are not of the same."""
    _refuse_unlike(readings)
    values = [_number(one.value) for one in readings]
    count, spread = len(values), stdev(values)
    alike = _same_bars(readings)
    own = sqrt(fmean(_square(one, alike, shared=False) for one in readings))
    shared = sqrt(max(_square(one, alike, shared=True) for one in readings))
    judges = max(spread, own) / sqrt(count)
    total = sqrt(judges**2 + shared**2)
    half = factor95(total, spread / sqrt(count) if spread > own else 0.0, count - 1) * total
    middle = fmean(values)
    return Pooled(
        value=_degrees(middle),
        uncertainty=_degrees(total),
        interval=(_degrees(middle - half), _degrees(middle + half)),
        reproducibility=_degrees(spread),
        budget=((f"{count} judges", _degrees(judges)), ("what all share", _degrees(shared))),
        check=_check(readings, spread, own),
    )


def _refuse_unlike(readings: Sequence[Reading]) -> None:
    if len(readings) < 2:
        problem = Problem(
            "too-few", "readings", message("One reading does not pool."), message("Give two or more.")
        )
        raise MeasuringError(problem)
    kinds = {(one.clicks.frame, one.through, one.clicks.against, one.clicks.picture) for one in readings}
    if len(kinds) > 1:
        lines = [
            message(
                "{line} against {against} on frame {frame} of {wide} x {tall}",
                line=spoken(through),
                against=spoken(against),
                frame=frame,
                wide=wide,
                tall=tall,
            )
            for frame, through, against, (wide, tall) in sorted(kinds)
        ]
        unlike = message("These readings are not of one line on one frame: {lines}.", lines=listed(lines))
        raise MeasuringError(Problem("not-alike", "readings", unlike, message("Pool readings of the same.")))
    if len({(one.clicks.body, one.clicks.apparatus) for one in readings}) < len(readings):
        said, remedy = (
            message("Two of these readings rest on the very same clicks."),
            message("Name each judge's own."),
        )
        raise MeasuringError(Problem("same-clicks", "readings", said, remedy))


def _same_bars(readings: Sequence[Reading]) -> bool:
    """Whether all rest on the same clicks on the apparatus, which then they share."""
    return len({one.clicks.apparatus for one in readings}) == 1


def _square(reading: Reading, same_bars: bool, *, shared: bool) -> float:
    """The part of a reading's variance that all share, or that is its own."""
    return sum(
        _number(size) ** 2
        for source, size in reading.budget
        if shared != (source.startswith((BODY, BLUR)) or (source == APPARATUS and not same_bars))
    )


def _check(readings: Sequence[Reading], spread: float, own: float) -> str:
    from scipy.special import chdtrc

    said = list(dict.fromkeys(one.calibration.check for one in readings if one.calibration.check != GOOD))
    free = len(readings) - 1
    if own and chdtrc(free, free * (spread / own) ** 2) < _DOUBT:
        said.insert(0, f"the judges differ by {spread:.1f} degrees, more than clicks explain")
    return "; ".join(said) or GOOD


def _number(size: Degrees) -> float:
    return size.thousandths / 1000


def _degrees(size: float) -> Degrees:
    return Degrees(round(size * 1000))
