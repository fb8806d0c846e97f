"""Every frame is the one stock FFmpeg gives, whichever way it is reached.

Source of the expected hashes: FFmpeg's framehash muxer, rotation off; of the expected times: ffprobe.
"""

import random
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from reviewer.video import VideoError, open_recording, picture_hashes

Clip = Callable[[str], Path]
SAMPLES = sorted((Path(__file__).parents[2] / "sample_clips").glob("*.mp4"))
HARD = (
    "long.mp4", "open.mp4", "edit.mp4", "open-edit.mp4", "open.ts", "varying.mkv", "hidden.webm",
    "untimed.avi", "refresh.mp4", "deep.mp4", "turned.mp4",
)  # fmt: skip


def framehash(path: Path, *before: str) -> tuple[str, ...]:
    command = ["ffmpeg", "-v", "error", *before, "-noautorotate", "-i", str(path), "-map", "0:v:0"]
    command += ["-fps_mode", "passthrough", "-f", "framehash", "-hash", "sha256", "-"]
    said = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    return tuple(line.split(",")[-1].strip() for line in said.splitlines() if not line.startswith("#"))


def probed_pts(path: Path) -> tuple[int, ...]:
    command = [
        "ffprobe",
        "-v",
        "error",
        "-select_streams",
        "v:0",
        "-show_entries",
        "frame=pts",
        "-of",
        "csv=p=0",
    ]
    said = subprocess.run([*command, str(path)], capture_output=True, text=True, check=True).stdout
    return tuple(int(line.rstrip(",")) for line in said.split())


@pytest.mark.parametrize("name", HARD)
def test_every_picture_is_the_one_ffmpeg_hashes(clip: Clip, name: str) -> None:
    assert picture_hashes(clip(name)) == framehash(clip(name))


@pytest.mark.parametrize("name", HARD)
def test_random_order_gives_what_sequential_order_gives(clip: Clip, name: str) -> None:
    expected = framehash(clip(name))
    order = random.Random(7).choices(range(len(expected)), k=40)
    with open_recording(clip(name)) as recording:
        assert [recording.picture_hash(n) for n in order] == [expected[n] for n in order]


@pytest.mark.parametrize("name", [name for name in HARD if name != "untimed.avi"])
def test_frame_times_are_those_of_ffprobe(clip: Clip, name: str) -> None:
    with open_recording(clip(name)) as recording:
        assert recording.facts.pts == probed_pts(clip(name))
        assert recording.facts.counted_by == "index"


def test_where_the_file_stores_no_times_frames_are_counted_by_decoding(clip: Clip) -> None:
    with open_recording(clip("untimed.avi")) as recording:
        assert recording.facts.counted_by == "decoding"
        assert len(recording.facts.pts) == 90
        assert list(recording.facts.pts) == sorted(set(recording.facts.pts))


@pytest.mark.parametrize("name", ["open.mp4", "edit.mp4", "open.ts", "varying.mkv", "untimed.avi"])
def test_playing_shows_the_same_pictures_as_stepping(clip: Clip, name: str) -> None:
    with open_recording(clip(name)) as recording:
        played = list(recording.pictures(15, 42))
        assert [picture.frame for picture in played] == list(range(15, 42))
        assert played == [recording.picture(n) for n in range(15, 42)]


def test_stepping_back_shows_the_same_pictures_as_stepping_forward(clip: Clip) -> None:
    with open_recording(clip("open.mp4")) as forward, open_recording(clip("open.mp4")) as back:
        backward = [back.picture(n) for n in range(89, -1, -1)]
        assert backward[::-1] == [forward.picture(n) for n in range(90)]


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.name)
def test_sample_clips_give_the_pictures_ffmpeg_gives(path: Path) -> None:
    expected = framehash(path)
    with open_recording(path) as recording:
        assert len(recording.facts.pts) == len(expected)
        order = random.Random(11).sample(range(len(expected)), 12)
        assert [recording.picture_hash(n) for n in order] == [expected[n] for n in order]


@pytest.mark.parametrize("frame", [-1, 90, 10**9])
def test_a_frame_out_of_range_is_refused_with_the_range(clip: Clip, frame: int) -> None:
    with open_recording(clip("long.mp4")) as recording:
        for ask in (recording.picture, recording.picture_hash, lambda n: list(recording.pictures(n, n + 1))):
            with pytest.raises(VideoError, match="0 to 89") as caught:
                ask(frame)
            assert caught.value.problems[0].code == "frame-out-of-range"


def test_a_damaged_stretch_is_marked_and_decodes_as_one_thread_decodes_it(clip: Clip, tmp_path: Path) -> None:
    whole = bytearray(clip("long.mp4").read_bytes())
    middle = len(whole) // 3
    whole[middle : middle + 40] = bytes(byte ^ 0x5A for byte in whole[middle : middle + 40])
    path = tmp_path / "damaged.mp4"
    path.write_bytes(whole)
    sound, found = framehash(clip("long.mp4")), picture_hashes(path)
    assert found == framehash(path, "-threads", "1")
    with open_recording(path) as recording:
        differing = [n for n in range(90) if recording.picture_hash(n) != sound[n]]
        assert differing
        ((first, last),) = recording.facts.suspect
        assert last == 59, "the group of pictures ends before the key frame 60"
        assert recording.picture(first).suspect
        assert not recording.picture(60).suspect


def test_a_torn_end_loses_only_what_no_decoder_gives(clip: Clip, tmp_path: Path) -> None:
    """Source: FFmpeg's framehash on one thread, which lists only the pictures it can decode."""
    front = tmp_path / "front.mp4"
    command = ["ffmpeg", "-v", "error", "-i", str(clip("long.mp4")), "-c", "copy", "-movflags", "faststart"]
    subprocess.run([*command, str(front)], check=True)
    torn = tmp_path / "torn.mp4"
    torn.write_bytes(front.read_bytes()[: front.stat().st_size * 2 // 3])
    with open_recording(torn) as recording:
        found = list(recording.hashes())
        assert tuple(filter(None, found)) == framehash(torn, "-threads", "1")
        assert [n for n, digest in enumerate(found) if not digest] == list(recording.facts.missing)
        for frame in recording.facts.missing:
            with pytest.raises(VideoError, match="damaged"):
                recording.picture(frame)
