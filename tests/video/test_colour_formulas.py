"""Colours as the recommendations define them, the same bytes on any processor, whole pictures of any size."""

import hashlib
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import av
import numpy as np
import pytest
from av.video.frame import VideoFrame
from av.video.reformatter import ColorRange, Colorspace, VideoReformatter
from numpy.typing import NDArray

from reviewer.terms.pictures import Picture
from reviewer.terms.times import FrameTime, TimeBase
from reviewer.video import jpeg, png
from reviewer.video.colour import converter, matrix_of
from reviewer.video.orientation import Orientation

# Weights of red and blue: ITU-R BT.709-6 item 3.2, BT.601-7 item 2.5.1, BT.2020-2 table 4 (from memory).
WEIGHTS = {"bt709": (0.2126, 0.0722), "bt601": (0.299, 0.114), "bt2020": (0.2627, 0.0593)}
CODES = {"bt709": 1, "bt601": 6, "bt2020": 9}
FFMPEG_NAMES = {"bt709": "bt709", "bt601": "smpte170m", "bt2020": "bt2020nc"}
# White, yellow, cyan, green, magenta, red, blue: which of blue, green, red are lit.
BARS = ((1, 1, 1), (0, 1, 1), (1, 1, 0), (0, 1, 0), (1, 0, 1), (0, 0, 1), (1, 0, 0))


def displayed(frame: VideoFrame, size: tuple[int, int] | None = None) -> NDArray[np.uint8]:
    """Rows × columns × (blue, green, red, 255)."""
    return converter(size or (frame.width, frame.height), Orientation()).pixels(frame).copy()


