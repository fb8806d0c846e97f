"""What drawn films usually lack, a film each: what following it makes of it, and what single readings do.

One cast from one seat, beside ``plain`` with nothing of it. Errors are against the line from the near
shoulder to the near ankle, which is clicked.
"""

from collections.abc import Iterator

import numpy as np

from reviewer import measuring
from reviewer.terms.readings import Clicks
from tests.benchmarks.cast_films import EFFECTS
from tests.benchmarks.casts_drawn import Shot
from tests.benchmarks.casts_followed import FAR, WITHIN, Run, clicks_on, runs_of
from tests.benchmarks.clips import Setting
from tests.benchmarks.figures import Figure, percentile

WRONG = 3.0
"""Degrees beyond which no angle may be offered as good."""
ABOUT_THE_TOP = range(-6, 7, 2)
"""Frames from the top that single readings are taken on."""
READINGS = 20
"""On each of these."""


def figures(setting: Setting) -> Iterator[Figure]:
    """The rows of each film."""
    hands = setting.rounds(6)
    for film in EFFECTS[:2] if setting.quick else EFFECTS:
        shot = film.shot(setting.folder)
        near = list(runs_of(shot, WITHIN, 250, hands))
        yield _followed(film.name, near, list(runs_of(shot, FAR, 500, hands)))
        yield from _guessed(film.name, list(runs_of(shot, (*WITHIN, *FAR), 500, hands, hidden=True)))
        yield _read(film.name, shot, 2 if setting.quick else READINGS)
        if film.effects.straddled:
            yield _both_sides(film.name, shot)


def _guessed(name: str, runs: list[Run]) -> Iterator[Figure]:
    """What comes of clicks where a joint cannot be seen: not a judge's, and nothing tells them apart."""
    if worst := [_worst(run) for run in runs]:
        what = f"{name}: clicked where a joint is hidden, largest wrong angle"
        yield Figure(what, max(worst), "deg", len(worst), min(worst), max(worst))


def _followed(name: str, near: list[Run], far: list[Run]) -> Figure:
    """Near the top and over whole casts; the clicks' own errors are in the figure, not in what is beyond."""
    beyond = [abs(run.beyond) for run in near if run.beyond is not None]
    off = [float(n) for run in near if (n := run.frames_off) is not None]
    beside = {
        "top's angle offered, %": 100 * len(beyond) / len(near),
        "frames offered, whole cast, %": _offered(far),
        "picture's angle alone, deg": float(np.median([abs(run.naive) for run in near])),
        "largest beyond the click, deg": max(_astray(run) for run in (*near, *far)),
    }
    if beyond:
        beside["beyond the click, median, deg"] = percentile(beyond, 0.5)
        beside["beyond the click, 9 in 10, deg"] = percentile(beyond, 0.9)
    if off:
        beside["frames off the top, 9 in 10"] = percentile(off, 0.9)
    worst = [_worst(run) for run in (*near, *far)]
    return Figure(f"{name}: largest wrong angle offered as good", max(worst), "deg", len(worst), min(worst),
                  max(worst), None, WRONG, beside)  # fmt: skip


def _offered(runs: list[Run]) -> float:
    return 100 * float(np.mean([len(run.errors) / len(run.track.frames) for run in runs]))


def _worst(run: Run) -> float:
    """Degrees; what was clicked itself is the protractor's matter."""
    return max((abs(size) for frame, size in run.errors.items() if frame != run.clicked), default=0.0)


def _astray(run: Run) -> float:
    """Degrees by which following alone leads farthest astray."""
    found = run.errors
    return max((abs(size - found[run.clicked]) for size in found.values()), default=0.0)


def _read(name: str, shot: Shot, times: int) -> Figure:
    """Single readings, each with its own eight points."""
    found = [_reading(shot, shot.top + by, seed) for by in ABOUT_THE_TOP for seed in range(times)]
    errors, covered, good, naive = (np.array(column, dtype=float) for column in zip(*found, strict=True))
    beside = {
        "bias, deg": float(errors.mean()),
        "sd, deg": float(errors.std()),
        "good, %": 100 * float(good.mean()),
        "picture's angle alone, deg": float(np.median(np.abs(naive))),
    }
    return Figure(f"{name}: stated 95 % of single readings holds the truth", 100 * float(covered.mean()), "%",
                  len(errors), float(errors.min()), float(errors.max()), None, None, beside)  # fmt: skip


def _both_sides(name: str, shot: Shot) -> Figure:
    """Near and far side read apart: legs that go out of the plane alike lead them astray opposite ways."""
    found = [
        [_reading(shot, shot.top, seed, side)[0] for side in ("near", "far")] for seed in range(3 * READINGS)
    ]
    (near, far), mean = np.mean(found, axis=0), np.mean(found, axis=1)
    beside = {"near side alone, bias, deg": float(near), "far side alone, bias, deg": float(far)}
    what, ends = (
        f"{name}: mean of both sides' readings at the top, bias",
        (float(mean.min()), float(mean.max())),
    )
    return Figure(what, float(mean.mean()), "deg", len(mean), *ends, None, None, beside)


def _reading(shot: Shot, frame: int, seed: int, side: str = "near") -> tuple[float, bool, bool, float]:
    """Error in degrees, whether the interval holds the truth, whether it is good; the picture's own error."""
    clicks = clicks_on(shot, frame, np.random.default_rng([7, seed, frame]), side)
    reading, true = measuring.measure(Clicks.from_json(clicks)), shot.angle(frame)
    low, high = (end.thousandths / 1000 for end in reading.interval)
    error, naive = (size.thousandths / 1000 - true for size in (reading.value, reading.naive))
    return error, low <= true <= high, reading.calibration.check == "good", naive
