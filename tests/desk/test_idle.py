"""A desk at which nothing is done does nothing: no thread wakes, no timer runs."""

import os
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from PyQt6.QtCore import QEvent, QObject
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication

from reviewer import actions
from reviewer.desk.window import DeskWindow
from tests.desk.conftest import until
from tests.desk.hands import Hands, Key

STILL = 3.0
"""Seconds in which nothing may happen."""


@pytest.fixture
def idle(tmp_path: Path, screen: dict[str, str]) -> Iterator[int]:
    """The number of the process of a desk on the demo case."""
    actions.run_demo(tmp_path / "demo")
    command = [sys.executable, "-m", "reviewer", "desk", str(tmp_path / "demo" / "square-on.case")]
    process = subprocess.Popen(command, env={**os.environ, **screen}, stderr=subprocess.PIPE)
    yield process.pid
    process.terminate()
    process.communicate()


@pytest.mark.skipif(not Path("/proc/self/task").is_dir(), reason="the system does not count wakes there")
def test_no_thread_of_an_idle_desk_wakes_once_the_background_pass_has_ended(
    idle: int, tmp_path: Path
) -> None:
    remembered = tmp_path / "settings" / "desk.json"  # written when the first picture comes to rest
    until(remembered.exists, 40)
    end = time.monotonic() + 60
    before = wakes(idle)
    while time.monotonic() < end:
        time.sleep(STILL)
        now = wakes(idle)
        if now == before:
            return
        before = now
    raise AssertionError(f"it still wakes: {now}")


def wakes(process: int) -> dict[str, int]:
    """How often each thread has slept and woken of its own will."""
    found = {}
    for thread in Path(f"/proc/{process}/task").iterdir():
        lines = dict(line.split(":", 1) for line in (thread / "status").read_text().splitlines())
        found[f"{lines['Name'].strip()} {thread.name}"] = int(lines["voluntary_ctxt_switches"])
    return found


class Timers(QObject):
    """Counts what timers wake."""

    def __init__(self) -> None:
        super().__init__()
        self.woken: list[str] = []

    def eventFilter(self, woken: QObject | None, event: QEvent | None) -> bool:
        """Every event of every object."""
        if event is not None and event.type() == QEvent.Type.Timer:
            self.woken.append(type(woken).__name__)
        return False


def test_no_timer_runs_on_after_work(desk: DeskWindow, application: QApplication) -> None:
    hands = Hands(desk)
    hands.key(Key.Key_Space)
    until(lambda: desk.bench.picture is not None and desk.bench.picture.frame > 3)
    hands.key(Key.Key_Space, Key.Key_Return)
    hands.type("cast met")
    hands.key(Key.Key_Return, Key.Key_Escape, Key.Key_P, Key.Key_C, Key.Key_Escape)
    hands.sequence("Ctrl+Z")
    timers = Timers()
    application.installEventFilter(timers)
    try:
        until(lambda: none_woken(timers), 20)
    finally:
        application.removeEventFilter(timers)


def none_woken(timers: Timers) -> bool:
    """Whether a second goes by without a timer."""
    timers.woken.clear()
    QTest.qWait(1000)
    return not timers.woken
