"""The protractor in the real window, by keys and mouse alone, against the truth of the sample clip."""

import json
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

import pytest
from PyQt6.QtCore import QPoint, Qt
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QComboBox, QLabel, QLineEdit, QWidget

from reviewer import actions
from reviewer.desk.points import APPARATUS, NAMES
from reviewer.desk.setting import Setting
from reviewer.desk.window import DeskWindow
from reviewer.terms.readings import Length, Reading
from reviewer.terms.shapes import Label
from tests.desk.conftest import SQUARE_ON, until
from tests.desk.hands import Held, call, go, press, shows

Key = Qt.Key
Kind = TypeVar("Kind", bound=QWidget)


@cache
def truth() -> Any:
    """Where everything lies on every frame, and the true angles."""
    return json.loads(SQUARE_ON.with_suffix(".truth.json").read_text(encoding="utf-8"))


def cast() -> Any:
    """The first cast of the clip."""
    return next(one for one in truth()["elements"] if one["code"] == "cast")


def place(point: str, frame: int) -> tuple[float, float]:
    """Where a point lies in the picture; the number of a repeated click does not matter."""
    name = point.split(" ")[0]
    bars = truth()["apparatus"]["points"]
    x, y = bars[name]["px"] if name in bars else truth()["joints"][name]["near_px"][frame]
    return x, y


def step(desk: DeskWindow, frame: int) -> None:
    """Step with arrow keys to a frame: while the protractor is laid, Return means another thing."""
    assert desk.bench.picture is not None
    tens, ones = divmod(frame - desk.bench.picture.frame, 10)
    press(desk, Key.Key_PageDown, times=tens)
    press(desk, Key.Key_Right, times=ones)
    until(lambda: shows(desk, frame))


def click(desk: DeskWindow, point: str) -> None:
    """Click a point as near to where it is as the screen's pixels allow."""
    frame = desk.bench.picture.frame if desk.bench.picture else 0
    x, y = desk.evidence.framing.to_view(*place(point, frame))
    QTest.mouseClick(desk.evidence, Qt.MouseButton.LeftButton, pos=QPoint(round(x - 0.5), round(y - 0.5)))


def place_all(desk: DeskWindow) -> None:
    """Click every point that is asked for; the picture does not show all of the bars."""
    while (wanted := desk.protractor.wanted()) is not None:
        x, y = place(wanted, desk.protractor.frame or 0)
        assert desk.bench.picture is not None
        wide, tall = desk.bench.picture.full_size
        if wanted in APPARATUS and not (0 <= x < wide and 0 <= y < tall):
            press(desk, Key.Key_Space)
        else:
            click(desk, wanted)


def measure(desk: DeskWindow, line: str) -> None:
    """Press M until this is measured."""
    for _ in range(len(NAMES) + 1):
        if desk.protractor.line == line:
            return
        press(desk, Key.Key_M)
    pytest.fail(f"{line} is not offered")


def found(desk: DeskWindow, kind: type[Kind], name: str) -> Kind:
    """The control of a name."""
    return next(one for one in desk.findChildren(kind) if one.accessibleName() == name)


@pytest.fixture
def near_the_top(desk: DeskWindow) -> DeskWindow:
    """A cast marked at its start, and the protractor laid near its top with all points placed."""
    go(desk, cast()["start_frame"])
    call(desk, "cast")
    go(desk, cast()["top_frame"] - 2)
    press(desk, Key.Key_P)
    place_all(desk)
    return desk


def test_a_cast_is_followed_to_its_top_and_the_top_kept(near_the_top: DeskWindow) -> None:
    desk = near_the_top
    press(desk, Key.Key_F)
    until(lambda: desk.gauging.followed.track is not None, 60)
    track = desk.gauging.followed.track
    assert track is not None
    until(lambda: shows(desk, track["top"]["frame"]))
    assert abs(track["top"]["frame"] - cast()["top_frame"]) <= 1
    assert float(track["top"]["value_deg"]) == pytest.approx(cast()["top_deg"], abs=3)
    assert desk.gauging.curve.isVisible()
    assert desk.evidence.shapes, "the followed line is drawn on the top's frame"
    press(desk, Key.Key_Return)
    mark = desk.bench.marks[0]
    assert mark.angle is not None
    assert str(mark.angle.value) == track["top"]["value_deg"]
    assert desk.bench.audit is not None
    assert [one.id for one in desk.bench.audit.tracks] == [mark.angle.reading]
    assert not desk.protractor.laid


