"""A fall as a state, and facts that have no time, in the real window by keys and mouse.

The recording is the square-on sample: 30 frames a second, so frames 60 and 150 are three seconds apart.
"""

from PyQt6.QtCore import QPoint, Qt
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QCheckBox, QPushButton, QWidget

from reviewer.actions.falls import last_in_time
from reviewer.desk.facts import FactsPage
from reviewer.desk.window import DeskWindow
from reviewer.terms.marks import Mark
from reviewer.terms.measures import Measure
from tests.desk.conftest import until
from tests.desk.hands import call, go, press, shows

Key = Qt.Key


def the_fall(desk: DeskWindow) -> Mark:
    """The one fault of the case."""
    (fall,) = (mark for mark in desk.bench.marks if mark.kind == "fault")
    return fall


def tick(page: QWidget, words: str) -> None:
    """Click a box by its words."""
    (box,) = (one for one in page.findChildren(QCheckBox) if one.text() == words)
    QTest.mouseClick(box, Qt.MouseButton.LeftButton, pos=QPoint(8, box.height() // 2))


def test_the_clock_of_a_fall_runs_from_her_feet_to_going_on(desk: DeskWindow) -> None:
    go(desk, 50)
    call(desk, "cast")
    call(desk, "fall")
    go(desk, 60)
    press(desk, Key.Key_U)
    go(desk, 120)
    assert "On her feet 2.000 s of 45 seconds" in desk.line.clock.text()
    go(desk, 150)
    press(desk, Key.Key_G)
    fall = the_fall(desk)
    assert str(fall.clock) == "3 s"
    assert desk.bench.facts is not None
    assert (fall.start, fall.end) == (desk.bench.facts.pts[60], desk.bench.facts.pts[150])
    assert desk.bench.facts.frame_at(fall.at or 0) == 50
    assert "On her feet" not in desk.line.clock.text()


def test_a_recording_that_ends_before_the_time_is_over_says_so(desk: DeskWindow) -> None:
    """The demo edition gives 45 seconds, and the recording is of 27.5."""
    go(desk, 50)
    call(desk, "fall")
    press(desk, Key.Key_L)
    assert "Say first when she stands" in desk.foot.text()
    press(desk, Key.Key_U)
    press(desk, Key.Key_L)
    assert "The recording ends before the 45 seconds are over." in desk.foot.text()
    assert desk.bench.picture is not None
    assert desk.bench.picture.frame == 50


def test_the_last_frame_in_time_is_the_one_on_screen_when_the_time_ends(desk: DeskWindow) -> None:
    """Thirty frames a second: 10 seconds after frame 60 is frame 360."""
    facts = desk.bench.facts
    assert facts is not None
    assert last_in_time(facts, 60, Measure.time("10 seconds")) == 360
    assert last_in_time(facts, 60, Measure.time("9.99 seconds")) == 359
    assert last_in_time(facts, 60, Measure.time("26 seconds")) is None


def test_a_key_of_the_whole_window_is_heard_while_nothing_is_typed(desk: DeskWindow) -> None:
    """Ctrl+E ends a line of text elsewhere; here it enters the posted score."""
    press(desk, Key.Key_Return)
    assert desk.entry.hasFocus()
    QTest.keyClick(desk.entry, Key.Key_E, Qt.KeyboardModifier.ControlModifier)
    assert desk.argument.posted.hasFocus()


def test_an_answer_is_gone_two_frames_later(desk: DeskWindow) -> None:
    press(desk, Key.Key_U)
    assert "Mark the fall first" in desk.foot.text()
    press(desk, Key.Key_Right)
    until(lambda: shows(desk, 1))
    press(desk, Key.Key_Right)
    until(lambda: shows(desk, 2))
    assert desk.foot.text() == ""


def test_going_on_before_she_stands_is_refused_and_nothing_is_kept(desk: DeskWindow) -> None:
    go(desk, 50)
    call(desk, "fall")
    go(desk, 90)
    press(desk, Key.Key_U)
    go(desk, 70)
    press(desk, Key.Key_G)
    assert "before she stands" in desk.foot.text()
    assert the_fall(desk).end is None


def test_without_a_fall_the_keys_say_what_is_missing(desk: DeskWindow) -> None:
    press(desk, Key.Key_U)
    assert "Mark the fall first" in desk.foot.text()
    assert desk.bench.marks == ()


def test_what_was_so_of_the_element_is_ticked_beside_the_fall(desk: DeskWindow) -> None:
    call(desk, "cast")
    call(desk, "fall")
    assert desk.bench.book is not None
    (named,) = (one for one in desk.bench.book.conditions if one.code == "fell-before-completion")
    tick(desk.chosen, named.name)
    (element,) = (mark for mark in desk.bench.marks if mark.kind == "element")
    assert element.conditions == ("fell-before-completion",)


def test_facts_are_ticked_and_taken_back_without_a_time(desk: DeskWindow) -> None:
    press(desk, Key.Key_F9)
    (page,) = desk.findChildren(FactsPage)
    tick(page, "Springboard not removed after the mount")
    (fact,) = desk.bench.marks
    assert (fact.kind, fact.code, fact.at) == ("fact", "springboard-left", None)
    tick(page, "Springboard not removed after the mount")
    assert desk.bench.marks == ()


def test_every_button_of_the_fall_has_a_tip_with_its_key(desk: DeskWindow) -> None:
    call(desk, "fall")
    words = ("She stands here", "She goes on here", "Last in time")
    tips = [one.toolTip() for one in desk.chosen.findChildren(QPushButton) if one.text() in words]
    assert [tip[-3:] for tip in tips] == ["(U)", "(G)", "(L)"]


def test_what_was_so_of_the_element_is_typed_or_ticked_while_its_fall_stays_chosen(desk: DeskWindow) -> None:
    call(desk, "cast")
    call(desk, "fall")
    fall = the_fall(desk)
    call(desk, "fell-before-completion")
    element = desk.bench.mark(fall.element)
    assert element is not None
    assert element.conditions == ("fell-before-completion",)
    assert desk.bench.chosen == (fall.id,)
    assert f"cast, {element.id}" in desk.foot.text()
