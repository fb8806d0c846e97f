"""A judge's work in the real window, by key and mouse events alone.

Angles are checked against trigonometry by hand, frames against the recording's index.
"""

from math import atan2, degrees
from pathlib import Path

from PyQt6.QtCore import QPoint, QPointF, Qt
from PyQt6.QtGui import QWheelEvent
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication, QPushButton

from reviewer import actions
from reviewer.desk import application
from reviewer.desk.pages import Page
from reviewer.desk.window import DeskWindow
from reviewer.measuring import measure
from reviewer.terms.shapes import Spot
from tests.desk.conftest import until
from tests.desk.hands import call, focused, marks, press, shows

Key = Qt.Key
HAND, SHOULDER, HIP, ANKLE = (300, 260), (290, 200), (220, 230), (120, 300)


def at_frame(desk: DeskWindow, frame: int) -> None:
    """Wait until this frame is on the screen."""
    until(lambda: shows(desk, frame))


def marked(desk: DeskWindow) -> list[tuple[str, str]]:
    """Kind and code of each mark in the case on disk, read by a second reader."""
    return [(mark.kind, mark.code) for mark in marks(desk)]


def click(desk: DeskWindow, place: tuple[int, int]) -> None:
    """Click on the picture, in view pixels."""
    QTest.mouseClick(desk.evidence, Qt.MouseButton.LeftButton, pos=QPoint(*place))


def test_arrows_step_one_frame_either_way(desk: DeskWindow) -> None:
    press(desk, Key.Key_Right, times=3)
    at_frame(desk, 3)
    press(desk, Key.Key_Left)
    at_frame(desk, 2)
    assert desk.bench.facts is not None
    assert desk.bench.pts == desk.bench.facts.pts[2]
    assert desk.line.label.text().startswith("Frame 2 of ")


def test_playing_goes_through_the_frames_and_stops_where_it_is_told(desk: DeskWindow) -> None:
    press(desk, Key.Key_Space)
    until(lambda: desk.bench.picture is not None and desk.bench.picture.frame > 8)
    press(desk, Key.Key_Space)
    QTest.qWait(150)
    assert desk.bench.picture is not None
    there = desk.bench.picture.frame
    QTest.qWait(150)
    assert desk.bench.picture.frame == there
    press(desk, Key.Key_Right)
    at_frame(desk, there + 1)


