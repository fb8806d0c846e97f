"""Looking for a moment: at once by small pictures, at any speed, either way, with the time always told."""

import subprocess
import sys
from collections.abc import Callable, Iterator
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
from PyQt6.QtCore import QCoreApplication, QEvent, Qt
from PyQt6.QtGui import QAction
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication

from reviewer.desk.evidence import remarks_on
from reviewer.desk.framing import spot_at
from reviewer.desk.pace import SPEEDS, Pace, Passage
from reviewer.desk.window import DeskWindow
from reviewer.terms.pictures import Picture, RecordingFacts
from reviewer.terms.times import FrameTime, TimeBase
from reviewer.video import MEMORY, SmallStore
from tests.desk.conftest import SQUARE_ON, until
from tests.desk.hands import press

sys.path.insert(0, str(Path(__file__).parents[1] / "video"))

from clip_recipes import make
from numbered_pictures import number_in

Key = Qt.Key
THIRTIETHS = RecordingFacts("", TimeBase(1, 30), tuple(range(90)), (0,), "index", (2, 2), (2, 2), 0, "1/1")


@pytest.fixture(scope="session")
def recordings(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """Recordings whose pictures carry their number."""
    folder = tmp_path_factory.mktemp("numbered")
    return lambda name: make(name, folder)


@pytest.fixture
def looking(application: QApplication, tmp_path: Path) -> Iterator[DeskWindow]:
    """An empty desk that makes small pictures."""
    window = DeskWindow("A", MEMORY, SmallStore(tmp_path / "small", 1 << 30))
    window.show()
    window.activateWindow()
    assert QTest.qWaitForWindowActive(window)
    yield window
    window.close()
    window.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


def opened(window: DeskWindow, path: Path) -> None:
    done: list[bool] = []
    window.viewing.surveyed.connect(lambda: done.append(True))
    window.open_path(path)
    until(lambda: bool(done) and window.bench.picture is not None)
    window.evidence.setFocus()


def full(window: DeskWindow, frame: int) -> bool:
    picture = window.bench.picture
    return picture is not None and picture.frame == frame and picture.stands_for is None


def number_on(picture: Picture) -> int:
    width, height = picture.size
    return number_in(np.frombuffer(picture.bgra, np.uint8).reshape(height, width, 4))


def seen_while_playing(window: DeskWindow) -> list[Picture]:
    """What comes on the screen until playing ends; each picture's label is that of its content."""
    seen: list[Picture] = []
    window.viewing.shown.connect(seen.append)
    until(lambda: not window.viewing.playing and bool(seen), 20)
    window.viewing.shown.disconnect(seen.append)
    assert [picture.frame for picture in seen] == [number_on(picture) for picture in seen]
    return seen


def test_dragging_shows_the_frame_small_at_once_and_in_full_soon(
    looking: DeskWindow, recordings: Callable[[str], Path]
) -> None:
    opened(looking, recordings("h264-long.mp4"))
    for frame in (200, 90, 230):
        looking.viewing.seek(frame)
        picture = looking.bench.picture
        assert picture is not None
        assert picture.frame == number_on(picture) == frame, "before any event was worked off"
        assert looking.line.label.text().startswith(f"Frame {frame} of 239")
        until(lambda frame=frame: full(looking, frame))
        assert number_on(looking.bench.picture) == frame


def test_points_on_a_small_picture_are_counted_in_the_full_one(
    looking: DeskWindow, recordings: Callable[[str], Path]
) -> None:
    opened(looking, recordings("h264-long.mp4"))
    until(lambda: full(looking, 0))
    framing = looking.evidence.framing
    looking.viewing.seek(201)
    assert looking.evidence.framing == framing


@pytest.mark.parametrize("slower", [0, 1])
def test_playing_shows_pictures_in_order_to_the_last(
    looking: DeskWindow, recordings: Callable[[str], Path], slower: int
) -> None:
    opened(looking, recordings("h264-long.mp4"))
    looking.viewing.seek(215)
    until(lambda: full(looking, 215))
    for _ in range(slower):
        press(looking, Key.Key_Comma)
    assert looking.viewing.speed == Fraction(1, 2**slower)
    press(looking, Key.Key_Space)
    frames = [picture.frame for picture in seen_while_playing(looking)]
    assert frames == sorted(set(frames))
    assert frames[-1] == 239


def test_playing_backwards_shows_pictures_in_falling_order_to_the_first(
    looking: DeskWindow, recordings: Callable[[str], Path]
) -> None:
    opened(looking, recordings("h264-open.mp4"))
    looking.viewing.seek(40)
    until(lambda: full(looking, 40))
    press(looking, Key.Key_Space, Qt.KeyboardModifier.ShiftModifier)
    frames = [picture.frame for picture in seen_while_playing(looking)]
    assert frames == sorted(set(frames), reverse=True)
    assert frames[-1] == 0


def test_at_four_times_the_speed_pictures_may_be_dropped_and_labels_stay_true(
    looking: DeskWindow, recordings: Callable[[str], Path]
) -> None:
    opened(looking, recordings("h264-long.mp4"))
    for _ in range(2):
        press(looking, Key.Key_Period)
    assert looking.viewing.speed == 4
    press(looking, Key.Key_Space)
    assert [picture.frame for picture in seen_while_playing(looking)][-1] == 239


def test_a_stretch_is_played_over_and_over_until_it_is_stopped(
    looking: DeskWindow, recordings: Callable[[str], Path]
) -> None:
    opened(looking, recordings("h264-long.mp4"))
    seen: list[int] = []
    looking.viewing.shown.connect(lambda picture: seen.append(picture.frame))
    looking.viewing.play_over(60, 66)
    until(lambda: seen.count(60) >= 2 and seen.count(66) >= 2)
    assert set(seen) <= set(range(60, 67))
    press(looking, Key.Key_Space)
    until(lambda: not looking.viewing.playing)


def test_time_code_and_a_clock_stand_beside_the_frame(
    looking: DeskWindow, recordings: Callable[[str], Path]
) -> None:
    """30 frames a second: frame 45 is half a second into the second second (SMPTE ST 12-1, non-drop)."""
    opened(looking, recordings("h264-long.mp4"))
    looking.viewing.seek(45)
    assert looking.line.label.text() == "Frame 45 of 239   1.500 s   00:00:01:15"
    press(looking, Key.Key_T)
    looking.viewing.seek(75)
    assert looking.line.clock.text().endswith("1.000 s ± 0.026 s (95 %) since frame 45"), (
        "(1 - sqrt(0.05)) / 30 s"
    )
    press(looking, Key.Key_T)
    assert "since" not in looking.line.clock.text()


@pytest.mark.parametrize(("typed", "frame"), [("go 77", 77), ("go 2.5s", 75), ("go 00:00:02:03", 63)])
def test_a_frame_is_found_by_number_seconds_or_time_code(
    looking: DeskWindow, recordings: Callable[[str], Path], typed: str, frame: int
) -> None:
    opened(looking, recordings("h264-long.mp4"))
    looking.entry.setFocus()
    QTest.keyClicks(looking.entry, typed)
    QTest.keyClick(looking.entry, Key.Key_Return)
    until(lambda: full(looking, frame))


def test_the_other_pictures_of_a_file_can_be_seen(
    looking: DeskWindow, recordings: Callable[[str], Path]
) -> None:
    opened(looking, recordings("streams.mkv"))
    assert looking.bench.facts is not None
    first = looking.bench.facts.coded
    others = looking.bench.tip("other-pictures")
    next(one for one in looking.findChildren(QAction) if one.text().replace("&", "") == others).trigger()
    until(lambda: looking.bench.facts is not None and looking.bench.facts.stream == 1)
    until(lambda: looking.bench.picture is not None)
    assert looking.bench.facts.coded != first


def test_what_must_be_known_of_a_picture_is_written_on_it() -> None:
    first = FrameTime(0, TimeBase(1, 30))
    sound = Picture((2, 2), bytes(16), 0, first, "bt709", suspect=False)
    assert remarks_on(sound) == ()
    treated = Picture((2, 2), bytes(16), 0, first, "bt709", True, ("HLG shown as standard range",), (4, 4))
    assert [remark.split()[0] for remark in remarks_on(treated)] == ["Damaged", "HLG", "Small"]


@pytest.mark.parametrize("speed", SPEEDS)
@pytest.mark.parametrize("step", [1, -1])
def test_a_pace_gives_each_frame_its_moment_and_each_moment_its_frame(speed: Fraction, step: int) -> None:
    passage = Passage(45, 10, 80, speed, step)
    pace = Pace(THIRTIETHS, passage, 45, 100.0)
    for ahead in range(1, 30):
        frame = 45 + step * ahead
        assert pace.moment(frame) == pytest.approx(100 + ahead / 30 / float(speed))
        assert pace.due(pace.moment(frame) + 1e-6) == frame
        assert pace.due(pace.moment(frame) + 0.9 / 30 / float(speed)) == frame
    assert pace.due(1e6) == passage.end
    assert pace.next(45, 100.0) == 45 + step


@pytest.mark.parametrize("memory", [1 << 20, 32 << 20, 80 << 20])
def test_a_passage_plays_to_its_end_however_few_pictures_memory_holds(
    application: QApplication, memory: int
) -> None:
    """Of 1280 by 720 a picture ready to be shown takes 3.7 MB; an eighth of the memory is for such."""
    few = DeskWindow("A", memory)
    few.show()
    few.open_path(SQUARE_ON)
    until(lambda: few.bench.picture is not None)
    few.viewing.seek(few.bench.facts.frame_at(few.bench.facts.pts[-1]) - 40)
    until(lambda: few.bench.picture is not None and few.bench.picture.frame > 700)
    for step in (1, -1):
        few.viewing.play_or_stop(step)
        begun = few.bench.picture.frame if few.bench.picture else 0
        until(lambda: abs((few.bench.picture.frame if few.bench.picture else 0) - begun) > 20, 20)  # noqa: B023
        few.viewing.stop()
    few.close()


def test_making_small_pictures_can_be_stopped(looking: DeskWindow, tmp_path: Path) -> None:
    path = tmp_path / "long.mp4"
    source = ["-f", "lavfi", "-i", "testsrc2=s=1280x720:r=60:d=20", "-c:v", "libx264", "-preset", "ultrafast"]
    subprocess.run(["ffmpeg", "-v", "error", *source, str(path)], check=True)
    told: list[int] = []
    looking.viewing.surveying.connect(lambda done, total: told.append(done))
    looking.open_path(path)
    until(lambda: looking.bench.picture is not None and bool(told))
    button = looking.line.stop_survey
    assert button.isVisible()
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    assert not button.isVisible()
    looking.viewing.seek(1100)
    until(lambda: full(looking, 1100))


def test_a_reading_on_a_damaged_picture_says_so_before_the_pass_has_come_there(
    window: DeskWindow, recordings: Callable[[str], Path], tmp_path: Path
) -> None:
    """This window makes no small pictures: laying the protractor searches what the picture rests on."""
    data = bytearray(recordings("h264-stream.ts").read_bytes())
    middle = len(data) * 3 // 10
    data[middle : middle + 40] = bytes(byte ^ 0x5A for byte in data[middle : middle + 40])
    path = tmp_path / "damaged.ts"
    path.write_bytes(data)
    window.open_path(path)
    until(lambda: full(window, 0))
    window.viewing.seek(70)
    until(lambda: full(window, 70))
    window.evidence.setFocus()
    press(window, Key.Key_P)
    until(lambda: bool(window.bench.picture and window.bench.picture.suspect))
    assert window.bench.facts is not None
    assert window.bench.facts.suspect == ((70, 95),)
    for x, y in ((20, 20), (20, 30), (20, 40), (20, 50)):
        window.protractor.place(spot_at(x, y))
    assert window.protractor.reading is not None
    assert window.protractor.reading.clicks.suspect
