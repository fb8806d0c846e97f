"""Passages looked for among many cases from the desk, and opened at their frames, by keys."""

import shutil
from pathlib import Path

import pytest
from PyQt6.QtCore import Qt
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QAbstractItemView, QApplication, QComboBox, QLineEdit, QPushButton

from reviewer import actions
from reviewer.desk.finding import FindPage
from reviewer.desk.finding.rows import COLUMNS, PICTURE
from reviewer.desk.window import DeskWindow
from tests.desk.conftest import SQUARE_ON, until
from tests.shelf.drawn_cases import draw_cases

ANNOTATIONS = SQUARE_ON.parent.parent / "annotations"
Key, Held = Qt.Key, Qt.KeyboardModifier


@pytest.fixture
def evening(tmp_path: Path) -> Path:
    """Two filmed routines, and six whose recordings nobody has."""
    folder = draw_cases(tmp_path / "evening", 6)
    for name in ("square-on", "off-axis-fall"):
        film = Path(shutil.copyfile(SQUARE_ON.with_name(f"{name}.mp4"), folder / f"{name}.mp4"))
        with actions.start_case(
            folder / f"{name}.case", author="A", athlete_code="G-1", consent="given", recording=film
        ) as audit:
            actions.import_marks(audit, ANNOTATIONS / f"{name}.marks.json")
    return folder


def opened(window: DeskWindow) -> FindPage:
    """The page, by its key, with the keyboard in it."""
    QTest.keyClick(window.evidence, Key.Key_F, Held.ControlModifier | Held.ShiftModifier)
    page = window.findChildren(FindPage)[-1]
    until(lambda: page.isAncestorOf(QApplication.focusWidget()))
    return page


def shown(window: DeskWindow) -> tuple[str | None, int]:
    """Recording and frame on the screen."""
    picture = window.bench.picture
    return window.bench.on_screen, -1 if picture is None else picture.frame


def typed(line: QLineEdit, words: str) -> None:
    line.setFocus()
    line.clear()
    QTest.keyClicks(line, words)


def find(page: FindPage) -> None:
    """Return in a field, and what comes of it."""
    line = page.fields.lines["element"]
    line.setFocus()
    QTest.keyClick(line, Key.Key_Return)
    until(lambda: not page.busy, 30)


def in_folder(page: FindPage, folder: Path) -> None:
    typed(page.fields.folder, str(folder))


def test_a_cast_is_found_and_shown_at_its_deciding_frame_by_keys_alone(
    window: DeskWindow, evening: Path
) -> None:
    page = opened(window)
    assert QApplication.focusWidget() is page.fields.lines["words"]
    in_folder(page, evening)
    typed(page.fields.lines["element"], "cast")
    typed(page.fields.lines["rule_book"], "demo-bars-2")
    for line, degrees in zip(page.fields.ends["angle"], ("-55", "-45"), strict=True):
        typed(line, degrees)
    find(page)
    assert QApplication.focusWidget() is page.table
    row = next(n for n, hit in enumerate(page.found.rows) if hit.case.path == "off-axis-fall.case")
    until(lambda: row in page.found.images, 20)
    page.table.selectRow(row)
    QTest.keyClick(page.table, Key.Key_Return)
    until(lambda: window.bench.picture is not None and window.bench.picture.frame == 50)
    assert window.bench.audit is not None
    assert window.bench.audit.path == (evening / "off-axis-fall.case").resolve()
    assert [window.bench.mark(one).code for one in window.bench.chosen] == ["cast"]  # type: ignore[union-attr]
    assert not page.isVisible()
    assert "Ctrl+Shift+F" in window.foot.text()
    assert opened(window) is page
    assert len(page.found.rows) > row


def test_from_case_to_case_and_within_one(window: DeskWindow, evening: Path) -> None:
    page = opened(window)
    in_folder(page, evening)
    typed(page.fields.lines["clause"], "fault.*")
    typed(page.fields.lines["fault"], "*")
    find(page)
    filmed = [n for n, hit in enumerate(page.found.rows) if hit.case.path.startswith(("square", "off"))]
    assert len({page.found.rows[n].case.path for n in filmed}) == 2
    for row in filmed:
        page = opened(window)
        page.table.selectRow(row)
        QTest.keyClick(page.table, Key.Key_Return)
        hit = page.found.rows[row]
        wanted = hit.passage.stretch
        assert wanted is not None
        there = (wanted.recording, wanted.deciding.frame)
        until(lambda there=there: shown(window) == there)  # type: ignore[misc]
        assert window.bench.chosen == (hit.passage.mark,)


def test_a_passage_whose_recording_is_not_here_says_so_and_opens(window: DeskWindow, evening: Path) -> None:
    page = opened(window)
    in_folder(page, evening / "second session")
    find(page)
    assert page.found.rows
    cell = page.found.index(0, PICTURE)
    assert page.found.data(cell) == "recording not found"
    assert page.found.data(cell, Qt.ItemDataRole.AccessibleTextRole) == "recording not found"
    page.table.selectRow(0)
    QTest.keyClick(page.table, Key.Key_Return)
    assert window.bench.audit is not None
    assert window.bench.chosen == (page.found.rows[0].passage.mark,)


