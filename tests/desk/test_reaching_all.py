"""Everything of the window by keyboard alone: each part named, reached by Tab, seen when it is reached."""

import pytest
from PyQt6.QtCore import QPoint, Qt
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractScrollArea,
    QApplication,
    QComboBox,
    QLabel,
    QLineEdit,
    QScrollBar,
    QWidget,
)

from reviewer import actions
from reviewer.desk.looks import dress
from reviewer.desk.window import DeskWindow
from tests.desk.conftest import until

INTERACTIVE = (QAbstractButton, QComboBox, QLineEdit, QAbstractItemView)
MOST = 100
"""More presses of Tab than the window has parts."""


@pytest.fixture
def busy(window: DeskWindow) -> DeskWindow:
    """The demo case with a cast chosen: every kind of control is there."""
    window.open_case(actions.fresh_demo(), None)
    until(lambda: window.bench.picture is not None)
    window.bench.choose(("m2",))
    QTest.qWait(50)
    return window


def walked(window: DeskWindow, key: Qt.Key) -> list[QWidget]:
    """Parts in the order that a key goes through them, until it comes round."""
    window.evidence.setFocus()
    found: list[QWidget] = []
    for _ in range(MOST):
        QTest.keyClick(QApplication.focusWidget() or window, key)
        here = QApplication.focusWidget()
        assert here is not None
        found.append(here)
        if here is window.evidence:
            return found
    raise AssertionError(f"the keyboard never comes back to the picture: {[said(one) for one in found]}")


def said(part: QWidget) -> str:
    """What a screen reader would call it."""
    words = part.text() if isinstance(part, QAbstractButton | QLabel) else ""
    return part.accessibleName() or words


def to_be_reached(window: DeskWindow) -> set[QWidget]:
    """What a mouse could work."""
    own = {one for kind in INTERACTIVE for one in window.findChildren(kind)} | {window.evidence, window.strip}
    return {
        one
        for one in own
        if one.isVisible()
        and one.isEnabled()
        and one is not window.offered
        and not isinstance(one.parentWidget(), QComboBox | QAbstractScrollArea)
    }


def test_tab_reaches_every_part_and_comes_round(busy: DeskWindow) -> None:
    reached = set(walked(busy, Qt.Key.Key_Tab))
    assert [said(one) or repr(one) for one in to_be_reached(busy) - reached] == []


def test_shift_and_tab_goes_the_same_way_back(busy: DeskWindow) -> None:
    on, back = walked(busy, Qt.Key.Key_Tab), walked(busy, Qt.Key.Key_Backtab)
    assert [said(one) for one in back[:-1]] == [said(one) for one in reversed(on[:-1])]


def test_tab_goes_from_left_to_right_and_down_each_part(busy: DeskWindow) -> None:
    """The strip, the sheet, the picture; beneath the picture, lines of controls as they are read."""
    column = {busy.evidence: 0, busy.strip: 1, busy.argument.table: 2}
    order = [
        next(column[one] for one in column if one is part)
        for part in walked(busy, Qt.Key.Key_Tab)
        if part in column
    ]
    assert order == [1, 2, 0]
    places = [part.mapTo(busy, QPoint(0, 0)) for part in walked(busy, Qt.Key.Key_Tab) if beneath(busy, part)]
    lines = [(round(place.y() / 20), place.x()) for place in places]
    assert lines == sorted(lines)


def beneath(window: DeskWindow, part: QWidget) -> bool:
    """Whether it stands beneath the picture."""
    return window.line.parentWidget().isAncestorOf(part) and not isinstance(part, QAbstractScrollArea)


def test_every_part_says_what_it_is(busy: DeskWindow) -> None:
    busy._doings["protractor"]()
    until(lambda: busy.protractor.here)
    nameless = [
        f"{type(one).__name__} in {type(one.parentWidget()).__name__}"
        for one in busy.findChildren(QWidget)
        if one.focusPolicy() != Qt.FocusPolicy.NoFocus
        and one.isVisible()
        and not isinstance(one, QScrollBar)
        and not said(one)
        and not isinstance(one.parentWidget(), QAbstractScrollArea)
    ]
    assert nameless == []


@pytest.mark.parametrize("look", ["light", "dark"])
def test_the_part_with_the_keyboard_looks_otherwise(
    busy: DeskWindow, application: QApplication, look: str
) -> None:
    dress(application, look)
    busy.bench.dressed.emit()
    parts = walked(busy, Qt.Key.Key_Tab)
    unseen = []
    for part in parts:
        part.setFocus()
        QTest.qWait(10)
        with_keyboard = part.grab().toImage()
        part.clearFocus()
        QTest.qWait(10)
        if part.grab().toImage() == with_keyboard:
            unseen.append(said(part) or repr(part))
    dress(application, "light")
    assert unseen == []
