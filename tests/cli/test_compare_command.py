"""`reviewer compare` as a person types it: what two judges agree on, and what cannot be compared."""

import json
import sys
from contextlib import redirect_stderr, redirect_stdout
from copy import deepcopy
from io import StringIO
from pathlib import Path
from typing import Any, NamedTuple
from unittest.mock import patch

import pytest
from jsonschema import Draft202012Validator

from reviewer import actions
from reviewer.cli import program
from reviewer.terms.exact import Points

ROOT = Path(__file__).resolve().parents[2]
SCHEMA = json.loads((ROOT / "annotations/schemas/comparison.schema.json").read_text(encoding="utf-8"))
SAMPLE = json.loads((ROOT / "annotations/square-on.marks.json").read_text(encoding="utf-8"))
OTHER = "0" * 64


class Ended(NamedTuple):
    """How a command ended, and what it said."""

    returncode: int
    stdout: str
    stderr: str


def run(*words: str | Path) -> Ended:
    """The command line as it is called, in this process."""
    with (
        patch.object(sys, "argv", ["reviewer", *map(str, words)]),
        redirect_stdout(StringIO()) as said,
        redirect_stderr(StringIO()) as complaint,
    ):
        code = program.run(lambda *_: 0)
    return Ended(code, said.getvalue(), complaint.getvalue())


def answer(code: int, *words: str | Path) -> dict[str, Any]:
    found = run("compare", *words, "--json")
    assert found.returncode == code, found.stdout + found.stderr
    document = dict(json.loads(found.stdout))
    if code != 2:
        Draft202012Validator(SCHEMA).validate(document)
    return document


def written(path: Path, document: dict[str, Any]) -> Path:
    path.write_text(json.dumps(document), encoding="utf-8")
    return path


@pytest.fixture
def judge_a(tmp_path: Path) -> Path:
    return written(tmp_path / "a.json", SAMPLE)


@pytest.fixture
def judge_b(tmp_path: Path) -> Path:
    """Another amount for bent arms, and what she saw of the legs only slowed down."""
    marks = deepcopy(SAMPLE)
    for mark in marks["marks"]:
        if mark["code"] == "arms-bent":
            mark["amount"] = "0.200"
        if mark["code"] == "legs-apart":
            mark["seen"] = "slowed"
    return written(tmp_path / "b.json", marks)


def test_a_sheet_is_the_same_as_itself(judge_a: Path) -> None:
    found = answer(0, judge_a, judge_a)
    assert found["same"]
    assert found["comparisons"][0]["counts"] == {
        "agreed": len(SAMPLE["marks"]),
        "differs": 0,
        "only_first": 0,
        "only_second": 0,
        "only_slowed": 0,
    }


def test_two_judges_of_one_recording_are_matched_by_time(judge_a: Path, judge_b: Path) -> None:
    found = answer(1, judge_a, judge_b)["comparisons"][0]
    assert found["matched_by"] == "time and code"
    assert found["final_score"]["apart"] == "-0.100"
    thing = next(one for one in found["things"] if (one["first"] or {}).get("code") == "arms-bent")
    assert thing["differs"] == [{"what": "amount", "first": "0.100", "second": "0.200"}]
    assert thing["moves"]["first"] == {"start_value": "0.000", "final_score": "-0.100"}


def test_the_same_in_words_a_judge_reads(judge_a: Path, judge_b: Path) -> None:
    found = run("compare", judge_a, judge_b, "--posted", "8.900")
    assert found.returncode == 1
    lines = found.stdout.splitlines()
    assert "  agreed   1. pullover" in lines
    wanted = "amount 0.100 | 0.200; sheet 1 would move -0.100, sheet 2 would move +0.100"
    assert f"  differs     arms-bent: {wanted}" in lines
    assert sum("not reachable on these marks" in line for line in lines) == 2


def test_the_same_marks_by_the_edition_of_the_season_before(judge_a: Path) -> None:
    """A medium step cost 0.100 alone in the season before; at 0.150 it cannot be held against this one."""
    found = answer(3, judge_a, "--rule-book", "demo-bars-2-previous")
    assert [one["mark"] for one in found["unscored"]] == ["m12"]
    assert "0.150 is not an amount" in found["unscored"][0]["message"]
    assert [one["rule_book"]["id"] for one in found["sides"]] == ["demo-bars-2", "demo-bars-2-previous"]
    assert not found["comparisons"][0]["same_edition"]
    assert "different editions" in run("compare", judge_a, "--rule-book", "demo-bars-2-previous").stdout


