"""Small pictures of a whole recording: each the true frame, kept on disk under its content, within bounds."""

import errno
import json
import os
import resource
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest
from numbered_pictures import number_in

from reviewer.terms.pictures import Picture
from reviewer.video import Recording, SmallStore, Survey, VideoError, fingerprint, open_recording
from reviewer.video.shrinking import LONGEST, small_size
from reviewer.video.smallstore import Made

Clip = Callable[[str], Path]
LARGE = 1 << 30


def survey_of(recording: Recording, folder: Path, most: int = LARGE) -> Survey:
    return Survey(recording, SmallStore(folder, most))


def run(survey: Survey, going_on: Callable[[int, int], bool] = lambda done, total: True) -> None:
    with ThreadPoolExecutor(1) as beside:
        survey.run(going_on, beside)


@pytest.fixture
def surveyed(clip: Clip, tmp_path: Path) -> Iterator[Callable[[str], tuple[Recording, Survey]]]:
    """Asks for a recording by name, with its survey done."""
    opened: list[tuple[Recording, Survey]] = []

    def done(name: str) -> tuple[Recording, Survey]:
        recording = open_recording(clip(name))
        survey = survey_of(recording, tmp_path)
        opened.append((recording, survey))
        run(survey)
        return recording, survey

    yield done
    for recording, survey in opened:
        survey.close()
        recording.close()


def number_on(picture: Picture) -> int:
    width, height = picture.size
    return number_in(np.frombuffer(picture.bgra, np.uint8).reshape(height, width, 4))


@pytest.mark.parametrize(
    "name", ["h264-open.mp4", "hevc-open.mp4", "vp9.webm", "mjpeg.avi", "h264-stream.ts"]
)
def test_each_small_picture_is_of_its_frame(
    surveyed: Callable[[str], tuple[Recording, Survey]], name: str
) -> None:
    recording, survey = surveyed(name)
    assert survey.complete
    for frame in range(len(recording.facts.pts)):
        small = survey.picture(frame)
        assert small is not None
        assert number_on(small) == number_on(recording.picture(frame))
        assert (small.frame, small.time) == (frame, recording.facts.time(frame))
        assert small.stands_for == small.full_size == recording.facts.displayed
    beyond = survey.picture(len(recording.facts.pts))
    assert beyond is None, "asked for by who still means a longer recording"


def test_a_turned_recording_has_upright_small_pictures(
    surveyed: Callable[[str], tuple[Recording, Survey]],
) -> None:
    recording, survey = surveyed("turned-90.mp4")
    small, full = survey.picture(3), recording.picture(3)
    assert small is not None
    assert small.size == full.size
    shown = [np.frombuffer(p.bgra, np.uint8).reshape(*p.size[::-1], 4).astype(int) for p in (small, full)]
    assert np.abs(shown[0] - shown[1]).mean() < 6


@pytest.mark.parametrize(
    ("full", "small"),
    [((1920, 1080), (480, 270)), ((1080, 1920), (270, 480)), ((160, 90), (160, 90)), ((1, 1), (2, 2))],
)
def test_small_pictures_fit_a_box_and_are_never_enlarged(
    full: tuple[int, int], small: tuple[int, int]
) -> None:
    assert small_size(full) == small
    assert max(small_size((16384, 48))) == LONGEST


def test_a_second_opening_finds_them_made(clip: Clip, tmp_path: Path) -> None:
    asked: list[int] = []
    for _ in range(2):
        with open_recording(clip("h264-long.mp4")) as recording:
            survey = survey_of(recording, tmp_path)
            asked.clear()
            run(survey, lambda done, total: asked.append(done) is None)
            assert survey.complete
            assert survey.picture(200) is not None
            survey.close()
    assert set(asked) <= {0}, "the second time no frame was decoded"
    digest = fingerprint(clip("h264-long.mp4"))
    assert sorted(path.name for path in tmp_path.iterdir()) == [f"{digest}-0.jpegs", f"{digest}-0.json"]


def test_a_pass_broken_off_leaves_nothing_behind(clip: Clip, tmp_path: Path) -> None:
    with open_recording(clip("h264-long.mp4")) as recording:
        survey = survey_of(recording, tmp_path)
        run(survey, lambda done, total: done < 100)
        assert not survey.complete
        assert survey.picture(50) is not None, "those made so far can be used"
        assert survey.picture(200) is None
        survey.close()
    assert list(tmp_path.iterdir()) == []


