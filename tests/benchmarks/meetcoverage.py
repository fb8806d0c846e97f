"""How often intervals hold what is true: a thousand simulated meets of each design, those of the tests first.

A figure is a share of all intervals of its kind, the least and the greatest of single figures beside it; a
thousand tell a single one to 1.4 % to either side. Beside the spreads of judges in a simple sample stand
those that the bootstrap gives for the first of them: 999 resamples, drawn together for a finite meet on the
scale of logarithms.
"""

from collections.abc import Iterator
from statistics import fmean, stdev

import numpy as np
from numpy.typing import NDArray
from scipy import stats

from tests.auditing.simulated_meets import DESIGNS, LETTERS, ONE, Counts, Coverage, coverage, meet_and_lot
from tests.benchmarks.clips import Setting
from tests.benchmarks.figures import Figure

MEETS, RESAMPLES = 1000, 999
KINDS = {
    "shares": ("share of wrong start values",),
    "biases of judges": tuple(f"judge {letter}: mean" for letter in LETTERS),
    "spreads of judges": tuple(f"judge {letter}: spread" for letter in LETTERS),
    "means of posted scores": ("posted: mean", "posted, at full speed: mean"),
    "spreads of posted scores": ("posted: spread", "posted, at full speed: spread"),
    "means of start values, mostly nought": ("start value: mean",),
    "spreads of start values, mostly nought": ("start value: spread",),
}


def figures(setting: Setting, _: str) -> Iterator[Figure]:
    """Design by design."""
    meets = 100 if setting.quick else MEETS
    for name, design in DESIGNS.items():
        found = coverage(design, meets)
        beside = _by_bootstrap(meets) if design is ONE else {}
        yield from (_figure(name, kind, found, beside) for kind in KINDS)


def _figure(name: str, kind: str, found: Coverage, bootstrap: dict[str, float]) -> Figure:
    shares = [100 * found.share(figure) for figure in KINDS[kind]]
    beside = bootstrap if kind == "spreads of judges" else {}
    what = f"intervals that hold the truth, {name}: {kind}"
    return Figure(what, fmean(shares), "%", found.meets, min(shares), max(shares), 93, 97, beside)


def _by_bootstrap(meets: int) -> dict[str, float]:
    """How often intervals of the first judge's spread hold it."""
    held = {"percentile": 0, "BCa": 0}
    for number in range(meets):
        parts, drawn = meet_and_lot(ONE, number)
        away = parts[""].judges[:, 0] - parts[""].audited
        for method in held:
            low, high = _interval(away[drawn[""]], method, 1 - len(drawn[""]) / len(away))
            held[method] += low <= stdev(map(float, away)) <= high
    return {f"first judge by bootstrap, {method}, %": 100 * count / meets for method, count in held.items()}


def _deviation(values: NDArray[np.float64], axis: int) -> NDArray[np.float64]:
    return np.asarray(np.std(values, ddof=1, axis=axis))


def _interval(values: Counts, method: str, left: float) -> list[float]:
    chance = np.random.default_rng(int(values.sum()))
    found = stats.bootstrap((values,), _deviation, n_resamples=RESAMPLES, method=method, rng=chance)
    middle = float(np.std(values, ddof=1))
    return [middle * (end / middle) ** left**0.5 for end in found.confidence_interval]
