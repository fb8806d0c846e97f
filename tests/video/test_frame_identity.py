"""A frame is the same frame however it is asked for. Source: FFmpeg's framehash, rotation off."""

import random
from collections.abc import Callable
from pathlib import Path

import pytest
from outside_ffmpeg import framehash

from reviewer.video import VideoError, open_recording

Clip = Callable[[str], Path]
SAMPLES = sorted((Path(__file__).parents[2] / "sample_clips").glob("*.mp4"))


def test_times_of_packets_are_used_where_there_are_any(clip: Clip) -> None:
    with open_recording(clip("h264-open.mp4")) as recording:
        assert recording.facts.counted_by == "index"


def test_where_the_file_stores_no_times_frames_are_counted_by_decoding(clip: Clip) -> None:
    with open_recording(clip("h264-untimed.avi")) as recording:
        assert recording.facts.counted_by == "decoding"
        assert len(recording.facts.pts) == 240
        assert list(recording.facts.pts) == sorted(set(recording.facts.pts))


@pytest.mark.parametrize("name", ["h264-open.mp4", "hevc-open.ts", "h264-long.mkv", "h264-untimed.avi"])
def test_stepping_back_shows_the_same_pictures_as_stepping_forward(clip: Clip, name: str) -> None:
    with open_recording(clip(name)) as forward, open_recording(clip(name)) as back:
        backward = [back.picture(n) for n in range(239, 100, -1)]
        assert backward[::-1] == [forward.picture(n) for n in range(101, 240)]


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.name)
def test_sample_clips_give_the_pictures_ffmpeg_gives(path: Path) -> None:
    expected = framehash(path)
    with open_recording(path) as recording:
        assert len(recording.facts.pts) == len(expected)
        order = random.Random(11).sample(range(len(expected)), 12)
        assert [recording.picture_hash(n) for n in order] == [expected[n] for n in order]


@pytest.mark.parametrize("frame", [-1, 240, 10**9])
def test_a_frame_out_of_range_is_refused_with_the_range(clip: Clip, frame: int) -> None:
    with open_recording(clip("h264-long.mp4")) as recording:
        for ask in (recording.picture, recording.picture_hash, recording.evidence):
            with pytest.raises(VideoError, match="0 to 239") as caught:
                ask(frame)
            assert caught.value.problems[0].code == "frame-out-of-range"
