"""`reviewer when` and `reviewer duration` as a judge types them, on clips whose times FFmpeg wrote."""

import json
import subprocess
import sys
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

PICTURES = ("-f", "lavfi", "-i", "testsrc2=s=64x48:d=70:r=")
CLIPS = {
    "television.mp4": (*PICTURES[:-1], f"{PICTURES[-1]}30000/1001", "-c:v", "libx264", "-g", "30"),
    "coded.mov": (
        *PICTURES[:-1], f"{PICTURES[-1]}60000/1001", "-frames:v", "20", "-c:v", "mjpeg",
        "-timecode", "00:59:59;58",
    ),
    "matroska.mkv": (*PICTURES[:-1], f"{PICTURES[-1]}60000/1001", "-frames:v", "600", "-c:v", "mjpeg"),
    "varying.mkv": (
        *PICTURES[:-1], f"{PICTURES[-1]}30", "-frames:v", "60", "-vf", "select='not(mod(n,5))+not(mod(n,3))'",
        "-fps_mode", "vfr", "-c:v", "mjpeg",
    ),
}  # fmt: skip


def run(*words: str | Path) -> subprocess.CompletedProcess[str]:
    found = subprocess.run(
        [sys.executable, "-m", "reviewer", *map(str, words)], capture_output=True, text=True, timeout=120
    )
    assert "Traceback" not in found.stderr + found.stdout
    return found


def answer(*words: str | Path) -> dict[str, Any]:
    return dict(json.loads(run(*words, "--json").stdout))


