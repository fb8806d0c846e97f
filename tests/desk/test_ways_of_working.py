"""Ways a judge works: one look as on the day, the sheet before its frames, few keystrokes; by keys alone."""

import time
from pathlib import Path

import pytest
from PyQt6.QtWidgets import QApplication

from reviewer import actions
from reviewer.desk.pace import Punctuality
from reviewer.desk.projector import Projector
from reviewer.desk.runahead import RunAhead
from reviewer.desk.starting import Beginning
from reviewer.desk.window import DeskWindow
from reviewer.terms.marks import Mark
from reviewer.terms.pictures import Picture
from tests.desk.conftest import until
from tests.desk.hands import Hands, Held, Key, marks


class Fingers(Hands):
    """A judge whose keyboard is on the entry line."""

    def call(self, words: str) -> None:
        """A call typed there."""
        self.type(words)
        self.key(Key.Key_Return)


@pytest.fixture
def fingers(desk: DeskWindow) -> Fingers:
    return Fingers(desk)


def shown(desk: DeskWindow) -> int:
    assert desk.bench.picture is not None
    return desk.bench.picture.frame


def frame_of(desk: DeskWindow, mark: Mark) -> int:
    moment = mark.moment()
    assert desk.bench.facts is not None
    assert moment is not None
    return desk.bench.facts.frame_at(moment)


def looked_at(desk: DeskWindow) -> list[int]:
    """Frames that come on the screen from now on."""
    seen: list[int] = []
    desk.viewing.shown.connect(lambda picture: seen.append(picture.frame))
    return seen


def test_one_look_runs_to_its_end_whatever_is_pressed(desk: DeskWindow, fingers: Fingers) -> None:
    seen = looked_at(desk)
    fingers.key(Key.Key_F5)
    until(lambda: shown(desk) > 5)
    fingers.key(Key.Key_Left)
    assert "runs to its end" in desk.foot.text()
    assert desk.foot.property("problem") is True
    fingers.key(Key.Key_Space, held=Held.ControlModifier)
    fingers.key(Key.Key_P, held=Held.ControlModifier)
    fingers.call("go 1")
    fingers.key(Key.Key_Escape, Key.Key_Escape)
    fingers.key(Key.Key_Comma, Key.Key_Home, Key.Key_Space, Key.Key_O)
    assert not desk.protractor.laid
    until(lambda: not desk.viewing.playing, 30)
    assert desk.bench.facts is not None
    assert (seen, seen[-1]) == (sorted(set(seen)), len(desk.bench.facts.pts) - 1)
    assert desk.viewing.speed == 1
    assert "The look is over. Calls: 0." in desk.foot.text()
    assert "s late" in desk.foot.text()


def test_calls_of_the_look_land_where_they_were_begun_and_are_seen_at_full_speed(
    desk: DeskWindow, fingers: Fingers
) -> None:
    fingers.key(Key.Key_F5)
    until(lambda: shown(desk) > 3)
    fingers.call("cast met")
    until(lambda: shown(desk) > 20)
    fingers.type("a")
    begun = shown(desk)
    until(lambda: shown(desk) > begun + 5)
    fingers.call("rms-bent 0.1")
    cast, fault = marks(desk)
    assert (cast.seen, fault.seen) == ("full-speed", "full-speed")
    assert fault.element == cast.id
    assert begun - 1 <= frame_of(desk, fault) <= begun
    fingers.key(Key.Key_F5)
    until(lambda: not desk.viewing.playing)
    assert "broken off" in desk.foot.text()
    assert "Calls: 2." in desk.foot.text()


def test_what_is_marked_or_said_after_the_look_is_seen_slowed_down(
    desk: DeskWindow, fingers: Fingers
) -> None:
    fingers.key(Key.Key_F5)
    until(lambda: shown(desk) > 3)
    fingers.call("cast")
    fingers.key(Key.Key_F5)
    until(lambda: not desk.viewing.playing)
    fingers.call("feet 0.05")
    assert [mark.seen for mark in marks(desk)] == ["full-speed", "slowed"]
    fingers.call("hesitation 0.1 full-speed")
    assert marks(desk)[2].seen == "full-speed"
    desk.bench.choose(("m1",))
    fingers.call("not-met")
    assert marks(desk)[0].seen == "slowed", "the verdict was not called at full speed"


@pytest.mark.parametrize("left", ["full-speed", "slowed"])
def test_that_a_look_was_taken_is_known_when_the_case_is_opened_again(
    desk: DeskWindow, fingers: Fingers, left: str
) -> None:
    """Also where all that was called in the look was seen anew since."""
    fingers.key(Key.Key_Return)
    fingers.call(f"cast {left}")
    assert desk.bench.audit is not None
    path = desk.bench.audit.path
    desk.bench.lay(None)
    desk.open_case(path, None)
    until(lambda: desk.bench.picture is not None)
    desk.entry.setFocus()
    fingers.call("feet 0.05")
    assert [mark.seen for mark in marks(desk)] == [left, "slowed"]


