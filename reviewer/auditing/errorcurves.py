"""How far judges usually lie from the control score, and each judge against that: a published error model.

Mercier and Heiniger, arXiv 1807.10021, and Heiniger and Mercier, J Quant Anal Sports 17, 2021 (as told in a
later text of the same group; the forms of the formulas from memory): a judge's error depends on the level of
the routine, the usual error changes exponentially with the level, and each judge's errors are told as
multiples of it. The exponential is fitted to squared errors, each weighted by the inverse of its own
variance: that is the most likely curve where errors are normal, and makes the mean square of all multiples
exactly 1. Intervals are those of chi-squared and Student; they speak of how the judge scores, not of this
meet alone, and so are not corrected for a finite one.
"""

from dataclasses import dataclass
from math import exp, log, sqrt

import numpy as np

from reviewer.auditing.intervals import STEADY, Figure, mean
from reviewer.auditing.meets import ErrorCurve, JudgeError, Led
from reviewer.auditing.strata import Names, Real, Yes, farthest
from reviewer.terms.exact import Points
from reviewer.terms.messages import Message, message

LEAST_ROUTINES, LEAST_JUDGES = 30, 3
"""From these on a curve is fitted: 90 scores know the usual error to 7 %, one over the root of twice their
number. Our choice, no source."""
_STEPS, _CLOSE, _LONGEST = 200, 1e-10, 2.0


@dataclass(frozen=True, slots=True)
class Scores:
    """Of each routine its name and control score, and each judge's error; thousandths, NaN where none.

    ``control`` has a number for each routine, ``errors`` a row, with a column for each of the letters.
    """

    names: Names
    letters: tuple[str, ...]
    control: Real
    errors: Real


def error_curve(against: str, scores: Scores, by_lot: bool) -> ErrorCurve:
    """The curve and each judge against it, or why it was not fitted."""
    known = ~np.isnan(scores.errors)
    rows = np.asarray(known.any(axis=1))
    number, count = int(rows.sum()), int(known.sum())
    why = _why_not(number, int(known.any(axis=0).sum()), by_lot)
    if why is None:
        fitted = _fitted(against, scores, known, rows)
        if fitted is not None:
            return fitted
        why = message("Not fitted: no curve that rises or falls with the score suits these errors.")
    return ErrorCurve(against, number, count, None, None, None, None, None, (), why)


def _why_not(routines: int, judges: int, by_lot: bool) -> Message | None:
    if not by_lot:
        return message("Not fitted: routines that were not drawn by lot do not show what errors are usual.")
    if routines >= LEAST_ROUTINES and judges >= LEAST_JUDGES:
        return None
    return message(
        "Not fitted: {routines} routines and {judges} judges are needed at least, and there are {number} and "
        "{count}.",
        routines=LEAST_ROUTINES,
        judges=LEAST_JUDGES,
        number=routines,
        count=judges,
    )


def _fitted(against: str, scores: Scores, known: Yes, rows: Yes) -> ErrorCurve | None:
    levels = np.sort(scores.control[rows])
    lowest, middle, highest = (Points(round(float(levels[at]))) for at in (0, len(levels) // 2, -1))
    away = np.broadcast_to((scores.control[:, None] - middle.thousandths) / 1000, known.shape)
    found = fit(away[known], scores.errors[known] ** 2)
    if found is None:
        return None
    multiples = scores.errors / np.exp((found[0] + found[1] * away) / 2)
    judges = tuple(
        _judge(scores, place, multiples[:, place])
        for place in range(len(scores.letters))
        if known[:, place].any()
    )
    error, factor = exp(found[0] / 2) / 1000, exp(found[1] / 2)
    number, count = int(rows.sum()), int(known.sum())
    return ErrorCurve(against, number, count, lowest, middle, highest, error, factor, judges, None)


def _judge(scores: Scores, place: int, multiples: Real) -> JudgeError:
    own = multiples[~np.isnan(multiples)]
    leads = farthest(scores.names, np.nan_to_num(multiples))
    return JudgeError(scores.letters[place], Led(relative_error(own), leads), Led(_tendency(own), leads))


def relative_error(multiples: Real) -> Figure:
    """The root of the mean square of multiples of the usual error, with chi-squared's interval."""
    from scipy.special import chdtri  # slow to import

    number, whole = len(multiples), float((multiples**2).sum())
    value = sqrt(whole / number)
    if not whole:
        return Figure(0.0, None, number, why=STEADY)
    low, high = (sqrt(whole / float(chdtri(number, above))) for above in (0.025, 0.975))
    return Figure(value, (low, high), number)


def _tendency(multiples: Real) -> Figure:
    found = mean([float(one) for one in multiples])
    return Figure(found.value, found.interval, found.number, why=found.why)


def fit(levels: Real, squares: Real) -> tuple[float, float] | None:
    """Logarithm of the usual square at level nought, and its growth for each level more; None for no fit.

    The likelihood is convex in both, so that scoring steps with halving end at the one best curve, if there
    is one.
    """
    if not squares.any():
        return None
    steep = bool((levels != levels[0]).any())
    sides = np.stack([np.ones_like(levels), levels], axis=1)[:, : 1 + steep]
    found: Real = np.zeros(sides.shape[1])
    found[0] = log(float(squares.mean()))
    for _ in range(_STEPS):
        ratios = squares * np.exp(-(sides @ found)) - 1
        step = np.linalg.solve(sides.T @ sides, sides.T @ ratios)
        if float(np.abs(step).max()) < _CLOSE:
            return float(found[0]), float(found[1]) if steep else 0.0
        found = _nearer(sides, squares, found, step * min(1.0, _LONGEST / float(np.abs(step).max())))
    return None


def _nearer(sides: Real, squares: Real, found: Real, step: Real) -> Real:
    """A step, halved until it makes the curve more likely."""

    def unlikely(at: Real) -> float:
        logs = sides @ at
        with np.errstate(over="ignore"):
            return float((logs + squares * np.exp(-logs)).sum())

    here = unlikely(found)
    enough = here + 1e-12 * abs(here)  # close to the end sums are no more exact than that
    for _ in range(40):
        if unlikely(found + step) <= enough:
            break
        step = step / 2
    return np.asarray(found + step)
