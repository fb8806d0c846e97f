"""An audit of one part of the score asks for nothing else, and says that only this was audited.

The small routine: 10.000 less three value parts of 0.100, a circle and a dismount of 0.500 each are 8.700
(common practice, no source).
"""

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from reviewer import actions, rules
from reviewer.actions.documents import schema
from reviewer.terms.exact import Points
from reviewer.terms.posted import PostedSheet
from reviewer.terms.problems import ReviewerError
from tests.actions.small_routine import begin, events

ELEMENTS: list[dict[str, Any]] = [
    {"id": "m1", "kind": "element", "code": "pullover", "roles": ["mount"], "order": 1},
    {"id": "m2", "kind": "element", "code": "cast", "order": 2, "angle": {"deg": "-52", "by": "eye"}},
    {"id": "m3", "kind": "element", "code": "sole-circle-dismount", "roles": ["dismount"],
     "with": ["spotted"], "order": 3},
]  # fmt: skip


@pytest.fixture
def case(tmp_path: Path) -> Path:
    return begin(tmp_path / "routine.case")


def limited(case: Path, *parts: str) -> dict[str, Any]:
    with actions.open_case(case, author="A") as audit:
        actions.limit_audit(audit, parts)
    return actions.score_document(case)


def test_a_start_value_alone_needs_elements_in_their_order_and_nothing_else(tmp_path: Path) -> None:
    paper = tmp_path / "elements.json"
    paper.write_text(json.dumps({"format": "reviewer.marks/1", "marks": ELEMENTS}), encoding="utf-8")
    found = actions.score_document(paper, only=["start-value"])
    assert (found["start_value"], found["only"]) == ("8.700", ["start-value"])
    assert {line["stage"] for line in found["lines"]} == {"start-value"}
    assert sum(Points.parse(line["points"]).thousandths for line in found["lines"]) == 8700 - 10000
    assert found["problems"] == []


def test_faults_that_cannot_be_scored_do_not_hinder_an_audit_of_the_start_value(tmp_path: Path) -> None:
    bad = {"id": "m4", "kind": "fault", "code": "arms-bent", "element": "m2", "amount": "0.123"}
    paper = tmp_path / "bad.json"
    paper.write_text(json.dumps({"format": "reviewer.marks/1", "marks": [*ELEMENTS, bad]}), encoding="utf-8")
    assert actions.score_document(paper)["problems"]
    assert actions.score_document(paper, only=["start-value"])["problems"] == []


@pytest.mark.parametrize("parts", [("start-value",), ("execution",), ("neutral",), ("execution", "neutral")])
def test_each_part_has_its_own_lines_as_in_the_whole(case: Path, parts: tuple[str, ...]) -> None:
    whole = actions.score_document(case)
    found = actions.score_document(case, only=parts)
    assert found["lines"] == [line for line in whole["lines"] if line["stage"] in parts]
    assert found["lines"]
    assert found["only"] == list(parts)
    assert list(Draft202012Validator(schema("score")).iter_errors(found)) == []


def test_all_parts_together_are_the_whole(case: Path) -> None:
    assert actions.score_document(case, only=actions.PARTS) == actions.score_document(case)


def test_the_case_keeps_it_as_one_step_of_undo(case: Path) -> None:
    number = events(case)
    assert limited(case, "start-value")["only"] == ["start-value"]
    assert limited(case, "start-value")["only"] == ["start-value"]
    assert events(case) == number + 1
    assert "only" not in actions.score_document(case, only=[actions.WHOLE])
    assert "only" not in limited(case, actions.WHOLE)
    with actions.open_case(case, author="A") as audit:
        actions.undo(audit)
    assert actions.score_document(case)["only"] == ["start-value"]


def test_no_final_score_is_held_against_a_posted_one(case: Path) -> None:
    with actions.open_case(case, author="A") as audit:
        actions.enter_posted(audit, Points(8900))
    assert actions.score_document(case)["posted"] is not None
    assert limited(case, "start-value")["posted"] is None
    with pytest.raises(ReviewerError, match="Only start-value is audited"):
        actions.score_document(case, posted=Points(8900))
    assert actions.score_document(case, posted=Points(8900), only=[actions.WHOLE])["posted"]


NOT_AUDITED = {
    "start-value": {"judges", "panel_average", "spread"},
    "execution": {"start_value", "value_parts", "judges", "panel_average", "spread"},
    "neutral": {"start_value", "value_parts", "judges", "panel_average", "spread"},
}
"""What each part alone does not find; judges of the demo edition begin from the start value."""


@pytest.mark.parametrize("part", NOT_AUDITED)
def test_what_rests_on_another_part_is_null(case: Path, part: str) -> None:
    found = actions.score_document(case, only=[part])
    null = {key for key, value in found.items() if value is None}
    on_all = {"final_score", "full_speed", "reachable", "reachable_apart", "posted", "towards_posted"}
    assert null == on_all | NOT_AUDITED[part]
    assert found.get("deductions") == ([{"judge": "A", "points": "0.200"}] if part == "execution" else None)
    assert found["rests_on"]["points"] == str(
        Points(-sum(Points.parse(line["points"]).thousandths for line in found["lines"]))
    )