def test_a_click_on_the_curve_shows_the_frame_of_that_moment(near_the_top: DeskWindow) -> None:
    desk = near_the_top
    press(desk, Key.Key_F)
    until(lambda: desk.gauging.followed.track is not None, 60)
    curve = desk.gauging.curve
    QTest.mouseClick(curve, Qt.MouseButton.LeftButton, pos=QPoint(60, curve.height() // 2))
    track = desk.gauging.followed.track
    assert track is not None
    first = track["frames"][0]["frame"]
    until(lambda: desk.bench.picture is not None and first <= desk.bench.picture.frame <= first + 2)


def test_escape_leads_from_the_curve_to_the_reading_and_then_off_the_picture(
    near_the_top: DeskWindow,
) -> None:
    desk = near_the_top
    press(desk, Key.Key_F)
    until(lambda: desk.gauging.followed.track is not None, 60)
    press(desk, Key.Key_Escape)
    assert desk.gauging.followed.track is None
    assert desk.protractor.laid
    press(desk, Key.Key_Escape)
    assert not desk.protractor.laid


def test_clicks_on_two_frames_are_followed_together(near_the_top: DeskWindow) -> None:
    desk = near_the_top
    for _ in range(4):
        press(desk, Key.Key_Right)
    second = cast()["top_frame"] + 2
    until(lambda: shows(desk, second))
    press(desk, Key.Key_N)
    assert desk.protractor.frame == second
    place_all(desk)
    press(desk, Key.Key_F)
    until(lambda: desk.gauging.followed.track is not None, 60)
    press(desk, Key.Key_Return)
    assert desk.bench.audit is not None
    clicked = [clicks.frame for clicks in desk.bench.audit.tracks[0].clicks]
    assert clicked == [second - 4, second]


def test_a_joint_clicked_once_more_pools(near_the_top: DeskWindow) -> None:
    desk = near_the_top
    before = desk.protractor.reading
    QTest.mouseClick(desk.evidence, Qt.MouseButton.LeftButton, pos=QPoint(5, 5))  # nothing is asked for
    desk.protractor.move("ankle", desk.protractor.spots["ankle"])
    press(desk, Key.Key_A)
    assert desk.protractor.wanted() == "ankle 2"
    click(desk, "ankle")
    after = desk.protractor.reading
    assert isinstance(before, Reading)
    assert isinstance(after, Reading)
    assert len(dict(after.clicks.body)["ankle"]) == 2
    press(desk, Key.Key_Backspace)
    assert isinstance(desk.protractor.reading, Reading)
    assert len(dict(desk.protractor.reading.clicks.body)["ankle"]) == 1


def test_the_bend_of_a_joint_becomes_the_angle_of_the_chosen_fault(near_the_top: DeskWindow) -> None:
    desk = near_the_top
    press(desk, Key.Key_Escape)
    call(desk, "arms-bent 0.1")
    fault = desk.bench.chosen_mark()
    assert fault is not None
    press(desk, Key.Key_P)
    measure(desk, "elbow-bend")
    place_all(desk)
    reading = desk.protractor.reading
    assert isinstance(reading, Reading)
    assert float(str(reading.value)) < 60
    press(desk, Key.Key_Return)
    kept = desk.bench.mark(fault.id)
    assert kept is not None
    assert kept.angle is not None
    assert kept.angle.value == reading.value


def test_a_length_is_kept_as_evidence_and_said_in_millimetres(near_the_top: DeskWindow) -> None:
    desk = near_the_top
    measure(desk, "ankle-over-rail")
    place_all(desk)
    found_length = desk.protractor.reading
    assert isinstance(found_length, Length)
    frame = desk.protractor.frame
    true = truth()["joints"]["ankle"]["near_mm"][frame][2] - truth()["apparatus"]["low_top_mm"]
    low, high = (float(str(end)) for end in found_length.interval)
    assert low <= true <= high
    press(desk, Key.Key_Return)
    assert desk.bench.audit is not None
    with actions.open_case(desk.bench.audit.path, author=None) as reader:
        assert [one["length"]["value_mm"] for one in reader.state.lengths] == [str(found_length.value)]


def test_what_is_typed_of_athlete_and_bars_is_measured_with(near_the_top: DeskWindow) -> None:
    desk = near_the_top
    height = found(desk, QLineEdit, "Height of the athlete, mm")
    height.setFocus()
    QTest.keyClicks(height, "1380")
    press(desk, Key.Key_Return)
    spread = found(desk, QLineEdit, "Spread of the rails, mm")
    spread.setFocus()
    QTest.keyClicks(spread, "1600")
    press(desk, Key.Key_Return)
    reading = desk.protractor.reading
    assert isinstance(reading, Reading)
    assert str(reading.clicks.height) == "1380.000"
    assert str(reading.clicks.dimensions.spread) == "1600.000"
    QTest.keyClicks(height, "99")
    press(desk, Key.Key_Tab)


def test_a_size_nobody_has_is_refused_in_a_line(near_the_top: DeskWindow) -> None:
    desk = near_the_top
    height = found(desk, QLineEdit, "Height of the athlete, mm")
    height.setFocus()
    QTest.keyClicks(height, "99999")
    press(desk, Key.Key_Return)
    assert desk.foot.property("problem") is True
    assert "2500" in desk.foot.text()
    assert height.text() == ""


def test_the_list_of_what_is_measured_can_be_used_without_keys(near_the_top: DeskWindow) -> None:
    desk = near_the_top
    box = found(desk, QComboBox, "Measured")
    at = box.findText(NAMES["hip-bend"])
    box.setFocus()
    while box.currentIndex() != at:
        press(desk, Key.Key_Down)
    assert desk.protractor.line == "hip-bend"


def test_a_case_with_lengths_and_tracks_is_derived_again(near_the_top: DeskWindow, tmp_path: Path) -> None:
    desk = near_the_top
    press(desk, Key.Key_F)
    until(lambda: desk.gauging.followed.track is not None, 60)
    press(desk, Key.Key_Return)
    press(desk, Key.Key_P)
    measure(desk, "hip-over-rail")
    place_all(desk)
    press(desk, Key.Key_Return)
    assert desk.bench.audit is not None
    path = desk.bench.audit.path
    told = actions.verify(path, recording=SQUARE_ON)
    assert told["same"], told["differences"]
    assert {"tracks", "lengths"} <= set(told["checked"])
    folder = tmp_path / "report"
    with actions.open_case(path, author=None, recording=SQUARE_ON) as reader:
        actions.write_report(reader, folder)
    page = (folder / "report.html").read_text(encoding="utf-8")
    assert "Lengths measured" in page
    assert "Casts that were followed" in page
    assert actions.verify(folder, recording=SQUARE_ON)["same"]


def test_the_other_side_of_a_joint_may_be_clicked_too(near_the_top: DeskWindow) -> None:
    desk = near_the_top
    desk.protractor.move("ankle", desk.protractor.spots["ankle"])
    press(desk, Key.Key_O)
    assert "other side" in desk.protractor.words()
    frame = desk.protractor.frame or 0
    x, y = desk.evidence.framing.to_view(*truth()["joints"]["ankle"]["far_px"][frame])
    QTest.mouseClick(desk.evidence, Qt.MouseButton.LeftButton, pos=QPoint(round(x - 0.5), round(y - 0.5)))
    reading = desk.protractor.reading
    assert isinstance(reading, Reading)
    assert "both sides, not quite even" in dict(reading.budget)
    press(desk, Key.Key_F)
    until(lambda: "both sides" in desk.foot.text(), 20)


def test_bars_clicked_once_are_carried_to_a_later_frame_and_it_is_said_how(near_the_top: DeskWindow) -> None:
    desk = near_the_top
    press(desk, Key.Key_Return)
    go(desk, cast()["top_frame"] + 20)
    press(desk, Key.Key_P)
    assert "stand as on frame" in desk.protractor.words()
    until(lambda: "The camera stands as on frame" in desk.protractor.words(), 30)
    place_all(desk)
    reading = desk.protractor.reading
    assert isinstance(reading, Reading)
    assert reading.clicks.bars_from == cast()["top_frame"] - 2


def test_a_reading_lands_on_the_cast_of_its_own_frame_wherever_the_judge_has_gone(
    near_the_top: DeskWindow,
) -> None:
    desk = near_the_top
    later = [one for one in truth()["elements"] if one["code"] == "cast"][1]
    step(desk, later["start_frame"] + 10)
    assert "lies on frame" in desk.protractor.words()
    press(desk, Key.Key_Return)
    assert desk.foot.property("problem") is True
    assert desk.bench.marks[0].angle is None


def test_more_clicks_after_a_curve_are_followed_before_a_top_is_kept(near_the_top: DeskWindow) -> None:
    desk = near_the_top
    press(desk, Key.Key_F)
    until(lambda: desk.gauging.followed.track is not None, 60)
    top = desk.gauging.followed.track["top"]["frame"] if desk.gauging.followed.track else 0
    until(lambda: shows(desk, top))
    step(desk, cast()["top_frame"] + 3)
    press(desk, Key.Key_N)
    assert desk.gauging.followed.track is None
    place_all(desk)
    press(desk, Key.Key_F)
    until(lambda: desk.gauging.followed.track is not None, 60)
    press(desk, Key.Key_Return)
    assert desk.bench.audit is not None
    told = actions.verify(desk.bench.audit.path, recording=SQUARE_ON)
    assert told["same"], told["differences"]


def test_what_is_typed_after_another_frame_was_clicked_holds_for_both(near_the_top: DeskWindow) -> None:
    desk = near_the_top
    step(desk, cast()["top_frame"] + 2)
    press(desk, Key.Key_N)
    place_all(desk)
    height = found(desk, QLineEdit, "Height of the athlete, mm")
    height.setFocus()
    QTest.keyClicks(height, "1400")
    press(desk, Key.Key_Return)
    assert desk.evidence.hasFocus(), "the keyboard is back on the picture"
    press(desk, Key.Key_F)
    until(lambda: desk.gauging.followed.track is not None, 60)
    press(desk, Key.Key_Return)
    assert desk.bench.audit is not None
    heights = [str(clicks.height) for clicks in desk.bench.audit.tracks[0].clicks]
    assert heights == ["1400.000", "1400.000"]


def test_a_verdict_called_at_full_speed_stays_beside_what_is_measured_later(desk: DeskWindow) -> None:
    go(desk, cast()["start_frame"])
    call(desk, "cast met full-speed")
    go(desk, cast()["top_frame"])
    press(desk, Key.Key_P)
    place_all(desk)
    press(desk, Key.Key_Return)
    mark = desk.bench.marks[0]
    assert mark.angle is not None
    assert mark.angle.at_full_speed is not None
    assert (mark.angle.by, mark.angle.at_full_speed.verdict, mark.seen) == ("protractor", "met", "full-speed")
    assert "What was called at full speed stays beside it: met." in desk.foot.text()
    assert any("called met at full speed" in label.text() for label in desk.chosen.findChildren(QLabel))


def test_a_fault_called_at_full_speed_stays_so_when_its_bend_is_measured(near_the_top: DeskWindow) -> None:
    desk = near_the_top
    press(desk, Key.Key_Escape)
    call(desk, "arms-bent 0.1 full-speed")
    press(desk, Key.Key_P)
    measure(desk, "elbow-bend")
    place_all(desk)
    press(desk, Key.Key_Return)
    (fault,) = [mark for mark in desk.bench.marks if mark.kind == "fault"]
    assert fault.angle is not None
    assert (str(fault.amount), fault.seen) == ("0.100", "full-speed")


def numbers(desk: DeskWindow) -> list[str]:
    """Words that lie over the picture."""
    return [shape.words for shape in desk.evidence.shapes if isinstance(shape, Label)]


def test_the_protractor_is_laid_again_as_it_was_kept_on_a_frame(near_the_top: DeskWindow) -> None:
    desk = near_the_top
    placed, shown = dict(desk.protractor.spots), numbers(desk)
    press(desk, Key.Key_Return)
    assert set(numbers(desk)) < set(shown), "the cited reading stays on its frame"
    press(desk, Key.Key_P)
    assert desk.protractor.spots == placed
    assert numbers(desk) == shown
    assert "Kept as r1" in desk.protractor.words()
    press(desk, Key.Key_Return)
    assert "stays as it was kept" in desk.foot.text()
    assert desk.bench.audit is not None
    assert [one.id for one in desk.bench.audit.readings] == ["r1"]


def test_what_was_kept_on_a_frame_is_not_what_is_measured_on_the_next(near_the_top: DeskWindow) -> None:
    desk = near_the_top
    measure(desk, "knee-bend")
    place_all(desk)
    press(desk, Key.Key_Return)
    desk.protractor.set_to(Setting())
    press(desk, Key.Key_P)
    assert desk.protractor.line == "knee-bend"
    press(desk, Key.Key_Escape)
    assert desk.protractor.line == Setting().line_in(desk.bench.book)


def test_a_point_moved_on_a_kept_reading_makes_another_one(near_the_top: DeskWindow) -> None:
    desk = near_the_top
    press(desk, Key.Key_Return)
    press(desk, Key.Key_P)
    desk.protractor.move("ankle", desk.protractor.spots["ankle"])
    press(desk, Key.Key_Right, Held.AltModifier)
    assert "Kept as" not in desk.protractor.words()
    press(desk, Key.Key_Return)
    assert desk.bench.audit is not None
    assert [one.id for one in desk.bench.audit.readings] == ["r1", "r2"]
    angle = desk.bench.marks[0].angle
    assert angle is not None
    assert angle.reading == "r2"


def test_the_top_of_a_followed_cast_stays_on_its_frame_and_its_bars_are_known(
    near_the_top: DeskWindow,
) -> None:
    desk = near_the_top
    press(desk, Key.Key_F)
    until(lambda: desk.gauging.followed.track is not None, 60)
    top = desk.gauging.followed.track["top"]["frame"] if desk.gauging.followed.track else 0
    until(lambda: shows(desk, top))
    press(desk, Key.Key_Return)
    assert len(numbers(desk)) == 1
    press(desk, Key.Key_Right)
    until(lambda: shows(desk, top + 1))
    assert not numbers(desk)
    go(desk, cast()["top_frame"] + 20)
    press(desk, Key.Key_P)
    assert "low-rail-near" in desk.protractor.spots
