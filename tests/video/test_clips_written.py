"""Clips: the right pictures at the right times, heads hidden for good, and nothing else in the file.

Sources: ffprobe and ffmpeg for what is in the file; each picture of a test recording carries its number.
"""

import json
import re
import subprocess
from collections.abc import Callable, Iterator
from fractions import Fraction
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from numbered_pictures import number_in
from outside_ffmpeg import framehash, probed_pts
from PIL import Image

from reviewer.terms.clips import Laid, Scene, Sheet
from reviewer.terms.covers import Cover
from reviewer.terms.pictures import Picture
from reviewer.terms.times import FrameTime, TimeBase
from reviewer.video import VideoError, open_recording, write_clip

Clip = Callable[[str], Path]
FORMATS = (
    *("h264-long.mp4", "h264-open.ts", "h264-refresh.mp4", "h264-cut.mp4", "h264-untimed.avi"),
    *("hevc-open.mp4", "mjpeg.avi", "vp9.webm", "interlaced-h264.ts", "turned-90.mp4", "varying.mkv"),
)


def always() -> bool:
    return True


def drawn(numbers: np.ndarray) -> Picture:
    """A picture made here, rows × columns × (blue, green, red)."""
    bgra = np.dstack([numbers, np.full(numbers.shape[:2], 255)]).astype(np.uint8)
    height, width = numbers.shape[:2]
    return Picture((width, height), bgra.tobytes(), 0, FrameTime(0, TimeBase(1, 30)), "bt709", False)


def grained(size: tuple[int, int], seed: int) -> np.ndarray:
    return np.random.default_rng(seed).integers(0, 256, (size[1], size[0], 3))


def whole(
    picture: Picture, ticks: int = 1, covers: tuple[Cover, ...] = (), sheets: tuple[Sheet, ...] = ()
) -> Scene:
    return Scene((Laid(picture, covers, (0, 0), picture.size),), sheets, ticks)


def pictures_in(path: Path) -> Iterator[np.ndarray]:
    """Every picture of a clip as ffmpeg decodes it: rows × columns × (red, green, blue)."""
    width, height = probed(path)["streams"][0]["width"], probed(path)["streams"][0]["height"]
    command = ["ffmpeg", "-v", "error", "-i", str(path), "-fps_mode", "passthrough", "-pix_fmt", "rgb24"]
    raw = subprocess.run([*command, "-f", "rawvideo", "-"], capture_output=True, check=True).stdout
    yield from np.frombuffer(raw, np.uint8).reshape(-1, height, width, 3)


def probed(path: Path) -> dict:
    shown = ["-show_format", "-show_streams", "-show_packets", "-of", "json"]
    said = subprocess.run(
        ["ffprobe", "-v", "error", *shown, str(path)], capture_output=True, text=True, check=True
    )
    return json.loads(said.stdout)