def test_scores_of_judges_are_found_where_they_begin_from_what_is_audited(case: Path) -> None:
    """8.700 less 0.200 are 8.500; neutral deductions are not looked at."""
    found = actions.score_document(case, only=["start-value", "execution"])
    whole = actions.score_document(case)
    assert (found["judges"], found["panel_average"]) == (whole["judges"], whole["panel_average"])
    assert found["final_score"] is None


def test_where_execution_is_a_score_of_its_own_it_is_found_alone(tmp_path: Path) -> None:
    """The international edition adds difficulty and execution; the judge's 10.000 less 0.100 are 9.900."""
    marks = [
        {"id": "m1", "kind": "element", "code": "e-A", "order": 1},
        {"id": "m2", "kind": "fault", "code": "legs-apart", "amount": "0.100", "element": "m1"},
    ]
    book = rules.load(rules.find("international-bars"))
    marks[0]["code"] = book.elements[0].code
    fault = next(one for one in book.faults if Points(100) in one.amounts)
    marks[1]["code"] = fault.code
    paper = tmp_path / "international.json"
    document = {"format": "reviewer.marks/1", "rule_book": book.id, "marks": marks}
    paper.write_text(json.dumps(document), encoding="utf-8")
    assert actions.score_document(paper, only=["execution"])["panel_average"] == "9.900"


def test_a_word_that_is_no_part_is_refused(case: Path) -> None:
    with pytest.raises(ReviewerError, match="no part 'landing'"):
        limited(case, "landing")


def report(case: Path) -> tuple[str, dict[str, Any]]:
    """The page of a report and its finding; it derives again as it stands."""
    folder = case.parent / "report"
    with actions.open_case(case, author="A") as audit:
        actions.write_report(audit, folder)
    assert actions.verify(folder)["same"]
    found: dict[str, Any] = json.loads((folder / "report.json").read_bytes())
    return (folder / "report.html").read_text(encoding="utf-8"), found


def test_the_report_says_that_only_this_part_was_audited(case: Path) -> None:
    limited(case, "start-value")
    page, found = report(case)
    assert "Only this was audited: Start value." in page
    assert "8.700" in page
    assert "6.200" not in page
    assert found["score"]["only"] == ["start-value"]
    assert all("amount" not in mark for mark in found["marks"])
    assert all(shown not in page for shown in ("8.500", "6.200"))


@pytest.mark.parametrize("part", ["execution", "neutral"])
@pytest.mark.parametrize("language", ["en", "de"])
def test_a_report_of_another_part_shows_no_start_value(case: Path, part: str, language: str) -> None:
    limited(case, part)
    folder = case.parent / language
    with actions.open_case(case, author="A") as audit:
        written = actions.write_report(audit, folder, language=language)
    assert written["final_score"] is None
    page = (folder / "report.html").read_text(encoding="utf-8")
    assert not any(number in page for number in ("8.700", "8.500", "6.200"))
    assert "Value parts credited" not in page
    assert "Anerkannte Wertteile" not in page


def test_an_inquiry_about_more_than_was_audited_is_not_decided_by_the_marks(case: Path) -> None:
    limited(case, "start-value")
    with actions.open_case(case, author="A") as audit:
        name = actions.file_inquiry(audit, asked_by="coach", about="score")
        actions.enter_posted(audit, Points(8900))
        (asked,) = actions.inquiries_document(audit)["asked"]
        assert asked["proposed"]["finding"] == "cannot be decided"
        assert "not audited" in asked["proposed"]["why"][0]
        actions.answer_inquiry(audit, name)
        assert "6.200" not in actions.letter(audit, name)


def test_the_report_holds_what_the_panel_posted_against_the_marks(case: Path) -> None:
    """The average of two judges is their mean (common practice, no source)."""
    judges = (("A", Points(9000)), ("B", Points(8800)))
    with actions.open_case(case, author="A") as audit:
        actions.enter_posted_sheet(
            audit, PostedSheet(Points(9200), judges, Points(300), Points(8900), Points(8600))
        )
        document = actions.posted_sheet_document(audit)
    page, found = report(case)
    assert found["posted_sheet"] == {
        key: value for key, value in document.items() if key not in ("format", "rule_book")
    }
    assert "What the panel posted" in page
    assert "The start value would be explained by" in page
    assert "or by" in page
    assert "A 360-degree circling element is missing." in page


def test_of_a_posted_sheet_only_the_audited_part_stands_beside_the_marks(case: Path) -> None:
    limited(case, "start-value")
    with actions.open_case(case, author="A") as audit:
        actions.enter_posted_sheet(audit, PostedSheet(Points(9200), average=Points(8900), final=Points(8900)))
        found = actions.posted_sheet_document(audit)
    assert [one["part"] for one in found["against_marks"]] == ["start-value"]
    assert [one["part"] for one in found["within_itself"]] == ["final"]
