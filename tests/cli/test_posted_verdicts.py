"""What is said of a posted score: on these marks, at full speed, nothing firm where marks are left out."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from reviewer import actions
from reviewer.terms.exact import Points
from tests.actions import small_routine

Reviewer = Callable[..., tuple[int, str, str]]

ELEMENTS: list[dict[str, Any]] = [
    {"id": "m1", "kind": "element", "code": "pullover", "roles": ["mount"], "order": 1},
    {"id": "m2", "kind": "element", "code": "cast", "order": 2,
     "angle": {"deg": "-30", "u_deg": None, "by": "eye"}},
]  # fmt: skip


def fault(name: str, code: str, amount: str, **also: Any) -> dict[str, Any]:
    return {"id": name, "kind": "fault", "code": code, "element": "m2", "amount": amount} | also


def sheet(folder: Path, *faults: dict[str, Any], name: str = "sheet.json") -> str:
    path = folder / name
    document = {"format": "reviewer.marks/1", "rule_book": "demo-bars-2", "marks": [*ELEMENTS, *faults]}
    path.write_text(json.dumps(document), encoding="utf-8")
    return str(path)


@pytest.fixture
def slowed(tmp_path: Path) -> str:
    """A fall of which only slow motion shows that it was one: 5.800 with it and 6.300 without."""
    return sheet(
        tmp_path,
        fault("m3", "fall", "0.500", seen="slowed"),
        fault("m4", "arms-bent", "0.100", arguable=False),
    )


def test_what_a_panel_at_full_speed_could_reach_stands_beside_what_all_marks_allow(slowed: str) -> None:
    score = actions.score_document(Path(slowed), posted=Points.parse("6.300"))
    assert score["full_speed"]["reachable"]["scores"] == ["6.300"]
    assert (score["posted"]["reachable"], score["posted"]["nearest"]) == (False, score["final_score"])
    assert score["posted"]["full_speed"] == {"reachable": True, "nearest": "6.300"}


def test_score_and_compare_say_both_in_words(slowed: str, reviewer: Reviewer) -> None:
    code, out, _ = reviewer("score", slowed, "--posted", "6.300")
    assert code == 1
    assert "Posted 6.300: not reachable on these marks" in out
    assert "of what could be seen at full speed: reachable" in out
    assert (
        "of what could be seen at full speed reachable"
        in reviewer("compare", slowed, slowed, "--posted", "6.300")[1]
    )


def test_where_a_fault_was_left_out_nothing_firm_is_said_of_the_posted_score(
    tmp_path: Path, reviewer: Reviewer
) -> None:
    unsaid = sheet(
        tmp_path,
        fault("m3", "arms-bent", "0.100", judge="A"),
        fault("m4", "arms-bent", "0.100", judge="B"),
        fault("m5", "legs-bent", "0.300"),
    )
    code, out, err = reviewer("score", unsaid, "--posted", "5.450")
    assert code == 3
    assert "cannot be decided: marks were left out" in out
    assert "not reachable" not in out
    assert "sheet.json: m5" in err
    assert reviewer("score", unsaid)[0] == 2
    assert actions.score_document(Path(unsaid), posted=Points.parse("6.000"))["posted"]["reachable"] is None


def test_problems_stand_before_the_ledger(tmp_path: Path) -> None:
    with actions.start_case(tmp_path / "a.case", author="A", athlete_code="G-1", consent="given") as audit:
        audit.case.append("mark-placed", {"mark": fault("m1", "arms-bent", "0.100")})
        actions.enter_posted(audit, Points.parse("9.000"))
        actions.write_report(audit, tmp_path / "report")
    page = (tmp_path / "report" / "report.html").read_text(encoding="utf-8")
    assert page.index("What could not be scored") < page.index("The question and the finding")
    assert "cannot be decided: marks were left out" in page


def test_several_changes_towards_a_score_stand_on_one_line(tmp_path: Path, reviewer: Reviewer) -> None:
    path = sheet(tmp_path, fault("m3", "arms-bent", "0.100"), fault("m4", "legs-bent", "0.100"))
    _, out, _ = reviewer("score", path, "--posted", "9.000")
    lines = [line for line in out.splitlines() if "would take" in line]
    assert len(lines) == 1
    assert "m3 0.050 and m4 0.050" in lines[0]


def test_an_audit_of_neutral_deductions_says_what_they_come_to(tmp_path: Path, reviewer: Reviewer) -> None:
    fact = {"id": "m3", "kind": "fact", "code": "springboard-left"}
    code, out, _ = reviewer("score", sheet(tmp_path, fact), "--only", "neutral")
    assert code == 0
    assert "Neutral deductions take 2.300" in out


def test_a_part_is_not_called_the_whole_routine(tmp_path: Path) -> None:
    with actions.start_case(tmp_path / "a.case", author="A", athlete_code="G-1", consent="given") as audit:
        actions.limit_audit(audit, ["execution"])
        actions.write_report(audit, tmp_path / "report")
    page = (tmp_path / "report" / "report.html").read_text(encoding="utf-8")
    assert "Only this was audited" in page
    assert "whole routine" not in page


def test_a_requirement_that_gains_nothing_is_not_said_to_be_met(tmp_path: Path) -> None:
    begun = actions.start_case(
        tmp_path / "a.case",
        author="A",
        athlete_code="G-1",
        consent="given",
        rule_book="international-bars",
    )
    with begun as audit:
        actions.write_report(audit, tmp_path / "report")
    page = (tmp_path / "report" / "report.html").read_text(encoding="utf-8")
    assert "No requirement is missing" not in page
    assert "Missing, so that the start value gains nothing for it" in page


def test_ways_to_explain_a_start_value_are_told_as_alternatives(tmp_path: Path, reviewer: Reviewer) -> None:
    case = small_routine.begin(tmp_path / "a.case")
    _, out, _ = reviewer("posted-sheet", case, "--start-value", "9.2")
    told = [line.strip() for line in out.splitlines() if "requirement." in line]
    assert [line.split(":")[0] for line in told] == ["would explain it", "or"]


def test_an_open_settlement_scores_with_exit_3_and_says_so_first(tmp_path: Path, reviewer: Reviewer) -> None:
    first, second = small_routine.begin(tmp_path / "a.case"), tmp_path / "b.case"
    reviewer("second", first, "-o", second, "--author", "B")
    reviewer("seal", first)
    assert reviewer("seal", second)[0] == 2
    reviewer("seal", second, "--although-empty")
    settled = tmp_path / "c.case"
    reviewer("settle", "begin", first, second, "-o", settled, "--author", "C")
    code, out, _ = reviewer("score", settled)
    assert code == 3
    assert out.startswith("5 lines are still open: this is no settled score.")
    assert "Final score of the lines settled so far" in out
    assert "still open" in reviewer("report", settled, "-o", tmp_path / "report", "--author", "C")[1]


def test_nothing_is_answered_by_the_marks_while_one_of_them_cannot_be_scored(tmp_path: Path) -> None:
    with actions.open_case(small_routine.begin(tmp_path / "a.case"), author="A") as audit:
        actions.enter_posted(audit, Points.parse("9.000"))
        actions.file_inquiry(audit, asked_by="coach", about="score")
        audit.case.append("mark-placed", {"mark": fault("m9", "arms-bent", "0.777")})
        (asked,) = actions.inquiries_document(audit)["asked"]
    assert asked["proposed"]["finding"] == "cannot be decided"
    assert asked["proposed"]["marks"] == ["m9"]