def test_the_set_used_longest_ago_makes_room(clip: Clip, tmp_path: Path) -> None:
    names = ("h264-open.mp4", "h264-long.mp4")
    for age, name in enumerate(names):
        with open_recording(clip(name)) as recording:
            survey = survey_of(recording, tmp_path, most=1)
            run(survey)
            assert survey.picture(0) is not None
            survey.close()
        for path in tmp_path.glob("*.json"):
            os.utime(path, (age, age))
    kept = {path.stem for path in tmp_path.iterdir()}
    assert kept == {f"{fingerprint(clip(names[-1]))}-0"}


def test_several_passes_make_room_at_once(tmp_path: Path) -> None:
    """Each finds files of others that are renamed or removed before it has looked at them."""
    store = SmallStore(tmp_path, most=2000)

    def kept(number: int) -> bool:
        key = f"{number:064x}-0"
        part = store.begin(key)
        part.write_bytes(bytes(500))
        made = store.finish(key, part, Made(part, ((0, 500),), 1, (), False))
        return made.data.name == f"{key}.jpegs"

    with ThreadPoolExecutor(8) as passes:
        assert all(passes.map(kept, range(400)))
    assert len(list(tmp_path.glob("*.json"))) <= 4 + 8  # each of the eight keeps its own


def test_the_sets_are_the_same_by_one_thread_and_by_several(clip: Clip, tmp_path: Path) -> None:
    made = []
    for threads in (0, 1):
        with open_recording(clip("h264-open.mp4")) as recording:
            survey = Survey(recording, SmallStore(tmp_path / str(threads), LARGE), threads)
            run(survey)
            assert survey.complete
            survey.close()
        made.append(sorted(path.read_bytes() for path in (tmp_path / str(threads)).iterdir()))
    assert made[0] == made[1]


def test_what_a_lost_process_left_is_swept_away(clip: Clip, tmp_path: Path) -> None:
    left, own = tmp_path / f"{'0' * 64}-0.999999999.part", tmp_path / f"{'1' * 64}-0.{os.getpid()}.part"
    for path in (left, own):
        path.write_bytes(b"half a picture")
    with open_recording(clip("h264-open.mp4")) as recording:
        survey = survey_of(recording, tmp_path)
        run(survey)
        survey.close()
    assert not left.exists()
    assert own.exists(), "another pass of this process may still be writing"


@pytest.mark.parametrize("spoilt", ["{", '{"format": "another/1"}', "[]", ""])
def test_a_spoilt_list_is_made_anew(clip: Clip, tmp_path: Path, spoilt: str) -> None:
    listed = tmp_path / f"{fingerprint(clip('h264-open.mp4'))}-0.json"
    listed.write_text(spoilt)
    with open_recording(clip("h264-open.mp4")) as recording:
        survey = survey_of(recording, tmp_path)
        run(survey)
        assert survey.complete
        survey.close()
    assert json.loads(listed.read_text())["format"] == "reviewer.small-pictures/1"


def test_a_full_disk_stops_the_pass_and_nothing_else(clip: Clip, tmp_path: Path) -> None:
    """The system refuses a file beyond a size; a full disk answers at the same call."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    with open_recording(clip("h264-long.mp4")) as recording:
        survey = survey_of(recording, tmp_path)
        resource.setrlimit(resource.RLIMIT_FSIZE, (100_000, before[1]))
        try:
            with pytest.raises(VideoError, match="cannot be kept") as caught:
                run(survey)
        finally:
            resource.setrlimit(resource.RLIMIT_FSIZE, before)
        assert os.strerror(errno.EFBIG) in str(caught.value.problems[0].message)
        assert str(caught.value.problems[0].remedy)
        assert recording.picture(200).frame == 200
        survey.close()
    assert list(tmp_path.iterdir()) == []


def test_a_place_that_cannot_be_written_is_said(clip: Clip, tmp_path: Path) -> None:
    blocked = tmp_path / "a file"
    blocked.touch()
    with open_recording(clip("h264-open.mp4")) as recording:
        survey = survey_of(recording, blocked)
        with pytest.raises(VideoError, match="cannot be kept"):
            run(survey)
        survey.close()


def test_the_pass_finds_what_is_damaged(clip: Clip, tmp_path: Path) -> None:
    whole = bytearray(clip("h264-stream.ts").read_bytes())
    middle = len(whole) * 3 // 10
    whole[middle : middle + 40] = bytes(byte ^ 0x5A for byte in whole[middle : middle + 40])
    path = tmp_path / "damaged.ts"
    path.write_bytes(whole)
    with open_recording(path) as recording:
        list(recording.hashes())
        expected = recording.facts.suspect
    assert expected
    for _ in ("made", "found again"):
        with open_recording(path) as recording:
            survey = survey_of(recording, tmp_path / "store")
            run(survey)
            assert recording.facts.suspect == expected
            first = expected[0][0]
            small = survey.picture(first)
            assert small is not None
            assert small.suspect
            survey.close()
