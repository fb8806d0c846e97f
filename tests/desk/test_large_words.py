"""Words twice as large on a small screen: every control whole, none over another, the window still fits."""

from collections.abc import Iterator
from itertools import combinations

import pytest
from PyQt6.QtCore import QPoint, QRect
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLineEdit, QScrollArea, QWidget

from reviewer import actions
from reviewer.desk.looks import dress
from reviewer.desk.window import DeskWindow
from tests.desk.conftest import until

SMALL = (1280, 720)


@pytest.fixture
def large(window: DeskWindow, application: QApplication) -> Iterator[DeskWindow]:
    """The demo case with a cast chosen, words at 200 %."""
    dress(application, "light", 200)
    window.bench.dressed.emit()
    window.open_case(actions.fresh_demo(), None)
    until(lambda: window.bench.picture is not None)
    window.bench.choose(("m2",))
    window.resize(*SMALL)
    QTest.qWait(100)
    yield window
    dress(application, "light", 100)


def controls(window: DeskWindow) -> list[QWidget]:
    """What is to be read and pressed, but for what scrolls."""
    kinds = (QAbstractButton, QComboBox, QLineEdit)
    found = [one for kind in kinds for one in window.findChildren(kind) if one.isVisible()]
    return [one for one in found if not isinstance(one.parentWidget(), QComboBox) and not scrolled(one)]


def scrolled(part: QWidget) -> bool:
    """Whether it lies in a part that scrolls."""
    around = part.parentWidget()
    while around is not None and not isinstance(around, QScrollArea):
        around = around.parentWidget()
    return around is not None


def place(window: DeskWindow, part: QWidget) -> QRect:
    """Where it lies in the window."""
    return QRect(part.mapTo(window, QPoint(0, 0)), part.size())


def test_the_window_fits_a_small_screen(large: DeskWindow) -> None:
    assert (large.width(), large.height()) == SMALL


@pytest.mark.parametrize("does", ["", "protractor", "as-table"])
def test_no_control_is_cut_and_none_lies_over_another(large: DeskWindow, does: str) -> None:
    if does:
        large._doings[does]()
        QTest.qWait(300)
    shown = controls(large)
    assert len(shown) > 5
    cut = [one.accessibleName() or one.toolTip() for one in shown if not whole(large, one)]
    over = [
        (one.accessibleName(), other.accessibleName())
        for one, other in combinations(shown, 2)
        if place(large, one).intersects(place(large, other))
    ]
    assert (cut, over) == ([], [])


def whole(window: DeskWindow, part: QWidget) -> bool:
    """Whether it has the room its words need, within the window; a line to type in may be shorter."""
    needed, words = part.sizeHint(), not isinstance(part, QLineEdit)
    room = part.height() >= needed.height() and (part.width() >= needed.width() or not words)
    return room and window.rect().contains(place(window, part))


def test_what_scrolls_needs_no_scrolling_sideways(large: DeskWindow) -> None:
    page, port = large.chosen.widget(), large.chosen.viewport()
    assert page is not None
    assert port is not None
    assert page.width() <= port.width()
    buttons = page.findChildren(QAbstractButton)
    assert all(one.geometry().right() <= page.width() for one in buttons if one.isVisible())


def test_the_score_stands_whole_over_its_lines_in_the_largest_words(
    large: DeskWindow, application: QApplication
) -> None:
    dress(application, "light", 300)
    large.bench.dressed.emit()
    large.argument.read()
    QTest.qWait(300)
    final, offer, table = large.argument.final, large.argument.offer, large.argument.table
    assert final.width() >= final.sizeHint().width()
    assert offer.width() >= offer.sizeHint().width()
    assert place(large, offer).bottom() < place(large, table).top()
    assert large.rect().contains(place(large, table))


def test_several_lines_of_the_sheet_show_at_once(large: DeskWindow) -> None:
    table = large.argument.table
    port = table.viewport()
    assert port is not None
    rows = [table.visualRect(table.sheet.index(at, 1)) for at in range(len(table.sheet.rows))]
    assert sum(row.top() >= 0 and row.bottom() <= port.height() for row in rows) >= 4


def test_what_the_protractor_is_set_to_scrolls_where_it_has_no_room(large: DeskWindow) -> None:
    large._doings["protractor"]()
    large.resize(1000, 560)
    QTest.qWait(300)
    row = large.gauging._row
    boxes = [one for one in row.findChildren(QWidget) if one.parentWidget() is row and one.isVisible()]
    places = [QRect(one.mapTo(row, QPoint(0, 0)), one.size()) for one in boxes]
    assert len(boxes) > 4
    assert not any(one.intersects(other) for one, other in combinations(places, 2))
