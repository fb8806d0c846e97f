"""The panel's own scores in a case: before a conference and after it, held against the allowed spread.

Of four judges the two middle scores count (a reference page on the words of the sport, secondary); an average
of 9.000 to 9.475 allows 0.500 between them (judging study cards, secondary), from 9.500 it allows 0.200 (an
article on a split of 9.85 and 10, secondary).
"""

import json
from collections.abc import Callable, Mapping
from pathlib import Path
from re import sub
from typing import Any

import pytest

from reviewer import actions
from reviewer.casefile import CaseError
from reviewer.terms.exact import Points
from reviewer.terms.problems import Problem, ReviewerError
from tests.actions.small_routine import begin, events


def scores(**said: str) -> dict[str, Points]:
    return {judge: Points.parse(text) for judge, text in said.items()}


BEFORE = scores(A="9.400", B="8.900", C="9.600", D="8.700")
AFTER = scores(A="9.300", B="9.000", C="9.400", D="8.900")


@pytest.fixture
def case(tmp_path: Path) -> Path:
    return begin(tmp_path / "routine.case")


def refused(action: Callable[[], object]) -> tuple[Problem, ...]:
    with pytest.raises(ReviewerError) as caught:
        action()
    assert all(one.where and str(one.message) and str(one.remedy) for one in caught.value.problems)
    return caught.value.problems


def keep(case: Path, before: Mapping[str, Points], after: Mapping[str, Points]) -> dict[str, Any]:
    with actions.open_case(case, author="A") as audit:
        return actions.keep_panel(audit, before, after)


def test_the_scores_before_and_after_a_conference_are_both_kept(case: Path) -> None:
    number = events(case)
    kept = keep(case, BEFORE, AFTER)
    assert events(case) == number + 2
    with actions.open_case(case, author=None) as audit:
        assert {when: dict(own) for when, own in audit.state.panel.items()} == {
            "before": {judge: str(score) for judge, score in BEFORE.items()},
            "after": {judge: str(score) for judge, score in AFTER.items()},
        }
    panel = actions.score_document(case)["panel"]
    assert panel == kept["panel"]
    assert list(panel) == ["before", "after"]
    assert [panel[when]["counting"] for when in panel] == [["8.900", "9.400"], ["9.000", "9.300"]]
    assert [panel[when]["panel_average"] for when in panel] == ["9.150", "9.150"]


def test_each_is_one_step_of_undo(case: Path) -> None:
    keep(case, BEFORE, AFTER)
    with actions.open_case(case, author="A") as audit:
        actions.undo(audit)
        assert list(audit.state.panel) == ["before"]
        actions.undo(audit)
        assert dict(audit.state.panel) == {}
        assert len(audit.marks) == 5


def test_neutral_deductions_come_from_the_average(case: Path) -> None:
    """The board left in costs 0.300, fewer than three value parts 2.000 (common practice, no source)."""
    kept = keep(case, BEFORE, {})
    assert kept["neutral"] == "2.300"
    assert kept["panel"]["before"]["final_score"] == "6.850"
    alone = actions.panel_document("demo-bars-2", BEFORE, {}, neutral=Points.parse("0.300"))
    assert alone["panel"]["before"]["final_score"] == "8.850"


@pytest.mark.parametrize(
    ("given", "spread", "allowed", "within"),
    [
        (scores(A="9.250", B="9.000"), "0.250", "0.500", True),
        (scores(A="9.500", B="9.000"), "0.500", "0.500", True),
        (scores(A="9.501", B="9.000"), "0.501", "0.500", False),
        (scores(A="9.600", B="9.400"), "0.200", "0.200", True),
        (scores(A="9.601", B="9.400"), "0.201", "0.200", False),
        (scores(A="9.900", B="9.501", C="9.499", D="9.000"), "0.002", "0.200", True),
    ],
)
def test_the_spread_of_the_counting_scores_is_held_against_the_band_of_their_average(
    given: dict[str, Points], spread: str, allowed: str, within: bool
) -> None:
    found = actions.panel_document("demo-bars-2", given, {})["panel"]["before"]["spread"]
    assert (found["spread"], found["allowed"], found["within"]) == (spread, allowed, within)
    assert found["clause"].startswith("spread.")


def test_one_judge_has_no_spread() -> None:
    found = actions.panel_document("demo-bars-2", scores(A="9.400"), {})["panel"]["before"]
    assert found["spread"] is None
    assert found["final_score"] == "9.400"


def test_difficulty_is_added_after_the_average() -> None:
    """A published row of uneven bars: 6.300 and 8.533 make 14.833 (the facts' table of results)."""
    found = actions.panel_document(
        "international-bars", scores(A="8.533"), {}, difficulty=Points.parse("6.300")
    )
    assert found["panel"]["before"]["final_score"] == "14.833"


