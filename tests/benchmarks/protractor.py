"""The protractor held against cameras that are known: how far off its angles are, and whether it owns up.

720p, from 5.5 to 9 m, a body line of about 175 px from shoulder to ankle, casts of -70 to 20 degrees; the
camera is turned up to 35 degrees either side and rolled up to 5 unless said. What the picture alone and the
picture with its roll corrected would have said stands beside every row, in root mean squares, with the share
of readings offered as good and of requests refused. Not in all this: what real recordings do beyond it.
"""

import warnings
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from math import degrees, hypot, nan, sqrt
from multiprocessing import get_context
from statistics import median
from time import perf_counter
from typing import Any

import numpy as np

from reviewer.measuring import measure
from reviewer.terms.problems import ReviewerError
from reviewer.terms.readings import Clicks
from tests.benchmarks.clips import Setting
from tests.benchmarks.figures import Figure
from tests.measuring.cameras import NO_DOUBTS, USUAL_DOUBTS, Doubts, clicked, filmed
from tests.measuring.spoiling import UNSEEN, WAYS, spoiled

FULL, LESS, SMALL = 2000, 600, 100
YAWS, ROLLS, POINTS = (-35.0, -20.0, -10.0, 0.0, 10.0, 20.0, 35.0), (-5.0, -2.5, 0.0, 2.5, 5.0), (6, 7, 8)
CLICK_SD = 1.5
"""Pixels by which clicks scatter, and are said to, unless a row says otherwise."""
EXACT = 0.001


@dataclass(frozen=True, slots=True)
class Row:
    """One kind of camera and clicks.

    Attributes:
        count: how many cameras.
        yaws, rolls, points: taken in turn; none of the first two, and they are drawn.
        sd, body_sd: px by which clicks on the apparatus and on the body scatter; None for the same.
        stated: px that they are said to scatter by.
        how: in which way the request is spoiled, taken in turn; empty for not at all.
    """

    count: int
    yaws: tuple[float, ...] = ()
    rolls: tuple[float, ...] = ()
    points: tuple[int, ...] = (8,)
    doubts: Doubts = NO_DOUBTS
    sd: float = CLICK_SD
    body_sd: float | None = None
    stated: float = CLICK_SD
    how: tuple[str, ...] = ()

    def turn(self, number: int) -> dict[str, Any]:
        """What holds of one camera."""
        rest, yaw = divmod(number, max(len(self.yaws), 1))
        rest, points = divmod(rest, len(self.points))
        return {
            "yaw": self.yaws[yaw] if self.yaws else None,
            "points": self.points[points],
            "roll": self.rolls[rest % len(self.rolls)] if self.rolls else None,
        }


@dataclass(frozen=True, slots=True)
class Trial:
    """What came of one request; errors in degrees, NaN where there is nothing."""

    cell: tuple[Any, ...]
    limit: float
    error: float = nan
    uncertainty: float = nan
    covered: bool = False
    good: bool = False
    naive: float = nan
    roll_only: float = nan
    seconds: float = nan
    how: str = ""

    @property
    def offered(self) -> bool:
        return self.error == self.error

    @property
    def confidently_wrong(self) -> bool:
        return self.good and abs(self.error) > 4 * self.uncertainty


@dataclass
class Found:
    """The trials of a row."""

    trials: Sequence[Trial]
    offered: list[Trial] = field(init=False)

    def __post_init__(self) -> None:
        self.offered = [one for one in self.trials if one.offered]

    @property
    def errors(self) -> "np.ndarray[Any, np.dtype[np.float64]]":
        return np.array([one.error for one in self.offered])

    @property
    def over_limit(self) -> float:
        """The spread of errors over what the clicks on the body alone make unavoidable."""
        limit = sqrt(np.mean([one.limit**2 for one in self.offered]))
        return float(self.errors.std() / limit)

    @property
    def covered(self) -> float:
        """Per cent of truths inside the interval stated."""
        return 100 * float(np.mean([one.covered for one in self.offered]))

    def cells(self) -> dict[tuple[Any, ...], "Found"]:
        named = sorted({one.cell for one in self.offered})
        return {cell: Found([one for one in self.offered if one.cell == cell]) for cell in named}

    def beside(self, **more: float) -> dict[str, float]:
        total = len(self.trials)
        return more | {
            "bias": float(self.errors.mean()),
            "sd": float(self.errors.std()),
            "picture alone, rms": _rms(one.naive for one in self.offered),
            "roll only, rms": _rms(one.roll_only for one in self.offered),
            "good %": 100 * sum(one.good for one in self.offered) / total,
            "refused %": 100 * (total - len(self.offered)) / total,
        }


def figures(setting: Setting, _: str) -> Iterator[Figure]:
    """Everything, two processes at a time; last how long it took."""
    begun = perf_counter()
    full, less = (SMALL, SMALL) if setting.quick else (FULL, LESS)
    with get_context("spawn").Pool(2) as pool:

        def run(row: Row) -> Found:
            return Found(pool.map(_trial, ((row, number) for number in range(row.count)), chunksize=20))

        yield from _pooled(run(Row(full, YAWS, ROLLS, POINTS)))
        for points in (5, 4):
            found = run(Row(less, points=(points,)))
            yield _figure(f"{points} points: sd over the clicks' own limit", found, found.over_limit, "x")
        yield _calibration(run(Row(less, (-35.0, 35.0), sd=1.0, body_sd=EXACT)))
        yield from _spread(*(run(Row(full, YAWS, ROLLS, doubts=Doubts(spread=by))) for by in (-100.0, 100.0)))
        yield from _widths(
            *(run(Row(less, (-35.0, 35.0), doubts=Doubts(width=0.3), sd=sd)) for sd in (EXACT, CLICK_SD))
        )
        yield from _coverage(run(Row(full, points=POINTS, doubts=USUAL_DOUBTS)))
        doubled = run(Row(less, points=POINTS, doubts=USUAL_DOUBTS, sd=2.0, stated=1.0))
        yield _figure("believing 1 px where it is 2: 95 % interval covers", doubled, doubled.covered, "%")
        yield from _spoilt(run(Row(full, doubts=USUAL_DOUBTS, how=tuple(WAYS))))
    yield _cost([_trial((Row(1, points=POINTS, doubts=USUAL_DOUBTS), number)) for number in range(SMALL)])
    yield Figure("all of the protractor's rows", perf_counter() - begun, "s", 1, 0, 0)


