"""The camera solved for from clicked apparatus points, with what is not known well as prior knowledge.

Maximum a posteriori by damped least squares (scipy). The covariance is that of the linear model at the
solution: first order, as JCGM 100.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations
from math import inf, log, radians, sqrt

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring import apparatus
from reviewer.measuring.camera import (
    FOCAL,
    MEASURES,
    ORIGIN,
    RADIAL,
    ROTATION,
    SIZE,
    middle,
    project,
    rotation,
)
from reviewer.measuring.errors import MeasuringError
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem
from reviewer.terms.readings import UNKNOWN_LENS, Dimensions, Lens

Array = NDArray[np.float64]

FEWEST = 4
CHECKED_FROM = 6
"""Points from which a wrong assumption or click shows in the residuals."""
_YAWS, _FOCALS = (-50.0, -25.0, 0.0, 25.0, 50.0), (0.9, 1.8)
_TURNS_SD = (radians(60), radians(25), radians(20))
_FOCAL_SD = 0.7
_AWAY = 8000.0
"""mm; a hall is not endless, which keeps the least determined cameras apart."""
RADIAL_SD = 0.02
"""Prior of k1: phones correct most of their distortion themselves (from memory)."""
_LEAST_FOCAL_SD, _LEAST_RADIAL_SD = 0.002, 0.0005
"""No stored lens is trusted more: phones focus and steady their pictures (from memory)."""
_RUNS, _SUSPECTS = 3, 5
_DOUBT = 0.001
"""Chance below which residuals as large are not put down to the clicks."""
_STEPS = np.array([1e-5, 1e-5, 1e-5, 1e-5, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 1e-5])
_SCALES = np.array([0.1, 0.1, 0.1, 0.1, 100, 100, 100, 30, 6, 6, 10, 5, 0.02])


@dataclass(frozen=True)
class Calibration:
    """A camera and how well it is known.

    Attributes:
        size: of the picture.
        camera: the thirteen numbers of `reviewer.measuring.camera`.
        covariance: of these, (13, 13).
        clicked: how the clicks alone spread these, (13, 13); the rest of the covariance is prior knowledge.
        prior_sd: standard deviation of what was known beforehand, (13,).
        residuals: name of a point to its click less its projection, in px.
        click_sd: of one click on the apparatus, in px.
        chance: how likely residuals at least as large are, if all is as assumed.
        across: 1 where the high rail stands to the right of the low one, else -1.
        excess: how many times larger than assumed the residuals are (Birge's ratio), 1 where they are not.
        left_out: points that were left out as wrong.
    """

    size: tuple[int, int]
    camera: Array
    covariance: Array
    clicked: Array
    prior_sd: Array
    residuals: dict[str, tuple[float, float]]
    click_sd: float
    chance: float
    excess: float
    across: float = 1.0
    left_out: tuple[str, ...] = ()

    @property
    def rms(self) -> float:
        """Root mean square of all residuals along one axis, in px."""
        sizes = [size for pair in self.residuals.values() for size in pair]
        return sqrt(sum(size * size for size in sizes) / len(sizes))

    @property
    def agrees(self) -> bool:
        """Whether the residuals can be put down to the clicks."""
        return self.chance >= _DOUBT


def calibrate(
    clicked: Sequence[tuple[str, tuple[float, float]]],
    size: tuple[int, int],
    dimensions: Dimensions,
    click_sd: float,
    lens: Lens = UNKNOWN_LENS,
) -> Calibration:
    """The camera of four or more apparatus points, each named and in px of the picture.

    One point that cannot be where it was clicked is left out and named, where enough others remain.
    """
    found = _Solver(clicked, size, dimensions, click_sd, lens).solve()
    if found.agrees or len(clicked) <= CHECKED_FROM:
        return found
    without = [_without(clicked, place, size, dimensions, click_sd, lens) for place in range(len(clicked))]
    best = max(without, key=lambda one: one.chance)
    return best if best.agrees and best.chance > 100 * found.chance else found


def exchanged(
    clicked: Sequence[tuple[str, tuple[float, float]]],
    size: tuple[int, int],
    dimensions: Dimensions,
    click_sd: float,
) -> tuple[str, str] | None:
    """The two points whose exchange would make everything fit, or None; the most promising are tried."""

    def solver(pair: tuple[int, int]) -> _Solver:
        trial, (first, second) = list(clicked), pair
        trial[first] = (clicked[first][0], clicked[second][1])
        trial[second] = (clicked[second][0], clicked[first][1])
        return _Solver(trial, size, dimensions, click_sd)

    solvers = {pair: solver(pair) for pair in combinations(range(len(clicked)), 2)}
    for pair in sorted(solvers, key=lambda pair: solvers[pair].promise)[:_SUSPECTS]:
        if solvers[pair].solve(1).agrees:
            return clicked[pair[0]][0], clicked[pair[1]][0]
    return None


def _without(
    clicked: Sequence[tuple[str, tuple[float, float]]],
    place: int,
    size: tuple[int, int],
    dimensions: Dimensions,
    click_sd: float,
    lens: Lens,
) -> Calibration:
    name, spot = clicked[place]
    kept = [one for at, one in enumerate(clicked) if at != place]
    found = _Solver(kept, size, dimensions, click_sd, lens).solve(1)
    points = apparatus.points_named([name], np.array([spot]))
    points = apparatus.Points(points.names, points.high, points.rail, points.side, _across(kept))
    seen = project(found.camera, apparatus.place(points, found.camera[MEASURES]), size)[0]
    off = {name: (spot[0] - float(seen[0]), spot[1] - float(seen[1]))}
    return Calibration(
        found.size, found.camera, found.covariance, found.clicked, found.prior_sd,
        found.residuals | off, click_sd, found.chance, found.excess, found.across, (name,),
    )  # fmt: skip


def _across(clicked: Sequence[tuple[str, tuple[float, float]]]) -> float:
    names, spots = [name for name, _ in clicked], np.array([spot for _, spot in clicked])
    return apparatus.points_named(names, spots).across


class _Solver:
    """Finds the camera for one set of clicks."""

    def __init__(
        self,
        clicked: Sequence[tuple[str, tuple[float, float]]],
        size: tuple[int, int],
        dimensions: Dimensions,
        click_sd: float,
        lens: Lens = UNKNOWN_LENS,
    ) -> None:
        self.size, self.click_sd = size, click_sd
        self.spots = np.array([spot for _, spot in clicked])
        self.points = apparatus.points_named([name for name, _ in clicked], self.spots)
        measures, trusted = apparatus.expected(dimensions)
        self.prior = np.zeros(SIZE)
        self.prior[FOCAL], self.prior[MEASURES] = log(1.3 * max(size)), measures
        self.prior[ORIGIN] = (0.0, 0.0, _AWAY)
        self.prior_sd = np.empty(SIZE)
        self.prior_sd[ROTATION], self.prior_sd[FOCAL] = _TURNS_SD, _FOCAL_SD
        self.prior_sd[MEASURES], self.prior_sd[RADIAL] = trusted, RADIAL_SD
        self.prior_sd[ORIGIN] = 2.5 * _AWAY
        self._know(lens)

    def _know(self, lens: Lens) -> None:
        """Take what an earlier calibration told of the lens for prior knowledge."""
        if lens.focal is not None:
            size, doubt = (one.thousandths / 1000 for one in lens.focal)
            self.prior[FOCAL], self.prior_sd[FOCAL] = log(size), max(doubt / size, _LEAST_FOCAL_SD)
        if lens.radial is not None:
            size, doubt = (one / 1_000_000 for one in lens.radial)
            self.prior[RADIAL], self.prior_sd[RADIAL] = size, max(doubt, _LEAST_RADIAL_SD)

    def solve(self, runs: int = _RUNS) -> Calibration:
        """The best of so many of the most promising beginnings."""
        try:
            with np.errstate(all="ignore"):  # what leads nowhere becomes infinite, and is left
                return self._best(runs)
        except (np.linalg.LinAlgError, ValueError):
            said, remedy = (
                message("No camera can have seen the points so."),
                message("Click them again; see the picture's size."),
            )
            raise MeasuringError(Problem("points-do-not-fit", "points", said, remedy)) from None

    def _best(self, runs: int) -> Calibration:
        from scipy.optimize import least_squares
        from scipy.special import gammaincc

        begun = self._begun[np.argsort(self._costs(self._begun))[:runs]]
        ends = [
            least_squares(self._misfits, start, self._slopes, x_scale=_SCALES, method="lm", max_nfev=60)
            for start in begun
        ]
        best = min(ends, key=lambda end: float(end.cost))
        slopes = self._slopes(best.x)
        inverse: Array = np.asarray(np.linalg.inv(slopes.T @ slopes), dtype=np.float64)
        clicks = slopes[: 2 * len(self.spots)]
        free = max(2 * len(self.spots) - 7, 1)
        chance = float(gammaincc(free / 2, best.cost))
        off = -best.fun[: 2 * len(self.spots)].reshape(-1, 2) * self.click_sd
        return Calibration(
            size=self.size,
            camera=np.asarray(best.x),
            covariance=np.asarray(inverse),
            clicked=inverse @ clicks.T @ clicks @ inverse,
            prior_sd=self.prior_sd,
            residuals={
                name: (float(x), float(y)) for name, (x, y) in zip(self.points.names, off, strict=True)
            },
            click_sd=self.click_sd,
            chance=chance,
            across=self.points.across,
            excess=1.0 if chance >= _DOUBT else max(1.0, sqrt(2 * float(best.cost) / free)),
        )

    @property
    def promise(self) -> float:
        """How far off the best beginning still is: the less, the more may come of it."""
        try:
            with np.errstate(all="ignore"):
                return float(self._costs(self._begun).min())
        except np.linalg.LinAlgError:
            return inf

    @cached_property
    def _begun(self) -> Array:
        return self._settled(self._beginnings())

    def _beginnings(self) -> Array:
        """Cameras (n, 13) from all sides that see the points about as large and where they were clicked."""
        return np.array([self._beginning(radians(yaw), focal) for yaw in _YAWS for focal in _FOCALS])

    def _beginning(self, yaw: float, focal: float) -> Array:
        camera = self.prior.copy()
        camera[ROTATION], camera[FOCAL] = (yaw, radians(5), 0.0), log(focal * max(self.size))
        places = apparatus.place(self.points, camera[MEASURES])
        turn, centre = rotation(camera[ROTATION]), places.mean(axis=0)
        wide = np.std(((places - centre) @ turn.T)[:, :2])
        seen = max(float(np.std(self.spots - self.spots.mean(axis=0))), 1.0)
        away = np.exp(camera[FOCAL]) * wide / seen
        aside = (self.spots.mean(axis=0) - middle(self.size)) / np.exp(camera[FOCAL]) * away
        camera[ORIGIN] = np.array([*aside, away]) - turn @ centre
        return camera

    def _settled(self, cameras: Array) -> Array:
        """A few damped steps, as long as they lead nearer: enough to tell good beginnings from bad ones."""
        for _ in range(3):
            misfits, slopes = self._misfits(cameras), self._slopes(cameras) * _SCALES
            turned = np.swapaxes(slopes, -1, -2)
            steps = np.linalg.solve(turned @ slopes + 0.01 * np.eye(SIZE), turned @ misfits[..., None])
            stepped = cameras - steps[..., 0] * _SCALES
            nearer = self._costs(stepped) < self._costs(cameras)
            cameras = np.where(nearer[:, None], stepped, cameras)
        return cameras

    def _costs(self, cameras: Array) -> Array:
        costs = np.sum(self._misfits(cameras) ** 2, axis=-1)
        return np.where(np.isfinite(costs), costs, np.inf)

    def _misfits(self, cameras: Array) -> Array:
        """By how many standard deviations clicks and numbers are off, (..., m), for cameras (..., 13)."""
        off = (self._seen(cameras) - self.spots) / self.click_sd
        clicks = off.reshape(*off.shape[:-2], -1)
        return np.concatenate([clicks, (cameras - self.prior) / self.prior_sd], axis=-1)

    def _slopes(self, cameras: Array) -> Array:
        """Derivatives of the misfits by central differences, (..., m, 13), all numbers at once."""
        moved, around = np.diag(_STEPS), cameras[..., None, :]
        apart = self._seen(around + moved) - self._seen(around - moved)
        steep = apart / (2 * _STEPS[:, None, None]) / self.click_sd
        clicks = np.swapaxes(steep.reshape(*steep.shape[:-2], -1), -1, -2)
        known = np.broadcast_to(np.diag(1.0 / self.prior_sd), (*clicks.shape[:-2], SIZE, SIZE))
        return np.concatenate([clicks, known], axis=-2)

    def _seen(self, cameras: Array) -> Array:
        return project(cameras, apparatus.place(self.points, cameras[..., MEASURES]), self.size)