def test_another_file_in_its_place_is_told(window: DeskWindow, evening: Path) -> None:
    (evening / "square-on.mp4").write_bytes(b"another film")
    page = opened(window)
    in_folder(page, evening)
    typed(page.fields.lines["element"], "pullover")
    find(page)
    row = next(n for n, hit in enumerate(page.found.rows) if hit.case.path == "square-on.case")
    assert page.found.data(page.found.index(row, PICTURE)) == "another file in its place"


def test_what_makes_no_sense_is_named_by_its_field(window: DeskWindow, evening: Path) -> None:
    page = opened(window)
    in_folder(page, evening)
    typed(page.fields.ends["amount"][0], "much")
    typed(page.fields.lines["since"], "yesterday")
    QTest.keyClick(page.fields.lines["since"], Key.Key_Return)
    assert "Points, from and to: much" in page.foot.text()
    assert "Begun since: yesterday" in page.foot.text()
    assert page.foot.property("problem") is True


def test_what_is_locked_or_cannot_be_read_is_told_beside_the_rest(window: DeskWindow, evening: Path) -> None:
    with actions.open_case(evening / "start 00001.case", author="A") as audit:
        actions.withdraw_consent(audit)
    (evening / "torn.case").write_bytes(b"torn")
    page = opened(window)
    in_folder(page, evening)
    find(page)
    assert page.found.rows
    assert "consent was withdrawn: 1" in page.foot.text()
    assert "torn.case" in page.foot.text()
    assert all("start 00001" not in hit.case.path for hit in page.found.rows)


def test_markup_in_names_of_rules_and_files_stays_text(window: DeskWindow, tmp_path: Path) -> None:
    book = tmp_path / "own.yaml"
    text = (SQUARE_ON.parent.parent / "reviewer/rules/editions/demo-bars-2.yaml").read_text(encoding="utf-8")
    book.write_text(text.replace("name: Cast,", "name: <img src=x> Cast,", 1), encoding="utf-8")
    folder = tmp_path / "cases"
    folder.mkdir()
    with actions.start_case(
        folder / "<b>.case", author="A", athlete_code="G-1", consent="given", rule_book=str(book)
    ) as audit:
        actions.place_mark(audit, kind="element", code="cast")
    (folder / "<i>.case").write_bytes(b"torn")
    page = opened(window)
    in_folder(page, folder)
    find(page)
    cell = page.found.index(0, 1)
    assert page.found.data(cell) == "<img src=x> Cast"
    assert "&lt;img src=x&gt;" in str(page.found.data(cell, Qt.ItemDataRole.ToolTipRole))
    assert page.foot.textFormat() == Qt.TextFormat.PlainText
    assert "<i>.case" in page.foot.text()


def test_page_after_page(window: DeskWindow, evening: Path) -> None:
    page = opened(window)
    in_folder(page, evening)
    find(page)
    first = page.found.rows
    assert len(first) == 50
    assert not page.earlier.isEnabled()
    QTest.mouseClick(page.later, Qt.MouseButton.LeftButton)
    until(lambda: not page.busy, 30)
    assert page.found.rows
    assert not set(page.found.rows) & set(first)
    assert "Shown: 51 to" in page.foot.text()
    QTest.mouseClick(page.earlier, Qt.MouseButton.LeftButton)
    until(lambda: not page.busy, 30)
    assert page.found.rows == first


def test_every_part_has_a_name_and_tab_reaches_it(window: DeskWindow, evening: Path) -> None:
    page = opened(window)
    in_folder(page, evening)
    find(page)
    page.fields.folder.setFocus()
    reached = []
    for _ in range(40):
        part = QApplication.focusWidget()
        assert part is not None
        reached.append(part)
        QTest.keyClick(part, Key.Key_Tab)
    wanted = [*page.findChildren(QLineEdit), *page.findChildren(QComboBox), page.table]
    wanted += [one for one in page.findChildren(QPushButton) if one.isEnabled()]
    for one in wanted:
        assert one in reached
        assert one.accessibleName() or isinstance(one, QPushButton)
    assert page.found.columnCount() == len(COLUMNS)
    assert page.table.selectionBehavior() == QAbstractItemView.SelectionBehavior.SelectRows


def test_the_window_closes_while_cases_are_read(window: DeskWindow, tmp_path: Path) -> None:
    folder = draw_cases(tmp_path / "many", 60)
    page = opened(window)
    in_folder(page, folder)
    QTest.keyClick(page.fields.folder, Key.Key_Return)
    assert page.busy
    window.close()
    assert not page.busy


def test_esc_stops_and_then_closes(window: DeskWindow, tmp_path: Path) -> None:
    folder = draw_cases(tmp_path / "many", 60)
    page = opened(window)
    in_folder(page, folder)
    QTest.keyClick(page.fields.folder, Key.Key_Return)
    QTest.keyClick(page.fields.folder, Key.Key_Escape)
    assert "Stopped" in page.foot.text()
    assert page.isVisible()
    QTest.keyClick(page.fields.folder, Key.Key_Escape)
    assert not page.isVisible()
