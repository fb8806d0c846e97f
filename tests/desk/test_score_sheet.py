"""The score sheet in the real window, read and questioned by keys alone.

Rows must show all their words at any width and size: their heights are held against Qt's own measure of the
same words. What is supposed is held against the case on disk, which must not change.
"""

from collections.abc import Callable

import pytest
from PyQt6.QtCore import QRect, Qt
from PyQt6.QtGui import QFontMetrics
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication, QMenu, QSplitter

from reviewer import actions
from reviewer.desk.ledger import Row
from reviewer.desk.sheetmodel import POINTS, REASON, SUPPOSED
from reviewer.desk.window import DeskWindow
from reviewer.terms.exact import Points
from reviewer.terms.posted import PostedSheet
from tests.desk.conftest import until
from tests.desk.hands import call, go, press, shows

Key, CTRL = Qt.Key, Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def sheet(desk: DeskWindow) -> DeskWindow:
    """A pullover, a cast within the tolerance and its fault at frames 0 and 6."""
    for frame, words in ((0, "pullover mount"), (6, "cast within"), (6, "legs-bent 0.1")):
        go(desk, frame)
        call(desk, words)
    return desk


def walk_to(desk: DeskWindow, wanted: Callable[[Row], bool]) -> Row:
    """Go to the sheet, and down with the arrow key until a row is reached."""
    press(desk, Key.Key_L, CTRL)
    press(desk, Key.Key_Home, CTRL)
    for _ in desk.argument.rows:
        row = desk.argument.table.current()
        if row is not None and wanted(row):
            return row
        press(desk, Key.Key_Down)
    raise AssertionError("no such row is reached by the arrow keys")


def choose(desk: DeskWindow, words: str) -> None:
    """Take a thing from the menu of what might be otherwise, by the arrow keys."""
    press(desk, Key.Key_W)
    menu = QApplication.activePopupWidget()
    assert isinstance(menu, QMenu)
    for _ in menu.actions():
        press(desk, Key.Key_Down)
        active = menu.activeAction()
        if active is not None and active.text() == words:
            press(desk, Key.Key_Return)
            return
    raise AssertionError([one.text() for one in menu.actions()])


def on_disk(desk: DeskWindow) -> tuple[int, object]:
    """How many events the case holds, and its marks, by a second reader."""
    assert desk.bench.audit is not None
    with actions.open_case(desk.bench.audit.path, author=None) as reader:
        return len(reader.case.events), reader.marks


def supposed(desk: DeskWindow) -> dict[str, str]:
    """What the second column shows, by the first words of the row."""
    table = desk.argument.table
    assert not table.isColumnHidden(SUPPOSED)
    rows = range(len(desk.argument.rows))
    shown = {desk.argument.rows[at].words: table.sheet.index(at, SUPPOSED).data() for at in rows}
    return {words: points for words, points in shown.items() if points}


def test_every_row_is_reached_by_the_arrow_keys_and_those_with_marks_lead_to_a_frame(
    sheet: DeskWindow,
) -> None:
    for kind in {row.kind for row in sheet.argument.rows if row.marks}:
        call(sheet, "go 20")
        until(lambda: shows(sheet, 20))
        row = walk_to(sheet, lambda row, kind=kind: row.kind == kind and bool(row.marks))  # type: ignore[misc]
        press(sheet, Key.Key_Return)
        until(lambda: sheet.bench.picture.frame in (0, 6))  # type: ignore[union-attr]
        assert set(sheet.bench.chosen) == set(row.marks)
        press(sheet, Key.Key_Escape)
        assert sheet.evidence.hasFocus()


def test_another_amount_is_supposed_beside_the_sheet_and_one_key_leaves_it(sheet: DeskWindow) -> None:
    before, final = on_disk(sheet), sheet.argument.final.text()
    walk_to(sheet, lambda row: row.kind == "line" and "m3" in row.marks)
    choose(sheet, "It costs 0.300.")
    found = supposed(sheet)
    assert found["Legs bent."] == "−0.30"
    assert Points.parse(final) - Points.parse(found["Final score"]) == Points.parse("0.200")
    assert sheet.argument.final.text() == final
    assert "It costs 0.300." in sheet.argument.supposed.text()
    press(sheet, Key.Key_Escape)
    assert sheet.argument.table.isColumnHidden(SUPPOSED)
    assert sheet.argument.table.hasFocus()
    assert on_disk(sheet) == before


def test_a_cast_seen_otherwise_and_a_fault_left_out_are_supposed_together(sheet: DeskWindow) -> None:
    walk_to(sheet, lambda row: row.kind == "line" and row.marks == ("m2",))
    choose(sheet, "The cast is short of the tolerance.")
    walk_to(sheet, lambda row: row.kind == "line" and "m3" in row.marks)
    choose(sheet, "It is not there.")
    found = supposed(sheet)
    assert found["Legs bent."] == "gone"
    assert "Start value" in found
    walk_to(sheet, lambda row: row.kind == "line" and "m3" in row.marks)
    choose(sheet, "As it is marked")
    assert "Legs bent." not in supposed(sheet)


