"""``reviewer measure`` asked for bends, lengths, other lines, and several judges at once."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import jsonschema
import numpy as np
import pytest
from click.testing import CliRunner

from reviewer.cli.program import program
from tests.measuring.poses import Pose, camera, request

SCHEMAS = Path(__file__).resolve().parents[2] / "annotations" / "schemas"
POSE = Pose(forearm=110, upper_arm=75, trunk=-30, thigh=-30, shank=-30)
SEEN_BY = camera(25.0)


def asked(tmp_path: Path, name: str = "clicks.json", **more: Any) -> Path:
    """A request on disk."""
    made = request(SEEN_BY, POSE.joints(), np.random.default_rng(ord(name[0])), 1.0, **more)
    path = tmp_path / name
    path.write_text(json.dumps(made), encoding="utf-8")
    return path


def answered(code: int, *words: str | Path) -> Any:
    """The JSON answer, held against its published schema."""
    found = CliRunner().invoke(program, ["measure", *map(str, words), "--json"])
    assert found.exit_code == code, found.output
    answer = json.loads(found.stdout)
    if "format" in answer:
        name = answer["format"].removeprefix("reviewer.").removesuffix("/1")
        jsonschema.validate(answer, json.loads((SCHEMAS / f"{name}.schema.json").read_text("utf-8")))
    return answer


def refused(*words: str | Path) -> str:
    """What the program says as it refuses."""
    told = subprocess.run(
        [sys.executable, "-m", "reviewer", "measure", *map(str, words)],
        capture_output=True, text=True, timeout=120,
    )  # fmt: skip
    assert told.returncode == 2
    assert "Traceback" not in told.stderr
    return told.stderr


def test_a_bend_is_answered_as_a_reading(tmp_path: Path) -> None:
    found = answered(0, "--points", asked(tmp_path, line="elbow-bend"))
    assert float(found["value_deg"]) == pytest.approx(35, abs=6)
    assert found["through"] == "elbow-bend"


def test_the_line_to_the_lowest_part_says_which_it_took(tmp_path: Path) -> None:
    assert answered(0, "--points", asked(tmp_path, line="lowest"))["through"].startswith("shoulder-")


def test_a_length_is_answered_in_millimetres_with_its_budget(tmp_path: Path) -> None:
    found = answered(0, "--points", asked(tmp_path, line="hip-over-rail"))
    true = POSE.joints()["hip"][2] - 1700
    low, high = (float(end) for end in found["interval95_mm"])
    assert low <= true <= high
    assert {"body clicks, 1.000 px stated", "apparatus clicks"} <= {one["source"] for one in found["budget"]}


def test_judges_who_clicked_one_frame_pool(tmp_path: Path) -> None:
    paths = [asked(tmp_path, f"{judge}.json", line="shoulder-ankle") for judge in "ABC"]
    words = [word for path in paths for word in ("--points", path)]
    found = answered(0, *words)
    assert len(found["readings"]) == 3
    assert float(found["reproducibility_deg"]) >= 0


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"line": "step", "requirement": {"at_least_deg": "-45"}}, "A limit belongs to"),
        ({"line": "knee-bend", "requirement": {"at_least_deg": "-45"}}, "A limit belongs to"),
        ({"line": "step"}, "needs the foot"),
        ({"line": "hip-hip"}, "no such body line"),
        ({"line": "knee-bend", "against": "vertical"}, "cannot be held against"),
        ({"line": "hip-over-rail", "points": {}}, "no length"),
    ],
)
def test_what_cannot_be_measured_is_refused_in_words(tmp_path: Path, more: dict[str, Any], said: str) -> None:
    assert said in refused("--points", asked(tmp_path, **more))


def test_readings_that_are_not_of_one_thing_do_not_pool(tmp_path: Path) -> None:
    one, other = (
        asked(tmp_path, "a.json", line="shoulder-ankle"),
        asked(tmp_path, "b.json", line="shoulder-hip"),
    )
    assert "not of one line on one frame" in refused("--points", one, "--points", other)


def test_the_edges_of_a_limit_belong_where_the_request_says(tmp_path: Path) -> None:
    said = [
        answered(0, "--points", asked(tmp_path, line="shoulder-ankle", requirement=asked_limit))["verdict"][
            "rule"
        ]
        for asked_limit in (
            {"at_least_deg": "-45", "tolerance_deg": "10"},
            {"at_least_deg": "-45", "tolerance_deg": "10", "limit_included": False},
        )
    ]
    assert "excluded" not in said[0]
    assert "−45.0° itself excluded" in said[1]
