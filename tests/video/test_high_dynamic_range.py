"""High dynamic range on a standard screen: white near white, grey as it was, nothing turned round."""

import subprocess
from pathlib import Path

import av
import numpy as np
import pytest
from av.video.frame import VideoFrame
from numpy.typing import NDArray

from reviewer.video.colour import converter, matrix_of, transfer_of, treatment_of
from reviewer.video.orientation import Orientation

CURVES = {"hlg": 18, "pq": 16}  # ITU-T H.273, table 3
FFMPEG_NAMES = {"hlg": "arib-std-b67", "pq": "smpte2084"}
BT2020 = 9


def grey(signals: NDArray[np.float64], transfer: str, colour: tuple[int, int] = (512, 512)) -> VideoFrame:
    """One row of 10-bit limited-range signals, 0 to 1."""
    frame = VideoFrame(len(signals), 1, "yuv444p10le")
    luma = np.round(64 + 876 * signals)
    for plane, numbers in zip(frame.planes, (luma, *colour), strict=True):
        room = np.zeros(plane.buffer_size // 2, np.uint16)
        room[: len(signals)] = numbers
        plane.update(room.tobytes())
    frame.color_trc, frame.colorspace, frame.color_primaries, frame.color_range = (
        CURVES[transfer],
        BT2020,
        BT2020,
        1,
    )
    return frame


def displayed(frame: VideoFrame) -> NDArray[np.int16]:
    pixels = converter((frame.width, frame.height), Orientation()).pixels(frame)
    return pixels[..., :3].astype(np.int16)


# Signals of ITU-R BT.2408, table 1 (from memory): reference white 203 cd/m², 18 % grey card 26.
LEVELS = {"hlg": (0.75, 0.38), "pq": (0.58, 0.38)}


@pytest.mark.parametrize("transfer", CURVES)
def test_reference_white_comes_out_near_white_but_not_at_the_end(transfer: str) -> None:
    white, _ = LEVELS[transfer]
    (found,) = displayed(grey(np.array([white]), transfer))
    assert found.min() >= 220
    assert found.max() <= 245


@pytest.mark.parametrize("transfer", CURVES)
def test_the_grey_card_comes_out_as_a_middle_grey(transfer: str) -> None:
    """26 of 203 cd/m² is 0.128 of white, below the bend: sRGB code 100 (IEC 61966-2-1, from memory)."""
    _, card = LEVELS[transfer]
    (found,) = displayed(grey(np.array([card]), transfer))
    code = 255 * (1.055 * (26 / 203) ** (1 / 2.4) - 0.055)
    assert np.abs(found - code).max() <= 3


@pytest.mark.parametrize("transfer", CURVES)
def test_brighter_stays_brighter_and_grey_stays_grey(transfer: str) -> None:
    (found,) = displayed(grey(np.linspace(0, 1, 877), transfer))
    apart = np.ptp(found, axis=1)
    assert apart.max() <= 1, "a signal half way between two codes may round either way"
    assert (apart > 0).sum() <= 3
    steps = np.diff(found[:, 0])
    assert steps.min() >= 0
    assert steps.max() <= 2
    assert (found[0, 0], found[-1, 0]) == (0, 255)


@pytest.mark.parametrize("transfer", CURVES)
def test_the_treatment_is_said(transfer: str) -> None:
    frame = grey(np.array([0.5]), transfer)
    assert transfer_of(frame) == transfer
    assert treatment_of(frame) == (f"{transfer.upper()} shown as standard range",)
    frame.color_trc = 1
    assert transfer_of(frame) == "sdr"
    assert treatment_of(frame) == ()


def test_untagged_high_range_is_read_with_its_own_matrix() -> None:
    """ITU-R BT.2100 knows no BT.709 matrix."""
    frame = grey(np.array([0.5]), "hlg")
    frame.colorspace = 2
    assert matrix_of(frame)[0] == "bt2020"


COLOURS = [(0.30, 470, 560), (0.35, 540, 500), (0.40, 500, 540), (0.25, 520, 520), (0.20, 505, 530)]


@pytest.mark.parametrize(("luma", "cb", "cr"), COLOURS)
def test_below_the_bend_pq_colours_are_those_of_another_program(
    tmp_path: Path, luma: float, cb: int, cr: int
) -> None:
    """FFmpeg's zscale (zimg): PQ to light with 203 cd/m² as 1, primaries to BT.709, then sRGB."""
    y = round(64 + 876 * luma)
    colour = f"nullsrc=s=64x64:d=0.04:r=25,format=yuv444p10le,geq=lum={y}:cb={cb}:cr={cr}"
    tags = (
        "-colorspace",
        "bt2020nc",
        "-color_primaries",
        "bt2020",
        "-color_trc",
        "smpte2084",
        "-color_range",
        "tv",
    )
    path = tmp_path / "pq.mkv"
    command = ["ffmpeg", "-v", "error", "-f", "lavfi", "-i", colour, "-frames:v", "1", *tags, "-c:v", "ffv1"]
    subprocess.run([*command, str(path)], check=True)
    light = "zscale=tin=smpte2084:min=2020_ncl:pin=2020:rin=limited:t=linear:npl=203,format=gbrpf32le"
    shown = "zscale=p=709,zscale=t=iec61966-2-1:m=gbr:r=full,format=gbrp,format=bgr24"
    command = ["ffmpeg", "-v", "error", "-i", str(path), "-vf", f"{light},{shown}", "-f", "rawvideo", "-"]
    raw = subprocess.run(command, capture_output=True, check=True).stdout
    with av.open(str(path)) as container:
        frame = next(container.decode(video=0))
        assert transfer_of(frame) == "pq"
        found = displayed(frame)[32, 32]
    assert np.abs(found - np.frombuffer(raw, np.uint8)[-3:].astype(np.int16)).max() <= 2


@pytest.mark.parametrize("transfer", CURVES)
def test_colours_keep_their_hue(transfer: str) -> None:
    """A reddish signal stays so, and wide primaries make it stronger, not weaker, in BT.709's."""
    signals = np.linspace(0.2, 0.6, 50)
    frame = grey(signals, transfer, (500, 560))
    (found,) = displayed(frame)
    assert (found[:, 2] > found[:, 1]).all()
    frame.color_primaries = 1
    (narrow,) = displayed(frame)
    assert ((found[:, 2] - found[:, 1]) >= (narrow[:, 2] - narrow[:, 1])).all()


@pytest.mark.parametrize("transfer", CURVES)
def test_a_phone_like_recording_is_read_so(tmp_path: Path, transfer: str) -> None:
    """HEVC of 10 bits, tagged by FFmpeg."""
    path = tmp_path / "phone.mp4"
    command = ["ffmpeg", "-v", "error", "-f", "lavfi", "-i", "testsrc2=s=128x72:d=0.1,format=yuv420p10le"]
    command += ["-color_trc", FFMPEG_NAMES[transfer], "-colorspace", "bt2020nc", "-color_primaries", "bt2020"]
    command += ["-c:v", "libx265", "-x265-params", "log-level=none", str(path)]
    subprocess.run(command, check=True, capture_output=True)
    with av.open(str(path)) as container:
        frames = list(container.decode(video=0))
    assert {transfer_of(frame) for frame in frames} == {transfer}
    assert displayed(frames[0]).shape == (72, 128, 3)
