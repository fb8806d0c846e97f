"""How much a recording makes the program grow, opened, surveyed, looked through and played."""

import random
from collections.abc import Iterator
from pathlib import Path
from resource import getpagesize
from threading import Event, Thread
from time import perf_counter

from PyQt6.QtCore import Qt
from PyQt6.QtTest import QTest

from reviewer.video import MEMORY
from tests.benchmarks.clips import Setting, large
from tests.benchmarks.figures import Figure
from tests.benchmarks.watching import Desk, desk, rest

STEPS, A_SECOND, PLAYING = 2000, 30, 10.0
KEYS = (Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown)
STATM = Path("/proc/self/statm")


def figures(setting: Setting, label: str) -> Iterator[Figure]:
    """The greatest growth so far over the budget, after each of the things a judge does in turn."""
    path, steps = large(setting, label), 100 if setting.quick else STEPS
    with desk(setting) as bench, Watch() as watch:
        bench.open(path)
        yield _figure(f"opening and background pass, {label}", watch)
        _steps(bench, steps)
        yield _figure(f"and {steps} random steps, {label}", watch)
        for step in (1, -1):
            bench.window.viewing.play_or_stop(step)
            rest(perf_counter() + (1.0 if setting.quick else PLAYING))
            bench.window.viewing.stop()
        yield _figure(f"and playing both ways, {label}", watch)


def _steps(bench: Desk, count: int) -> None:
    """Keys and jumps as fast as a held key repeats, whether or not the picture came in time."""
    chance = random.Random(count)
    for _ in range(count):
        due = perf_counter() + 1 / A_SECOND
        if chance.random() < 0.1:
            bench.window.viewing.seek(chance.randrange(bench.frames))
        else:
            QTest.keyClick(bench.window.evidence, chance.choice(KEYS))
        rest(due)


def _figure(what: str, watch: "Watch") -> Figure:
    grown = watch.most - watch.before
    sizes = {"before": watch.before, "growth": grown, "budget": MEMORY}
    beside = {f"{name}, MiB": size / 2**20 for name, size in sizes.items()}
    share = grown / MEMORY
    return Figure(f"growth of memory / budget: {what}", share, "x", 1, share, share, None, 1.10, beside)


class Watch:
    """Looks at the process's resident memory a hundred times a second.

    Attributes:
        before: bytes when it began.
        most: the greatest seen since.
    """

    def __init__(self) -> None:
        self.before = self.most = resident()
        self._ended = Event()
        self._thread = Thread(target=self._look, daemon=True)

    def __enter__(self) -> "Watch":
        self._thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._ended.set()
        self._thread.join()

    def _look(self) -> None:
        while not self._ended.wait(0.01):
            self.most = max(self.most, resident())


def resident() -> int:
    """Bytes of this process that lie in memory (proc(5), statm)."""
    return int(STATM.read_text().split()[1]) * getpagesize()
