"""``reviewer follow`` as a user runs it: its documents, and what is refused."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import jsonschema
import pytest

ROOT = Path(__file__).resolve().parents[2]
CLIP = ROOT / "sample_clips" / "off-axis-fall.mp4"
TRUTH = json.loads(CLIP.with_suffix(".truth.json").read_text(encoding="utf-8"))
SCHEMA = json.loads((ROOT / "annotations" / "schemas" / "track.schema.json").read_text(encoding="utf-8"))
TOP = next(one for one in TRUTH["elements"] if one["code"] == "cast")


def run(*words: str | Path) -> subprocess.CompletedProcess[str]:
    found = subprocess.run(
        [sys.executable, "-m", "reviewer", *map(str, words)], capture_output=True, text=True, timeout=120
    )
    assert "Traceback" not in found.stderr + found.stdout
    return found


def body(frame: int, joints: tuple[str, ...]) -> dict[str, Any]:
    near = {joint: TRUTH["joints"][joint]["near_px"][frame] for joint in joints}
    return {joint: [[f"{size:.3f}" for size in spot]] for joint, spot in near.items()}


def clicks(**more: Any) -> dict[str, Any]:
    points = {
        name: [f"{size:.3f}" for size in one["px"]] for name, one in TRUTH["apparatus"]["points"].items()
    }
    return {
        "format": "reviewer.clicks/1",
        "picture": TRUTH["displayed"],
        "frame": TOP["top_frame"] - 3,
        "line": "shoulder-ankle",
        "cast_to": "left",
        "body": body(TOP["top_frame"] - 3, ("shoulder", "ankle")),
        "points": points,
        "click_sd_px": "1.5",
        "athlete_height_mm": 1400,
    } | more


def follow(
    tmp_path: Path, document: dict[str, Any], *words: str, clip: Path = CLIP
) -> subprocess.CompletedProcess[str]:
    path = tmp_path / "clicks.json"
    path.write_text(json.dumps(document), encoding="utf-8")
    return run("follow", clip, "--clicks", path, *words)


def answered(tmp_path: Path, document: dict[str, Any], *words: str) -> dict[str, Any]:
    found = follow(tmp_path, document, *words, "--json")
    assert found.returncode == 0, found.stdout
    track: dict[str, Any] = json.loads(found.stdout)
    jsonschema.validate(track, SCHEMA)
    return track


def problems(tmp_path: Path, document: dict[str, Any], *words: str, clip: Path = CLIP) -> list[str]:
    found = follow(tmp_path, document, *words, "--json", clip=clip)
    assert found.returncode == 2
    listed = json.loads(found.stdout)["problems"]
    assert all(one["message"] and one["where"] and one["remedy"] for one in listed)
    return [one["code"] for one in listed]


def test_the_top_of_the_cast_filmed_askew_comes_out(tmp_path: Path) -> None:
    """Truth: written when the clip was rendered. Yaw 25, roll 3: the picture's own angle is 4 degrees off."""
    track = answered(tmp_path, clicks())
    assert track["top"]["frame"] == TOP["top_frame"]
    assert track["top"]["pts"] == TOP["top_pts"]
    assert float(track["top"]["value_deg"]) == pytest.approx(TOP["top_deg"], abs=1.0)
    assert track["calibration"]["check"] == "good"


def test_the_span_is_kept_to_each_side(tmp_path: Path) -> None:
    """30000/1001 frames a second: 100 ms hold two frames (66.7 ms), and a third comes at 100.1."""
    frames = [one["frame"] for one in answered(tmp_path, clicks(), "--span-ms", "100")["frames"]]
    here = TOP["top_frame"] - 3
    assert frames == list(range(here - 2, here + 3))


def test_a_span_of_nought_gives_the_clicked_frame_and_no_top(tmp_path: Path) -> None:
    track = answered(tmp_path, clicks(), "--span-ms", "0")
    assert [one["state"] for one in track["frames"]] == ["good"]
    assert track["top"] is None
    assert track["why_no_top"]


def test_several_clicked_frames_are_joined(tmp_path: Path) -> None:
    first, second = TOP["top_frame"] - 4, TOP["top_frame"] + 4
    several = [{"frame": n, "body": body(n, ("shoulder", "ankle"))} for n in (second, first)]
    document = {key: value for key, value in clicks(clicks=several).items() if key not in ("frame", "body")}
    track = answered(tmp_path, document, "--span-ms", "150")
    assert [one["frame"] for one in track["frames"]] == list(range(first - 4, second + 5))
    assert track["top"]["frame"] == TOP["top_frame"]


def test_hip_and_knee_are_followed_too(tmp_path: Path) -> None:
    joints = ("shoulder", "hip", "knee", "ankle")
    track = answered(tmp_path, clicks(body=body(TOP["top_frame"] - 3, joints)), "--span-ms", "40")
    assert set(joints) <= set().union(*(one["points"] for one in track["frames"]))