def _pooled(found: Found) -> Iterator[Figure]:
    pooled = "6 to 8 points, pooled"
    yield _figure(f"{pooled}: bias", found, abs(float(found.errors.mean())), "°", at_most=0.06)
    yield _figure(
        f"{pooled}: sd over the clicks' own limit sqrt(2) s / L", found, found.over_limit, "x", at_most=1.15
    )
    cells = {cell: one.over_limit for cell, one in found.cells().items()}
    worst = max(cells, key=lambda cell: cells[cell])
    what = f"{pooled}: the worst cell's (yaw {worst[0]:.0f}, {worst[1]} points, of {len(cells)} cells)"
    ends = min(cells.values()), max(cells.values())
    yield Figure(what, cells[worst], "x", len(found.offered), *ends, at_most=1.35)


def _calibration(found: Found) -> Figure:
    what = "calibration alone, 8 points, 1 px, yaw 35: sd"
    return _figure(what, found, float(found.errors.std()), "°", at_most=0.15)


def _spread(narrow: Found, wide: Found) -> Iterator[Figure]:
    for found, how in ((narrow, "narrower"), (wide, "wider")):
        what = f"spread 10 cm {how} than stated, solved for: bias"
        yield _figure(what, found, abs(float(found.errors.mean())), "°", at_most=0.05)


def _widths(exact: Found, scattered: Found) -> Iterator[Figure]:
    what = "near-side joints, widths 30 % wrong, yaw 35, exact clicks: the greatest error"
    yield _figure(what, exact, float(np.abs(exact.errors).max()), "°", at_most=1.3)
    yield _figure("  inside the stated interval", exact, exact.covered, "%", at_least=100.0)
    yield _figure("  with scattered clicks, inside the stated interval", scattered, scattered.covered, "%")


def _coverage(found: Found) -> Iterator[Figure]:
    what = "measures, lens, near side and widths wrong: 95 % interval covers"
    yield _figure(what, found, found.covered, "%", at_least=93.0, at_most=97.0)


def _spoilt(found: Found) -> Iterator[Figure]:
    """Apart: what leaves no trace in the request, so that nothing can tell it."""
    for unseen, what in ((False, "requests spoiled"), (True, "  spoiled so that the request shows no trace")):
        part = Found([one for one in found.trials if (one.how in UNSEEN) == unseen])
        ways = len({one.how for one in part.trials})
        wrong = Counter(one.how for one in part.trials if one.confidently_wrong)
        yield _figure(
            f"{what}, {ways} ways: off by more than 4 u and called good",
            part,
            wrong.total(),
            "",
            at_most=None if unseen else 0.0,
            **wrong,
        )


def _cost(trials: Sequence[Trial]) -> Figure:
    each = [1000 * one.seconds for one in trials if one.offered]
    return Figure("a reading, camera solved for", median(each), "ms", len(each), min(each), max(each))


def _figure(
    what: str,
    found: Found,
    value: float,
    unit: str,
    *,
    at_least: float | None = None,
    at_most: float | None = None,
    **more: float,
) -> Figure:
    ends = float(found.errors.min()), float(found.errors.max())
    return Figure(what, value, unit, len(found.trials), *ends, at_least, at_most, found.beside(**more))


def _trial(asked: tuple[Row, int]) -> Trial:
    """One camera, drawn by its number; the same whichever process draws it."""
    warnings.simplefilter("error")
    row, number = asked
    chance, turn = np.random.default_rng(number), row.turn(number)
    scene = filmed(chance, row.doubts, yaw=turn["yaw"], roll=turn["roll"])
    document = clicked(
        scene, chance, row.sd, points=turn["points"], body_sd=row.body_sd, stated_sd=row.stated
    )
    how = row.how[number % len(row.how)] if row.how else ""
    if how:
        document = spoiled(document, how, chance)
    cell = (turn["yaw"], turn["points"])
    limit = degrees(sqrt(2) * row.sd / scene.length())
    begun = perf_counter()
    try:
        reading = measure(Clicks.from_json(document))
    except ReviewerError:
        return Trial(cell, limit, how=how)
    taken, true = perf_counter() - begun, scene.angle()
    low, high = (end.thousandths / 1000 for end in reading.interval)
    return Trial(
        cell=cell,
        limit=limit,
        error=_apart(reading.value.thousandths / 1000, true),
        uncertainty=reading.uncertainty.thousandths / 1000,
        covered=low <= true <= high,
        good=reading.calibration.check == "good",
        naive=_apart(reading.naive.thousandths / 1000, true),
        roll_only=nan if reading.roll_only is None else _apart(reading.roll_only.thousandths / 1000, true),
        seconds=taken,
        how=how,
    )


def _apart(first: float, second: float) -> float:
    return (first - second + 180.0) % 360.0 - 180.0


def _rms(sizes: Iterable[float]) -> float:
    kept = [size for size in sizes if size == size]
    return hypot(*kept) / sqrt(len(kept)) if kept else nan
