"""A meet at the desk: its routines looked at, their recordings read, a case opened, by keys."""

import re
import shutil
from dataclasses import replace
from multiprocessing import active_children
from pathlib import Path

import pytest
from PyQt6.QtCore import Qt
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication, QDialog, QLabel, QLineEdit, QPushButton

from reviewer import actions
from reviewer.desk.looks import dress
from reviewer.desk.meets import MeetPage
from reviewer.desk.meets.begin import BeginForm
from reviewer.desk.meets.form import MeetForm
from reviewer.desk.meets.giving import GivingForm
from reviewer.desk.window import DeskWindow
from reviewer.exchange.meets import read_meet, write_meet
from reviewer.terms.meets import Task
from reviewer.words import saying
from tests.actions.drawn_meet import draw_meet
from tests.desk.conftest import SQUARE_ON, until

Key, Held = Qt.Key, Qt.KeyboardModifier
STARTS = """start;athlete;division;start value;judge A;judge B;average;final
7;G-7;junior;10,0;9,5;9,4;9,45;9,45
8;G-8;junior;9,5;9,0;9,1;9,05;9,05
9;G-9;senior;10,0;9,5;9,4;9,45;9,45
"""


@pytest.fixture
def meet(tmp_path: Path) -> Path:
    """A meet of three starts, two of them filmed, just begun."""
    films, table = tmp_path / "films", tmp_path / "starts.csv"
    films.mkdir()
    shutil.copyfile(SQUARE_ON, films / "start 7.mp4")
    shutil.copyfile(SQUARE_ON.with_name("off-axis-fall.mp4"), films / "start 08.mp4")
    table.write_text(STARTS, encoding="utf-8")
    actions.begin_meet(table, tmp_path / "meet", rule_book="demo-bars-2", recordings=films)
    return tmp_path / "meet"


def opened(window: DeskWindow, meet: Path) -> MeetPage:
    """The page by its key, the folder typed."""
    QTest.keyClick(window.evidence, Key.Key_M, Held.ControlModifier | Held.ShiftModifier)
    page = window.findChildren(MeetPage)[-1]
    until(lambda: page.isAncestorOf(QApplication.focusWidget()))
    QTest.keyClicks(page.folder, str(meet))
    QTest.keyClick(page.folder, Key.Key_Return)
    return page


def names(page: MeetPage) -> list[str]:
    return [row.start.name for row in page.found.rows]


def press(page: QDialog, words: str) -> None:
    """The button of these words."""
    found = [one for one in page.findChildren(QPushButton) if words in one.text().replace("&", "")]
    assert len(found) == 1
    QTest.mouseClick(found[0], Qt.MouseButton.LeftButton)


def test_recordings_are_read_cases_made_and_one_is_opened(window: DeskWindow, meet: Path) -> None:
    page = opened(window, meet)
    assert names(page) == ["7", "8", "9"]
    assert "with a recording: 2" in page.foot.text()
    press(page, "Read the recordings")
    until(lambda: not page.busy, 60)
    assert "Recordings read: 2. Cases made: 3." in page.foot.text()
    assert QApplication.focusWidget() is page.table
    QTest.keyClick(page.table, Key.Key_Return)
    until(lambda: window.bench.audit is not None and window.bench.picture is not None, 20)
    assert window.bench.audit is not None
    assert window.bench.audit.path == (meet / "cases" / "7.case").resolve()
    assert window.bench.audit.athlete_code == "G-7"
    assert not page.isVisible()
    assert "Ctrl+Shift+M brings the meet back." in window.foot.text()


def test_routines_are_narrowed_by_kind_and_by_letters(window: DeskWindow, meet: Path) -> None:
    page = opened(window, meet)
    page.shown.setCurrentIndex(page.shown.findData("lacking"))
    assert names(page) == ["9"]
    page.shown.setCurrentIndex(page.shown.findData("all"))
    page.typed.setFocus()
    QTest.keyClicks(page.typed, "jun")
    assert names(page) == ["7", "8"]
    page.typed.clear()
    QTest.keyClicks(page.typed, "g-9")
    assert names(page) == ["9"]


