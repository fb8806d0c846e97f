"""Playing forward and back at several speeds: how many of the frames that are due are on the screen."""

import math
from collections.abc import Iterator
from fractions import Fraction
from time import perf_counter

from reviewer.desk.pace import SPEEDS
from tests.benchmarks.clips import Setting, kind_of, large
from tests.benchmarks.figures import PLAIN, Figure
from tests.benchmarks.sequential import plainly
from tests.benchmarks.watching import Desk, LateError, Paint, desk, rest, work_through

LONGEST = 10.0
"""Seconds played: 600 frames."""
LATE_AT_MOST = 1
TURNS = ((Fraction(1), 1), (Fraction(2), 1), (Fraction(4), 1), (Fraction(1), -1))


def figures(setting: Setting, label: str) -> Iterator[Figure]:
    """The share shown, full or small; beside it how much of the speed asked for was kept."""
    path, kind = large(setting, label), kind_of(setting, label)
    decodes = 60 * kind.seconds / plainly(path)
    with desk(setting) as bench:
        bench.open(path)
        for speed, step in TURNS:
            paints = _played(bench, speed, step)
            way = "" if step > 0 else " backward"
            could = {f"{PLAIN} could decode, frames/s": decodes}
            yield _figure(f"frames shown, playing{way} at {speed}×, {label}", paints, float(speed), could)
            if step * speed == 1:
                yield _late(f"late frames, playing at 1×, {label}", paints, asked=label.startswith("1080p60"))


def _played(bench: Desk, speed: Fraction, step: int) -> list[Paint]:
    view = bench.window.viewing
    bench.show(0 if step > 0 else bench.frames - 1)
    while view.speed != speed:
        view.pace(1 if SPEEDS.index(view.speed) < SPEEDS.index(speed) else -1)
    bench.paints.clear()
    view.play_or_stop(step)
    work_through(LONGEST, view.played)
    paints = list(bench.paints)
    view.stop()
    if not paints:
        raise LateError("nothing was shown")
    rest(perf_counter() + 0.2)
    return paints


def _figure(what: str, paints: list[Paint], speed: float, beside: dict[str, float]) -> Figure:
    seen = {paint.frame for paint in paints}
    passed = max(seen) - min(seen) + 1
    lasted = paints[-1].moment - paints[0].moment
    told = {
        "speed kept, %": 100 * (passed - 1) / 60 / speed / lasted if lasted else 0.0,
        "shown, frames/s": (len(seen) - 1) / lasted if lasted else 0.0,
        "small pictures, %": 100 * sum(not paint.full for paint in paints) / len(paints),
        **beside,
    }
    share = 100 * len(seen) / passed
    return Figure(what, share, "%", 1, share, share, None, None, told)


def _late(what: str, paints: list[Paint], *, asked: bool) -> Figure:
    """Frames that were not on the screen before the next one was due; time is counted from the promptest."""
    moments = {paint.frame: paint.moment for paint in reversed(paints)}
    start = min(moment - frame / 60 for frame, moment in moments.items())
    behind = [
        moments.get(frame, math.inf) - start - frame / 60 for frame in range(min(moments), max(moments))
    ]
    late = float(sum(one > 1 / 60 for one in behind))
    worst = {"behind at most, ms": 1000 * max(one for one in behind if one < math.inf)}
    return Figure(what, late, "", len(behind), late, late, None, LATE_AT_MOST if asked else None, worst)
