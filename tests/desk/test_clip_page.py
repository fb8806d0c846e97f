"""A clip of the chosen mark, or of frames around the one on the screen, written from the desk.

Source: ffprobe for what is in the file.
"""

import json
import subprocess
from pathlib import Path
from typing import Any

import pytest
from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import QApplication

from reviewer.desk.teaching.clippage import ClipPage
from reviewer.desk.window import DeskWindow
from tests.cli.judged_routine import filmed, judged
from tests.desk.conftest import until
from tests.desk.hands import Hands

Key = Qt.Key


@pytest.fixture
def case(window: DeskWindow, tmp_path: Path) -> Path:
    """A judged routine of two seconds on the desk, with consent to teaching."""
    made = judged(tmp_path / "routine.case", filmed(tmp_path / "routine.mp4"), ("teaching",))
    window.open_case(made, None)
    until(lambda: window.bench.picture is not None)
    return made


def asked_for(window: DeskWindow) -> ClipPage:
    """The page, opened by its key."""
    Hands(window).key(Key.Key_F11, held=Qt.KeyboardModifier.ShiftModifier)
    until(lambda: isinstance(QApplication.activeWindow(), ClipPage))
    page = QApplication.activeWindow()
    assert isinstance(page, ClipPage)
    return page


def packets(path: Path) -> list[dict[str, Any]]:
    shown = ["-show_packets", "-of", "json"]
    said = subprocess.run(["ffprobe", "-v", "error", *shown, str(path)], capture_output=True, check=True)
    found: list[dict[str, Any]] = json.loads(said.stdout)["packets"]
    return found


def test_frames_around_the_one_on_the_screen_become_a_clip(window: DeskWindow, case: Path) -> None:
    hands = Hands(window)
    page = asked_for(window)
    page.begin.setFocus()
    page.begin.selectAll()
    hands.type("3")
    page.end.setFocus()
    page.end.selectAll()
    hands.type("12")
    page.write.setFocus()
    hands.key(Key.Key_Space)
    until(lambda: "The clip is" in page.told.text(), 60)
    assert "head is covered" in page.told.text()
    assert len(packets(case.with_name("routine.mp4").parent / "routine-2.mp4")) == 10
    assert window.bench.open_audit().case.events[-1].kind == "clip-written"


def test_a_chosen_mark_becomes_a_clip_with_its_words(window: DeskWindow, case: Path, tmp_path: Path) -> None:
    marks = [mark for mark in window.bench.marks if mark.moment() is not None]
    window.bench.choose((marks[0].id,))
    page = asked_for(window)
    assert page.captioned.isChecked()
    page.write.setFocus()
    Hands(window).key(Key.Key_Space)
    until(lambda: "The clip is" in page.told.text(), 60)
    assert (tmp_path / f"routine-{marks[0].id}.mp4").stat().st_size > 1000


def test_what_is_typed_wrongly_is_said_on_the_page(window: DeskWindow, case: Path) -> None:
    page = asked_for(window)
    page.begin.setText("soon")
    page.write.setFocus()
    Hands(window).key(Key.Key_Space)
    until(lambda: "is no number of a frame" in page.told.text(), 20)
    assert page.write.isEnabled()


def test_stopped_it_leaves_nothing(window: DeskWindow, case: Path, tmp_path: Path) -> None:
    before = {one.name for one in tmp_path.iterdir()}
    page = asked_for(window)
    page.write.setFocus()
    hands = Hands(window)
    hands.key(Key.Key_Space)
    hands.click(page.stop)
    until(lambda: "Stopped" in page.told.text(), 30)
    assert {one.name for one in tmp_path.iterdir()} == before
