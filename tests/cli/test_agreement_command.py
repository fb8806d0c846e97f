"""`reviewer agreement` as a person types it: tables from many hands, sheets, and what cannot be told."""

import json
import sys
from contextlib import redirect_stderr, redirect_stdout
from copy import deepcopy
from io import StringIO
from pathlib import Path
from typing import Any
from unittest.mock import patch

import pytest
from jsonschema import Draft202012Validator

from reviewer.cli import program

ROOT = Path(__file__).resolve().parents[2]
SCHEMA = json.loads((ROOT / "annotations/schemas/agreement.schema.json").read_text(encoding="utf-8"))
SAMPLE = json.loads((ROOT / "annotations/square-on.marks.json").read_text(encoding="utf-8"))
FOUR_JUDGES = [
    [9.3, 9.0, 8.9, 9.1],
    [8.8, 8.5, 8.7, 8.4],
    [9.2, 9.2, 9.1, 9.1],
    [8.8, 8.7, 8.9, 8.8],
    [9.1, 9.1, 9.1, 9.0],
    [8.3, 8.4, 8.6, 8.5],
    [9.0, 8.8, 8.6, 8.9],
    [8.4, 8.3, 8.6, 8.4],
]
"""Four execution judges on eight vaults: published results of a national meet, senior women, 2023 (read)."""


def run(*words: str | Path) -> tuple[int, str]:
    """Exit code and what was printed."""
    with (
        patch.object(sys, "argv", ["reviewer", "agreement", *map(str, words)]),
        redirect_stdout(StringIO()) as said,
        redirect_stderr(said),
    ):
        return program.run(lambda *_: 0), said.getvalue()


def answer(*words: str | Path) -> dict[str, Any]:
    code, said = run(*words, "--json")
    assert code == 0, said
    document = dict(json.loads(said))
    Draft202012Validator(SCHEMA).validate(document)
    return document


def problems(*words: str | Path) -> list[tuple[str, str]]:
    code, said = run(*words, "--json")
    assert code == 2, said
    found = json.loads(said)["problems"]
    assert all(one["remedy"] for one in found)
    return [(one["code"], one["where"]) for one in found]


@pytest.fixture
def table(tmp_path: Path) -> Path:
    lines = [f"{n},{'ABCD'[k]},{one}" for n, row in enumerate(FOUR_JUDGES) for k, one in enumerate(row)]
    return written(tmp_path, "\n".join(["routine,judge,execution", *lines]))


def written(folder: Path, text: str) -> Path:
    path = folder / "scores.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_four_published_judges(table: Path) -> None:
    """ICC(2,1) .8209 and ICC(3,1) .8235, computed apart from this program."""
    found = answer(table)
    (score,) = found["quantities"]
    assert (score["quantity"], score["routines"], score["complete"]) == ("score", 8, 8)
    assert (score["icc_2_1"]["value"], score["icc_3_1"]["value"]) == ("0.8209", "0.8235")
    assert [one["judge"] for one in score["judges"]] == found["judges"] == ["A", "B", "C", "D"]
    assert found["faults"] is None


def test_the_same_in_words_with_what_cannot_be_concluded(table: Path) -> None:
    code, said = run(table)
    assert code == 0
    assert "  ICC(2,1), absolute     0.8209 (0.5892 to 0.9547)" in said
    assert "nothing can be concluded from fewer than 18 routines, and there are 8." in said
    assert "nothing here says who is the better judge" in said


@pytest.mark.parametrize(
    "text",
    [
        "JUDGE,Routine,Start Value\na,x,10\nb,X,9.5\n",
        "final;judge;start-value;routine\n9,1;A;10,0;x\n9,2;B;9,5;x\n",
        "routine\tjudge\tstart_value\tclub\nx\tA\t10.0\tn\nx\tB\t9.5\tn\nx\tC\t\tn\n",
    ],
    ids=["capitals and order", "semicolons and commas", "tabs, other columns, a blank cell"],
)
def test_tables_from_many_hands_are_read(tmp_path: Path, text: str) -> None:
    found = answer(written(tmp_path, text))
    start = next(one for one in found["quantities"] if one["quantity"] == "start_value")
    assert start["pairs"][0]["judges"] == ["A", "B"]
    assert start["pairs"][0]["difference"]["value"] == "0.500"
    assert start["same"]["value"] == "0.0000"


def test_one_routine_says_that_nothing_can_be_concluded(tmp_path: Path) -> None:
    found = answer(written(tmp_path, "routine,judge,final\n1,A,9.1\n1,B,9.2\n"))
    (final,) = found["quantities"]
    assert final["icc_2_1"]["value"] is None
    assert not final["same"]["enough"]
    assert any("nothing can be concluded" in words for words in found["remarks"])


def test_equal_scores_leave_coefficients_open(tmp_path: Path) -> None:
    rows = "".join(f"{n},{who},9.0\n" for n in range(4) for who in "AB")
    (final,) = answer(written(tmp_path, f"routine,judge,final\n{rows}"))["quantities"]
    assert (final["icc_2_1"]["value"], final["icc_3_1"]["value"]) == (None, None)
    assert "All scores are equal" in final["icc_2_1"]["why"]
    assert final["same"]["value"] == "1.0000"


