"""What a judge sees: upright, square pixels, the right colours, and the same bytes each time."""

import struct
import subprocess
from collections.abc import Callable
from pathlib import Path
from threading import Thread

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray

from reviewer.terms.pictures import Picture
from reviewer.video import jpeg, open_recording, png
from reviewer.video.orientation import Orientation

Clip = Callable[[str], Path]
Pixels = NDArray[np.int16]


def shown(picture: Picture) -> Pixels:
    width, height = picture.size
    return np.frombuffer(picture.bgra, np.uint8).reshape(height, width, 4).astype(np.int16)


def frame_by_ffmpeg(path: Path, size: tuple[int, int]) -> Pixels:
    """Frame 0 turned upright by FFmpeg itself."""
    command = ["ffmpeg", "-v", "error", "-i", str(path)]
    command += ["-frames:v", "1", "-f", "rawvideo", "-pix_fmt", "bgr24", "-"]
    raw = subprocess.run(command, capture_output=True, check=True).stdout
    return np.frombuffer(raw, np.uint8).reshape(size[1], size[0], 3).astype(np.int16)


def solid(folder: Path, colour: tuple[int, int, int], size: str, *tags: str) -> Path:
    """A clip of one stored colour (Y, Cb, Cr), kept exactly."""
    y, cb, cr = colour
    path = folder / "solid.mkv"
    source = f"color=s={size}:d=0.1:r=30,format=yuv444p,geq=lum={y}:cb={cb}:cr={cr}"
    command = ["ffmpeg", "-v", "error", "-y", "-f", "lavfi", "-i", source, "-c:v", "ffv1", *tags, str(path)]
    subprocess.run(command, check=True)
    return path


def blue_green_red(colour: tuple[int, int, int], kr: float, kb: float) -> list[float]:
    """Limited-range Y, Cb, Cr to full-range B, G, R (ITU-R BT.709-6, items 3.2 to 3.5, inverted)."""
    y, cb, cr = (colour[0] - 16) / 219, (colour[1] - 128) / 224, (colour[2] - 128) / 224
    red, blue = y + 2 * (1 - kr) * cr, y + 2 * (1 - kb) * cb
    green = (y - kr * red - kb * blue) / (1 - kr - kb)
    return [min(max(255 * part, 0), 255) for part in (blue, green, red)]


BT709, BT601 = (0.2126, 0.0722), (0.299, 0.114)
# White, black and five of the 75 % bars, as limited-range Y, Cb, Cr (from memory; any colour would do).
BARS = [
    (235, 128, 128), (16, 128, 128), (168, 44, 136), (145, 147, 44), (133, 63, 52),
    (63, 193, 204), (51, 109, 212),
]  # fmt: skip
SIZES = [("64x720", "bt709", BT709), ("64x718", "bt601", BT601)]


@pytest.mark.parametrize("colour", BARS)
def test_bt709_colours_follow_the_recommendation(tmp_path: Path, colour: tuple[int, int, int]) -> None:
    path = solid(tmp_path, colour, "64x48", "-colorspace", "bt709", "-color_range", "tv")
    with open_recording(path) as recording:
        picture = recording.picture(0)
    assert picture.matrix == "bt709"
    assert np.abs(shown(picture)[..., :3] - blue_green_red(colour, *BT709)).max() <= 1.5


@pytest.mark.parametrize(("size", "name", "weights"), SIZES)
def test_untagged_pictures_are_taken_by_their_height(
    tmp_path: Path, size: str, name: str, weights: tuple[float, float]
) -> None:
    """BT.709 from 720 rows, BT.601 (ITU-R BT.601-7, 2.5.1) below: common practice, no source."""
    with open_recording(solid(tmp_path, (133, 63, 52), size)) as recording:
        picture = recording.picture(0)
    assert picture.matrix == name
    assert np.abs(shown(picture)[5, 5, :3] - blue_green_red((133, 63, 52), *weights)).max() <= 1.5


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
def test_a_turned_recording_is_shown_upright(clip: Clip, tmp_path: Path, turn: int) -> None:
    """Source: FFmpeg's own turning by the display matrix."""
    path = tmp_path / "turned.mp4"
    command = ["ffmpeg", "-v", "error", "-i", str(clip("long.mp4"))]
    command += ["-c", "copy", "-metadata:s:v", f"rotate={turn}"]
    subprocess.run([*command, str(path)], check=True)
    with open_recording(path) as recording:
        picture, facts = recording.picture(0), recording.facts
    assert facts.coded == (160, 90)
    assert facts.displayed == picture.size == ((160, 90) if turn in (0, 180) else (90, 160))
    found, expected = shown(picture)[..., :3], frame_by_ffmpeg(path, picture.size)
    assert np.abs(found - expected).mean() < 8, "FFmpeg's own command spreads colour more coarsely"
    assert np.abs(found[::-1, ::-1] - expected).mean() > 40
    assert np.abs(found[:, ::-1] - expected).mean() > 40


# Where the stored picture's axes point: a, b (x axis) and c, d (y axis) of ISO/IEC 14496-12, 8.3.2.
MATRICES = (
    (1, 0, 0, 1), (-1, 0, 0, 1), (1, 0, 0, -1), (-1, 0, 0, -1),
    (0, 1, -1, 0), (0, -1, 1, 0), (0, 1, 1, 0), (0, -1, -1, 0),
)  # fmt: skip


