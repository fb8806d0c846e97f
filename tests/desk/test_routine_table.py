"""The strip's twin: every mark, reading and note as a row of words, worked by the same keys."""

import pytest
from PyQt6.QtCore import Qt
from PyQt6.QtTest import QTest

from reviewer import actions
from reviewer.desk.strip.table import RoutineTable
from reviewer.desk.strip.told import COLUMNS
from reviewer.desk.window import DeskWindow
from tests.desk.conftest import until
from tests.desk.hands import press

KIND, NAME, FRAME, TIME, SIZE, _, ELEMENT, SEEN, LINES = range(len(COLUMNS))


@pytest.fixture
def table(window: DeskWindow) -> RoutineTable:
    """The demo case told as a table, the keyboard on it."""
    window.open_case(actions.fresh_demo(), None)
    until(lambda: window.bench.picture is not None)
    QTest.keyClick(window.evidence, Qt.Key.Key_T, Qt.KeyboardModifier.ControlModifier)
    shown = window.routine.twin.table
    until(shown.hasFocus)
    return shown


def row_of(table: RoutineTable, mark: str) -> tuple[str, ...]:
    """The cells of a mark's row."""
    return next(row.cells for row in table.routine.rows if row.mark == mark)


def to_row(table: RoutineTable, at: int) -> None:
    """Press the keys that lead to a row."""
    QTest.keyClick(table, Qt.Key.Key_Home, Qt.KeyboardModifier.ControlModifier)
    for _ in range(at):
        QTest.keyClick(table, Qt.Key.Key_Down)


def test_a_cast_is_told_by_name_frames_seconds_angle_and_the_interval(table: RoutineTable) -> None:
    cells = row_of(table, "m2")
    assert cells[KIND] == "element"
    assert cells[NAME] == "Cast (cast m2)"
    assert (cells[FRAME], cells[TIME]) == ("236 to 264", "7.867 to 8.800 s")
    assert cells[SIZE] == "−38.2° ± 1.5° (95 %) by protractor"


def test_a_fault_is_told_with_its_amount_its_element_and_the_line_it_moves(table: RoutineTable) -> None:
    cells = row_of(table, "m6")
    assert (cells[KIND], cells[SIZE], cells[ELEMENT]) == ("fault", "0.10", "cast m5")
    assert cells[LINES] == "fault.arms-bent −0.10"


def test_every_mark_and_reading_has_a_row_in_the_order_of_the_routine(
    table: RoutineTable, window: DeskWindow
) -> None:
    rows, audit = table.routine.rows, window.bench.audit
    assert audit is not None
    assert {row.mark for row in rows if row.mark} == {mark.id for mark in audit.marks}
    assert sum(row.cells[KIND] == "reading" for row in rows) == len(audit.readings) > 0
    ticks = [row.tick for row in rows if row.tick is not None]
    assert ticks == sorted(ticks)


def test_arrows_choose_without_moving_the_picture_and_return_shows_the_frame(
    table: RoutineTable, window: DeskWindow
) -> None:
    at = next(n for n, row in enumerate(table.routine.rows) if row.mark == "m5")
    to_row(table, at)
    assert window.bench.chosen == ("m5",)
    assert window.bench.picture is not None
    assert window.bench.picture.frame == 0
    QTest.keyClick(table, Qt.Key.Key_Return)
    until(lambda: window.bench.picture is not None and window.bench.picture.time.pts == table_tick(table))
    assert table.hasFocus()


def table_tick(table: RoutineTable) -> int | None:
    """Tick of the current row."""
    row = table.current()
    return row.tick if row is not None else None


def test_a_row_that_is_no_mark_chooses_none_so_that_nothing_else_is_withdrawn(
    table: RoutineTable, window: DeskWindow
) -> None:
    at = next(n for n, row in enumerate(table.routine.rows) if row.cells[KIND] == "reading")
    before = window.bench.marks
    to_row(table, at)
    assert window.bench.chosen == ()
    QTest.keyClick(table, Qt.Key.Key_Delete)
    assert window.bench.marks == before


def test_del_withdraws_the_row_and_undo_brings_it_back(table: RoutineTable, window: DeskWindow) -> None:
    at = next(n for n, row in enumerate(table.routine.rows) if row.mark == "m6")
    to_row(table, at)
    QTest.keyClick(table, Qt.Key.Key_Delete)
    assert window.bench.mark("m6") is None
    assert all(row.mark != "m6" for row in table.routine.rows)
    QTest.keyClick(table, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert row_of(table, "m6")[KIND] == "fault"


def test_the_strips_keys_move_a_boundary_by_a_frame(table: RoutineTable, window: DeskWindow) -> None:
    at = next(n for n, row in enumerate(table.routine.rows) if row.mark == "m2")
    to_row(table, at)
    QTest.keyClick(table, Qt.Key.Key_Right, Qt.KeyboardModifier.ControlModifier)
    assert row_of(table, "m2")[FRAME] == "237 to 264"
    here = table.current()
    assert here is not None
    assert here.mark == "m2"


def test_points_over_the_picture_are_rows_while_they_lie_there(
    table: RoutineTable, window: DeskWindow
) -> None:
    press(window, Qt.Key.Key_P)
    until(lambda: window.protractor.here)
    points = [row for row in table.routine.rows if row.cells[KIND] == "point"]
    assert len(points) == len(window.protractor.spots) > 0
    assert all(row.cells[SIZE].startswith("x ") for row in points)
    press(window, Qt.Key.Key_P)
    assert all(row.cells[KIND] != "point" for row in table.routine.rows)


def test_the_strip_comes_back_by_the_same_key_with_the_keyboard(
    table: RoutineTable, window: DeskWindow
) -> None:
    QTest.keyClick(table, Qt.Key.Key_T, Qt.KeyboardModifier.ControlModifier)
    assert window.strip.isVisible()
    assert not table.isVisible()
    assert window.strip.hasFocus()


def test_which_of_the_two_was_shown_is_remembered(table: RoutineTable, window: DeskWindow) -> None:
    kept = window.routine.kept()
    QTest.keyClick(table, Qt.Key.Key_T, Qt.KeyboardModifier.ControlModifier)
    window.routine.put_back(kept)
    assert table.isVisible()
    assert not window.strip.isVisible()
