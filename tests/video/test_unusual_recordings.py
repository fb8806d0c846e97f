"""Pictures of one pixel and of sixteen thousand, headers that lie, and recordings of next to nothing."""

import json
import random
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from outside_ffmpeg import framehash

from reviewer.video import VideoError, open_recording

Clip = Callable[[str], Path]
MOST = 16384
MODEST = 600 << 20
"""Bytes that a process which refuses a file may take: the libraries alone take about a fifth."""
ASK = """
import json, sys
from pathlib import Path
from reviewer.video import VideoError, open_recording
try:
    with open_recording(Path(sys.argv[1])) as recording:
        said = [*recording.facts.displayed, len(recording.facts.pts)]
        recording.picture(0)
except VideoError as fault:
    said = fault.problems[0].code
status = Path("/proc/self/status").read_text().splitlines()
print(json.dumps([said, *[int(line.split()[1]) * 1024 for line in status if line.startswith("VmHWM")]]))
"""


def ffmpeg(*arguments: str) -> None:
    subprocess.run(["ffmpeg", "-v", "error", "-nostdin", "-y", *arguments], check=True)


def asked(path: Path) -> tuple[object, int]:
    """What opening the file and its first picture gives in a process of its own, and the bytes that took."""
    command = [sys.executable, "-c", ASK, str(path)]
    if not Path("/proc/self/status").exists():
        pytest.skip("the most memory a process took is read from /proc, which is not here")
    done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=60)
    assert done.returncode == 0, done.stderr
    said, most = json.loads(done.stdout)
    return said, most


def plain(size: str, count: int, codec: str, path: Path, kind: str = "gray") -> Path:
    source = f"color=c=0x808080:s={size}:r=25:d={count / 25}"
    ffmpeg("-f", "lavfi", "-i", source, "-pix_fmt", kind, "-c:v", codec, "-frames:v", str(count), str(path))
    return path


@pytest.mark.parametrize("name", ["dot.mkv", "dot.webm"])
def test_a_picture_of_one_pixel_is_shown(clip: Clip, name: str) -> None:
    with open_recording(clip(name)) as recording:
        assert recording.facts.displayed == (1, 1)
        for n in random.Random(1).choices(range(12), k=30):
            assert len(recording.picture(n).bgra) == 4


@pytest.mark.parametrize("size", [f"{MOST}x48", f"48x{MOST}"])
@pytest.mark.parametrize(("codec", "kind"), [("mjpeg", "yuvj420p"), ("png", "rgb24")])
def test_a_picture_sixteen_thousand_pixels_long_is_shown(
    tmp_path: Path, size: str, codec: str, kind: str
) -> None:
    path = plain(size, 3, codec, tmp_path / "long.mov", kind)
    with open_recording(path) as recording:
        assert tuple(recording.hashes()) == framehash(path)
    with open_recording(path) as recording:
        picture = recording.picture(2)
    assert "x".join(map(str, picture.size)) == size
    assert len(picture.bgra) == 4 * MOST * 48


def test_a_picture_sixteen_thousand_pixels_long_and_high_is_read(tmp_path: Path) -> None:
    """16384 x 16000: FFmpeg itself handles no 16384 rows of 16384 pixels."""
    path = plain(f"{MOST}x16000", 1, "mjpeg", tmp_path / "vast.mov", "yuvj420p")
    with open_recording(path) as recording:
        assert recording.facts.displayed == (MOST, 16000)
        assert (recording.picture_hash(0),) == framehash(path)


@pytest.mark.parametrize("size", [f"{MOST + 16}x16", f"16x{MOST + 16}", "40000x40"])
def test_a_picture_longer_than_that_is_refused(tmp_path: Path, size: str) -> None:
    said, most = asked(plain(size, 2, "mjpeg", tmp_path / "longer.mov"))
    assert said == "picture-too-large"
    assert most < MODEST


def test_a_picture_whose_own_header_claims_too_much_is_refused_without_eating_memory(
    clip: Clip, tmp_path: Path
) -> None:
    """The frame header of JPEG gives rows and columns in 16 bits each (ITU-T T.81, B.2.2)."""
    data = bytearray(clip("mjpeg.mov").read_bytes())
    place = data.find(b"\xff\xc0")
    while place >= 0:
        data[place + 5 : place + 9] = (20_000).to_bytes(2) + (20_000).to_bytes(2)
        place = data.find(b"\xff\xc0", place + 2)
    path = tmp_path / "claims.mov"
    path.write_bytes(data)
    said, most = asked(path)
    assert said in ("picture-too-large", "no-frames")
    assert most < MODEST


def test_a_container_that_claims_too_much_is_refused_or_not_believed(clip: Clip, tmp_path: Path) -> None:
    """The visual sample entry gives width and height in 16 bits each (ISO/IEC 14496-12, 12.1.3)."""
    data = clip("h264-long.mp4").read_bytes()
    place = data.index(b"avc1", data.index(b"stsd")) + 28
    path = tmp_path / "claims.mp4"
    path.write_bytes(data[:place] + b"\xff\xff\xff\xff" + data[place + 4 :])
    said, most = asked(path)
    assert said in ("picture-too-large", [160, 90, 240])
    assert most < MODEST


@pytest.mark.parametrize("kind", ["mp4", "mov", "mkv", "avi", "ts"])
def test_a_stream_without_a_single_packet_is_refused(clip: Clip, tmp_path: Path, kind: str) -> None:
    path = tmp_path / f"none.{kind}"
    ffmpeg("-i", str(clip("h264-long.mp4")), "-frames:v", "0", "-c", "copy", str(path))
    assert code(path) in ("no-frames", "no-video-stream", "not-a-recording", "recording-empty")


def test_a_recording_without_its_parameter_sets_is_refused(clip: Clip, tmp_path: Path) -> None:
    """H.264 says how to decode it once, in front; a part cut from behind that place decodes nowhere."""
    path = tmp_path / "part.ts"
    path.write_bytes(clip("h264-open.ts").read_bytes()[40_007:])
    assert framehash(path) == ()
    assert code(path) == "no-frames"


def code(path: Path) -> str:
    with pytest.raises(VideoError) as caught:
        open_recording(path)
    (problem,) = caught.value.problems
    assert str(path) in problem.where
    assert str(problem.message)
    assert str(problem.remedy)
    return problem.code


@pytest.mark.parametrize("name", ["one-frame.mp4", "one-frame.ts", "one-frame.mkv"])
def test_a_recording_of_one_frame_has_one_frame(clip: Clip, name: str) -> None:
    with open_recording(clip(name)) as recording:
        assert len(recording.facts.pts) == 1
        assert list(recording.pictures(0, 1)) == [recording.picture(0)]
        assert recording.facts.key_frames == (0,)