def test_what_only_slow_motion_shows_stands_apart_from_what_the_panel_could_see(
    judge_a: Path, tmp_path: Path
) -> None:
    slowed = deepcopy(SAMPLE)
    new = {"id": "new", "kind": "fault", "code": "feet", "element": "m3", "amount": "0.050", "seen": "slowed"}
    slowed["marks"].append(new)
    other = written(tmp_path / "slowed.json", slowed | {"posted": "9.650"})
    found = answer(1, judge_a, other)
    things = found["comparisons"][0]["things"]
    assert [one["second"]["id"] for one in things if one["only_slowed"]] == ["new"]
    first, second = found["sides"]
    assert second["full_speed"] == first["final_score"] != second["final_score"]
    assert first["posted"]["score"] == "9.650", "one routine has one posted score"
    assert second["posted"]["apart"] == "0.050"
    assert second["posted"]["full_speed_apart"] == "0.000"
    assert "What only slow motion shows:" in run("compare", judge_a, other).stdout


def test_three_sheets_are_the_first_against_each_other_one(judge_a: Path, judge_b: Path) -> None:
    found = answer(1, judge_a, judge_b, judge_a)
    assert [(one["sides"], one["same"]) for one in found["comparisons"]] == [([1, 2], False), ([1, 3], True)]


def test_sheets_typed_from_paper_are_matched_by_order(tmp_path: Path) -> None:
    elements = [
        {"id": f"e{n}", "kind": "element", "code": code, "order": n}
        for n, code in enumerate(["pullover", "cast", "back-hip-circle", "underswing-dismount"])
    ]
    plain = {"format": "reviewer.marks/1", "marks": elements}
    short = {"format": "reviewer.marks/1", "marks": elements[:2] + elements[3:]}
    found = answer(1, written(tmp_path / "a.json", plain), written(tmp_path / "b.json", short))[
        "comparisons"
    ][0]
    assert found["matched_by"] == "order and code"
    assert [one["state"] for one in found["things"]] == ["agreed", "agreed", "only-in-one", "agreed"]
    assert not found["start_value"]["same"]
    assert [line["points"] for line in found["start_value"]["lines"]] != []


def codes(found: dict[str, Any]) -> list[str]:
    assert all(one["remedy"] for one in found["problems"])
    return [one["code"] for one in found["problems"]]


def test_sheets_of_different_recordings_are_refused_unless_that_is_meant(
    judge_a: Path, tmp_path: Path
) -> None:
    other = written(tmp_path / "other.json", SAMPLE | {"recording_sha256": OTHER})
    assert codes(answer(2, judge_a, other)) == ["other-recording"]
    found = answer(0, judge_a, other, "--although-other-recording")
    assert found["comparisons"][0]["matched_by"] == "order and code"


def of_two_recordings(path: Path, marks: list[dict[str, Any]], shift: str) -> Path:
    """The first recording's line of time; the second shows the same from the other side."""
    places = [(OTHER, "0/1"), ("1" * 64, shift)]
    recordings = [
        {"sha256": name, "time_base": "1/1000", "attempt": 1, "line": 1, "shift_s": shift_s}
        for name, shift_s in places
    ]
    own = {"recording_sha256": OTHER, "time_base": "1/1000", "attempt": 1, "recordings": recordings}
    return written(path, {"format": "reviewer.marks/1", "marks": marks} | own)


def test_times_on_joined_recordings_are_held_together_where_both_sheets_join_them_alike(
    tmp_path: Path,
) -> None:
    """The second judge marked the cast on the other camera, half a second behind."""
    cast = {"id": "c", "kind": "element", "code": "cast", "start": 1000, "end": 1800}
    late = cast | {"start": 1500, "end": 2300, "recording": "1" * 64}
    first = of_two_recordings(tmp_path / "a.json", [cast], "-1/2")
    found = answer(0, first, of_two_recordings(tmp_path / "b.json", [late], "-1/2"))
    assert found["comparisons"][0]["matched_by"] == "time and code"
    found = answer(0, first, of_two_recordings(tmp_path / "c.json", [late], "-1/3"))
    assert found["comparisons"][0]["matched_by"] == "order and code"


