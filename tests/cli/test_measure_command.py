"""``reviewer measure`` as a user runs it: one request, many, and everything that can be wrong with them."""

import json
import subprocess
import sys
from collections.abc import Callable
from copy import deepcopy
from dataclasses import replace
from hashlib import sha256
from pathlib import Path
from typing import Any

import jsonschema
import numpy as np
import pytest

from reviewer import actions
from reviewer.casefile import create_case
from reviewer.measuring import measure, reading_to_record
from reviewer.rules import clause_data, find, load
from reviewer.terms.exact import Degrees
from reviewer.terms.readings import Clicks, Reading
from tests.measuring.cameras import clicked, filmed

ROOT = Path(__file__).resolve().parents[2]
CLIP = ROOT / "sample_clips" / "square-on.mp4"
SCHEMA = json.loads((ROOT / "annotations" / "schemas" / "reading.schema.json").read_text(encoding="utf-8"))
SCENE = filmed(np.random.default_rng(2), yaw=25, elevation=-40)
GOOD = clicked(SCENE, np.random.default_rng(2), 1.0)
BOOK = load(find("demo-bars-2"))
Change = Callable[[dict[str, Any]], object]


def run(*words: str | Path) -> subprocess.CompletedProcess[str]:
    found = subprocess.run(
        [sys.executable, "-m", "reviewer", *map(str, words)], capture_output=True, text=True, timeout=120
    )
    assert "Traceback" not in found.stderr + found.stdout
    assert "Warning" not in found.stderr
    return found


def measured(tmp_path: Path, document: Any, *words: str | Path) -> subprocess.CompletedProcess[str]:
    path = tmp_path / "clicks.json"
    path.write_text(document if isinstance(document, str) else json.dumps(document), encoding="utf-8")
    return run("measure", *words, "--points", path, "--json")


def batch(tmp_path: Path, lines: list[Any], *words: str | Path) -> tuple[int, list[dict[str, Any]]]:
    """Exit code and answers, each held against the published schema."""
    path = tmp_path / "requests.jsonl"
    texts = [line if isinstance(line, str) else json.dumps(line) for line in lines]
    path.write_text("\n".join(texts) + "\n", encoding="utf-8")
    found = run("measure", *words, "--batch", path)
    answers = [json.loads(line) for line in found.stdout.splitlines()]
    for answer in answers:
        jsonschema.validate(answer, SCHEMA)
    return found.returncode, answers


def changed(change: Change) -> dict[str, Any]:
    document = deepcopy(GOOD)
    change(document)
    return document


def put(value: Any, *path: Any) -> Change:
    def change(document: Any) -> None:
        for step in path[:-1]:
            document = document[step]
        document[path[-1]] = value

    return change


BAD: dict[str, Change] = {
    "no picture": lambda document: document.pop("picture"),
    "picture of no size": put([0, 0], "picture"),
    "picture of negative size": put([-1280, 720], "picture"),
    "picture of absurd size": put([10**12, 10**12], "picture"),
    "picture of half pixels": put([1280.5, 720], "picture"),
    "unknown line": put("nose-toe", "line"),
    "line of other joints": put("hand-ankle", "line"),
    "joints missing": put({}, "body"),
    "joint without clicks": put([], "body", "ankle"),
    "joint outside": put([["1300.000", "100.000"]], "body", "ankle"),
    "joint far outside": put([["999999999.999", "-999999999.999"]], "body", "ankle"),
    "joint at NaN": put([["NaN", "100.000"]], "body", "ankle"),
    "joint at infinity": put([["1e999", "100.000"]], "body", "ankle"),
    "joint as a number": put([[100, 200]], "body", "ankle"),
    "joint of three numbers": put([["1.0", "2.0", "3.0"]], "body", "ankle"),
    "line of no length": lambda document: document["body"].update(ankle=document["body"]["shoulder"]),
    "point outside": put(["640.000", "900.000"], "points", "low-rail-near"),
    "point at NaN": put(["NaN", "NaN"], "points", "low-rail-near"),
    "unknown point": put(["640.000", "300.000"], "points", "middle-rail-near"),
    "two points exchanged": lambda document: document["points"].update(
        {
            "low-rail-near": GOOD["points"]["low-foot-far"],
            "low-foot-far": GOOD["points"]["low-rail-near"],
        }
    ),
    "all points on one spot": lambda document: document.update(
        points={name: ["640.000", "300.000"] for name in document["points"]}
    ),
    "points in a row": lambda document: document.update(
        points={name: [f"{300 + 60 * at}.000", "300.000"] for at, name in enumerate(document["points"])}
    ),
    "negative scatter": put("-1", "click_sd_px"),
    "scatter in words": put("two", "click_sd_px"),
    "scatter NaN": put("NaN", "click_sd_px"),
    "unknown spread word": put("outer-level", "apparatus", "spread"),
    "impossible spread": put(5000, "apparatus", "spread_mm"),
    "huge spread": put(10**9, "apparatus", "spread_mm"),
    "rails at one height": lambda document: document["apparatus"].update(high_top_mm=1700, low_top_mm=1700),
    "high rail below the low one": lambda document: document["apparatus"].update(high_top_mm=500),
    "athlete of no height": put(0, "athlete_height_mm"),
    "athlete of 10 m": put(10_000, "athlete_height_mm"),
    "athlete of negative height": put(-1400, "athlete_height_mm"),
    "unknown side": put("middle", "side"),
    "cast to nowhere": put("up", "cast_to"),
    "negative frame": put(-1, "frame"),
    "frame in words": put("seven", "frame"),
    "requirement without a limit": put({"tolerance_deg": "10"}, "requirement"),
    "requirement NaN": put({"at_least_deg": "NaN"}, "requirement"),
    "other format": put("reviewer.marks/1", "format"),
}
"""What is wrong to how; each is refused with a reason and a remedy."""
BAD_TEXTS = [
    "{",
    "null",
    "[]",
    "7",
    '"words"',
    "NaN",
    "[" * 100_000,
    json.dumps(GOOD).replace('"1280', "NaN", 1).replace("1280,", "NaN,", 1),
    json.dumps(GOOD).replace('"side": "near"', '"side": "near", "side": "far"'),
    json.dumps(GOOD).replace("1400.0", "1e999"),
]
"""Lines that are no request at all, or one twice over."""