def test_joints_nobody_follows_do_no_harm(tmp_path: Path) -> None:
    wide = {**clicks()["body"], "toe": [["100", "100"]]}
    track = answered(tmp_path, clicks(body=wide), "--span-ms", "40")
    assert all("toe" not in one["points"] for one in track["frames"])


def test_without_points_the_doubt_of_a_turned_camera_is_in_the_angle(tmp_path: Path) -> None:
    track = answered(tmp_path, clicks(points={}), "--span-ms", "100")
    assert "yaw not corrected" in track["calibration"]["check"]
    assert all(float(one["u_deg"]) > 2 for one in track["frames"] if one["state"] == "good")


def test_in_words_it_says_angles_top_and_what_to_do(tmp_path: Path) -> None:
    found = follow(tmp_path, clicks())
    assert found.returncode == 0
    assert f"nearest frame {TOP['top_frame']}" in found.stdout
    assert "Camera: good; still" in found.stdout
    assert "Confirm the top on the picture" in found.stdout


def test_all_that_is_wrong_is_said_at_once(tmp_path: Path) -> None:
    wrong = clicks(frame=9999, picture=[720, 720], points={}, body={"shoulder": [["100", "2000"]]})
    assert problems(tmp_path, wrong, "--span-ms", "60000") == [
        "span", "other-picture", "frame-out-of-range", "not-clicked", "outside-picture",
    ]  # fmt: skip


def test_a_frame_listed_twice_is_refused(tmp_path: Path) -> None:
    twice = [{"frame": 40, "body": body(40, ("shoulder", "ankle"))}] * 2
    document = {key: value for key, value in clicks(clicks=twice).items() if key not in ("frame", "body")}
    assert problems(tmp_path, document) == ["frame-twice"]


def test_joints_on_one_spot_are_refused(tmp_path: Path) -> None:
    spot = clicks()["body"]["shoulder"]
    assert problems(tmp_path, clicks(body={"shoulder": spot, "ankle": spot})) == ["no-line"]


def test_a_negative_span_is_refused(tmp_path: Path) -> None:
    assert problems(tmp_path, clicks(), "--span-ms", "-1") == ["span"]


def test_what_is_no_recording_is_named(tmp_path: Path) -> None:
    assert problems(tmp_path, clicks(), clip=tmp_path / "none.mp4")
    assert problems(tmp_path, clicks(), clip=Path(__file__))


def test_what_is_no_elevation_of_a_line_is_not_followed(tmp_path: Path) -> None:
    joints = ("shoulder", "hip", "knee", "ankle")
    bend = clicks(line="knee-bend", body=body(40, joints), frame=40)
    assert problems(tmp_path, bend) == ["line-not-followed"]
    assert problems(tmp_path, clicks(against="shoulder-hip", body=body(40, joints), frame=40)) == [
        "line-not-followed"
    ]


@pytest.fixture
def case(tmp_path: Path) -> Path:
    """A case of the clip with one cast, m1."""
    made = tmp_path / "routine.case"
    begun = run("start", made, "--recording", CLIP, "--athlete-code", "G-1", "--consent", "given")
    assert begun.returncode == 0, begun.stderr
    start = str(TOP["top_frame"] - 20)
    assert run("marks", "add", made, "element", "cast", "--frame", start).returncode == 0
    return made


def test_the_top_is_confirmed_onto_a_cast_and_checked_again(tmp_path: Path, case: Path) -> None:
    found = follow(
        tmp_path, clicks(), "--span-ms", "150", "--case", str(case), "--cast", "m1", "--author", "B"
    )
    assert found.returncode == 0, found.stderr
    assert "Kept as r1, the angle of m1; final score" in found.stdout
    (mark,) = json.loads(run("marks", "list", case, "--json").stdout)["marks"]
    assert (mark["angle"]["by"], mark["angle"]["reading"]) == ("protractor", "r1")
    assert float(mark["angle"]["deg"]) == pytest.approx(TOP["top_deg"], abs=1.0)
    checked = json.loads(run("verify", case, "--recording", CLIP, "--json").stdout)
    assert "tracks" in checked["checked"]
    assert checked["differences"] == []


def test_kept_without_a_cast_it_says_its_id(tmp_path: Path, case: Path) -> None:
    track = answered(tmp_path, clicks(), "--span-ms", "0", "--case", str(case))
    assert (track["id"], track["top"]) == ("r1", None)
    refused = problems(tmp_path, clicks(), "--span-ms", "0", "--case", str(case), "--cast", "m1")
    assert refused == ["no-top"]


def test_a_cast_needs_its_case(tmp_path: Path) -> None:
    found = follow(tmp_path, clicks(), "--cast", "m1")
    assert found.returncode == 2
    assert "--case" in found.stderr