@pytest.fixture(scope="module")
def clips(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("clips")
    for name, recipe in CLIPS.items():
        subprocess.run(["ffmpeg", "-v", "error", "-nostdin", *recipe, name], cwd=folder, check=True)
    return folder


def ffprobe_pts(path: Path) -> list[int]:
    asked = ["ffprobe", "-v", "error", "-select_streams", "v", "-show_entries", "frame=pts", "-of", "csv=p=0"]
    told = subprocess.run([*asked, path], capture_output=True, text=True, check=True).stdout
    return [int(line.strip(",")) for line in told.split()]


@pytest.mark.parametrize("command", ["when", "duration"])
def test_each_command_explains_itself_with_an_example(command: str) -> None:
    found = run(command, "--help")
    assert found.returncode == 0
    assert f"Example: reviewer {command}" in found.stdout


def test_a_television_frame_is_named_as_the_results_office_names_it(clips: Path) -> None:
    """SMPTE ST 12-1 drop-frame: frame 1799 is 00:00:59;29 and the next 00:01:00;02."""
    clip = clips / "television.mp4"
    found = answer("when", clip, "1799", "1800", "00:01:00;02", "60.060s")
    assert found["format"] == "reviewer.moments/1"
    assert [one["time_code"] for one in found["moments"][:2]] == ["00:00:59;29", "00:01:00;02"]
    assert [one["frame"] for one in found["moments"]] == [1799, 1800, 1800, 1800]
    assert found["counting"] == {
        "rate": "30000/1001",
        "drop_frame": True,
        "nominal": False,
        "start": "00:00:00;00",
        "unread_start": None,
    }


def test_labels_begin_at_the_start_code_that_ffmpeg_wrote(clips: Path) -> None:
    found = answer("when", clips / "coded.mov", "0", "2", "01:00:00;00")
    assert [one["time_code"] for one in found["moments"]] == ["00:59:59;58", "01:00:00;00", "01:00:00;00"]
    assert (found["counting"]["start"], found["counting"]["unread_start"]) == ("00:59:59;58", None)


def test_milliseconds_of_matroska_still_tell_television_s_rate(clips: Path) -> None:
    assert answer("when", clips / "matroska.mkv", "0")["counting"]["rate"] == "60000/1001"


@pytest.mark.parametrize("name", ["television.mp4", "varying.mkv"])
def test_each_time_shown_leads_back_to_its_frame(name: str, clips: Path) -> None:
    """Ticks as ffprobe lists them."""
    pts = ffprobe_pts(clips / name)[:300]
    there = answer("when", clips / name, *map(str, range(len(pts))))["moments"]
    assert [one["pts"] for one in there] == pts
    back = answer("when", clips / name, *(f"{one['seconds']}s" for one in there))["moments"]
    assert [one["frame"] for one in back] == list(range(len(pts)))


def test_between_two_frames_the_earlier_is_on_screen(clips: Path) -> None:
    """At 30000/1001 a second frame 10 begins at 0.333667 s and frame 11 at 0.367033 s, shown as 0.367."""
    asked = ("0.366s", "0.367s", "0.367032s", "0.367033s", "0.34s")
    found = answer("when", clips / "television.mp4", *asked)
    assert [one["frame"] for one in found["moments"]] == [10, 11, 10, 11, 10]


def test_a_varying_rate_says_that_its_labels_are_nominal(clips: Path) -> None:
    """Of 30 a second each third and each fifth is kept: 14 before the one at exactly a second."""
    found = answer("when", clips / "varying.mkv", "14", "00:00:01:00")
    assert found["counting"]["nominal"]
    assert [(one["frame"], one["time_code"]) for one in found["moments"]] == [(14, "00:00:01:00")] * 2
    assert "nominal" in run("when", clips / "varying.mkv", "0").stdout


def test_all_moments_that_are_not_there_are_named_at_once(clips: Path) -> None:
    wrong = (
        "-1",
        "99999",
        "70.1s",
        "-0.5s",
        "00:01:00;00",
        "00:00:10:00",
        "02:00:00;00",
        "soon",
        "1.2345678s",
    )
    found = run("when", clips / "television.mp4", "5", *wrong, "--json")
    problems = json.loads(found.stdout)["problems"]
    assert found.returncode == 2
    assert [one["code"] for one in problems] == [
        "frame-out-of-range",
        "frame-out-of-range",
        "time-out-of-range",
        "time-out-of-range",
        "no-such-time-code",
        "no-such-time-code",
        "time-out-of-range",
        "not-a-moment",
        "not-a-moment",
    ]
    assert all(one["remedy"] and "television.mp4" in one["where"] for one in problems)


def test_a_duration_is_told_with_its_uncertainty(clips: Path) -> None:
    """899 gaps of 1001/30000 s; u = gap / sqrt 6 (JCGM 100:2008, 4.3.7); 95 % of the triangle lies within
    (1 - sqrt 0.05) gaps, 25.906 ms."""
    found = answer("duration", clips / "television.mp4", "100", "999")
    assert found["format"] == "reviewer.duration/1"
    assert found["seconds"] == f"{float(Fraction(899 * 1001, 30000)):.6f}"
    assert found["u_s"] == "0.013622"
    low, high = map(Fraction, found["interval95_s"])
    assert high - low == pytest.approx(2 * 0.025906, abs=2e-6)
    assert found["verdict"] is None
    assert (found["first"]["frame"], found["first"]["seconds"], found["first"]["gap_s"]) == (
        100,
        "3.336667",
        "0.033367",
    )


@pytest.mark.parametrize(
    ("last", "code", "word"),
    [
        ("998", 0, "within"),
        ("999", 3, "cannot be said at 95 %"),
        ("1000", 1, "beyond"),
        ("00:00:33;09", 3, ""),
    ],
)
def test_a_fall_clock_answers_by_its_exit_code(last: str, code: int, word: str, clips: Path) -> None:
    """Thirty seconds to remount (older official course slides, 11.1). 899 gaps are 29.9967 s."""
    found = run("duration", clips / "television.mp4", "100", last, "--limit", "30", "--json")
    assert found.returncode == code
    assert word in json.loads(found.stdout)["verdict"]["word"]


def test_before_the_first_frame_there_is_no_gap_and_it_is_said(clips: Path) -> None:
    found = answer("duration", clips / "television.mp4", "0", "5")
    assert (found["first"]["gap_assumed"], found["last"]["gap_assumed"]) == (True, False)
    assert "as none is before" in run("duration", clips / "television.mp4", "0", "5").stdout


def test_events_in_reverse_are_negative_and_bear_no_limit(clips: Path) -> None:
    clip = clips / "television.mp4"
    assert answer("duration", clip, "35", "5")["seconds"] == "-1.001000"
    found = run("duration", clip, "35", "5", "--limit", "30", "--json")
    assert found.returncode == 2
    assert json.loads(found.stdout)["problems"][0]["code"] == "frames-reversed"


@pytest.mark.parametrize("limit", ["", "soon", "-1", "1e3", "30.1234567", "1 min", "٣"])
def test_what_is_no_limit_is_refused(limit: str, clips: Path) -> None:
    found = run("duration", clips / "television.mp4", "5", "35", f"--limit={limit}", "--json")
    assert found.returncode == 2
    assert json.loads(found.stdout)["problems"][0]["code"] == "not-a-limit"


def test_a_file_that_is_no_recording_is_refused(tmp_path: Path) -> None:
    (tmp_path / "text.mp4").write_text("not a film", encoding="utf-8")
    for words in (("when", tmp_path / "text.mp4", "0"), ("duration", tmp_path / "none.mp4", "0", "1")):
        found = run(*words, "--json")
        assert found.returncode == 2
        assert json.loads(found.stdout)["problems"]
