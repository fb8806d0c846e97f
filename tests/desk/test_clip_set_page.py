"""Clips of several passages that were found, made at the desk, and the same as the command line makes.

Source: ffmpeg's hashes of the pictures in the files.
"""

import json
import subprocess
from pathlib import Path
from shutil import copy

import pytest
from PyQt6.QtCore import QItemSelectionModel, Qt
from PyQt6.QtWidgets import QApplication

from reviewer import actions
from reviewer.desk.finding import FindPage
from reviewer.desk.teaching.setpage import SetPage
from reviewer.desk.window import DeskWindow
from tests.cli.judged_routine import filmed, judged
from tests.desk.conftest import until
from tests.desk.hands import Hands

Key = Qt.Key
WHOLE_ROW = QItemSelectionModel.SelectionFlag.Select | QItemSelectionModel.SelectionFlag.Rows


@pytest.fixture
def evening(tmp_path: Path) -> Path:
    """Two judged routines of two seconds with consent to teaching, and one whose recording nobody has."""
    folder = tmp_path / "evening"
    folder.mkdir()
    film = filmed(folder / "one.mp4")
    judged(folder / "one.case", film)
    judged(folder / "two.case", Path(copy(film, folder / "two.mp4")))
    judged(folder / "three.case", None)
    return folder


def found(window: DeskWindow, folder: Path, fault: str = "*") -> FindPage:
    """Faults found in a folder, the case of the first on the desk."""
    window.open_case(folder / "one.case", None)
    window._doings["find"]()
    page = window.findChildren(FindPage)[-1]
    page.fields.lines["fault"].setText(fault)
    page.search()
    until(lambda: not page.busy and page.found.rows != (), 30)
    return page


def asked_for(page: FindPage) -> SetPage:
    """The page of clips, by its button."""
    page.clips.setFocus()
    Hands(page).key(Key.Key_Space)
    until(lambda: isinstance(QApplication.activeWindow(), SetPage))
    made = QApplication.activeWindow()
    assert isinstance(made, SetPage)
    return made


def written(page: SetPage) -> str:
    page.write.setFocus()
    Hands(page).key(Key.Key_Space)
    until(lambda: page.write.isEnabled(), 120)
    return page.told.text()


def hashes(path: Path) -> list[str]:
    command = ["ffmpeg", "-v", "error", "-i", str(path), "-fps_mode", "passthrough", "-f", "framehash", "-"]
    said = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    return [line.split(",")[-1].strip() for line in said.splitlines() if not line.startswith("#")]


def test_passages_in_an_order_of_ones_own_become_a_folder(window: DeskWindow, evening: Path) -> None:
    page = asked_for(found(window, evening))
    assert page.passages.list.count() == 4, "what has no time is left out"
    last = page.passages.clips[-1]
    page.passages.list.setCurrentRow(3)
    for _ in range(3):
        page.passages.move(-1)
    page.caption.setFocus()
    Hands(page).type("Elbows <i>first</i>")
    page.passages.list.setCurrentRow(3)
    assert page.caption.text() == "", "of that one nothing is said"
    page.passages.leave_out()
    assert "The clips are in" in written(page)
    folder = evening / "clips"
    told = json.loads((folder / "clips.json").read_text(encoding="utf-8"))
    assert len(told["clips"]) == 3
    assert told["clips"][0]["caption"] == ["Elbows <i>first</i>"]
    recipe = json.loads((evening / "clips.recipe.json").read_text(encoding="utf-8"))
    assert recipe["clips"][0] == {"case": last[0].name, "mark": last[1], "caption": "Elbows <i>first</i>"}
    assert [event.kind for event in window.bench.open_audit().case.events].count("clip-written") >= 1
    again = evening / "again"
    window.open_case(evening / "three.case", None)
    actions.make_set(evening / "clips.recipe.json", again, author="A", today=lambda: "2026-11-27")
    for one in sorted(folder.glob("*.mp4")):
        assert hashes(one) == hashes(again / one.name)


def test_rows_that_are_chosen_become_one_film(window: DeskWindow, evening: Path) -> None:
    finding = found(window, evening)
    model = finding.table.selectionModel()
    assert model is not None
    model.clearSelection()
    timed = [row for row, one in enumerate(finding.found.rows) if one.passage.stretch is not None]
    for row in timed[:2]:
        model.select(finding.found.index(row, 0), WHOLE_ROW)
    page = asked_for(finding)
    assert page.passages.list.count() == 2
    page.place.setText(str(evening / "both.mp4"))
    assert "The clips are in" in written(page)
    assert len(hashes(evening / "both.mp4")) > 60
    assert "There is a file of this name" in written(page)


def test_stopped_it_keeps_what_is_whole_and_goes_on_after_it(window: DeskWindow, evening: Path) -> None:
    page = asked_for(found(window, evening))
    page.write.setFocus()
    Hands(page).key(Key.Key_Space)
    until(lambda: (evening / "clips" / "01.vtt").exists(), 60)
    page.stop.click()
    assert page.write.isEnabled()
    names = {one.name for one in (evening / "clips").iterdir()}
    assert "01.mp4" in names
    assert not [name for name in names if "unfinished" in name]
    kept = (evening / "clips" / "01.mp4").stat().st_mtime_ns
    assert "The clips are in" in written(page)
    assert (evening / "clips" / "01.mp4").stat().st_mtime_ns == kept
    assert len(list((evening / "clips").glob("*.mp4"))) == 4
    assert len(list(evening.glob("*.recipe.json"))) == 1, "the same recipe is not written twice"


def test_consent_withdrawn_since_they_were_found_keeps_them_back(window: DeskWindow, evening: Path) -> None:
    page = asked_for(found(window, evening))
    with actions.open_case(evening / "two.case", author="B") as audit:
        actions.withdraw_consent(audit)
    assert "withdrawn" in written(page)
    assert not list(evening.rglob("clips/*"))


def test_what_is_typed_wrongly_is_said_and_nothing_is_written(window: DeskWindow, evening: Path) -> None:
    page = asked_for(found(window, evening))
    page.still.setText("long")
    assert "is no length of time" in written(page)
    page.still.setText("0,2")
    while page.passages.list.count():
        page.passages.leave_out()
    assert "Nothing with a time" in written(page)
    assert not list(evening.glob("*.recipe.json"))