def test_a_look_without_a_call_is_known_when_the_case_is_opened_again(
    desk: DeskWindow, fingers: Fingers, application: QApplication
) -> None:
    fingers.key(Key.Key_F5)
    until(lambda: shown(desk) > 3)
    fingers.key(Key.Key_F5)
    until(lambda: not desk.viewing.playing)
    path = desk.bench.on_desk().path
    desk.close()
    again = DeskWindow("A")
    again.show()
    again.open_case(path, None)
    until(lambda: again.bench.picture is not None)
    again.entry.setFocus()
    Fingers(again).call("feet 0.05")
    kept = marks(again)
    again.close()
    assert [mark.seen for mark in kept] == ["slowed"]


def test_a_look_at_another_case_says_nothing_of_this_one(
    desk: DeskWindow, fingers: Fingers, tmp_path: Path
) -> None:
    fingers.key(Key.Key_F5)
    until(lambda: shown(desk) > 3)
    fingers.key(Key.Key_F5)
    until(lambda: not desk.viewing.playing)
    other = actions.start_case(
        tmp_path / "other.case",
        author="A",
        athlete_code="G-08",
        consent="given",
        rule_book="demo-bars-2",
        recording=desk.bench.recording,
    )
    other.close()
    desk.open_case(tmp_path / "other.case", None)
    until(lambda: desk.bench.picture is not None)
    desk.entry.setFocus()
    fingers.call("feet 0.05")
    assert [mark.seen for mark in marks(desk)] == [None]


def test_without_a_look_nothing_is_said_of_how_marks_were_seen(desk: DeskWindow, fingers: Fingers) -> None:
    fingers.key(Key.Key_Return)
    fingers.call("cast met")
    assert [mark.seen for mark in marks(desk)] == [None]


def test_a_look_at_what_was_studied_before_does_not_say_how_marks_were_seen(
    desk: DeskWindow, fingers: Fingers
) -> None:
    fingers.key(Key.Key_End)
    until(lambda: shown(desk) > 50)
    fingers.key(Key.Key_F5)
    assert "looked at slowed before" in desk.foot.text()
    until(lambda: 3 < shown(desk) < 50)
    fingers.call("cast")
    assert [mark.seen for mark in marks(desk)] == [None]
    fingers.key(Key.Key_F5)
    until(lambda: not desk.viewing.playing)


def test_a_look_may_begin_at_the_frame_on_the_screen(desk: DeskWindow, fingers: Fingers) -> None:
    fingers.key(*[Key.Key_PageDown] * 2)
    until(lambda: shown(desk) == 20)
    seen = looked_at(desk)
    fingers.key(Key.Key_F5, held=Held.ShiftModifier)
    until(lambda: len(seen) > 3)
    assert seen[0] == 20
    fingers.key(Key.Key_F5)
    until(lambda: not desk.viewing.playing)


def test_how_late_pictures_came_is_counted_from_when_each_was_due() -> None:
    kept = Punctuality()
    kept.sent(None)
    kept.begin()
    kept.sent(10.0)
    kept.came(99.0)  # sent before this look, due at no moment of it
    kept.came(10.04)
    kept.sent(11.0)
    assert (round(kept.late, 3), kept.shown, kept.on_its_way) == (0.04, 1, True)


