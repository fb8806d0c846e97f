"""What an audit still lacks, said step by step, and ignorable; consent recorded at the desk."""

from pathlib import Path

import pytest
from PyQt6.QtCore import QPoint, Qt
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QCheckBox, QLabel, QPushButton, QWidget

from reviewer import actions
from reviewer.actions import missing
from reviewer.desk.consents import ConsentPage
from reviewer.desk.guide import Guide
from reviewer.desk.window import DeskWindow
from reviewer.settings import recall
from tests.desk.conftest import SQUARE_ON, until
from tests.desk.hands import call, press, shows

Key = Qt.Key


def lacking(desk: DeskWindow) -> list[str]:
    """The names of what is needed and not done."""
    steps = missing(desk.bench.audit, recording=desk.bench.facts is not None)
    return [step.does for step in steps if step.needed and not step.done]


def words(widget: QWidget) -> str:
    """All that a part of the window says."""
    return " ".join(label.text() for label in widget.findChildren(QLabel))


def click(button: QWidget) -> None:
    """Click in the middle, on a box at its tick."""
    place = QPoint(8, button.height() // 2) if isinstance(button, QCheckBox) else button.rect().center()
    QTest.mouseClick(button, Qt.MouseButton.LeftButton, pos=place)


def named(widget: QWidget, start: str) -> QPushButton:
    """A button by how its accessible name or words begin."""
    buttons = widget.findChildren(QPushButton)
    return next(one for one in buttons if (one.accessibleName() or one.text()).startswith(start))


def test_an_empty_desk_leads_to_a_recording_and_a_case(window: DeskWindow) -> None:
    assert lacking(window) == ["open", "start"]
    assert "Open the recording of a routine" in words(window.chosen)


def test_the_demo_is_one_key_away_and_made_anew_each_time(window: DeskWindow) -> None:
    press(window, Key.Key_F2)
    first = window.bench.audit
    assert first is not None
    until(lambda: window.bench.picture is not None)
    window.bench.choose((first.marks[0].id,))
    press(window, Key.Key_Delete)
    assert len(first.marks) == 11
    press(window, Key.Key_F2)
    second = window.bench.audit
    assert second is not None
    assert second.path != first.path
    assert len(second.marks) == 12


def test_what_is_marked_is_missing_no_more(desk: DeskWindow) -> None:
    assert lacking(desk) == ["type"]
    call(desk, "pullover mount")
    call(desk, "cast")
    said = words(desk.chosen) if not desk.bench.chosen else ""
    assert said == ""  # a mark is chosen, so the guide is out of the way
    desk.bench.choose(())
    assert "Casts nobody has judged: 1." in words(desk.chosen)
    assert "No element is the dismount." in words(desk.chosen)
    desk.bench.choose((desk.bench.marks[-1].id,))
    call(desk, "met")
    desk.bench.choose(())
    assert "Casts nobody has judged" not in words(desk.chosen)


def test_the_guide_may_be_hidden_and_stays_so(desk: DeskWindow) -> None:
    press(desk, Key.Key_F3)
    assert desk.chosen.findChildren(Guide) == []
    assert not actions.preferences().guide
    press(desk, Key.Key_F3)
    assert len(desk.chosen.findChildren(Guide)) == 1


def test_a_step_does_what_it_says(desk: DeskWindow) -> None:
    click(named(desk.chosen, "Ctrl+E"))
    assert desk.argument.posted.hasFocus()


def test_consent_is_recorded_at_the_desk(window: DeskWindow, tmp_path: Path) -> None:
    begun = actions.start_case(
        tmp_path / "b.case", author="A", athlete_code="G-08", consent="not recorded", recording=SQUARE_ON
    )
    begun.close()
    window.open_case(tmp_path / "b.case", None)
    assert "consent" in lacking(window)
    click(named(window.chosen, window.bench.key("consent")))
    (page,) = window.findChildren(ConsentPage)
    click(page.uses["inquiry"])
    click(page.uses["teaching"])
    page.until.setFocus()
    QTest.keyClicks(page.until, "1999-01-01")
    click(named(page, "Record it"))
    assert "has passed" in window.foot.text()
    page.until.clear()
    QTest.keyClicks(page.until, "2099-01-01")
    click(named(page, "Record it"))
    assert window.bench.audit is not None
    assert window.bench.audit.permission.uses == ("inquiry", "teaching")
    assert "until 2099-01-01" in page.stands.text()
    assert "consent" not in lacking(window)


@pytest.mark.parametrize("key", [Key.Key_PageDown, Key.Key_End])
def test_a_case_is_found_again_at_the_frame_where_it_was_left(desk: DeskWindow, case: Path, key: Key) -> None:
    press(desk, key)
    until(lambda: desk.bench.picture is not None and desk.bench.picture.frame > 0)
    assert desk.bench.picture is not None
    frame = desk.bench.picture.frame
    left = recall().left_at(case.resolve())
    assert left is not None
    assert left.frame == frame
    desk.bench.lay(None)
    again = DeskWindow("A")
    again.show()
    again.open_case(case, None)
    until(lambda: shows(again, frame))
    again.close()
