"""Two recordings of one routine side by side: joined at one instant, then stepped and marked together."""

import subprocess
from pathlib import Path

import pytest
from PyQt6.QtCore import Qt
from PyQt6.QtTest import QTest

from reviewer import actions
from reviewer.desk.recordings import RecordingsPage
from reviewer.desk.window import DeskWindow
from tests.desk.conftest import until
from tests.desk.hands import shows

Key = Qt.Key
SOURCE = "testsrc2=s=160x90:r={rate}:d=6"


def recorded(path: Path, rate: int) -> Path:
    source = ["-f", "lavfi", "-i", SOURCE.format(rate=rate), "-pix_fmt", "yuv420p", "-c:v", "libx264"]
    subprocess.run(["ffmpeg", "-v", "error", *source, "-preset", "ultrafast", str(path)], check=True)
    return path


@pytest.fixture
def joined(window: DeskWindow, tmp_path: Path) -> DeskWindow:
    """A case on two cameras, 25 and 50 frames a second; the second one stands beside the first."""
    first, second = recorded(tmp_path / "seat.mp4", 25), recorded(tmp_path / "stand.mp4", 50)
    case = tmp_path / "evening.case"
    audit = actions.start_case(case, author="A", athlete_code="G-07", consent="given", recording=first)
    actions.add_recording(audit, second)
    audit.close()
    window.open_case(case, None)
    until(lambda: window.bench.picture is not None)
    press(window, Key.Key_B)
    until(lambda: window.seats.beside.evidence.picture is not None)
    return window


def press(window: DeskWindow, key: Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
    window.evidence.setFocus()
    QTest.keyClick(window.evidence, key, held)


def beside_shows(window: DeskWindow, frame: int) -> bool:
    picture = window.seats.beside.evidence.picture
    return picture is not None and picture.frame == frame


def join_at(window: DeskWindow, here: int, there: int) -> None:
    window.viewing.seek(here)
    window.seats.beside.step(there - window.seats.beside.frame)
    until(lambda: beside_shows(window, there))
    press(window, Key.Key_J)


def type_call(window: DeskWindow, words: str) -> None:
    window.entry.setFocus()
    QTest.keyClicks(window.entry, words)
    QTest.keyClick(window.entry, Key.Key_Return)


def test_once_joined_the_picture_beside_follows_every_step(joined: DeskWindow) -> None:
    join_at(joined, 50, 120)
    # u = sqrt(0.04² / 12 + 0.02² / 12) s, as each frame is on screen for its own time.
    until(lambda: "± 0.026 s (95 %)" in joined.seats.beside.label.text())
    joined.viewing.seek(60)
    until(lambda: beside_shows(joined, 140))
    press(joined, Key.Key_Left)
    until(lambda: beside_shows(joined, 138))


def test_before_that_it_is_stepped_by_hand_and_says_what_to_do(joined: DeskWindow) -> None:
    assert "Not joined" in joined.seats.beside.label.text()
    press(joined, Key.Key_Right, Qt.KeyboardModifier.AltModifier)
    until(lambda: beside_shows(joined, 1))
    joined.viewing.seek(30)
    QTest.qWait(100)
    assert beside_shows(joined, 1)


def test_marks_are_placed_on_the_recording_on_the_screen_and_shown_on_both(joined: DeskWindow) -> None:
    join_at(joined, 50, 120)
    type_call(joined, "pullover mount")
    press(joined, Key.Key_R)
    until(lambda: joined.bench.facts is not None and len(joined.bench.facts.pts) == 300)
    until(lambda: shows(joined, 120))
    joined.viewing.seek(200)
    until(lambda: shows(joined, 200))
    type_call(joined, "cast -40")
    first, second = joined.bench.marks
    assert [first.code, second.code] == ["pullover", "cast"], "in the order of the routine"
    assert first.recording is None
    assert second.recording == joined.bench.on_screen
    assert joined.bench.facts is not None
    assert joined.bench.moment_here(first) == joined.bench.facts.pts[120]
    joined.bench.choose((first.id,), show=True)
    until(lambda: joined.bench.facts is not None and len(joined.bench.facts.pts) == 150)
    until(lambda: shows(joined, 50))


def test_an_element_of_the_other_recording_keeps_its_boundaries(joined: DeskWindow) -> None:
    type_call(joined, "pullover mount")
    press(joined, Key.Key_R)
    until(lambda: joined.bench.facts is not None and len(joined.bench.facts.pts) == 300)
    until(lambda: joined.bench.picture is not None)
    joined.bench.choose((joined.bench.marks[0].id,))
    before = joined.bench.marks[0]
    type_call(joined, "ends")
    assert joined.bench.marks[0] == before
    assert "another recording" in joined.foot.text()


def test_the_page_says_which_attempt_counts(joined: DeskWindow) -> None:
    page = RecordingsPage(joined, joined.bench, "*.mp4")
    assert page.table.rowCount() == 2
    audit = joined.bench.open_audit()
    second = audit.state.recordings[1].sha256
    joined.bench.attempt(lambda: actions.assign_attempt(audit, second, 2))
    joined.bench.attempt(lambda: actions.count_attempt(audit, 2))
    cells = [[page.table.item(row, at).text() for at in (1, 2)] for row in range(2)]
    assert cells == [["1", "no"], ["2", "yes"]]
    page.close()