def test_a_point_clicked_comes_back_through_zoom_and_pan(desk: DeskWindow) -> None:
    view, seen = desk.evidence, []
    view.clicked.connect(seen.append)
    wheel_at = QPointF(200, 220)
    wheel = QWheelEvent(
        wheel_at,
        QPointF(view.mapToGlobal(wheel_at.toPoint())),
        QPoint(),
        QPoint(0, 960),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(view, wheel)
    QTest.mousePress(view, Qt.MouseButton.LeftButton, pos=QPoint(250, 200))
    QTest.mouseMove(view, QPoint(263, 211))
    QTest.mouseMove(view, QPoint(280, 230))
    QTest.mouseRelease(view, Qt.MouseButton.LeftButton, pos=QPoint(280, 230))
    assert seen == [], "a drag is no click"
    click(desk, (231, 177))
    assert view.framing.scale > 1.5
    back = view.framing.to_view(seen[0].x.thousandths / 1000, seen[0].y.thousandths / 1000)
    # the pointer stands on a pixel of the screen; half a thousandth of a picture pixel is the rounding
    assert abs(back[0] - 231.5) <= 0.001 * view.framing.scale
    assert abs(back[1] - 177.5) <= 0.001 * view.framing.scale


def test_a_routine_is_marked_by_typing_and_is_on_disk_at_once(desk: DeskWindow) -> None:
    call(desk, "pullover mount")
    press(desk, Key.Key_Right, times=5)
    at_frame(desk, 5)
    call(desk, "cast within")
    call(desk, "arms-bent 0.1")
    assert marked(desk) == [("element", "pullover"), ("element", "cast"), ("fault", "arms-bent")]
    fault = desk.bench.marks[2]
    assert desk.bench.mark(fault.element).code == "cast"  # type: ignore[union-attr]
    assert any("m3" in row.marks for row in desk.argument.rows)
    assert desk.argument.final.text() == str(desk.bench.audit.sheet.final_score)  # type: ignore[union-attr]


def test_the_first_word_offered_is_taken(desk: DeskWindow) -> None:
    call(desk, "pullo")
    assert marked(desk) == [("element", "pullover")]


def test_undo_and_redo_are_on_disk_too(desk: DeskWindow) -> None:
    call(desk, "cast met")
    QTest.keyClick(focused(desk), Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert marked(desk) == []
    QTest.keyClick(focused(desk), Key.Key_Y, Qt.KeyboardModifier.ControlModifier)
    assert marked(desk) == [("element", "cast")]


def test_an_element_gets_its_bounds_from_the_frame_on_screen(desk: DeskWindow) -> None:
    call(desk, "cast")
    press(desk, Key.Key_Right, times=4)
    at_frame(desk, 4)
    press(desk, Key.Key_BracketRight)
    facts, mark = desk.bench.facts, desk.bench.marks[0]
    assert facts is not None
    assert (mark.start, mark.end) == (facts.pts[0], facts.pts[4])


def test_with_a_fault_chosen_the_bounds_are_those_of_its_element(desk: DeskWindow) -> None:
    call(desk, "cast")
    press(desk, Key.Key_Right, times=3)
    at_frame(desk, 3)
    call(desk, "arms-bent 0.1")
    press(desk, Key.Key_E)
    assert desk.bench.facts is not None
    assert desk.bench.marks[0].end == desk.bench.facts.pts[3]


def test_an_amount_the_edition_does_not_allow_is_refused_in_a_line(desk: DeskWindow) -> None:
    call(desk, "cast")
    call(desk, "arms-bent 7.7")
    assert marked(desk) == [("element", "cast")]
    assert "does not allow" in desk.foot.text()
    assert desk.foot.property("problem") is True


def test_delete_withdraws_the_chosen_mark(desk: DeskWindow) -> None:
    call(desk, "cast")
    press(desk, Key.Key_Delete)
    assert marked(desk) == []


def test_from_a_line_of_the_sheet_to_its_frame_and_back_to_the_line(desk: DeskWindow) -> None:
    call(desk, "cast within")
    press(desk, Key.Key_Right, times=6)
    at_frame(desk, 6)
    call(desk, "legs-bent 0.1")
    press(desk, Key.Key_Home)
    at_frame(desk, 0)
    line = next(at for at, row in enumerate(desk.argument.rows) if row.marks == ("m2",))
    table = desk.argument.table
    middle = table.visualRect(table.sheet.index(line, 0)).center()
    QTest.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=middle)
    at_frame(desk, 6)
    assert desk.bench.chosen == ("m2",)
    place = desk.strip.place_of("m1")
    assert place is not None
    QTest.mouseClick(desk.strip, Qt.MouseButton.LeftButton, pos=place.toPoint())
    at_frame(desk, 0)
    lit = table.sheet.lit
    assert lit
    assert all("m1" in desk.argument.rows[at].marks for at in lit)


def test_the_protractor_reads_what_trigonometry_gives(desk: DeskWindow) -> None:
    call(desk, "cast")
    press(desk, Key.Key_P)
    for place in (HAND, SHOULDER, HIP, ANKLE):
        click(desk, place)
    press(desk, Key.Key_Space, times=2)
    reading = desk.protractor.reading
    assert reading is not None
    assert reading == measure(reading.clicks, desk.bench.pts)
    upper, lower = (SHOULDER, ANKLE) if reading.clicks.line == "shoulder-ankle" else (HAND, ANKLE)
    by_hand = degrees(atan2(upper[1] - lower[1], abs(lower[0] - upper[0])))
    assert abs(reading.naive.thousandths / 1000 - by_hand) < 0.01
    press(desk, Key.Key_Return)
    angle = desk.bench.marks[0].angle
    assert angle is not None
    assert (angle.by, angle.value, angle.reading) == ("protractor", reading.value, "r1")
    assert desk.evidence.shapes, "the reading a cast cites is drawn on its frame"
    press(desk, Key.Key_Right)
    at_frame(desk, 1)
    assert desk.evidence.shapes == ()


def test_a_point_of_the_protractor_can_be_dragged_and_the_reading_follows(desk: DeskWindow) -> None:
    press(desk, Key.Key_P)
    for place in (HAND, SHOULDER, HIP, ANKLE):
        click(desk, place)
    before = desk.protractor.reading
    QTest.mousePress(desk.evidence, Qt.MouseButton.LeftButton, pos=QPoint(*ANKLE))
    QTest.mouseMove(desk.evidence, QPoint(121, 310))
    QTest.mouseMove(desk.evidence, QPoint(122, 340))
    QTest.mouseRelease(desk.evidence, Qt.MouseButton.LeftButton, pos=QPoint(122, 340))
    after = desk.protractor.reading
    assert before is not None
    assert after is not None
    assert after.value < before.value
    spot = dict(after.clicks.body)["ankle"][0]
    assert isinstance(spot, Spot)
    assert spot == desk.evidence.spot_under(QPointF(122, 340))


def test_the_posted_score_is_held_against_the_sheet(desk: DeskWindow) -> None:
    call(desk, "posted 8.9")
    assert desk.bench.audit is not None
    assert str(desk.bench.audit.posted) == "8.900"
    assert desk.argument.posted.text() == "8.900"
    assert "reached" in desk.argument.against.text()


def test_a_case_that_another_judge_writes_to_is_read_only(window: DeskWindow, case: Path) -> None:
    with actions.open_case(case, author="B"):
        window.open_case(case, None)
        until(lambda: window.bench.picture is not None)
        assert "read only" in window.foot.text()
        assert "B" in window.foot.text()
        call(window, "cast")
        assert window.foot.property("problem") is True
        assert window.bench.marks == ()


def test_a_fault_nobody_foresaw_ends_in_one_line(window: DeskWindow) -> None:
    application._unforeseen(window, ZeroDivisionError, ZeroDivisionError("of Ann"), None)
    assert "Every mark made is on disk" in window.foot.text()
    assert "Ann" not in window.foot.text()


def test_without_a_case_a_call_is_answered_in_a_line(window: DeskWindow) -> None:
    window.evidence.setFocus()
    call(window, "withdraw")
    assert "No case is open" in window.foot.text()


def test_a_file_that_is_no_recording_is_said_in_a_line(window: DeskWindow, tmp_path: Path) -> None:
    (tmp_path / "notes.mp4").write_text("not a recording")
    window.open_path(tmp_path / "notes.mp4")
    until(lambda: bool(window.foot.text()))
    assert window.foot.property("problem") is True
    assert "notes.mp4" in window.foot.text()


def test_a_case_is_started_from_the_form_by_enter_alone(window: DeskWindow, tmp_path: Path) -> None:
    clip = tmp_path / "square-on.mp4"
    clip.symlink_to(Path(__file__).parents[2] / "sample_clips" / "square-on.mp4")
    window.open_path(clip)
    until(lambda: window.bench.picture is not None)
    QTest.keyClick(focused(window), Key.Key_N, Qt.KeyboardModifier.ControlModifier)
    until(lambda: isinstance(QApplication.focusWidget(), QPushButton))
    press(window, Key.Key_Return)
    assert window.bench.audit is not None, window.foot.text()
    assert (tmp_path / "square-on.case").exists()
    assert window.bench.audit.author == "A"


def test_about_shows_every_caution_and_f1_the_keys(window: DeskWindow) -> None:
    QTest.keyClick(focused(window), Key.Key_F1)
    assert any("One frame on" in page.text.toPlainText() for page in pages(window))
    window._doings["about"]()
    words = " ".join(page.text.toPlainText() for page in pages(window))
    assert all(caution in words for caution in actions.cautions())


def pages(window: DeskWindow) -> list[Page]:
    """The pages that are open."""
    return [one for one in window.findChildren(Page) if one.isVisible()]


def test_the_point_in_hand_is_nudged_by_a_quarter_of_a_pixel_and_shown_close_up(desk: DeskWindow) -> None:
    press(desk, Key.Key_P)
    for place in (HAND, SHOULDER):
        click(desk, place)
    before = desk.protractor.spots["shoulder"]
    without = desk.evidence.grab().toImage()
    alt = Qt.KeyboardModifier.AltModifier
    QTest.keyClick(desk.evidence, Key.Key_Right, alt)
    QTest.keyClick(desk.evidence, Key.Key_Up, alt)
    after = desk.protractor.spots["shoulder"]
    assert ((after.x - before.x).thousandths, (after.y - before.y).thousandths) == (250, -250)
    assert desk.evidence.looked_at == after
    assert desk.bench.picture is not None
    assert desk.bench.picture.frame == 0
    press(desk, Key.Key_Escape)
    assert desk.evidence.looked_at is None
    assert desk.evidence.grab().toImage() != without


def test_the_bars_stand_from_one_reading_to_the_next(desk: DeskWindow) -> None:
    call(desk, "cast")
    press(desk, Key.Key_P)
    for place in (HAND, SHOULDER, HIP, ANKLE):
        click(desk, place)
    for place in ((150, 182), (150, 320), (293, 107), (293, 320)):
        click(desk, place)
    reading = desk.protractor.reading
    assert reading is not None
    assert reading.calibration.points == 4
    assert "four points" in reading.calibration.check
    press(desk, Key.Key_Return)
    press(desk, Key.Key_Right)
    at_frame(desk, 1)
    press(desk, Key.Key_P)
    for place in (HAND, SHOULDER, HIP, ANKLE):
        click(desk, place)
    again = desk.protractor.reading
    assert again is not None
    assert again.clicks.apparatus == reading.clicks.apparatus
    assert "stand as on frame 0" in desk.protractor.words()
