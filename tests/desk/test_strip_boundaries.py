"""Boundaries and moments moved on the routine strip, with the mouse and by keys, in the real window."""

from pathlib import Path

import pytest
from PyQt6.QtCore import QPoint, Qt
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication, QComboBox

from reviewer import actions
from reviewer.desk.boundaries import moved
from reviewer.desk.calls import CallError
from reviewer.desk.window import DeskWindow
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.marks import CastAngle, Mark
from reviewer.words import Saying
from tests.desk.conftest import until
from tests.desk.hands import marks, press, shows, tick

Key, LEFT = Qt.Key, Qt.MouseButton.LeftButton
CONTROL = Qt.KeyboardModifier.ControlModifier


def events(desk: DeskWindow) -> int:
    assert desk.bench.audit is not None
    return len(desk.bench.audit.case.events)


def on_disk(desk: DeskWindow, mark_id: str) -> Mark:
    """The mark as a second reader finds it."""
    return next(mark for mark in marks(desk) if mark.id == mark_id)


@pytest.fixture
def marked(desk: DeskWindow) -> DeskWindow:
    """A cast from frame 10 to 30, a kip from 30 to 50, and a fault of the cast at frame 20."""

    def placed() -> actions.Change:
        audit = desk.bench.open_audit()
        actions.place_mark(audit, kind="element", code="cast", start=tick(desk, 10), end=tick(desk, 30))
        actions.place_mark(audit, kind="element", code="glide-kip", start=tick(desk, 30), end=tick(desk, 50))
        amount = Points.parse("0.1")
        return actions.place_mark(
            audit, kind="fault", code="arms-bent", at=tick(desk, 20), element="m1", amount=amount
        )

    assert desk.bench.attempt(placed), desk.foot.text()
    desk.evidence.setFocus()
    return desk


def take(desk: DeskWindow, mark_id: str, which: str) -> QPoint:
    """Press on a boundary; where that is."""
    place = desk.strip.grip_of(mark_id, which)
    assert place is not None
    QTest.mousePress(desk.strip, LEFT, pos=place.toPoint())
    return place.toPoint()


def drag(desk: DeskWindow, start: QPoint, frame: int) -> QPoint:
    """Move the mouse to a frame's place, by way of another."""
    there = QPoint(start.x(), round(desk.strip.y_of(tick(desk, frame))))
    QTest.mouseMove(desk.strip, start + QPoint(0, 9 if there.y() > start.y() else -9))
    QTest.mouseMove(desk.strip, there)
    return there


def test_an_elements_end_is_dragged_the_picture_follows_and_one_event_is_kept(marked: DeskWindow) -> None:
    before = events(marked)
    start = take(marked, "m2", "end")
    there = drag(marked, start, 60)
    until(lambda: marked.bench.picture is not None and abs(marked.bench.picture.frame - 60) <= 1)
    seen = marked.bench.picture.frame  # type: ignore[union-attr]
    assert f"ends at frame {seen}" in marked.foot.text()
    assert events(marked) == before
    QTest.mouseRelease(marked.strip, LEFT, pos=there)
    assert on_disk(marked, "m2").end == tick(marked, seen)
    assert events(marked) == before + 1
    assert marked.bench.chosen == ("m2",)
    press(marked, Key.Key_Z, CONTROL)
    assert on_disk(marked, "m2").end == tick(marked, 50)


def test_where_two_elements_meet_the_chosen_ones_boundary_is_taken(marked: DeskWindow) -> None:
    for chosen in ("m1", "m2"):
        marked.bench.choose((chosen,))
        take(marked, "m1", "end")
        assert marked.strip.dragging.grip is not None
        assert marked.strip.dragging.grip.mark == chosen
        QTest.mouseRelease(marked.strip, LEFT, pos=QPoint(0, 0))


def test_escape_while_dragging_leaves_all_as_it_was(marked: DeskWindow) -> None:
    before = events(marked)
    marked.viewing.seek(5)
    until(lambda: shows(marked, 5))
    start = take(marked, "m2", "end")
    there = drag(marked, start, 70)
    until(lambda: not shows(marked, 5))
    press(marked, Key.Key_Escape)
    until(lambda: shows(marked, 5))
    QTest.mouseRelease(marked.strip, LEFT, pos=there)
    assert events(marked) == before
    assert marked.bench.mark("m2").end == tick(marked, 50)  # type: ignore[union-attr]
    assert QApplication.focusWidget() is marked.evidence


def test_an_end_before_the_start_is_refused_in_a_line(marked: DeskWindow) -> None:
    before = events(marked)
    there = drag(marked, take(marked, "m2", "end"), 12)
    QTest.mouseRelease(marked.strip, LEFT, pos=there)
    assert events(marked) == before
    assert "end before it starts" in marked.foot.text()
    assert marked.foot.property("problem") is True
    place = marked.strip.grip_of("m2", "end")
    assert place is not None
    assert abs(place.y() - marked.strip.y_of(tick(marked, 50))) < 0.01, "it is painted where it was"


def test_a_faults_moment_is_dragged(marked: DeskWindow) -> None:
    there = drag(marked, take(marked, "m3", "at"), 26)
    QTest.mouseRelease(marked.strip, LEFT, pos=there)
    found = on_disk(marked, "m3")
    assert abs(found.at - tick(marked, 26)) <= tick(marked, 1) - tick(marked, 0)  # type: ignore[operator]
    assert (found.start, found.end, found.element) == (None, None, "m1")