def with_matrix(source: Path, path: Path, matrix: tuple[int, int, int, int]) -> None:
    """The same file with another matrix in its track header: 40 bytes on, 16.16 (ISO/IEC 14496-12, 8.3.2)."""
    data = bytearray(source.read_bytes())
    place = data.index(b"tkhd") + 4 + 40
    a, b, c, d = (65536 * number for number in matrix)
    data[place : place + 36] = struct.pack(">9i", a, b, 0, c, d, 0, 0, 0, 1 << 30)
    path.write_bytes(data)


@pytest.mark.parametrize("matrix", MATRICES)
def test_all_eight_orientations_are_shown_as_ffmpeg_shows_them(
    clip: Clip, tmp_path: Path, matrix: tuple[int, int, int, int]
) -> None:
    """Source: FFmpeg's own turning and mirroring by the display matrix."""
    path = tmp_path / "turned.mp4"
    with_matrix(clip("long.mp4"), path, matrix)
    with open_recording(path) as recording:
        picture, facts = recording.picture(0), recording.facts
    assert facts.displayed == picture.size == ((160, 90) if matrix[0] else (90, 160))
    found, expected = shown(picture)[..., :3], frame_by_ffmpeg(path, picture.size)
    apart = np.abs(found - expected).mean()
    assert apart < 8, "FFmpeg's own command is off by up to 3"
    for flipped in (found[::-1], found[:, ::-1], found[::-1, ::-1]):
        assert np.abs(flipped - expected).mean() > 5 * apart
    mirrored = matrix[0] * matrix[3] - matrix[1] * matrix[2] < 0
    assert facts.rotation in ((0, 180) if matrix[0] else (90, 270))
    native = recording_of(clip("long.mp4"))
    upright = native[:, ::-1] if mirrored else native
    assert (np.rot90(upright, -facts.rotation // 90) == found).all(), "mirrored first, then turned clockwise"


def recording_of(path: Path) -> Pixels:
    with open_recording(path) as recording:
        return shown(recording.picture(0))[..., :3]


def test_a_quarter_turn_clockwise_is_named_so() -> None:
    """The display matrix (0, 1; -1, 0) sends the stored x axis down (ISO/IEC 14496-12, 8.2.2)."""
    stored = np.arange(6, dtype=np.uint8).reshape(2, 3, 1)
    quarter = Orientation((0, 1), (-1, 0))
    assert quarter.rotation == 90
    assert quarter.shown(stored)[..., 0].tolist() == [[3, 0], [4, 1], [5, 2]]
    mirrored = Orientation((-1, 0), (0, 1))
    assert mirrored.rotation == 0
    assert mirrored.shown(stored)[..., 0].tolist() == [[2, 1, 0], [5, 4, 3]]


def test_pixels_that_are_not_square_are_made_square(clip: Clip) -> None:
    with open_recording(clip("wide-pixels.mp4")) as recording:
        assert recording.facts.pixel_aspect == "4/3"
        assert recording.facts.displayed == recording.picture(0).size == (213, 90)


def test_a_png_reads_back_pixel_for_pixel(clip: Clip) -> None:
    """Read back by OpenCV's own reader; chunks by the PNG specification (W3C, third edition, 11.3)."""
    with open_recording(clip("turned.mp4")) as recording:
        picture = recording.picture(40)
    data = png(picture)
    read = cv2.imdecode(np.frombuffer(data, np.uint8), cv2.IMREAD_COLOR)
    assert read is not None
    assert (read == shown(picture)[..., :3]).all()
    assert b"sRGB" in data
    assert not any(chunk in data for chunk in (b"tEXt", b"tIME", b"iTXt", b"Lavc"))


def test_a_jpeg_stays_close_to_its_picture(clip: Clip) -> None:
    with open_recording(clip("long.mp4")) as recording:
        picture = recording.picture(40)
    data = jpeg(picture)
    read = cv2.imdecode(np.frombuffer(data, np.uint8), cv2.IMREAD_COLOR)
    assert read is not None
    assert np.abs(read.astype(np.int16) - shown(picture)[..., :3]).mean() < 3
    assert b"Lavc" not in data


@pytest.mark.parametrize("name", ["open.mp4", "turned.mp4", "deep.mp4"])
def test_the_same_picture_gives_the_same_bytes_on_every_run(clip: Clip, name: str) -> None:
    def run() -> tuple[bytes, bytes, bytes]:
        with open_recording(clip(name)) as recording:
            picture = recording.picture(33)
        return picture.bgra, png(picture), jpeg(picture)

    assert run() == run()


def test_two_threads_may_ask_for_the_same_frames(clip: Clip) -> None:
    with open_recording(clip("open.mp4")) as recording:
        expected = [picture.bgra for picture in recording.pictures(0, 30)]
        found: list[list[bytes]] = []

        def ask() -> None:
            found.append([recording.picture(n).bgra for n in range(30)])

        threads = [Thread(target=ask) for _ in "ab"]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    assert found == [expected, expected]
