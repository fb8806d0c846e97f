"""What of the routine is in view on the strip: closer, moved, following, remembered, reached by keys."""

from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from PyQt6.QtCore import QCoreApplication, QEvent, QPoint, QPointF, Qt, QTimer
from PyQt6.QtGui import QWheelEvent
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication

from reviewer import actions
from reviewer.desk.looks import dress
from reviewer.desk.window import DeskWindow
from reviewer.terms.exact import Points
from reviewer.video import MEMORY, SmallStore
from tests.desk.conftest import until
from tests.desk.hands import press, shows

Key = Qt.Key
NONE, CONTROL, ALT = (
    Qt.KeyboardModifier.NoModifier,
    Qt.KeyboardModifier.ControlModifier,
    Qt.KeyboardModifier.AltModifier,
)


def wheel(desk: DeskWindow, y: float, turned: int, held: Qt.KeyboardModifier = NONE) -> None:
    place = QPointF(30, y)
    event = QWheelEvent(
        place,
        QPointF(desk.strip.mapToGlobal(place.toPoint())),
        QPoint(),
        QPoint(0, turned),
        Qt.MouseButton.NoButton,
        held,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(desk.strip, event)


def mark_many(desk: DeskWindow, elements: int, faults: int) -> None:
    """Elements one after another, and faults all over them."""
    audit, facts = desk.bench.open_audit(), desk.bench.facts
    assert facts is not None
    count = len(facts.pts)
    for at in range(elements):
        frame = at * count // elements
        actions.place_mark(audit, kind="element", code="cast", start=facts.pts[frame])
    for at in range(faults):
        moment, amount = facts.pts[at * count // faults], Points.parse("0.1")
        element = f"m{1 + at * elements // faults}"
        actions.place_mark(audit, kind="fault", code="arms-bent", at=moment, element=element, amount=amount)
    desk.bench.changed.emit(frozenset({"marks"}))


@pytest.fixture
def usual_words(application: QApplication) -> Iterator[None]:
    """Words at their usual size again afterwards."""
    yield
    dress(application, "light")


def test_the_whole_routine_is_in_view_at_first_and_again_by_key(desk: DeskWindow) -> None:
    facts, strip = desk.bench.facts, desk.strip
    assert facts is not None
    ends = [strip.y_of(facts.pts[0]), strip.y_of(facts.pts[-1])]
    assert 0 < ends[0] < ends[1] < strip.height()
    press(desk, Key.Key_Plus, ALT)
    assert strip.y_of(facts.pts[-1]) > strip.height()
    press(desk, Key.Key_0, ALT)
    assert [strip.y_of(facts.pts[0]), strip.y_of(facts.pts[-1])] == ends


def test_what_lies_under_the_pointer_stays_there_while_the_wheel_shows_it_closer(desk: DeskWindow) -> None:
    strip = desk.strip
    tick = strip.scale.tick_at(300)
    wheel(desk, 300, 240, CONTROL)
    assert strip.zoom > 1.3
    assert abs(strip.y_of(tick) - 300) < 0.01
    wheel(desk, 300, -960, CONTROL)
    assert strip.zoom == 1


def test_the_wheel_moves_along_the_routine_and_stops_at_its_ends(desk: DeskWindow) -> None:
    facts, strip = desk.bench.facts, desk.strip
    assert facts is not None
    wheel(desk, 300, 480, CONTROL)
    wheel(desk, 300, 120000)
    top = strip.y_of(facts.pts[0])
    assert top == pytest.approx(strip.scale.top)
    wheel(desk, 300, -120)
    assert strip.y_of(facts.pts[0]) < top
    wheel(desk, 300, -120000)
    assert strip.y_of(facts.pts[-1]) == pytest.approx(strip.scale.top + strip.scale.tall)


def test_the_pictures_place_stays_in_view_unless_the_strip_is_to_stay(desk: DeskWindow) -> None:
    facts, strip = desk.bench.facts, desk.strip
    assert facts is not None
    last = len(facts.pts) - 1
    wheel(desk, 100, 600, CONTROL)
    assert not strip.scale.shows(strip.y_of(facts.pts[last]))
    press(desk, Key.Key_End)
    until(lambda: shows(desk, last))
    assert strip.scale.shows(strip.y_of(facts.pts[last]), 1)
    press(desk, Key.Key_V)
    assert "stays" in desk.foot.text()
    press(desk, Key.Key_Home)
    until(lambda: shows(desk, 0))
    assert strip.scale.shows(strip.y_of(facts.pts[last]), 1)


def test_a_chosen_mark_comes_into_view(desk: DeskWindow) -> None:
    mark_many(desk, 8, 0)
    press(desk, Key.Key_V)
    wheel(desk, 40, 600, CONTROL)
    desk.bench.choose(("m8",))
    place = desk.strip.place_of("m8")
    assert place is not None
    assert desk.strip.scale.shows(place.y())


def test_how_the_strip_was_left_is_found_again(desk: DeskWindow, case: Path) -> None:
    wheel(desk, 300, 360, CONTROL)
    press(desk, Key.Key_V)
    press(desk, Key.Key_I)
    left = (desk.strip.zoom, desk.strip.part, desk.strip.follows, desk.strip.pictured)
    desk.remembering.keep_window()
    again = DeskWindow("B")
    again.remembering.put_back()
    assert (again.strip.wished, again.strip.part, again.strip.follows, again.strip.pictured) == left
    again.routine.put_back("[NaN, 0, true, true]")
    again.routine.put_back("7")
    assert again.strip.wished == left[0]
    again.close()
    again.deleteLater()


def test_by_tab_to_the_strip_up_and_down_its_marks_and_back(desk: DeskWindow) -> None:
    mark_many(desk, 3, 0)
    desk.bench.choose(())
    for _ in range(60):
        if desk.strip.hasFocus():
            break
        QTest.keyClick(QApplication.focusWidget() or desk, Key.Key_Tab)
    assert desk.strip.hasFocus()
    assert desk.strip.accessibleName() == "Routine strip"
    assert "No mark is chosen of 3" in desk.strip.accessibleDescription()
    press(desk, Key.Key_Down)
    press(desk, Key.Key_Down)
    assert desk.bench.chosen == ("m2",)
    assert "mark 2 of 3" in desk.strip.accessibleDescription()
    facts = desk.bench.facts
    assert facts is not None
    frame = facts.frame_at(desk.bench.mark("m2").start)  # type: ignore[union-attr,arg-type]
    until(lambda: shows(desk, frame))
    press(desk, Key.Key_Right)
    until(lambda: shows(desk, frame + 1))
    press(desk, Key.Key_Return)
    until(lambda: shows(desk, frame))
    assert desk.strip.hasFocus()
    press(desk, Key.Key_Escape)
    assert desk.evidence.hasFocus()


@pytest.mark.parametrize("size", [100, 150, 200])
def test_names_grow_with_the_words_and_never_cover_each_other(
    desk: DeskWindow, application: QApplication, usual_words: None, size: int
) -> None:
    mark_many(desk, 15, 40)
    dress(application, "dark", size)
    desk.bench.dressed.emit()
    QTest.qWait(50)
    high = desk.strip.fontMetrics().height()
    places = [place.y() for mark in desk.bench.marks if (place := desk.strip.place_of(mark.id)) is not None]
    assert len(places) > 10
    assert all(after - before >= high for before, after in pairwise(sorted(places)))
    assert desk.strip.width() > 12 * high


def test_small_pictures_come_along_the_strip_and_can_be_switched_off(
    application: QApplication, tmp_path: Path, case: Path
) -> None:
    window = DeskWindow("A", MEMORY, SmallStore(tmp_path / "small", 1 << 30))
    window.show()
    window.activateWindow()
    assert QTest.qWaitForWindowActive(window)
    window.open_case(case, None)
    smalls = window.routine.smalls
    until(lambda: len(smalls.images) > 4, 30)
    with_pictures = window.strip.grab().toImage()
    assert all(image.width() <= window.strip.width() / 2 for image in smalls.images.values())
    until(lambda: not any(timer.isActive() for timer in window.findChildren(QTimer)), 30)
    window.evidence.setFocus()
    press(window, Key.Key_I)
    assert "No small pictures" in window.foot.text()
    assert window.strip.grab().toImage() != with_pictures
    window.close()
    window.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
