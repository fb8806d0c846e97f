"""Undo and redo say what they undid and did again."""

import pytest
from PyQt6.QtCore import Qt
from PyQt6.QtTest import QTest

from reviewer.casefile.kinds import EDITION, UNDOABLE
from reviewer.desk.stepping import STEPS
from reviewer.desk.window import DeskWindow
from reviewer.terms.marks import Mark

Key, Held = Qt.Key, Qt.KeyboardModifier


def cast(desk: DeskWindow) -> Mark:
    """A cast called on the frame on the screen."""
    desk.entry.setFocus()
    QTest.keyClicks(desk.entry, "cast")
    QTest.keyClick(desk.entry, Key.Key_Return)
    desk.evidence.setFocus()
    return desk.bench.marks[-1]


def step(desk: DeskWindow, key: Key) -> str:
    """What stands at the foot after this key with Ctrl."""
    QTest.keyClick(desk.evidence, key, Held.ControlModifier)
    return desk.foot.text()


def test_undo_names_the_mark_that_was_withdrawn(desk: DeskWindow) -> None:
    mark = cast(desk)
    desk.bench.choose((mark.id,))
    QTest.keyClick(desk.evidence, Key.Key_Delete)
    assert desk.foot.text() == f"Withdrawn: {mark.code} {mark.id}; undo brings it back."
    assert step(desk, Key.Key_Z) == f"Undone: {mark.code} {mark.id} withdrawn."
    assert step(desk, Key.Key_Y) == f"Done again: {mark.code} {mark.id} withdrawn."


@pytest.mark.parametrize(("key", "says"), [(Key.Key_BracketLeft, "starts"), (Key.Key_BracketRight, "ends")])
def test_a_boundary_that_is_set_names_its_element(desk: DeskWindow, key: Key, says: str) -> None:
    mark = cast(desk)
    desk.bench.choose((mark.id,), show=True)
    QTest.keyClick(desk.evidence, key)
    assert desk.foot.text() == f"{mark.code} {mark.id} {says} here."


def test_every_change_that_can_be_undone_has_words() -> None:
    assert set(STEPS) == {*UNDOABLE, EDITION}
