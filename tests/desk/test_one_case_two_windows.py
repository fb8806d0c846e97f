"""One case, several windows: one writes, the others read and say who writes; each judge undoes their own."""

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from PyQt6.QtCore import QCoreApplication, QEvent
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication

from reviewer import actions
from reviewer.desk.window import DeskWindow
from tests.desk.conftest import until
from tests.desk.hands import Hands, Key


@pytest.fixture
def elsewhere(case: Path, screen: dict[str, str]) -> Iterator["subprocess.Popen[bytes]"]:
    """A desk in a process of its own, on the case as judge B."""
    command = [sys.executable, "-m", "reviewer", "desk", str(case), "--author", "B"]
    process = subprocess.Popen(command, env={**os.environ, **screen}, stderr=subprocess.PIPE)
    until(lambda: case.with_name(f"{case.name}.writing").exists(), 40)
    yield process
    process.terminate()
    process.communicate()


def test_a_second_window_reads_only_and_says_who_writes(
    elsewhere: "subprocess.Popen[bytes]", window: DeskWindow, case: Path
) -> None:
    window.open_case(case, None)
    until(lambda: window.bench.picture is not None)
    assert f"B (process {elsewhere.pid})" in window.foot.text()
    assert "read only" in window.windowTitle()
    hands = Hands(window)
    hands.key(Key.Key_Return)
    hands.type("cast")
    hands.key(Key.Key_Return)
    assert window.foot.property("problem") is True
    assert window.bench.marks == ()
    command = [sys.executable, "-m", "reviewer", "marks", "add", str(case), "element", "cast"]
    refused = subprocess.run(command, capture_output=True, text=True, check=False)
    assert refused.returncode == 2
    assert f"B (process {elsewhere.pid})" in refused.stderr
    assert elsewhere.poll() is None


def test_a_case_is_free_again_when_its_window_is_killed(
    elsewhere: "subprocess.Popen[bytes]", window: DeskWindow, case: Path
) -> None:
    elsewhere.kill()
    elsewhere.wait()
    window.open_case(case, None)
    until(lambda: window.bench.picture is not None)
    assert "judge A" in window.windowTitle()


def test_each_judge_undoes_their_own_marks_also_after_the_window_was_closed(
    application: QApplication, case: Path
) -> None:
    marked_and_closed("A", case, "pullover")
    marked_and_closed("B", case, "cast")
    assert codes(case) == ["pullover", "cast"]
    undone_and_closed("A", case)
    assert codes(case) == ["cast"]
    undone_and_closed("B", case)
    assert codes(case) == []


def marked_and_closed(author: str, case: Path, call: str) -> None:
    desk = opened(author, case)
    hands = Hands(desk)
    hands.key(Key.Key_Return)
    hands.type(call)
    hands.key(Key.Key_Return)
    closed(desk)


def undone_and_closed(author: str, case: Path) -> None:
    desk = opened(author, case)
    Hands(desk).sequence("Ctrl+Z")
    closed(desk)


def opened(author: str, case: Path) -> DeskWindow:
    desk = DeskWindow(author)
    desk.show()
    desk.activateWindow()
    assert QTest.qWaitForWindowActive(desk)
    desk.open_case(case, None)
    until(lambda: desk.bench.picture is not None)
    return desk


def closed(desk: DeskWindow) -> None:
    desk.close()
    desk.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


def codes(case: Path) -> list[str]:
    with actions.open_case(case, author=None) as reader:
        return [mark.code for mark in reader.marks]
