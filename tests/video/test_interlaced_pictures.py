"""An interlaced frame holds two moments: the first is shown, whole and alone."""

import random
import subprocess
from pathlib import Path

import av
import numpy as np
import pytest
from av.video.frame import VideoFrame
from numpy.typing import NDArray

from reviewer.video.colour import converter, treatment_of
from reviewer.video.deinterlacing import filled, is_interlaced
from reviewer.video.orientation import Orientation

MOMENTS = "testsrc2=s=160x96:r=50:d=0.4"
FORMATS = ("yuv420p", "yuv422p10le", "yuv444p")
KEPT = {"tff": 0, "bff": 1}


def stored(path: Path, source: str, *options: str) -> list[VideoFrame]:
    """What FFmpeg stored, kept exactly."""
    command = ["ffmpeg", "-v", "error", "-y", "-f", "lavfi", "-i", source, *options, str(path)]
    subprocess.run(command, check=True)
    with av.open(str(path)) as container:
        return list(container.decode(video=0))


def displayed(frame: VideoFrame) -> NDArray[np.uint8]:
    return converter((frame.width, frame.height), Orientation()).pixels(frame).copy()


@pytest.mark.parametrize("order", KEPT)
@pytest.mark.parametrize("form", FORMATS)
def test_the_first_moments_lines_are_shown_untouched(tmp_path: Path, form: str, order: str) -> None:
    """FFmpeg weaves 50 moments a second into 25 frames; its own moments are what must be seen."""
    source = f"{MOMENTS},format={form}"
    moments = stored(tmp_path / "moments.mkv", source, "-c:v", "ffv1")
    weave = ("-vf", f"interlace=scan={order}:lowpass=off", "-c:v", "ffv1", "-flags", "+ildct")
    frames = stored(tmp_path / "woven.mkv", source, *weave)
    kept = KEPT[order]
    for number, frame in enumerate(frames):
        assert is_interlaced(frame)
        luma = filled(np.frombuffer(memoryview(frame.planes[0]), np.uint8).reshape(96, -1), kept)
        moment = np.frombuffer(memoryview(moments[2 * number].planes[0]), np.uint8).reshape(96, -1)
        assert (luma[kept::2] == moment[kept::2]).all()
        if form == "yuv444p":
            assert (displayed(frame)[kept::2] == displayed(moments[2 * number])[kept::2]).all()


@pytest.mark.parametrize("order", KEPT)
def test_what_moved_between_the_moments_is_seen_once(tmp_path: Path, order: str) -> None:
    """A white bar, 6 pixels further at each moment: a woven picture shows it twice, line by line."""
    bar = "nullsrc=s=128x64:r=50:d=0.2,format=yuv420p,geq=lum='if(between(X-6*N,10,19),235,16)':cb=128:cr=128"
    weave = (
        "-vf",
        f"interlace=scan={order}:lowpass=off",
        "-c:v",
        "mpeg2video",
        "-q:v",
        "1",
        "-flags",
        "+ildct+ilme",
    )
    frames = stored(tmp_path / "bar.ts", bar, *weave, "-top", str(1 - KEPT[order]))
    shown = displayed(frames[2]).astype(int)[..., 1]
    width = (shown > 128).sum(axis=1)
    assert set(width.tolist()) <= {9, 10, 11}
    middle = [np.flatnonzero(row > 128).mean() for row in shown]
    assert np.ptp(middle) <= 1
    assert abs(np.mean(middle) - (14.5 + 6 * 4)) <= 1


def test_a_line_between_is_the_mean_of_its_neighbours_and_an_edge_repeats() -> None:
    lines = np.array([[10], [200], [13], [200], [20]], np.uint8)
    assert filled(lines, 0)[:, 0].tolist() == [10, 12, 13, 17, 20]
    assert filled(lines[:4], 0)[:, 0].tolist() == [10, 12, 13, 13]
    assert filled(lines, 1)[:, 0].tolist() == [200, 200, 200, 200, 200]
    assert filled(lines[:1], 1)[:, 0].tolist() == [10]
    assert filled(np.array([[65535], [0], [65534]], np.uint16), 0)[:, 0].tolist() == [65535, 65535, 65534]


@pytest.mark.parametrize("form", ["gbrp10le", "bgr0"])
def test_red_green_blue_is_treated_alike(tmp_path: Path, form: str) -> None:
    plain = displayed(stored(tmp_path / "plain.mkv", MOMENTS, "-vf", f"format={form}", "-c:v", "ffv1")[3])
    mark = ("-vf", f"format={form},setfield=tff", "-c:v", "ffv1", "-flags", "+ildct")
    marked = stored(tmp_path / "marked.mkv", MOMENTS, *mark)
    assert marked[3].format.name == form
    assert is_interlaced(marked[3])
    assert np.abs(displayed(marked[3]).astype(int) - filled(plain, 0)).max() <= 1
    assert not (displayed(marked[3]) == plain).all()


def test_the_picture_rests_on_its_frame_alone(tmp_path: Path) -> None:
    """Any order, any number of times, another converter: the same bytes."""
    frames = stored(
        tmp_path / "woven.mkv", MOMENTS, "-vf", "interlace", "-pix_fmt", "yuv420p", "-c:v", "ffv1"
    )
    alone = [displayed(frame).tobytes() for frame in frames]
    one = converter((160, 96), Orientation())
    for number in random.Random(3).choices(range(len(frames)), k=40):
        assert one.pixels(frames[number]).tobytes() == alone[number]


def test_progressive_frames_between_interlaced_ones_are_left_alone(tmp_path: Path) -> None:
    """The frame's own mark counts: two MPEG-2 streams by FFmpeg, one of each kind, end to end."""
    coded = ("-pix_fmt", "yuv420p", "-c:v", "mpeg2video", "-q:v", "2")
    stored(tmp_path / "progressive.m2v", MOMENTS, *coded)
    stored(tmp_path / "woven.m2v", MOMENTS, "-vf", "interlace", *coded, "-flags", "+ildct+ilme", "-top", "1")
    both = tmp_path / "both.m2v"
    both.write_bytes((tmp_path / "progressive.m2v").read_bytes() + (tmp_path / "woven.m2v").read_bytes())
    with av.open(str(both)) as container:
        frames = list(container.decode(video=0))
    assert {is_interlaced(frame) for frame in frames} == {True, False}
    for frame in frames:
        said = ("first of two interlaced moments, lines between filled in",) if is_interlaced(frame) else ()
        assert treatment_of(frame) == said
        whole = VideoFrame(160, 96, "yuv420p")
        for plane, source in zip(whole.planes, frame.planes, strict=True):
            lines = np.frombuffer(memoryview(source), np.uint8).reshape(-1, source.line_size)
            room = np.zeros((plane.height, plane.line_size), np.uint8)
            room[:, : plane.width] = lines[: plane.height, : plane.width]
            plane.update(room.tobytes())
        assert (displayed(frame) == displayed(whole)).all() != is_interlaced(frame)


def test_converting_leaves_the_stored_frame_as_it_was(tmp_path: Path) -> None:
    """The native hash is that of what the file holds."""
    frames = stored(
        tmp_path / "woven.mkv", MOMENTS, "-vf", "interlace", "-pix_fmt", "yuv420p", "-c:v", "ffv1"
    )
    before = [bytes(plane) for plane in frames[1].planes]
    tags = frames[1].colorspace, frames[1].color_range, frames[1].color_trc
    displayed(frames[1])
    assert [bytes(plane) for plane in frames[1].planes] == before
    assert (frames[1].colorspace, frames[1].color_range, frames[1].color_trc) == tags
