"""Frames chosen for a report come out as when each is asked for alone, also of damaged recordings.

Sources: FFmpeg's framehash for the stored pictures; the careful way, which examines each group by itself.
"""

from collections.abc import Callable
from pathlib import Path

import pytest
from outside_ffmpeg import framehash

from reviewer.video import VideoError, open_recording

Clip = Callable[[str], Path]
WHOLE = (
    "h264-long.mp4",
    "h264-open.mp4",
    "h264-open.ts",
    "h264-refresh.mp4",
    "h264-cut.mp4",
    "h264-untimed.avi",
    "front-lost.ts",
    "hevc-open.mp4",
    "mpeg2.ts",
    "mjpeg.avi",
    "vp9.webm",
    "interlaced-h264.ts",
)
BY_TENTHS = range(10)


def frames_of(path: Path) -> list[int]:
    """The first, the last, and some between; of those that can be read."""
    with open_recording(path) as recording:
        count = len(recording.facts.pts)
        listed = sorted({0, count - 1, *(tenth * count // 10 for tenth in BY_TENTHS)})
        return [frame for frame in listed if readable(path, frame)]


def readable(path: Path, frame: int) -> bool:
    with open_recording(path) as recording:
        try:
            recording.evidence(frame)
        except VideoError:
            return False
        return True


def compare(path: Path) -> None:
    frames = frames_of(path)
    with open_recording(path) as one, open_recording(path) as other:
        found = list(one.chosen(frames))
        assert [picture.frame for picture, _ in found] == frames
        for picture, digest in found:
            alone = other.evidence(picture.frame)
            assert bytes(picture.bgra) == bytes(alone.bgra)
            assert (picture.time, picture.suspect, picture.treatment) == (
                alone.time, alone.suspect, alone.treatment,
            )  # fmt: skip
            assert digest == other.picture_hash(picture.frame)


@pytest.mark.parametrize("name", WHOLE)
def test_chosen_frames_are_those_that_are_asked_for_alone(name: str, clip: Clip) -> None:
    compare(clip(name))


@pytest.mark.parametrize("name", ["h264-long.mp4", "h264-open.ts", "mjpeg.avi", "hevc-open.ts"])
def test_so_are_those_of_a_damaged_recording(name: str, clip: Clip, tmp_path: Path) -> None:
    data = bytearray(clip(name).read_bytes())
    place = len(data) * 45 // 100
    data[place : place + 60] = bytes(byte ^ 0x5A for byte in data[place : place + 60])
    spoilt = tmp_path / name
    spoilt.write_bytes(data)
    compare(spoilt)


def test_their_fingerprints_are_those_of_ffmpeg(clip: Clip) -> None:
    path = clip("h264-open.mp4")
    outside = framehash(path)
    with open_recording(path) as recording:
        assert [digest for _, digest in recording.chosen([40, 3, 40, 61])] == [
            outside[3], outside[40], outside[61],
        ]  # fmt: skip


def test_a_frame_that_there_is_not_is_refused_before_any_is_decoded(clip: Clip) -> None:
    with open_recording(clip("h264-open.mp4")) as recording, pytest.raises(VideoError):
        next(recording.chosen([0, 100_000]))
