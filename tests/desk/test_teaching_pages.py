"""What a case becomes for others at the desk: a page for the coach, one to practise with, an exercise."""

from pathlib import Path

import pytest
from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import QApplication, QDialog, QPushButton

from reviewer import actions
from reviewer.desk.pages import Page
from reviewer.desk.teaching.blindly import BlindPage
from reviewer.desk.teaching.coachpage import CoachPage
from reviewer.desk.teaching.practicepage import PracticePage
from reviewer.desk.window import DeskWindow
from tests.cli.judged_routine import filmed, judged
from tests.desk.conftest import until
from tests.desk.hands import Hands

Key = Qt.Key
USES = ("coach", "teaching")


@pytest.fixture
def case(window: DeskWindow, tmp_path: Path) -> Path:
    """A judged routine of two seconds on the desk."""
    made = judged(tmp_path / "routine.case", filmed(tmp_path / "routine.mp4"), USES)
    window.open_case(made, None)
    until(lambda: window.bench.picture is not None)
    return made


def page_in_front(kind: type[QDialog]) -> QDialog:
    """The page that has the keyboard."""
    until(lambda: isinstance(QApplication.activeWindow(), kind))
    found = QApplication.activeWindow()
    assert isinstance(found, kind)
    return found


def button_of(page: QDialog, words: str) -> QPushButton:
    """The button whose words begin so."""
    return next(one for one in page.findChildren(QPushButton) if one.text().startswith(words))


def test_the_coachs_page_of_the_desk_is_that_of_the_command_line(
    window: DeskWindow, case: Path, tmp_path: Path
) -> None:
    hands = Hands(window)
    hands.key(Key.Key_F11)
    page = page_in_front(CoachPage)
    assert isinstance(page, CoachPage)
    page.write.setFocus()
    hands.key(Key.Key_Space)
    until(lambda: "The page is in" in page.told.text(), 60)
    made = tmp_path / "routine.coach"
    assert {"coach.html", "coach.json", "coach.pdf", "clips"} == {one.name for one in made.iterdir()}
    window.close()
    with actions.open_case(case, author="A") as audit:
        actions.write_coach_page(audit, tmp_path / "again", lambda: "2026-11-26")
    for one in made.rglob("*.*"):
        assert one.read_bytes() == (tmp_path / "again" / one.relative_to(made)).read_bytes()


def test_without_consent_a_page_says_so_and_writes_nothing(window: DeskWindow, tmp_path: Path) -> None:
    made = judged(tmp_path / "unasked.case", filmed(tmp_path / "routine.mp4"), ("inquiry",))
    window.open_case(made, None)
    until(lambda: window.bench.picture is not None)
    hands = Hands(window)
    hands.key(Key.Key_F11)
    page = page_in_front(CoachPage)
    assert isinstance(page, CoachPage)
    hands.click(page.write)
    until(lambda: "does not cover" in page.told.text(), 20)
    assert page.write.isEnabled()
    assert not (tmp_path / "unasked.coach").exists()


def test_a_page_to_practise_with_asks_for_its_pass_phrase_twice(
    window: DeskWindow, case: Path, tmp_path: Path
) -> None:
    hands = Hands(window)
    hands.key(Key.Key_F12)
    page = page_in_front(PracticePage)
    assert isinstance(page, PracticePage)
    page.phrase.setFocus()
    hands.type("a lantern by the quarry")
    hands.click(page.write)
    until(lambda: "in two ways" in page.told.text(), 20)
    page.again.setFocus()
    hands.type("a lantern by the quarry")
    hands.click(page.write)
    until(lambda: "Keep the pass phrase apart" in page.told.text(), 60)
    assert "Practice in judging" in (tmp_path / "routine-practice.html").read_text(encoding="utf-8")


def test_a_page_that_is_being_written_can_be_stopped(window: DeskWindow, case: Path, tmp_path: Path) -> None:
    hands = Hands(window)
    hands.key(Key.Key_F11)
    page = page_in_front(CoachPage)
    assert isinstance(page, CoachPage)
    hands.click(page.write)
    assert page.stop.isEnabled()
    hands.click(page.stop)
    assert "nothing of it is written" in page.told.text()
    assert not list((tmp_path / "routine.coach").rglob("*.*"))


def test_a_routine_is_judged_blind_and_then_held_against_the_key(
    window: DeskWindow, case: Path, tmp_path: Path
) -> None:
    hands = Hands(window)
    hands.sequence("Shift+F12")
    page = page_in_front(BlindPage)
    assert isinstance(page, BlindPage)
    hands.click(button_of(page, "Begin"))
    until(lambda: window.bench.audit is not None and window.bench.audit.path.name == "routine-blind.case")
    until(lambda: window.bench.picture is not None)
    assert window.bench.marks == (), "the key's marks are not there"
    hands.key(Key.Key_Return)
    hands.type("sole-circle")
    hands.key(Key.Key_Return)
    hands.type("arms-bent 0.3")
    hands.key(Key.Key_Return, Key.Key_Escape)
    assert len(window.bench.marks) == 2
    hands.sequence("Shift+F12")
    page = page_in_front(BlindPage)
    assert isinstance(page, BlindPage)
    page.file.setText(str(case))
    hands.click(button_of(page, "Seal"))
    told = page_in_front(Page)
    assert isinstance(told, Page)
    text = told.text.toPlainText()
    assert "harder than all judges" in text
    assert "Value parts\n1\n3" in text
    assert window.bench.on_desk().state.sealed is not None
    told.close()


def test_a_name_is_no_code_of_who_judges_blind(window: DeskWindow, case: Path, tmp_path: Path) -> None:
    hands = Hands(window)
    hands.sequence("Shift+F12")
    page = page_in_front(BlindPage)
    assert isinstance(page, BlindPage)
    page.letter.setText("Quinn Harbour")
    hands.click(button_of(page, "Begin"))
    assert "names of people are not kept" in page.told.text()
    assert not (tmp_path / "routine-blind.case").exists()
    page.close()


def test_where_nothing_can_be_written_the_page_says_so(
    window: DeskWindow, case: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device", str(tmp_path))

    hands = Hands(window)
    for broken in ("make_coach_page", "keep_coach_page"):
        with monkeypatch.context() as change:
            change.setattr(actions, broken, full)
            hands.key(Key.Key_F11)
            page = page_in_front(CoachPage)
            assert isinstance(page, CoachPage)
            hands.click(page.write)
            until(lambda: "No space left on device" in page.told.text(), 60)  # noqa: B023
            assert page.write.isEnabled()
            assert not list(tmp_path.rglob("*.unfinished")), "no clip is left either"
            page.close()


def test_nobody_sees_the_key_with_a_case_that_is_not_the_one(
    window: DeskWindow, case: Path, tmp_path: Path
) -> None:
    other = judged(tmp_path / "other.case", None, USES)
    actions.begin_second(case, tmp_path / "blind.case", "B").close()
    window.open_case(tmp_path / "blind.case", None)
    until(lambda: window.bench.picture is not None)
    hands = Hands(window)
    hands.sequence("Shift+F12")
    page = page_in_front(BlindPage)
    assert isinstance(page, BlindPage)
    page.file.setText(str(other))
    hands.click(button_of(page, "Seal"))
    assert "not the case" in page.told.text()
    assert window.bench.on_desk().state.sealed is None, "nothing was sealed for nothing"
    page.close()