def test_sheets_with_no_element_in_common_are_refused(tmp_path: Path) -> None:
    sheets = [
        written(
            tmp_path / f"{code}.json",
            {
                "format": "reviewer.marks/1",
                "marks": [{"id": "e", "kind": "element", "code": code, "order": 1}],
            },
        )
        for code in ("pullover", "giant")
    ]
    assert codes(answer(2, *sheets)) == ["other-routine"]


def test_a_sheet_of_far_too_many_marks_is_refused(judge_a: Path, tmp_path: Path) -> None:
    many = [{"id": f"e{n}", "kind": "element", "code": "cast", "order": n} for n in range(1001)]
    sheet = written(tmp_path / "many.json", {"format": "reviewer.marks/1", "marks": many})
    assert codes(answer(2, judge_a, sheet)) == ["too-many-marks"]


def test_a_case_stands_beside_a_marks_document_with_the_panel_s_own_scores(
    tmp_path: Path, judge_b: Path
) -> None:
    case = Path(actions.run_demo(tmp_path / "demo")["case"])
    given = {"A": Points.parse("9.400"), "B": Points.parse("9.300")}
    with actions.open_case(case, author="A") as audit:
        actions.keep_panel(audit, given, {})
    found = answer(1, case, judge_b)
    assert found["comparisons"][0]["matched_by"] == "time and code"
    panels = [one["panel"] for one in found["sides"]]
    assert panels == [{"before": {"A": "9.400", "B": "9.300"}}, {}]
    assert (
        "the panel's own scores before a conference: A 9.400, B 9.300" in run("compare", case, judge_b).stdout
    )


def test_one_sheet_alone_is_refused(judge_a: Path) -> None:
    assert codes(answer(2, judge_a)) == ["one-sheet"]


@pytest.mark.parametrize("text", ["-0.1", "soon", "1e3"])
def test_what_is_no_time_is_refused(judge_a: Path, text: str) -> None:
    assert run("compare", judge_a, judge_a, f"--within={text}").returncode == 2


def test_a_mark_that_an_edition_cannot_score_is_named_and_has_no_cost(judge_a: Path, tmp_path: Path) -> None:
    strange = deepcopy(SAMPLE)
    strange["marks"][1]["code"] = "unheard-of"
    found = answer(3, judge_a, written(tmp_path / "strange.json", strange))
    assert [one["code"] for one in found["warnings"]] == ["unknown-element"]
    thing = found["comparisons"][0]["things"][1]
    assert thing["moves"] == {"first": None, "second": None}


def test_marks_that_another_edition_cannot_take_are_named_first_and_decide_nothing(judge_a: Path) -> None:
    """The international edition enters elements by their value; of the demo league's it knows the cast."""
    found = answer(3, judge_a, "--rule-book", "international-bars")
    elements = {
        mark["id"] for mark in SAMPLE["marks"] if mark["kind"] == "element" and mark["code"] != "cast"
    }
    assert {one["mark"] for one in found["unscored"]} >= elements
    assert {one["side"] for one in found["unscored"]} == {2}
    assert not found["same"]
    said = run("compare", judge_a, "--rule-book", "international-bars")
    assert said.returncode == 3
    first, second, *rest = said.stdout.splitlines()
    assert first == "These marks cannot be compared, and the rest is compared without them:"
    assert second.startswith("  sheet 2, by international-bars: m1: ")
    assert any("final score" in line and line.endswith("of the marks that could be scored") for line in rest)
    assert "Sheet 1 and sheet 2, matched by" in said.stdout
    assert "Mind:" not in said.stdout.replace("Mind: they are scored by different editions", "")


@pytest.mark.parametrize("key", SCHEMA["required"])
def test_the_schema_misses_what_is_left_out(judge_a: Path, judge_b: Path, key: str) -> None:
    found = actions.compare_sheets([judge_a, judge_b])
    Draft202012Validator(SCHEMA).validate(found)
    del found[key]
    assert list(Draft202012Validator(SCHEMA).iter_errors(found))