@pytest.mark.parametrize("name", FORMATS)
def test_a_cut_gives_what_each_frame_gives_alone(name: str, clip: Clip) -> None:
    with open_recording(clip(name)) as one, open_recording(clip(name)) as other:
        last = len(one.facts.pts) - 1
        for first, end in ((0, 5), (last // 3, last // 2), (max(0, last - 20), last)):
            found = list(one.cut(first, end))
            alone = list(other.pictures(first, end + 1))
            assert [picture.frame for picture in found] == [picture.frame for picture in alone]
            assert [bytes(one.bgra) for one in found] == [bytes(one.bgra) for one in alone]


@pytest.mark.parametrize("name", ["h264-open.ts", "hevc-open.ts", "mpeg2.ts"])
def test_so_does_a_cut_through_what_is_damaged(name: str, clip: Clip, tmp_path: Path) -> None:
    data = bytearray(clip(name).read_bytes())
    place = len(data) * 45 // 100
    data[place : place + 900] = bytes(byte ^ 0x5A for byte in data[place : place + 900])
    spoilt = tmp_path / name
    spoilt.write_bytes(data)
    with open_recording(spoilt) as one, open_recording(spoilt) as other:
        last = len(one.facts.pts) - 1
        found, alone = list(one.cut(0, last)), list(other.pictures(0, last + 1))
    assert any(picture.suspect for picture in alone)
    assert [(one.frame, one.suspect, bytes(one.bgra)) for one in found] == [
        (one.frame, one.suspect, bytes(one.bgra)) for one in alone
    ]


def test_it_holds_the_frames_named_each_for_its_own_time(clip: Clip, tmp_path: Path) -> None:
    out = tmp_path / "cut.mp4"
    with open_recording(clip("varying.mkv")) as recording:
        pts, base = recording.facts.pts, recording.facts.time_base
        shown = (
            whole(picture, pts[picture.frame + 1] - pts[picture.frame]) for picture in recording.cut(30, 80)
        )
        count = write_clip(out, shown, recording.facts.displayed, base.denominator, always)
        numbers = [
            number_in(np.frombuffer(one.bgra, np.uint8).reshape(90, 160, 4)) for one in recording.cut(30, 80)
        ]
    assert count == 51
    assert probed_pts(out) == tuple(tick - pts[30] for tick in pts[30:81])
    packets = probed(out)["packets"]
    assert [int(one["duration"]) for one in packets] == [pts[n + 1] - pts[n] for n in range(30, 81)]
    assert all(one["pts"] == one["dts"] for one in packets)
    assert Fraction(probed(out)["streams"][0]["time_base"]) == Fraction(1, base.denominator)
    assert [number_in(one[..., ::-1]) for one in pictures_in(out)] == numbers


def test_a_picture_may_stand_still_for_as_long_as_is_said(tmp_path: Path) -> None:
    out = tmp_path / "still.mp4"
    scenes = [
        whole(drawn(grained((64, 48), seed)), ticks) for seed, ticks in ((1, 3003), (2, 303_003), (3, 3003))
    ]
    assert write_clip(out, scenes, (64, 48), 90_000, always) == 3
    found = probed(out)
    assert [one["pts"] for one in found["packets"]] == [0, 3003, 306_006]
    assert found["streams"][0]["duration_ts"] == 309_009
    assert abs(float(found["format"]["duration"]) - 309_009 / 90_000) < 1e-5


def test_the_same_scenes_give_the_same_bytes(tmp_path: Path) -> None:
    for name in ("one.mp4", "two.mp4"):
        write_clip(
            tmp_path / name, [whole(drawn(grained((64, 48), n))) for n in range(9)], (64, 48), 30, always
        )
    assert (tmp_path / "one.mp4").read_bytes() == (tmp_path / "two.mp4").read_bytes()


def test_nothing_stands_in_it_but_what_its_form_needs(tmp_path: Path) -> None:
    """By ffprobe: one stream, no sound, no date, no place, no device, no encoder's remarks."""
    out = tmp_path / "clip.mp4"
    write_clip(out, [whole(drawn(grained((64, 48), 1)))], (64, 48), 30, always)
    found = probed(out)
    (stream,) = found["streams"]
    assert (stream["codec_name"], stream["pix_fmt"], stream["profile"]) == ("h264", "yuv420p", "High")
    assert found["format"]["tags"].keys() <= {"major_brand", "minor_version", "compatible_brands"}
    assert stream["tags"].keys() <= {"language", "handler_name", "vendor_id"}
    tags = ("color_range", "color_space", "color_transfer", "color_primaries")
    assert [stream[tag] for tag in tags] == ["tv", "bt709", "bt709", "bt709"]
    assert not re.search(b"x264|Lavc|Lavf|options:", out.read_bytes())


def test_colours_come_out_as_they_went_in(tmp_path: Path) -> None:
    """Plain fields of the corners of the colour cube, within the rounding of 8 bits in limited range."""
    out, corners = (
        tmp_path / "colours.mp4",
        [(b, g, r) for b in (30, 220) for g in (30, 220) for r in (30, 220)],
    )
    scenes = [whole(drawn(np.full((48, 64, 3), corner))) for corner in corners]
    write_clip(out, scenes, (64, 48), 30, always)
    for picture, (blue, green, red) in zip(pictures_in(out), corners, strict=True):
        assert np.abs(picture.astype(int) - [red, green, blue]).max() <= 3


HEAD = Cover.of_whole(50, 40, 15, 20)


def test_what_is_under_a_cover_leaves_no_trace_in_the_file(tmp_path: Path) -> None:
    """Two recordings that differ only in the head give the same file, byte for byte."""
    rows, columns = np.mgrid[0:96, 0:128]
    head = ((columns - 50) / 15) ** 2 + ((rows - 40) / 20) ** 2 <= 1
    made = []
    for seed in (1, 2):
        scenes = []
        for n in range(12):
            pixels = grained((128, 96), 100 + n)
            pixels[head] = grained((128, 96), 1000 * seed + n)[head]
            scenes.append(whole(drawn(pixels), covers=(HEAD,)))
        write_clip(tmp_path / f"{seed}.mp4", scenes, (128, 96), 30, always)
        made.append((tmp_path / f"{seed}.mp4").read_bytes())
    assert made[0] == made[1]


def test_a_cover_is_plain_and_hides_no_more_than_two_pixels_around_it(tmp_path: Path) -> None:
    out, pixels = tmp_path / "covered.mp4", np.full((96, 128, 3), (40, 160, 220))
    write_clip(out, [whole(drawn(pixels), covers=(HEAD,))], (128, 96), 30, always)
    (shown,) = pictures_in(out)
    rows, columns = np.mgrid[0:96, 0:128]
    away = np.hypot((columns - 50) / 15, (rows - 40) / 20)
    assert np.abs(shown[away <= 0.8].astype(int) - 96).max() <= 16
    assert np.abs(shown[away <= 1].astype(int) - 96).max() <= 40  # colour is shared with those beside it
    farther = np.hypot((columns - 50) / 21, (rows - 40) / 26) > 1
    assert np.abs(shown[farther].astype(int) - [220, 160, 40]).max() <= 30  # coding rings


def test_a_cover_that_lies_partly_or_wholly_outside_is_no_fault(tmp_path: Path) -> None:
    edge, gone = Cover.of_whole(0, 0, 10, 10), Cover.of_whole(-500, 900, 10, 10)
    everything = Cover.of_whole(0, 0, 20_000, 20_000)
    scenes = [whole(drawn(grained((64, 48), 1)), covers=covers) for covers in ((edge, gone), (everything,))]
    out = tmp_path / "edge.mp4"
    write_clip(out, scenes, (64, 48), 30, always)
    *_, hidden = pictures_in(out)
    assert np.abs(hidden.astype(int) - 96).max() <= 4


def test_what_is_drawn_lies_over_covers(tmp_path: Path) -> None:
    red = np.zeros((48, 64, 4), np.uint8)
    red[20:30, :] = (255, 0, 0, 255)
    file = BytesIO()
    Image.fromarray(red).save(file, "png")
    everything = (Cover.of_whole(0, 0, 20_000, 20_000),)
    out, picture = tmp_path / "drawn.mp4", drawn(grained((64, 48), 1))
    scenes = [
        whole(picture),
        whole(picture, 1, everything, (Sheet(file.getvalue(), (0, 0)),)),
        whole(picture),
    ]
    write_clip(out, scenes, (64, 48), 30, always)
    _, under, after = pictures_in(out)
    assert np.abs(under[23:27].astype(int) - [255, 0, 0]).max() <= 12
    assert np.abs(under[:16].astype(int) - 96).max() <= 8
    assert np.abs(after[23:27].astype(int) - [255, 0, 0]).max() > 100


def test_pictures_of_odd_size_and_turned_ones_lie_whole_in_an_even_clip(clip: Clip, tmp_path: Path) -> None:
    for name, size in (("h264-odd-size.mkv", (162, 92)), ("turned-90.mp4", (90, 160))):
        with open_recording(clip(name)) as recording:
            picture = next(recording.cut(3, 3))
            laid = Laid(picture, (), (0, 0), picture.size)
            write_clip(tmp_path / f"{name}.mp4", [Scene((laid,), (), 1)], size, 30, always)
        (shown,) = pictures_in(tmp_path / f"{name}.mp4")
        assert shown.shape == (size[1], size[0], 3)
        expected = np.frombuffer(picture.bgra, np.uint8).reshape(picture.size[1], picture.size[0], 4)[
            ..., 2::-1
        ]
        inside = shown[: picture.size[1], : picture.size[0]]
        assert np.abs(inside.astype(int) - expected).mean() < 6  # colour is shared by four pixels


def test_one_that_is_stopped_says_so(tmp_path: Path) -> None:
    asked = iter([True, True, False])
    scenes = (whole(drawn(grained((64, 48), n))) for n in range(9))
    with pytest.raises(VideoError) as refused:
        write_clip(tmp_path / "stopped.mp4", scenes, (64, 48), 30, lambda: next(asked))
    assert refused.value.problems[0].code == "stopped"


def test_it_is_refused_where_it_cannot_be_written(tmp_path: Path) -> None:
    with pytest.raises(VideoError) as refused:
        write_clip(tmp_path / "nowhere" / "a.mp4", [whole(drawn(grained((64, 48), 1)))], (64, 48), 30, always)
    assert refused.value.problems[0].code == "clip-not-written"


def test_every_picture_decodes_to_the_same_hash_again(tmp_path: Path) -> None:
    for name in ("one.mp4", "two.mp4"):
        write_clip(
            tmp_path / name, [whole(drawn(grained((64, 48), n))) for n in range(70)], (64, 48), 30, always
        )
    assert framehash(tmp_path / "one.mp4") == framehash(tmp_path / "two.mp4")
