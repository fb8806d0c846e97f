"""Heads covered at the desk by keys and mouse, followed, looked through and confirmed."""

from pathlib import Path

import pytest
from PyQt6.QtCore import QPoint, QPointF, Qt
from PyQt6.QtGui import QWheelEvent
from PyQt6.QtTest import QTest

from reviewer import actions
from reviewer.desk.window import DeskWindow
from tests.desk.conftest import until
from tests.desk.hands import press, shows

HEAD = (304, 431)
"""Where the head is on the first frame, in pixels: the clip's truth."""
CTRL = Qt.KeyboardModifier.ControlModifier
CLIP = Path(__file__).parents[2] / "sample_clips" / "off-axis-fall.mp4"


@pytest.fixture
def desk(window: DeskWindow, tmp_path: Path) -> DeskWindow:
    """A case of the sample clip, its first picture on the screen."""
    case = tmp_path / "fall.case"
    actions.start_case(case, author="A", athlete_code="G-12", consent="given", recording=CLIP).close()
    window.open_case(case, None)
    until(lambda: window.bench.picture is not None and window.bench.picture.stands_for is None)
    window.evidence.setFocus()
    return window


def click(window: DeskWindow, x: int, y: int) -> None:
    at = window.evidence.framing.to_view(x, y)
    QTest.mouseClick(window.evidence, Qt.MouseButton.LeftButton, pos=QPoint(*map(round, at)))


def begin(window: DeskWindow) -> None:
    press(window, Qt.Key.Key_H, CTRL)
    click(window, *HEAD)


def radius(window: DeskWindow) -> int:
    (cover,) = window.evidence.covers
    return cover.across.thousandths


def test_a_click_covers_the_head_opaque_and_keys_and_wheel_size_it(desk: DeskWindow) -> None:
    begin(desk)
    usual = radius(desk)
    press(desk, Qt.Key.Key_Plus)
    assert radius(desk) > usual
    press(desk, Qt.Key.Key_Minus)
    press(desk, Qt.Key.Key_Minus)
    assert radius(desk) < usual
    before, middle = radius(desk), QPointF(desk.evidence.rect().center())
    turned = QWheelEvent(
        middle, middle, QPoint(), QPoint(0, 120), Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.ShiftModifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    desk.evidence.wheelEvent(turned)
    assert radius(desk) > before
    shown = (
        desk.evidence.grab()
        .toImage()
        .pixelColor(*(round(one) for one in desk.evidence.framing.to_view(*HEAD)))
    )
    assert (shown.red(), shown.green(), shown.blue()) == (96, 96, 96)


def test_each_head_has_a_letter_and_what_is_done_is_undone(desk: DeskWindow) -> None:
    begin(desk)
    press(desk, Qt.Key.Key_N)
    click(desk, 100, 900)
    assert actions.covers_on(desk.bench.open_audit()).heads.letters == ("a", "b")
    press(desk, Qt.Key.Key_Z, CTRL)
    assert actions.covers_on(desk.bench.open_audit()).heads.letters == ("a",)
    assert "Undone: head b covered on frame 0" in desk.foot.text()
    assert len(desk.evidence.covers) == 1


def test_what_was_not_looked_through_is_not_confirmed(desk: DeskWindow) -> None:
    begin(desk)
    press(desk, Qt.Key.Key_Return)
    assert "Covers were placed" in desk.foot.text()
    press(desk, Qt.Key.Key_F)
    until(lambda: not actions.covers_on(desk.bench.open_audit()).unfollowed, 120)
    desk.viewing.step(1)
    until(lambda: shows(desk, 1) and 1 in dict(desk.covering.seen()).values())
    press(desk, Qt.Key.Key_Return)
    assert actions.covers_on(desk.bench.open_audit()).looked_through == ((0, 1),)


def test_leaving_shows_the_picture_and_the_protractor_takes_over(desk: DeskWindow) -> None:
    begin(desk)
    press(desk, Qt.Key.Key_Escape)
    assert (desk.covering.laid, desk.evidence.covers) == (False, ())
    press(desk, Qt.Key.Key_H, CTRL)
    assert len(desk.evidence.covers) == 1
    press(desk, Qt.Key.Key_P)
    assert (desk.covering.laid, desk.protractor.laid) == (False, True)
