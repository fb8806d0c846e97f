"""A recording that grows, vanishes or turns into another while it is open shows no picture of the other."""

import os
import random
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest
from outside_ffmpeg import framehash

from reviewer.video import Recording, VideoError, open_recording

Clip = Callable[[str], Path]
GONE = {"recording-changed", "recording-missing", "frame-missing", "recording-unreadable"}


def answers(recording: Recording, order: list[int]) -> list[tuple[int, str]]:
    """Each frame asked for with its hash, or with the code of the problem it met."""
    found = []
    for n in order:
        try:
            found.append((n, recording.picture_hash(n)))
        except VideoError as fault:
            found.append((n, fault.problems[0].code))
    return found


@pytest.mark.parametrize("name", ["h264-stream.ts", "mpeg2.ts", "h264-open.mkv", "h264-fragments.mp4"])
def test_a_file_still_being_written_keeps_the_frames_it_had(clip: Clip, tmp_path: Path, name: str) -> None:
    """Source: framehash of the whole file; the last pictures of the part may differ, cut off as they are."""
    whole, path = clip(name).read_bytes(), tmp_path / name
    sound = framehash(clip(name))
    path.write_bytes(whole[: len(whole) * 6 // 10])
    with open_recording(path) as recording:
        count = len(recording.facts.pts)
        assert 100 < count < len(sound)
        with path.open("ab") as file:
            file.write(whole[len(whole) * 6 // 10 :])
        order = random.Random(5).sample(range(count - 8), k=count - 8)
        assert answers(recording, order) == [(n, sound[n]) for n in order]
        assert [picture.frame for picture in recording.pictures(60, 80)] == list(range(60, 80))
        assert len(recording.facts.pts) == count
    with open_recording(path) as again:
        assert len(again.facts.pts) == len(sound)


@pytest.mark.skipif(os.name == "nt", reason="an open file cannot be removed there")
@pytest.mark.parametrize("name", ["h264-open.mp4", "h264-stream.ts", "h264-untimed.avi", "mjpeg.avi"])
def test_a_file_that_vanishes_gives_its_own_pictures_or_says_so(
    clip: Clip, tmp_path: Path, name: str
) -> None:
    path = tmp_path / name
    shutil.copy(clip(name), path)
    sound = framehash(clip(name))
    with open_recording(path) as recording:
        first = recording.picture_hash(100)
        path.unlink()
        order = random.Random(6).sample(range(240), k=240)
        for n, answer in answers(recording, order):
            assert answer == sound[n] or answer in GONE
        assert first == sound[100]


@pytest.mark.parametrize("fresh", [True, False], ids=["put in its place", "written over"])
@pytest.mark.parametrize(
    ("name", "other"),
    [
        ("h264-open.mp4", "h264-long.mp4"),
        ("h264-open.mp4", "streams.mp4"),
        ("h264-stream.ts", "mpeg2.ts"),
        ("h264-stream.ts", "h264-long.ts"),
        ("h264-open.mkv", "h264-long.mkv"),
        ("h264-untimed.avi", "h264-open-untimed.avi"),
        ("mjpeg.avi", "mpeg4.avi"),
    ],
)
def test_a_file_that_turns_into_another_never_shows_the_others_pictures(
    clip: Clip, tmp_path: Path, name: str, other: str, fresh: bool
) -> None:
    path = tmp_path / name
    shutil.copy(clip(name), path)
    sound, foreign = framehash(clip(name)), set(framehash(clip(other)))
    foreign -= set(sound)
    with open_recording(path) as recording:
        recording.picture_hash(3)
        replace(path, clip(other), fresh)
        order = random.Random(8).sample(range(240), k=60)
        found = answers(recording, order)
    for n, answer in found:
        assert answer not in foreign, "a picture of the other file"
        assert answer == sound[n] or answer in GONE


@pytest.mark.parametrize("name", ["h264-open.mp4", "h264-stream.ts", "h264-untimed.avi"])
def test_a_file_written_over_is_said_to_have_changed(clip: Clip, tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    shutil.copy(clip(name), path)
    with open_recording(path) as recording:
        replace(path, clip("mpeg2.mpg"), fresh=False)
        codes = {answer for _, answer in answers(recording, list(range(239, 0, -7))) if "-" in answer}
        assert codes == {"recording-changed"}
        with pytest.raises(VideoError) as caught:
            list(recording.pictures(150, 190))
        assert caught.value.problems[0].code == "recording-changed"
        assert str(caught.value.problems[0].remedy)


def test_another_recording_of_the_same_shape_is_noticed(clip: Clip, tmp_path: Path) -> None:
    """DV stores every picture in as many bytes as any other: only the bytes tell one file from the other."""
    path, other = tmp_path / "plain.avi", tmp_path / "mirrored.avi"
    for made, turning in ((path, "null"), (other, "hflip")):
        command = ["ffmpeg", "-v", "error", "-i", str(clip("dv.avi")), "-vf", turning, "-c:v", "dvvideo"]
        subprocess.run([*command, str(made)], check=True)
    assert path.stat().st_size == other.stat().st_size
    foreign = set(framehash(other))
    with open_recording(path) as recording:
        recording.picture_hash(2)
        replace(path, other, fresh=False)
        found = answers(recording, list(range(39, 0, -1)))
    assert [n for n, answer in found if answer in foreign] == []


def replace(path: Path, other: Path, fresh: bool) -> None:
    """Another file under the same name: a new one, or the old one written over in place."""
    if fresh:
        beside = path.with_name("beside")
        shutil.copy(other, beside)
        beside.replace(path)
    else:
        path.write_bytes(other.read_bytes())