def test_a_look_on_a_machine_that_falls_behind_keeps_its_time_and_says_how_late_it_was(
    desk: DeskWindow, fingers: Fingers, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert desk.bench.facts is not None
    usual = Projector._in_time

    def slow(self: Projector, ahead: RunAhead, frame: int) -> Picture | None:
        time.sleep(0.4)
        return usual(self, ahead, frame)

    monkeypatch.setattr(Projector, "_in_time", slow)
    desk.viewing.look(len(desk.bench.facts.pts) - 90)
    seen = looked_at(desk)
    until(lambda: not desk.viewing.playing, 20)
    assert len(seen) < 45, "pictures are left out, time is not"
    assert "let the small pictures be made first" in desk.foot.text()
    assert desk.foot.property("problem") is True


def test_a_sheet_without_a_recording_has_a_number_from_its_first_word(
    window: DeskWindow, tmp_path: Path
) -> None:
    fingers = Fingers(window)
    started = Beginning(tmp_path / "paper.case", "A", "G-07", "not recorded", "demo-bars-2")
    assert window.start_case(started)
    for words in ("arms-bent 0.1", "pullover mount", "cast", "legs-bent 0.1"):
        fingers.call(words)
        assert window.bench.audit is not None
        assert window.argument.final.text() == str(window.bench.audit.sheet.final_score)
    assert [mark.code for mark in marks(window)] == ["arms-bent", "pullover", "cast", "legs-bent"]


def test_the_sheet_comes_first_and_its_frames_where_they_matter(desk: DeskWindow, fingers: Fingers) -> None:
    fingers.key(Key.Key_F6)
    assert "Without times" in desk.ways.line.text()
    for words in ("pullover mount", "cast within", "arms-bent 0.1", "feet 0.05", "back-hip-circle"):
        fingers.call(words)
    listed = [mark.code for mark in marks(desk)]
    assert listed == ["pullover", "cast", "arms-bent", "feet", "back-hip-circle"]
    assert all(mark.moment() is None for mark in marks(desk))
    assert [mark.element for mark in marks(desk)] == [None, None, "m2", "m2", None]
    assert desk.argument.final.text() == str(desk.bench.audit.sheet.final_score)  # type: ignore[union-attr]
    desk.bench.choose(("m2",))
    fingers.key(*[Key.Key_Right] * 7)
    until(lambda: shown(desk) == 7)
    fingers.key(Key.Key_F7)
    assert desk.bench.chosen == ("m3",)
    fingers.key(*[Key.Key_Right] * 2)
    until(lambda: shown(desk) == 9)
    fingers.key(Key.Key_F7)
    assert desk.bench.chosen == ("m4",)
    placed = {mark.id: frame_of(desk, mark) for mark in marks(desk) if mark.moment() is not None}
    assert placed == {"m2": 7, "m3": 9}
    assert [mark.code for mark in marks(desk)] == listed


def test_a_fault_of_a_list_belongs_to_the_element_of_the_one_that_is_chosen(
    desk: DeskWindow, fingers: Fingers
) -> None:
    fingers.key(Key.Key_F6)
    for words in ("pullover mount", "cast"):
        fingers.call(words)
    desk.bench.choose(("m1",))
    fingers.call("arms-bent 0.1")
    fingers.call("feet 0.05")
    assert [mark.code for mark in marks(desk)] == ["pullover", "arms-bent", "feet", "cast"]


def test_a_learned_mark_takes_three_keystrokes_from_the_picture_and_two_while_typing(
    desk: DeskWindow, fingers: Fingers
) -> None:
    fingers.key(Key.Key_Return)
    for words in ("short k glide-kip", "short c cast", "short b arms-bent 0.1", "short z cartwheel"):
        fingers.call(words)
    fingers.key(Key.Key_Escape)
    fingers.pressed = 0
    fingers.key(Key.Key_Return)
    fingers.call("k")
    assert fingers.pressed == 3
    fingers.call("c")
    fingers.call("b")
    assert fingers.pressed == 3 + 2 + 2
    assert [mark.code for mark in marks(desk)] == ["glide-kip", "cast", "arms-bent"]
    assert "arms-bent 0.10" in desk.foot.text()
    fingers.call("z")
    assert "z stands for cartwheel" in desk.foot.text()
    assert len(marks(desk)) == 3


def test_a_word_typed_far_enough_takes_its_last_amount_and_says_which(
    desk: DeskWindow, fingers: Fingers
) -> None:
    fingers.key(Key.Key_Return)
    fingers.call("cast")
    fingers.call("arms-bent 0.3")
    fingers.type("ar")
    assert desk.offered.words[0].means.endswith("0.30 as last time")
    fingers.key(Key.Key_Return)
    assert [str(mark.amount) for mark in marks(desk)[1:]] == ["0.300", "0.300"]
    assert "arms-bent 0.30" in desk.foot.text()


def test_a_fault_never_given_an_amount_is_asked_for_one(desk: DeskWindow, fingers: Fingers) -> None:
    fingers.key(Key.Key_Return)
    fingers.call("cast")
    fingers.call("arms-bent")
    assert "The amount is missing" in desk.foot.text()


def test_short_codes_are_kept_and_never_take_a_word_of_the_edition(
    desk: DeskWindow, fingers: Fingers
) -> None:
    fingers.key(Key.Key_Return)
    fingers.call("short fall cast met")
    assert "is a word of the edition" in desk.foot.text()
    fingers.key(Key.Key_Escape, Key.Key_Return)
    fingers.call("short ab arms-bent 0.1")
    assert actions.short_codes().words == {"ab": "arms-bent 0.1"}
    fingers.call("forget ab")
    assert actions.short_codes().words == {}


def test_a_note_is_typed_and_kept_with_its_frame(desk: DeskWindow, fingers: Fingers) -> None:
    fingers.key(*[Key.Key_Right] * 3)
    until(lambda: shown(desk) == 3)
    fingers.key(Key.Key_Return)
    fingers.call("note Grip looked loose")
    assert desk.bench.audit is not None
    with actions.open_case(desk.bench.audit.path, author=None) as reader:
        (note,) = actions.notes_document(reader)["notes"]
    assert (note["text"], note["frame"]) == ("Grip looked loose", 3)
    fingers.key(Key.Key_Z, held=Held.ControlModifier)
    assert actions.notes_document(desk.bench.audit)["notes"] == []