def test_what_is_supposed_of_a_mark_goes_with_the_mark(sheet: DeskWindow) -> None:
    walk_to(sheet, lambda row: row.kind == "line" and "m3" in row.marks)
    choose(sheet, "It costs 0.300.")
    press(sheet, Key.Key_Z, CTRL)
    assert sheet.argument.table.isColumnHidden(SUPPOSED)
    assert "m3" in sheet.argument.supposed.text()


def test_a_reading_of_a_clause_is_supposed_first_and_kept_as_one_event(sheet: DeskWindow) -> None:
    events, marks = on_disk(sheet)
    walk_to(sheet, lambda row: row.clause == "few-value-parts")
    press(sheet, Key.Key_W)
    press(sheet, Key.Key_Down)
    press(sheet, Key.Key_Return)
    assert sheet.argument.what_if.supposed
    assert on_disk(sheet) == (events, marks)
    press(sheet, Key.Key_Escape)
    walk_to(sheet, lambda row: row.clause == "few-value-parts")
    choose(sheet, "Read it so from here on, kept in the case")
    assert on_disk(sheet)[0] == events + 1
    row = walk_to(sheet, lambda row: row.clause == "few-value-parts")
    assert row.more.startswith("Read the other way, as was chosen")
    press(sheet, Key.Key_Z, CTRL)
    assert sheet.bench.audit is not None
    assert sheet.bench.audit.book.chosen == frozenset()


def test_a_line_whose_clause_might_be_read_otherwise_says_so(sheet: DeskWindow) -> None:
    """Fewer than three value parts cost 2.000; which elements are counted for that is left open."""
    lines = {row.key[1]: row for row in sheet.argument.rows if row.kind == "line"}
    assert lines["few-value-parts"].span == "§ open"
    assert lines["value-parts"].span == ""


def test_the_same_fault_twice_at_one_frame_is_warned_of_and_leads_to_both(desk: DeskWindow) -> None:
    for words in ("pullover mount", "fall", "fall"):
        call(desk, words)
    first = desk.argument.rows[0]
    assert (first.kind, first.marks) == ("warning", ("m2", "m3"))
    assert desk.argument.table.sheet.index(0, POINTS).data() == "2×"
    press(desk, Key.Key_Z, CTRL)
    assert all(row.kind != "warning" for row in desk.argument.rows)


def test_a_fault_without_its_element_says_what_mends_it(sheet: DeskWindow) -> None:
    assert sheet.bench.audit is not None
    sheet.bench.attempt(lambda: actions.withdraw_mark(sheet.bench.open_audit(), "m2"))
    first = sheet.argument.rows[0]
    assert (first.kind, first.marks) == ("problem", ("m3",))
    assert first.more == "Name an element of this routine, or none."
    assert first.more in sheet.argument.table.sheet.index(0, REASON).data(Qt.ItemDataRole.AccessibleTextRole)


def test_the_posted_sheet_stands_beside_the_totals(sheet: DeskWindow) -> None:
    posted = PostedSheet(start_value=Points.parse("9.900"), judges=(("A", Points.parse("8.000")),))
    sheet.bench.attempt(lambda: actions.enter_posted_sheet(sheet.bench.open_audit(), posted))
    told = {row.words: row.more for row in sheet.argument.rows if row.kind == "total"}
    assert told["Start value"].startswith("Posted 9.900")
    assert told["Score of judge A"].startswith("Posted 8.000")


def narrow(desk: DeskWindow, wide: int) -> None:
    """Drag the sheet narrower or wider, as the handle does."""
    across = desk.findChild(QSplitter, "across")
    assert across is not None
    across.setSizes([sum(across.sizes()) - wide - 200, 200, wide])
    QTest.qWait(20)


@pytest.mark.parametrize("larger", [0, 3, 5])
@pytest.mark.parametrize("wide", [260, 420])
def test_no_row_is_cut_at_any_width_and_size_of_words(sheet: DeskWindow, wide: int, larger: int) -> None:
    for _ in range(larger):
        press(sheet, Key.Key_Plus, CTRL)
    narrow(sheet, wide)
    table = sheet.argument.table
    metrics, room = QFontMetrics(table.font()), table.columnWidth(REASON)
    assert metrics.horizontalAdvance("−10.000") < table.columnWidth(POINTS)
    posted = sheet.argument.posted
    assert posted.fontMetrics().horizontalAdvance("10.000") < posted.width() - 8
    for at, row in enumerate(sheet.argument.rows):
        box = QRect(0, 0, room - 12, 10_000)
        words = metrics.boundingRect(box, int(Qt.TextFlag.TextWordWrap), row.words).height()
        assert table.rowHeight(at) >= words, row.words
    while larger:
        press(sheet, Key.Key_Minus, CTRL)
        larger -= 1