@pytest.fixture(scope="module")
def damaged(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A recording of which forty bytes were turned over."""
    folder = tmp_path_factory.mktemp("damaged")
    picture = ["-f", "lavfi", "-i", "testsrc2=s=320x240:d=3:r=25", "-c:v", "libx264", "-g", "25", "clip.ts"]
    subprocess.run(["ffmpeg", "-v", "error", "-nostdin", *picture], cwd=folder, check=True)
    data = bytearray((folder / "clip.ts").read_bytes())
    middle = len(data) * 45 // 100
    data[middle : middle + 40] = bytes(byte ^ 0x5A for byte in data[middle : middle + 40])
    (folder / "clip.ts").write_bytes(data)
    return folder / "clip.ts"


def test_a_good_request_is_answered_near_the_truth(tmp_path: Path) -> None:
    limit = {"at_least_deg": "-45", "tolerance_deg": "10"}
    found = measured(tmp_path, GOOD | {"requirement": limit})
    assert found.returncode == 0
    answer = json.loads(found.stdout)
    jsonschema.validate(answer, SCHEMA)
    assert abs(float(answer["value_deg"]) - SCENE.angle()) < 3 * float(answer["u_deg"])
    assert answer["calibration"]["check"] == "good"
    assert answer["calibration"]["points"] == len(answer["calibration"]["residuals_px"]) == 8
    assert answer["verdict"]["word"] == "met"
    squares = sum(float(part["u_deg"]) ** 2 for part in answer["budget"])
    assert squares**0.5 == pytest.approx(float(answer["u_deg"]), abs=0.003)


def test_every_bad_request_of_a_batch_has_its_one_answer_between_good_ones(tmp_path: Path) -> None:
    requests = [request for change in BAD.values() for request in (changed(change), GOOD)]
    code, answers = batch(tmp_path, requests)
    assert code == 2
    assert len(answers) == len(requests)
    measured_all_the_same = [
        name for name, answer in zip(BAD, answers[::2], strict=True) if answer["value_deg"] is not None
    ]
    assert measured_all_the_same == []
    for name, answer in zip(BAD, answers[::2], strict=True):
        problems = answer["problems"]
        assert all(one["message"] and one["remedy"] and one["where"] for one in problems), name
    assert {answer["value_deg"] for answer in answers[1::2]} == {answers[1]["value_deg"]}
    assert all(answer["problems"] == [] for answer in answers[1::2])


def test_lines_that_are_no_request_have_their_answer_too(tmp_path: Path) -> None:
    code, answers = batch(tmp_path, [*BAD_TEXTS, GOOD])
    assert code == 2
    assert [answer["value_deg"] for answer in answers[:-1]] == [None] * len(BAD_TEXTS)
    assert answers[-1]["value_deg"] is not None
    for number, answer in enumerate(answers[:-1], start=1):
        assert f"line {number}" in answer["problems"][0]["where"]


def test_a_batch_of_good_requests_ends_well_and_in_order(tmp_path: Path) -> None:
    tops = [clicked(filmed(np.random.default_rng(n), elevation=-50 + 10 * n), np.random.default_rng(n), 1.0)
            for n in range(5)]  # fmt: skip
    code, answers = batch(tmp_path, [tops[0] | {"a later key": "a\u2028b"}, *tops[1:]])
    assert code == 0
    values = [float(answer["value_deg"]) for answer in answers]
    assert values == sorted(values)


@pytest.mark.parametrize(
    ("name", "said"),
    [("unknown spread word", "outer-level"), ("two points exchanged", "Click each where its name says.")],
)
def test_one_bad_request_is_refused_with_place_and_remedy(tmp_path: Path, name: str, said: str) -> None:
    found = measured(tmp_path, changed(BAD[name]))
    assert found.returncode == 2
    assert said in found.stdout + found.stderr


def test_a_file_that_is_no_request_is_refused_in_words(tmp_path: Path) -> None:
    for text in ("[" * 100_000, ""):
        found = measured(tmp_path, text)
        assert found.returncode == 2
        assert "clicks.json" in found.stdout + found.stderr


def test_three_points_are_flagged_with_what_to_do(tmp_path: Path) -> None:
    few = dict(list(GOOD["points"].items())[:3])
    answer = json.loads(measured(tmp_path, GOOD | {"points": few}).stdout)
    assert answer["calibration"]["check"].endswith("3 points do not give the camera, click six or more")


def test_a_size_other_than_the_recordings_and_a_frame_beyond_it_are_refused(tmp_path: Path) -> None:
    small = GOOD | {"picture": [1920, 1080]}
    code, answers = batch(tmp_path, [small, GOOD | {"frame": 10**6}, GOOD], CLIP)
    assert code == 2
    codes = [[one["code"] for one in answer["problems"]] for answer in answers]
    assert codes == [["other-picture"], ["frame-out-of-range"], []]


def test_a_reading_on_a_damaged_picture_is_flagged(tmp_path: Path, damaged: Path) -> None:
    spots = {"shoulder": [["100.000", "100.000"]], "ankle": [["200.000", "120.000"]]}
    request = {"format": "reviewer.clicks/1", "picture": [320, 240], "line": "shoulder-ankle", "body": spots}
    code, answers = batch(tmp_path, [request | {"frame": frame} for frame in (0, *range(25, 60, 5))], damaged)
    assert code == 0
    flagged = [answer["calibration"]["check"].startswith("the picture is damaged") for answer in answers]
    assert flagged == [bool(answer.get("suspect")) for answer in answers]
    assert not flagged[0]
    assert any(flagged)


def case_with(folder: Path, reading: Reading, damage: Change) -> Path:
    """A case that keeps one reading, its chain whole, the reading's record as some other program left it."""
    record = reading_to_record(reading)
    damage(record)
    with create_case(folder / "kept.case", "A", "G-07", "given") as case:
        clauses = {name: sha256(text.encode()).hexdigest() for name, text in clause_data(BOOK).items()}
        chosen = {"id": BOOK.id, "sha256": case.keep_book(BOOK.text), "clauses": clauses}
        case.append("rule-book-chosen", chosen)
        case.append("reading-taken", {"reading": record})
    return folder / "kept.case"


def kept() -> Reading:
    return replace(measure(Clicks.from_json(GOOD)), id="r1")


def shifted(by: int) -> Change:
    found = kept().value
    return put(str(Degrees(found.thousandths + by)), "reading", "value_deg")


@pytest.mark.parametrize(("by", "same"), [(0, True), (2, True), (-2, True), (3, False), (-3, False)])
def test_a_kept_reading_is_measured_again_within_two_thousandths(tmp_path: Path, by: int, same: bool) -> None:
    found = actions.verify(case_with(tmp_path, kept(), shifted(by)))
    assert [one["what"] for one in found["differences"]] == ([] if same else ["reading"])


@pytest.mark.parametrize("damage", [put({}, "reading"), put("nan", "reading", "u_deg"), put({}, "clicks")])
def test_a_damaged_reading_of_a_case_is_named_by_verify(tmp_path: Path, damage: Change) -> None:
    found = actions.verify(case_with(tmp_path, kept(), damage))
    assert [(one["what"], one["where"]) for one in found["differences"]] == [("reading", "r1")]
    assert not found["same"]


def test_a_damaged_reading_of_a_case_is_named_to_whoever_asks_for_its_marks(tmp_path: Path) -> None:
    case = case_with(tmp_path, kept(), put(None, "reading", "budget"))
    found = run("marks", "export", case)
    assert found.returncode == 2
    assert "reading r1" in found.stdout + found.stderr