def test_a_case_that_is_not_made_is_said(window: DeskWindow, meet: Path) -> None:
    page = opened(window, meet)
    QTest.keyClick(page.table, Key.Key_Return)
    assert "has no case yet" in page.foot.text()
    assert page.isVisible()


def test_a_folder_without_a_meet_is_refused_in_words(window: DeskWindow, tmp_path: Path) -> None:
    page = opened(window, tmp_path)
    assert "This folder holds no meet." in page.foot.text()
    assert page.foot.property("problem")
    assert not any(one.isEnabled() for one in page.findChildren(QPushButton) if "case" in one.text()[:9])


def test_reading_is_stopped_by_escape_and_goes_on(window: DeskWindow, meet: Path) -> None:
    page = opened(window, meet)
    press(page, "Read the recordings")
    QTest.keyClick(page, Key.Key_Escape)
    assert not page.busy
    assert page.isVisible()
    until(lambda: not active_children(), 10)
    press(page, "Read the recordings")
    until(lambda: not page.busy, 60)
    assert all(row.case is not None for row in page.found.rows)


def test_a_recording_is_given_by_hand(
    window: DeskWindow, meet: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = opened(window, meet)
    film = meet.parent / "films" / "start 7.mp4"
    monkeypatch.setattr("reviewer.desk.meets.page.file_to_read", lambda *_: film)
    page.table.setCurrentIndex(page.found.index(2, 0))
    press(page, "Its recording")
    assert page.found.rows[2].start.recordings == ("start 7.mp4",)


def test_why_a_recording_cannot_be_given_stays_on_the_page(
    window: DeskWindow, meet: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = opened(window, meet)
    monkeypatch.setattr("reviewer.desk.meets.page.file_to_read", lambda *_: meet.parent / "starts.csv")
    press(page, "Its recording")
    assert "no such recording" in page.foot.text() or "not named as recordings" in page.foot.text()
    assert page.foot.property("problem")


def test_a_blind_auditors_case_is_opened_once_it_is_home(window: DeskWindow, tmp_path: Path) -> None:
    draw_meet(tmp_path / "autumn", 4, 2)
    home = tmp_path / "autumn" / "audited" / "1.L.case"
    home.parent.mkdir()
    shutil.copyfile(tmp_path / "autumn" / "cases" / "1.case", home)
    tasks = (Task("1", "L", blind=True, sent="a" * 64, home="b" * 64),)
    write_meet(tmp_path / "autumn", replace(read_meet(tmp_path / "autumn"), queue=tasks))
    page = opened(window, tmp_path / "autumn")
    QTest.keyClick(page.table, Key.Key_Return)
    until(lambda: window.bench.audit is not None, 20)
    assert window.bench.audit is not None
    assert window.bench.audit.path == home.resolve()


def test_a_report_that_is_stopped_is_not_written(
    window: DeskWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    draw_meet(tmp_path / "autumn", 12, 6)
    page = opened(window, tmp_path / "autumn")
    monkeypatch.setattr("reviewer.desk.meets.page.folder_to_read", lambda *_: tmp_path / "report")
    press(page, "Write the report")
    QTest.keyClick(page, Key.Key_Escape)
    assert not page.busy
    assert page.foot.text() == "The report was stopped; nothing of it is written."
    assert not (tmp_path / "report").exists()


def test_the_report_is_written_from_the_page(
    window: DeskWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    draw_meet(tmp_path / "autumn", 12, 6)
    page = opened(window, tmp_path / "autumn")
    assert "chosen: 8" in page.foot.text()
    monkeypatch.setattr("reviewer.desk.meets.page.folder_to_read", lambda *_: tmp_path / "report")
    press(page, "Write the report")
    until(lambda: not page.busy, 60)
    assert (tmp_path / "report" / "report.pdf").is_file()
    assert "The report is in" in page.foot.text()


def typed(line: QLineEdit, words: str) -> None:
    line.setFocus()
    line.clear()
    QTest.keyClicks(line, words)


def test_a_meet_is_begun_from_a_table_and_its_faults_are_told_by_their_lines(
    window: DeskWindow, meet: Path
) -> None:
    page = opened(window, meet)
    press(page, "Begin a meet")
    form = page.findChildren(BeginForm)[-1]
    table = meet.parent / "other.csv"
    table.write_text(STARTS.replace("8;G-8", "7;G-8"), encoding="utf-8")
    typed(form.table, str(table))
    typed(form.folder, str(meet.parent / "other"))
    press(form, "Begin it")
    assert "other.csv:3" in form.told.text()
    assert not (meet.parent / "other").exists()
    table.write_text(STARTS, encoding="utf-8")
    press(form, "Begin it")
    assert form.told.text() == "The meet is begun: 3 routines."
    assert (page.folder.text(), names(page)) == (str(meet.parent / "other"), ["7", "8", "9"])


def test_routines_are_drawn_chosen_and_given_out(window: DeskWindow, meet: Path) -> None:
    page = opened(window, meet)
    press(page, "Choose and give out")
    form = page.findChildren(GivingForm)[-1]
    press(form, "Draw them")
    assert "Type a seed" in form.told.text()
    form.number.setValue(9)
    typed(form.seed, "autumn")
    press(form, "Draw them")
    assert "sample of 9 cannot be drawn" in form.told.text()
    form.number.setValue(2)
    press(form, "Draw them")
    assert "Chosen: 2 of 3, 2 of them new." in form.told.text()
    assert sum(bool(row.chosen) for row in page.found.rows) == 2
    form.reason.setCurrentIndex(form.reason.findData("contradiction"))
    press(form, "Choose them")
    assert "Chosen: 0 of 3" in form.told.text()
    typed(form.auditors, "K, Somebody")
    press(form, "Give them out")
    assert "names of people are not kept" in form.told.text()
    typed(form.auditors, "K, L")
    press(form, "Give them out")
    assert "Given out: 2 tasks" in form.told.text()
    assert sorted(one.auditor for row in page.found.rows for one in row.doing) == ["K", "L"]


@pytest.mark.parametrize("language", ["en", "de"])
def test_no_two_controls_of_a_page_have_one_letter(
    application: QApplication, tmp_path: Path, language: str
) -> None:
    window = DeskWindow("A", say=saying(language), guided=False)
    page = page_of(window, tmp_path / "meet")
    for opens in (lambda: None, page.begin, page.give_out, page.carry):
        opens()
    for one in (page, *page.findChildren(MeetForm)):
        letters = [letter for words in _words(one) for letter in re.findall("&(\\w)", words.casefold())]
        assert letters
        assert len(letters) == len(set(letters)), f"{one.windowTitle()}: {''.join(letters)}"
    window.close()


def page_of(window: DeskWindow, meet: Path) -> MeetPage:
    """The page of a small meet, on a desk that need not have the keyboard."""
    draw_meet(meet, 4, 2)
    page = MeetPage(window, window.bench)
    page.folder.setText(str(meet))
    page.show()
    page.look()
    return page


def _words(page: QDialog) -> list[str]:
    """Of the labels and buttons of a page, and not of the pages that lie over it."""
    own = (*page.findChildren(QLabel), *page.findChildren(QPushButton))
    return [one.text() for one in own if one.window() is page]


def test_a_form_has_room_for_all_of_its_words(application: QApplication, tmp_path: Path) -> None:
    dress(application, "light", 200)
    window = DeskWindow("A", say=saying("de"), guided=False)
    page = page_of(window, tmp_path / "meet")
    page.give_out()
    (form,) = page.findChildren(GivingForm)
    for label in form.findChildren(QLabel):
        assert label.height() >= label.heightForWidth(label.width()), label.text()
    window.close()
    dress(application, "light", 100)


def test_a_recording_that_fits_two_routines_is_shown_as_unclear(window: DeskWindow, meet: Path) -> None:
    shutil.copyfile(SQUARE_ON, meet.parent / "films" / "9 left.mp4")
    shutil.copyfile(SQUARE_ON, meet.parent / "films" / "9 right.mp4")
    page = opened(window, meet)
    page.shown.setCurrentIndex(page.shown.findData("unclear"))
    assert names(page) == ["9"]
    assert page.found.data(page.found.index(0, 5)) == "unclear: 9 left.mp4, 9 right.mp4"