def noise(form: str, width: int, height: int, full: bool = False) -> VideoFrame:
    """A picture of chance numbers, all bits used, padding too."""
    frame, chance = VideoFrame(width, height, form), np.random.default_rng(7)
    for plane, bits in zip(frame.planes, [part.bits for part in frame.format.components], strict=False):
        if bits > 8:
            numbers = chance.integers(0, 1 << bits, plane.buffer_size // 2, np.uint16)
        else:
            numbers = chance.integers(0, 256, plane.buffer_size).astype(np.uint8)
        plane.update(numbers.tobytes())
    frame.color_range = int(ColorRange.JPEG if full else ColorRange.MPEG)
    return frame


def by_the_formula(stored: NDArray[np.float64], bits: int, full: bool, matrix: str) -> NDArray[np.float64]:
    """Blue, green, red, 0 to 255, of Y, Cb, Cr (… × 3): BT.709-6 items 3.3 to 3.5 turned round."""
    kr, kb = WEIGHTS[matrix]
    scale, top = 2.0 ** (bits - 8), 2.0**bits - 1
    zero, luma, chroma = (0.0, top, top) if full else (16 * scale, 219 * scale, 224 * scale)
    y, cb, cr = (stored - (zero, 128 * scale, 128 * scale)).T / np.array([[luma], [chroma], [chroma]])
    red, blue = y + 2 * (1 - kr) * cr, y + 2 * (1 - kb) * cb
    green = (y - kr * red - kb * blue) / (1 - kr - kb)
    return np.clip(255 * np.stack([blue, green, red], axis=-1), 0, 255)


@pytest.mark.parametrize("full", [False, True])
@pytest.mark.parametrize("matrix", WEIGHTS)
@pytest.mark.parametrize(("form", "bits"), [("yuv444p", 8), ("yuv444p10le", 10)])
def test_every_colour_is_the_recommendations_rounded(form: str, bits: int, matrix: str, full: bool) -> None:
    """Any stored numbers, also those no camera writes; half a code value is the rounding itself."""
    frame = noise(form, 256, 128, full)
    frame.colorspace = CODES[matrix]
    kind = np.uint8 if bits == 8 else np.uint16
    planes = [np.frombuffer(memoryview(plane), kind).reshape(128, -1)[:, :256] for plane in frame.planes]
    expected = by_the_formula(np.stack(planes, -1).reshape(-1, 3).astype(float), bits, full, matrix)
    found = displayed(frame)
    assert matrix_of(frame)[0] == matrix
    assert np.abs(found[..., :3].reshape(-1, 3) - expected).max() <= 0.51
    assert (found[..., 3] == 255).all()


def bars(folder: Path, source: str, *options: str) -> NDArray[np.int16]:
    """The middle row of bars made by FFmpeg, as displayed."""
    path = folder / "bars.mkv"
    command = ["ffmpeg", "-v", "error", "-y", "-f", "lavfi", "-i", source, "-frames:v", "1", *options]
    subprocess.run([*command, "-c:v", "ffv1", str(path)], check=True)
    with av.open(str(path)) as container:
        return displayed(next(container.decode(video=0)))[200, :, :3].astype(np.int16)


def test_75_percent_bars_of_high_definition_come_out_at_75_percent(tmp_path: Path) -> None:
    """FFmpeg's smptehdbars are SMPTE RP 219's code values (BT.709, limited): lit is 0.75 × 255."""
    row = bars(tmp_path, "smptehdbars=s=1280x720", "-colorspace", "bt709", "-color_range", "tv")
    found = [tuple(row[start + 8]) for start in (160, 298, 434, 572, 708, 846, 982)]
    assert np.abs(np.array(found) - 191.25 * np.array(BARS)).max() <= 1.5


def test_75_percent_bars_of_standard_definition_come_out_at_75_percent(tmp_path: Path) -> None:
    """FFmpeg's pal75bars (EBU bars: ITU-R BT.601, limited, white at 100 %): eight bars with black last."""
    row = bars(tmp_path, "pal75bars=s=720x576", "-colorspace", "bt470bg", "-color_range", "tv")
    found = row[45::90]
    lit = np.array([255, *[191.25] * 7])[:, None]
    assert np.abs(found - lit * np.array([*BARS, (0, 0, 0)])).max() <= 1.5


@pytest.mark.parametrize("full", [False, True])
@pytest.mark.parametrize("matrix", WEIGHTS)
@pytest.mark.parametrize("form", ["yuv444p", "yuv422p10le"])
def test_bars_come_back_from_what_ffmpeg_stores(tmp_path: Path, form: str, matrix: str, full: bool) -> None:
    """Bars of exact red, green, blue, stored by FFmpeg's zscale (zimg, no part of libswscale)."""
    one = "color=0x{}:s=96x120,format=gbrp[{}];"
    source = "".join(
        one.format(lit, name) for lit, name in (("BF0000", "r"), ("00BF00", "g"), ("0000BF", "b"))
    )
    source += "[r][g][b]vstack=3"
    stored = {"bt709": "709", "bt601": "170m", "bt2020": "2020_ncl"}[matrix]
    to = f"zscale=matrixin=gbr:rangein=full:matrix={stored}:range={'full' if full else 'limited'}"
    tags = ["-colorspace", FFMPEG_NAMES[matrix], "-color_range", "pc" if full else "tv"]
    path = tmp_path / "stored.mkv"
    command = ["ffmpeg", "-v", "error", "-f", "lavfi", "-i", f"{source},{to},format={form}", "-frames:v", "1"]
    subprocess.run([*command, *tags, "-c:v", "ffv1", str(path)], check=True)
    with av.open(str(path)) as container:
        found = displayed(next(container.decode(video=0)))[[60, 180, 300], 48, :3].astype(np.int16)
    assert np.abs(found - [[0, 0, 191], [0, 191, 0], [191, 0, 0]]).max() <= 1.5


def test_stored_colour_is_repeated_over_the_points_that_share_it() -> None:
    """One coloured sample of 4:2:0 colours the two by two points it is stored for, and no other."""
    frame = VideoFrame(8, 6, "yuv420p")
    for plane, value in zip(frame.planes, (120, 128, 128), strict=True):
        lines = np.full(plane.buffer_size, value, np.uint8).reshape(-1, plane.line_size)
        if plane.width == 4 and plane is not frame.planes[0]:
            lines[1, 2] = 200
        plane.update(lines.tobytes())
    coloured = np.argwhere(np.ptp(displayed(frame)[..., :3], axis=-1) > 0)
    assert coloured.tolist() == [[2, 4], [2, 5], [3, 4], [3, 5]]


@pytest.mark.parametrize("width", [161, 215])
@pytest.mark.parametrize("form", ["yuv420p", "yuv444p", "gray", "gbrp"])
def test_what_lies_past_the_end_of_a_line_is_never_seen(form: str, width: int) -> None:
    """Lines are stored longer than they are wide; ``width`` 215 stretches the picture."""
    shown = []
    for past in (0, 255):
        frame = noise(form, 161, 91)
        for plane in frame.planes:
            lines = np.frombuffer(memoryview(plane), np.uint8).reshape(-1, plane.line_size).copy()
            lines[:, plane.width :] = past
            plane.update(lines.tobytes())
        shown.append(displayed(frame, (width, 91)))
    assert (shown[0] == shown[1]).all()


def test_a_stream_may_change_its_kind_under_way() -> None:
    """One converter, frames of several kinds and sizes in turn: the same bytes as one made for each."""
    one = converter((210, 90), Orientation())
    kinds = [
        ("yuv420p", 210),
        ("yuv422p10le", 210),
        ("rgb24", 210),
        ("yuv420p", 210),
        ("yuv420p", 160),
        ("gray", 210),
    ]
    for form, width in [*kinds, *reversed(kinds)]:
        frame = noise(form, width, 90)
        assert (one.pixels(frame) == displayed(frame, (210, 90))).all()


FORMATS = (
    "yuv420p", "yuvj420p", "yuv422p", "yuvj422p", "yuv444p", "yuv440p", "yuv411p", "yuv410p", "yuva420p",
    "gray", "yuv420p10le", "yuv422p10le", "yuv444p12le", "gray10le", "nv12", "p010le", "yuyv422", "rgb24",
    "bgr0", "rgba", "gbrp", "gbrp10le", "rgb48le", "ya8",
)  # fmt: skip
SIZES = ((161, 91), (2, 3), (1, 1), (4097, 2), (16384, 1))


def ramp(width: int, height: int) -> NDArray[np.uint8]:
    """A gentle picture in red, green, blue, so that shared colour makes little difference."""
    across = 40 + (np.arange(width) * min(1, 160 / width))[None, :] * np.ones((height, 1))
    down = 60 + np.arange(height)[:, None] * np.ones((1, width))
    return np.stack([across, down, (across + down) / 2], -1).astype(np.uint8)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("form", FORMATS)
def test_pictures_of_any_size_and_format_keep_every_row_and_column(form: str, size: tuple[int, int]) -> None:
    """A ramp that libswscale stored in the format comes back; grey formats keep no colour to come back."""
    picture = ramp(*size)
    full = form.startswith("yuvj")
    frame = VideoReformatter().reformat(
        VideoFrame.from_ndarray(picture, "rgb24"), format=form, dst_colorspace=Colorspace.ITU601,
        dst_color_range=ColorRange.JPEG if full or "yu" not in form else ColorRange.MPEG, threads=1,
    )  # fmt: skip
    found = displayed(frame).astype(np.int16)
    assert found.shape == (size[1], size[0], 4)
    assert (found[..., 3] == 255).all()
    if form.startswith(("gray", "ya")):
        expected = picture @ np.array([0.299, 0.587, 0.114])
        assert np.abs(found[..., :3] - expected[..., None]).max() <= 3
        return
    assert np.abs(found[..., 2::-1] - picture).max() <= (6 if form == "yuv410p" else 4)


@pytest.mark.parametrize("form", ["bayer_rggb8", "monow", "pal8", "yuv420p16be", "nv21", "uyvy422"])
def test_unusual_formats_give_a_whole_picture(form: str) -> None:
    frame = VideoFrame(162, 92, form)
    for plane in frame.planes:
        plane.update(bytes([90]) * plane.buffer_size)
    found = displayed(frame)
    assert found.shape == (92, 162, 4)
    assert (found[..., 3] == 255).all()


IN_ANOTHER_PROCESS = """
import ctypes, os, sys
from pathlib import Path
import av
sys.path.insert(0, {here!r})
if {flags} is not None:
    library = next(Path(av.__file__).parent.parent.glob("av.libs/libavutil*"))
    ctypes.CDLL(str(library)).av_force_cpu_flags(ctypes.c_int({flags}))
if {one}:
    os.sched_setaffinity(0, [min(os.sched_getaffinity(0))])
from test_colour_formulas import hashes_of_noise
print(*hashes_of_noise())
"""


def hashes_of_noise() -> Iterator[str]:
    for form in ("yuv420p", "yuvj422p", "yuv444p", "yuv420p10le", "nv12", "rgb24", "gbrp10le"):
        for size in (None, (211, 90)):
            frame = noise(form, 330, 90)
            yield hashlib.sha256(displayed(frame, size).tobytes()).hexdigest()
    pixels = displayed(noise("yuv420p", 330, 90)).tobytes()
    picture = Picture((330, 90), pixels, 0, FrameTime(0, TimeBase(1, 25)), "bt709", False)
    for encoded in (png(picture), jpeg(picture)):
        yield hashlib.sha256(encoded).hexdigest()
    for curve in (16, 18):
        frame = noise("yuv420p10le", 330, 90)
        frame.color_trc = curve
        yield hashlib.sha256(displayed(frame).tobytes()).hexdigest()


@pytest.mark.skipif(sys.platform != "linux", reason="finds the library where Linux wheels put it")
@pytest.mark.parametrize(
    ("flags", "one"), [(0, False), (0x18, False), (0x3DB, False), (None, True)],
    ids=["none", "SSE2", "SSE4.2", "one processor"],
)  # fmt: skip
def test_the_bytes_do_not_depend_on_the_processor(flags: int | None, one: bool) -> None:
    """FFmpeg's own switch for vector instructions (libavutil/cpu.h), in a process of its own."""
    script = IN_ANOTHER_PROCESS.format(here=str(Path(__file__).parent), flags=flags, one=one)
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    found = subprocess.run(
        [sys.executable, "-c", script], env=environment, capture_output=True, text=True, check=True
    )
    assert found.stdout.split() == list(hashes_of_noise())