def test_the_report_says_both_and_derives_again(case: Path, tmp_path: Path) -> None:
    keep(case, BEFORE, AFTER)
    folder = tmp_path / "report"
    with actions.open_case(case, author="A") as audit:
        actions.write_report(audit, folder)
    page = sub(r"<[^>]*>", "", (folder / "report.html").read_text(encoding="utf-8")).replace("\xa0", " ")
    assert "before a conference: A 9.400; B 8.900; C 9.600; D 8.700" in page
    assert "after a conference: A 9.300; B 9.000; C 9.400; D 8.900" in page
    assert set(json.loads((folder / "report.json").read_bytes())["score"]["panel"]) == {"before", "after"}
    assert actions.verify(folder)["same"]


BAD: dict[str, tuple[dict[str, Points], dict[str, Points], list[tuple[str, str]]]] = {
    "less than nothing": (scores(A="-0.100", B="9.000"), {}, [("no-score", "judge A")]),
    "more than scores begin from": (scores(A="94.000", B="10.001"), {},
                                    [("no-score", "judge A"), ("no-score", "judge B")]),
    "a judge without a letter": (scores(A="9.000") | {" ": Points.parse("9.100")}, {},
                                 [("no-letter", "a judge")]),
    "a judge missing after": (BEFORE, scores(A="9.300"), [("other-judges", "after")]),
    "another judge after": (scores(A="9.300"), scores(B="9.300"), [("other-judges", "after")]),
    "a bad score after good ones": (scores(A="9.300"), scores(A="10.100"), [("no-score", "judge A")]),
    "no scores": ({}, {}, [("no-panel", "before")]),
    "no scores before": ({}, scores(A="9.300"), [("no-panel", "before"), ("other-judges", "after")]),
}  # fmt: skip
each_bad = pytest.mark.parametrize(("before", "after", "said"), BAD.values(), ids=BAD)


@each_bad
def test_what_is_no_panel_is_refused_whole(
    case: Path, before: dict[str, Points], after: dict[str, Points], said: list[tuple[str, str]]
) -> None:
    bytes_before = case.read_bytes()
    for found in (
        refused(lambda: keep(case, before, after)),
        refused(lambda: actions.panel_document("demo-bars-2", before, after)),
    ):
        assert [(one.code, one.where) for one in found] == said
    assert case.read_bytes() == bytes_before


@pytest.mark.parametrize("name", ["neutral", "difficulty"])
def test_what_is_taken_or_added_is_never_less_than_nothing(name: str) -> None:
    said = {name: Points.parse("-0.300")}
    (problem,) = refused(lambda: actions.panel_document("demo-bars-2", BEFORE, {}, **said))
    assert (problem.code, problem.where) == ("negative", name)


def test_scores_entered_one_conference_at_a_time_are_of_the_same_judges(case: Path) -> None:
    with actions.open_case(case, author="A") as audit:
        actions.enter_panel(audit, BEFORE)
        (problem,) = refused(lambda: actions.enter_panel(audit, scores(A="9.300"), when="after"))
        assert problem.code == "other-judges"
        (problem,) = refused(lambda: actions.enter_panel(audit, AFTER, when="meanwhile"))
        assert problem.code == "no-panel"
        actions.enter_panel(audit, AFTER, when="after")
        assert list(audit.state.panel) == ["before", "after"]


def test_who_only_reads_enters_nothing(case: Path) -> None:
    before = case.read_bytes()
    with actions.open_case(case, author=None) as audit, pytest.raises(CaseError, match="read only"):
        actions.enter_panel(audit, BEFORE)
    assert case.read_bytes() == before


def test_sheets_of_judges_make_a_panel(tmp_path: Path) -> None:
    """Only a fault: 10.000 - 0.500 value parts - 2.000 requirements - 0.300 dismount - the fault."""
    sheets = {}
    for judge, amount in (("A", "0.100"), ("B", "0.300")):
        mark = {"id": "f", "kind": "fault", "code": "arms-bent", "amount": amount}
        sheets[judge] = tmp_path / f"{judge}.json"
        sheets[judge].write_text(json.dumps({"format": "reviewer.marks/1", "marks": [mark]}))
    found = actions.scores_on_sheets(sheets, actions.load_book("demo-bars-2"))
    assert {judge: str(score) for judge, score in found.items()} == {"A": "7.100", "B": "6.900"}


def test_a_sheet_that_cannot_be_scored_is_named_with_its_file(tmp_path: Path) -> None:
    marks = [
        {"id": "f", "kind": "fault", "code": "arms-bent", "amount": "0.120"},
        {"id": "g", "kind": "fault", "code": "no-such", "amount": "0.100"},
    ]
    document = {"format": "reviewer.marks/1", "marks": marks, "interpretations": {"fault.fall": "other"}}
    path = tmp_path / "A.json"
    path.write_text(json.dumps(document))
    found = refused(lambda: actions.scores_on_sheets({"A": path}, actions.load_book("demo-bars-2")))
    assert [one.where for one in found] == ["A.json: fault.fall", "A.json: f", "A.json: g"]
