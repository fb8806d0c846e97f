"""One frame back at a time, by the key, thirty times a second, on the whole window."""

from collections.abc import Iterator
from contextlib import suppress
from functools import partial
from time import perf_counter

from PyQt6.QtCore import Qt
from PyQt6.QtTest import QTest

from tests.benchmarks.clips import Setting, kind_of, large
from tests.benchmarks.figures import Figure
from tests.benchmarks.latencies import answered, without_a_desk
from tests.benchmarks.watching import A_PICTURE, Desk, LateError, Paint, desk, rest, until

STEPS, A_SECOND, LIMIT, PLAINLY = 100, 30, 10.0, 5
AT_HAND_WITHIN = 10.0


def figures(setting: Setting, label: str) -> Iterator[Figure]:
    """Input delivered to paint returned, of the full picture: inside a group that is in memory, then across
    the border of two groups, where the group before is decoded meanwhile.
    """
    path, group = large(setting, label), kind_of(setting, label).group
    inside = min(STEPS, group - 10)
    border = group + inside // 5
    found: list[tuple[str, list[float | None], float]] = []
    with desk(setting) as bench:
        bench.open(path)
        starts = {"inside a group": min(bench.frames, 2 * group) - 1, "across a border": border}
        for what, frame in starts.items():
            bench.show(frame)
            at_hand = _wait_for(bench, frame, inside if frame != border else 1)
            found.append((what, _steps(bench, frame, inside), at_hand))
    plainly = without_a_desk(path, range(border - 1, border - 1 - PLAINLY, -1))
    for what, taken, at_hand in found:
        name = f"step back {what}, input → paint, {label}"
        asked = A_PICTURE if (what, label) == ("inside a group", "1080p60") else None
        yield answered(name, taken, 1000 * LIMIT, {"at hand at first, %": at_hand, **plainly}, asked)


def _wait_for(bench: Desk, frame: int, count: int) -> float:
    """Let the desk read on for a while; the share that waits in memory of the frames before one."""
    frames = range(frame - count, frame)
    with suppress(LateError):
        until(lambda: all(map(bench.is_decoded, frames)), AT_HAND_WITHIN)
    return 100 * sum(map(bench.is_decoded, frames)) / count


def _is_full(frame: int, paint: Paint) -> bool:
    return paint.full and paint.frame == frame


def _steps(bench: Desk, frame: int, count: int) -> list[float | None]:
    taken = []
    for wanted in range(frame - 1, frame - 1 - count, -1):
        due = perf_counter() + 1 / A_SECOND
        taken.append(
            bench.latency(
                lambda: QTest.keyClick(bench.window.evidence, Qt.Key.Key_Left),
                partial(_is_full, wanted),
                LIMIT,
            )
        )
        rest(due)
    return taken
