"""Sound, place, device and date: told where a recording is packed whole, and gone from every clip.

Source: ffmpeg writes a recording as a phone does, ffprobe says what is in a file.
"""

import json
import subprocess
from pathlib import Path

import pytest

from reviewer import actions, video

PHONE = ["-metadata", "creation_time=2026-03-14T15:09:26Z", "-metadata", "location=+48.1374+011.5755/"]
PHONE += ["-metadata", "make=Plum", "-metadata", "model=Plum 7"]


def film(path: Path, *extra: str, sound: bool) -> Path:
    tone = ["-f", "lavfi", "-i", "sine=440:duration=1"] if sound else []
    command = [
        "ffmpeg",
        "-v",
        "error",
        "-f",
        "lavfi",
        "-i",
        "testsrc2=size=320x240:rate=25:duration=1",
        *tone,
    ]
    command += ["-pix_fmt", "yuv420p", "-movflags", "use_metadata_tags", *extra, str(path)]
    subprocess.run(command, check=True)
    return path


def probed(path: Path) -> str:
    command = ["ffprobe", "-v", "error", "-show_streams", "-show_format", "-of", "json", str(path)]
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout


@pytest.fixture
def phone(tmp_path: Path) -> Path:
    """A recording as a phone writes it."""
    path = film(tmp_path / "phone.mov", *PHONE, sound=True)
    assert all(sign in probed(path) for sign in ("Plum", "48.1374", "2026-03-14", '"audio"'))
    return path


def test_what_a_phone_writes_is_found_and_a_bare_file_has_none(phone: Path, tmp_path: Path) -> None:
    assert video.riders(phone) == ("sound", "a date", "a place", "a device")
    assert video.riders(film(tmp_path / "bare.mp4", "-bitexact", sound=False)) == ()


def test_packing_a_recording_says_what_goes_with_it(phone: Path, tmp_path: Path) -> None:
    case = tmp_path / "one.case"
    with actions.start_case(case, author="A", athlete_code="G-12", consent="given", recording=phone) as audit:
        actions.give_consent(audit, ("inquiry",), None, "2026-11-26")
        found = actions.pack_case(
            audit, tmp_path / "bag", use="inquiry", today="2026-11-26", recordings=[audit.cited().sha256]
        )
    assert found["rides_along"] == [{"recording": 1, "carries": ["sound", "a date", "a place", "a device"]}]


def test_a_clip_carries_none_of_it(phone: Path, tmp_path: Path) -> None:
    case, clip = tmp_path / "one.case", tmp_path / "clip.mp4"
    with actions.start_case(case, author="A", athlete_code="G-12", consent="given", recording=phone) as audit:
        actions.give_consent(audit, ("teaching",), None, "2026-11-26")
        wish = actions.ClipWish(frames=(0, 9), captioned=False)
        actions.export_clip(audit, wish, clip, use="teaching", today=lambda: "2026-11-26")
    said = probed(clip)
    assert not any(sign in said for sign in ("Plum", "48.1374", "2026", '"audio"', "creation_time"))
    assert [one["codec_type"] for one in json.loads(said)["streams"]] == ["video"]
    assert video.riders(clip) == ()
