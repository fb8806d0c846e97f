"""Two judges' cases made one from the command line, then scored, reported, verified and packed."""

import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from reviewer import actions
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.marks import CastAngle

ROOT = Path(__file__).resolve().parents[2]
CLIP = ROOT / "sample_clips" / "square-on.mp4"
OTHER = ROOT / "sample_clips" / "off-axis-fall.mp4"


def run(*words: str | Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "reviewer", *map(str, words)]
    found = subprocess.run(command, capture_output=True, text=True, timeout=120)
    assert "Traceback" not in found.stderr + found.stdout
    return found


def said(*words: str | Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(run(*words, "--json").stdout)
    return found


def judged(path: Path, author: str, amount: str, recording: Path = CLIP, book: str = "demo-bars-2") -> Path:
    with actions.start_case(
        path, author=author, athlete_code="G-07", consent="given", rule_book=book, recording=recording
    ) as audit:
        actions.place_mark(audit, kind="element", code="pullover", roles=("mount",), start=0, end=9000)
        actions.place_mark(
            audit,
            kind="fault",
            code="arms-bent",
            element="m1",
            at=3000,
            amount=Points.parse(amount),
            judge=author,
        )
    return path


@pytest.fixture
def pair(tmp_path: Path) -> tuple[Path, Path]:
    return judged(tmp_path / "a.case", "A", "0.100"), judged(tmp_path / "b.case", "B", "0.200")


def test_two_cases_become_one_that_scores_verifies_and_packs(pair: tuple[Path, Path], tmp_path: Path) -> None:
    both = tmp_path / "both.case"
    found = said("merge", *pair, "-o", both, "--author", "C")
    assert (found["events"], found["added"], found["conflicts"], found["remarks"]) == (11, 6, [], [])
    assert [(one["id"], one["was"], one["author"]) for one in found["renamed"]] == [
        ("B.m1", "m1", "B"), ("B.m2", "m2", "B")
    ]  # fmt: skip
    assert found["same"] == [{"first": "m1", "second": "B.m1"}]
    sheet, alone = said("score", both), [said("score", one) for one in pair]
    assert sheet["judges"] == [*alone[0]["judges"], *alone[1]["judges"]]
    assert (sheet["start_value"], sheet["value_parts"]) == (alone[0]["start_value"], alone[0]["value_parts"])
    assert "warnings" not in sheet
    assert run("report", both, "-o", tmp_path / "report").returncode == 0
    assert run("verify", tmp_path / "report", "--recording", CLIP, "--pictures").returncode == 0
    assert run("verify", both).returncode == 0
    assert run("pack", both, "-o", tmp_path / "bag").returncode == 0
    assert run("verify", tmp_path / "bag").returncode == 0
    assert run("marks", "withdraw", both, "B.m2", "--author", "B").returncode == 0
    assert run("marks", "undo", both, "--author", "B").returncode == 0


def test_conflicts_are_printed_with_the_merge_and_with_every_score(
    pair: tuple[Path, Path], tmp_path: Path
) -> None:
    for path, author, score in zip(pair, "AB", ("8.900", "8.800"), strict=True):
        with actions.open_case(path, author=author) as audit:
            actions.enter_posted(audit, Points.parse(score))
    found = run("merge", *pair, "-o", tmp_path / "both.case")
    assert "differs: posted score\n  first  8.900 (stands)\n  second 8.800" in found.stdout
    warnings = [(one["code"], one["where"]) for one in said("score", tmp_path / "both.case")["warnings"]]
    assert ("merged-otherwise", "posted score") in warnings
    report = tmp_path / "report"
    assert run("report", tmp_path / "both.case", "-o", report).returncode == 0
    assert "8.800" in (report / "report.json").read_text()


def test_what_two_judges_saw_otherwise_is_told_first_and_in_their_words(tmp_path: Path) -> None:
    first, second = judged(tmp_path / "a.case", "A", "0.100"), judged(tmp_path / "b.case", "B", "0.100")
    for path, author, angle in ((first, "A", "-38.204"), (second, "B", "not met")):
        with actions.open_case(path, author=author) as audit:
            actions.place_mark(audit, kind="element", code="cast", start=9000, end=19000)
            (cast,) = (mark for mark in audit.marks if mark.code == "cast")
            said = (
                CastAngle("eye", verdict=angle)
                if angle == "not met"
                else CastAngle("protractor", Degrees.parse(angle), Degrees.parse("0.733"))
            )
            actions.change_mark(audit, replace(cast, angle=said))
    spoken = run("merge", first, second, "-o", tmp_path / "both.case").stdout
    told = spoken.index("  first  angle: −38.2° ± 1.5° (95 %) (stands)\n  second angle: not met\n")
    assert told < spoken.index("Marks of both that are one")
    (warning,) = said_of(tmp_path / "both.case")
    assert "u_deg" not in warning
    assert "the first says angle: −38.2° ± 1.5° (95 %), which stands" in warning


def said_of(case: Path) -> list[str]:
    found = said("score", case)["warnings"]
    return [one["message"] for one in found if one["code"] == "merged-otherwise"]


def test_other_editions_are_said(tmp_path: Path) -> None:
    first = judged(tmp_path / "a.case", "A", "0.100")
    second = judged(tmp_path / "b.case", "A", "0.100", book="demo-bars-2-previous")
    found = said("merge", first, second, "-o", tmp_path / "both.case")
    (one,) = found["conflicts"]
    assert (one["what"], one["first"].split(",")[0], one["stands"]) == ("rule book", "demo-bars-2", "first")
    assert found["remarks"][0] == "Both cases were written by A, whose undo now reaches into both."
    assert found["remarks"][1].startswith("Both cases deduct as judge A: what both have is taken once")


def test_what_looks_the_same_may_be_kept_apart(pair: tuple[Path, Path], tmp_path: Path) -> None:
    found = run("merge", *pair, "-o", tmp_path / "none.case", "--apart", "B.m9", "--json")
    assert (found.returncode, json.loads(found.stdout)["problems"][0]["where"]) == (2, "B.m9")
    assert not (tmp_path / "none.case").exists()
    assert said("merge", *pair, "-o", tmp_path / "two.case", "--apart", "B.m1")["same"] == []
    assert said("score", tmp_path / "two.case")["warnings"][0]["code"] == "marked-twice"
    spoken = run("merge", *pair, "-o", tmp_path / "one.case").stdout
    assert "Marks of both that are one: 1, such as B.m1 with m1" in spoken


def test_cases_of_other_recordings_are_refused_unless_it_is_meant(
    pair: tuple[Path, Path], tmp_path: Path
) -> None:
    other = judged(tmp_path / "c.case", "C", "0.100", OTHER)
    found = run("merge", pair[0], other, "-o", tmp_path / "both.case", "--json")
    assert (found.returncode, json.loads(found.stdout)["problems"][0]["code"]) == (2, "other-recording")
    assert not (tmp_path / "both.case").exists()
    meant = run("merge", pair[0], other, "-o", tmp_path / "both.case", "--although-other-recording")
    assert meant.returncode == 0


def test_merging_with_itself_changes_nothing_and_says_so(pair: tuple[Path, Path], tmp_path: Path) -> None:
    found = said("merge", pair[0], pair[0], "-o", tmp_path / "both.case")
    assert (found["added"], found["remarks"]) == (0, ["The second case holds nothing that the first lacks."])


def test_a_sealed_sheet_stays_apart(pair: tuple[Path, Path], tmp_path: Path) -> None:
    assert run("seal", pair[0], "--author", "A").returncode == 0
    found = run("merge", *pair, "-o", tmp_path / "both.case", "--json")
    assert (found.returncode, json.loads(found.stdout)["problems"][0]["code"]) == (2, "blind-sheet")


def test_what_is_there_is_not_overwritten_and_what_is_no_case_is_refused(
    pair: tuple[Path, Path], tmp_path: Path
) -> None:
    kept = pair[1].read_bytes()
    assert run("merge", *pair, "-o", pair[1]).returncode == 2
    assert pair[1].read_bytes() == kept
    assert run("merge", pair[0], CLIP, "-o", tmp_path / "both.case").returncode == 2
    assert run("merge", pair[0], tmp_path / "nowhere.case", "-o", tmp_path / "both.case").returncode == 2
    assert not (tmp_path / "both.case").exists()


def test_an_angle_that_both_cases_hold_is_drawn_and_told_once(tmp_path: Path) -> None:
    pair = tmp_path / "a.case", tmp_path / "b.case"
    for path, author in zip(pair, "AB", strict=True):
        with actions.start_case(
            path, author=author, athlete_code="G-07", consent="given", recording=CLIP
        ) as audit:
            actions.import_marks(audit, ROOT / "annotations" / "square-on.marks.json")
    actions.merge_cases(*pair, tmp_path / "both.case", author="C")
    with actions.open_case(tmp_path / "both.case", author="C") as audit:
        actions.write_report(audit, tmp_path / "report")
    found = json.loads((tmp_path / "report" / "report.json").read_bytes())
    (still,) = (one for one in found["stills"] if one["frame"] == 255)
    assert (len(still["measured"]), still["overlay"].count("−38.2°")) == (1, still["overlay"].count("limit"))
    page = (tmp_path / "report" / "report.html").read_text("utf-8")
    assert page.count("What the uncertainty of reading") == 3
    assert "the same clicks as reading r4" in page