@pytest.mark.parametrize(
    ("text", "code", "line"),
    [
        ("routine,judge,final\n1,A,9\n2,A,9\n", "one-judge", None),
        ("routine,judge,final\n1,A,9\n2,B,9\n", "no-shared-routine", None),
        ("routine,judge\n1,A\n", "missing-column", 1),
        ("routine,final\n1,9\n", "missing-column", 1),
        ("routine,judge,score,execution\n1,A,9,9\n1,B,9,9\n", "column-twice", 1),
        ("routine,judge,final\n1,A,9\n1,a,9\n", "judge-twice", 3),
        ("routine,judge,final\n1,Somebody,9\n1,B,9\n", "no-letter", 2),
        ("routine,judge,final\n,A,9\n1,B,9\n", "no-routine", 2),
        ("routine,judge,final\n1,A,nine\n1,B,9\n", "bad-value", 2),
        ("routine,judge,final\n1,A,9\n1,B,-9\n", "negative", 3),
        ("routine,judge,final\n1,A,1e400\n1,B,9\n", "bad-value", 2),
        ("", "no-rows", 1),
    ],
)
def test_what_is_wrong_with_a_table_is_named_with_its_line(
    tmp_path: Path, text: str, code: str, line: int | None
) -> None:
    found = problems(written(tmp_path, text))
    assert [one for one, _ in found] == [code]
    assert line is None or found[0][1] == f"scores.csv:{line}"


def test_the_problem_of_a_name_does_not_repeat_it(tmp_path: Path) -> None:
    _, said = run(written(tmp_path, "routine,judge,final\n1,Somebody,9\n1,B,9\n"))
    assert "Somebody" not in said


def sheet(folder: Path, name: str, **changes: Any) -> Path:
    path = folder / f"{name}.json"
    path.write_text(json.dumps(deepcopy(SAMPLE) | changes), encoding="utf-8")
    return path


def without_fault(code: str) -> list[dict[str, Any]]:
    return [mark for mark in SAMPLE["marks"] if mark["code"] != code]


def test_sheets_of_one_recording_are_one_routine(tmp_path: Path) -> None:
    one = sheet(tmp_path, "one", judges=["A"])
    other = sheet(tmp_path, "other", marks=without_fault("arms-bent"), judges=["B"])
    found = answer(one, other)
    assert (found["routines"], found["judges"]) == (1, ["A", "B"])
    elements = sum(mark["kind"] == "element" for mark in SAMPLE["marks"])
    codes = {mark["code"] for mark in SAMPLE["marks"] if mark["kind"] == "fault"}
    assert found["faults"]["units"] == elements * len(codes)
    assert found["faults"]["taken"]["alpha"] not in (None, "1.0000")
    assert [one["quantity"] for one in found["quantities"]] == ["start_value", "score", "final_score"]


def test_alpha_of_one_routine_says_that_nothing_can_be_concluded_from_it(tmp_path: Path) -> None:
    one = sheet(tmp_path, "one", judges=["A"])
    other = sheet(tmp_path, "other", marks=without_fault("arms-bent"), judges=["B"])
    _, said = run(one, other)
    assert any("alpha of Krippendorff" in line and "(no interval)" in line for line in said.splitlines())
    assert "in 1 routine, and has no interval" in said


def test_routines_and_judges_may_be_named(tmp_path: Path) -> None:
    paper = sheet(tmp_path, "paper", recording_sha256=None)
    other = sheet(tmp_path, "other", recording_sha256=None, marks=without_fault("arms-bent"))
    words = [
        f"{routine}/{judge}={path}"
        for routine in ("1", "2")
        for judge, path in zip("AB", (paper, other), strict=True)
    ]
    found = answer(*words)
    assert (found["routines"], found["judges"]) == (2, ["A", "B"])
    final = found["quantities"][2]
    assert final["pairs"][0]["difference"]["value"] == "-0.100"


def test_a_sheet_of_several_judges_speaks_for_their_scores_and_not_for_a_start_value(tmp_path: Path) -> None:
    marks = [mark | ({"judge": "A"} if mark["kind"] == "fault" else {}) for mark in SAMPLE["marks"]]
    found = answer(sheet(tmp_path, "panel", marks=marks, judges=["A", "B"]))
    assert [one["quantity"] for one in found["quantities"]] == ["score"]


def test_sheets_that_cannot_be_told_apart_are_refused(tmp_path: Path) -> None:
    one = sheet(tmp_path, "one")
    assert [code for code, _ in problems(one, one)] == ["judge-twice"]
    paper = sheet(tmp_path, "paper", recording_sha256=None)
    assert [code for code, _ in problems(paper, f"1/B={one}")] == ["no-routine"]
    assert [code for code, _ in problems(f"1/A={one}")] == ["one-judge"]


def test_different_editions_of_one_routine_are_said(tmp_path: Path) -> None:
    one = sheet(tmp_path, "one")
    other = sheet(tmp_path, "other", rule_book="demo-bars-2-previous")
    found = answer(f"1/A={one}", f"1/B={other}")
    assert "other-rule-book" in [one["code"] for one in found["warnings"]]


def test_a_table_beside_sheets_is_refused(table: Path, tmp_path: Path) -> None:
    code, said = run(table, sheet(tmp_path, "one"))
    assert (code, "one table alone" in said) == (2, True)