def test_a_press_that_does_not_move_chooses_the_mark_and_shows_that_boundary(marked: DeskWindow) -> None:
    before = events(marked)
    place = take(marked, "m2", "end")
    QTest.mouseRelease(marked.strip, LEFT, pos=place)
    until(lambda: shows(marked, 50))
    assert marked.bench.chosen == ("m2",)
    assert events(marked) == before


def test_keys_move_the_chosen_boundary_by_a_frame_each_an_event(marked: DeskWindow) -> None:
    before = events(marked)
    marked.bench.choose(("m1",))
    press(marked, Key.Key_Left, CONTROL)
    until(lambda: shows(marked, 9))
    press(marked, Key.Key_X)
    until(lambda: shows(marked, 30))
    for _ in range(2):
        press(marked, Key.Key_Right, CONTROL)
    until(lambda: shows(marked, 32))
    found = on_disk(marked, "m1")
    assert (found.start, found.end) == (tick(marked, 9), tick(marked, 32))
    assert events(marked) == before + 3


def test_a_faults_moment_is_moved_by_keys(marked: DeskWindow) -> None:
    marked.bench.choose(("m3",))
    press(marked, Key.Key_Right, CONTROL)
    assert on_disk(marked, "m3").at == tick(marked, 21)


def test_without_a_chosen_mark_the_keys_say_what_they_need(marked: DeskWindow) -> None:
    before = events(marked)
    marked.bench.choose(())
    press(marked, Key.Key_Right, CONTROL)
    assert "Choose a mark" in marked.foot.text()
    assert events(marked) == before


def test_in_a_read_only_case_nothing_moves_and_a_line_says_why(marked: DeskWindow, tmp_path: Path) -> None:
    audit = marked.bench.audit
    assert audit is not None
    path = audit.path
    marked.bench.lay(None)
    with actions.open_case(path, author="B"):
        marked.open_case(path, None)
        until(lambda: marked.bench.facts is not None and marked.bench.picture is not None)
        there = drag(marked, take(marked, "m2", "end"), 60)
        assert "read only" in marked.foot.text()
        assert marked.strip.dragging.shown is None
        QTest.mouseRelease(marked.strip, LEFT, pos=there)
        assert on_disk(marked, "m2").end == tick(marked, 50)


def test_a_fault_measured_on_its_frame_stays_there() -> None:
    angle = CastAngle("protractor", Degrees(10_000), Degrees(500), reading="r1")
    fault = Mark("m9", "fault", "short", at=100, angle=angle)
    with pytest.raises(CallError, match="measured on the frame"):
        moved(fault, "at", 101, Saying())


def home(desk: DeskWindow, mark_id: str) -> str | None:
    return on_disk(desk, mark_id).element


def test_a_fault_moved_into_another_element_belongs_to_that_one_and_it_is_said(marked: DeskWindow) -> None:
    marked.viewing.seek(40)
    until(lambda: shows(marked, 40))
    marked.bench.choose(("m3",))
    press(marked, Key.Key_F7)
    assert home(marked, "m3") == "m2"
    assert "It belongs to glide-kip m2 now." in marked.foot.text()
    press(marked, Key.Key_Z, CONTROL)
    assert (home(marked, "m3"), on_disk(marked, "m3").at) == ("m1", tick(marked, 20))


def test_a_fault_that_was_given_to_an_element_stays_with_it_within_the_span_it_lies_in(
    marked: DeskWindow,
) -> None:
    marked.bench.choose(("m3",))
    box = next(one for one in marked.chosen.findChildren(QComboBox) if one.accessibleName() == "Element")
    assert box.currentText() == "on cast m1"
    box.setFocus()
    press(marked, Key.Key_Down)
    until(lambda: home(marked, "m3") == "m2")
    marked.viewing.seek(21)
    until(lambda: shows(marked, 21))
    marked.bench.choose(("m3",))
    marked.evidence.setFocus()
    press(marked, Key.Key_F7)
    assert (home(marked, "m3"), on_disk(marked, "m3").at) == ("m2", tick(marked, 21))


def test_a_fall_called_before_its_element_is_offered_to_it_once_that_is_marked_around_it(
    desk: DeskWindow,
) -> None:
    """As in a look at full speed: the fall is called first, the element it was of is marked afterwards."""

    def called() -> actions.Change:
        audit, amount = desk.bench.open_audit(), Points.parse("0.5")
        actions.place_mark(audit, kind="element", code="cast", start=tick(desk, 5), end=tick(desk, 10))
        return actions.place_mark(
            audit, kind="fault", code="fall", at=tick(desk, 20), element="m1", amount=amount
        )

    assert desk.bench.attempt(called)
    desk.viewing.seek(15)
    until(lambda: shows(desk, 15))
    desk.entry.setFocus()
    QTest.keyClicks(desk.entry, "glide-kip")
    press(desk, Key.Key_Return)
    assert "Within it lies what belongs elsewhere: fall m2. Ctrl+F7 attaches it." in desk.foot.text()
    press(desk, Key.Key_F7, CONTROL)
    assert home(desk, "m2") == "m3"
    assert desk.foot.text() == "Attached to glide-kip m3: fall m2."
