"""What speaks for looking at a routine again, worked out by hand from what was posted.

The edition of the demo allows judges 0.200 apart from an average of 9.500 (its clause spread.from-9-5),
averages all scores of small panels, and lets nobody have more than the start value.
"""

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from reviewer import actions
from reviewer.terms.exact import Points
from reviewer.terms.meets import TRIGGERS, Start
from reviewer.terms.posted import PostedSheet
from reviewer.terms.problems import DocumentError
from tests.actions import small_routine
from tests.actions.small_meet import meet_of, sheet

SCHEMA = Path(__file__).resolve().parents[2] / "annotations" / "schemas" / "meet-triggers.schema.json"
WHOLE = sheet("9.500", "9.600", start="10.000", average="9.550", final="9.550")


def found(folder: Path, *only: str) -> dict[str, Any]:
    document: dict[str, Any] = actions.meet_triggers(folder, only)
    Draft202012Validator(json.loads(SCHEMA.read_text("utf-8"))).validate(document)
    return document


def triggers(folder: Path) -> dict[str, list[str]]:
    return {one["start"]: [own["trigger"] for own in one["triggers"]] for one in found(folder)["starts"]}


def untold(folder: Path) -> set[str]:
    return {one["trigger"] for one in found(folder)["cannot_be_told"]}


def one(folder: Path, posted: PostedSheet, requested: str | None = "10.000", **also: Any) -> Path:
    asked = None if requested is None else Points.parse(requested)
    return meet_of(folder / "meet", [Start("1", 2, posted=posted, requested=asked, **also)])


def test_a_routine_in_order_has_no_trigger(tmp_path: Path) -> None:
    folder = one(tmp_path, WHOLE, short=False)
    assert triggers(folder) == {}
    assert untold(folder) == set()


@pytest.mark.parametrize(
    ("posted", "requested", "trigger", "why"),
    [
        (sheet("9.100", "9.900"), None, "spread",
         "The counting scores lie 0.800 apart, with an average of 9.500; 0.200 is allowed."),
        (sheet(start="9.900"), "10.000", "start-value", "Requested 10.000, posted 9.900."),
        (sheet("9.500", "9.600", average="9.500"), None, "contradiction",
         "Posted average 9.500; the judges' scores come to 9.550. The edition averages 9.500, 9.600."),
        (sheet(average="9.500", final="9.700"), None, "contradiction",
         "Posted final score 9.700; the other figures come to 9.500. "
         "The average less 0.000 of neutral deductions."),
        (sheet(final="10.050"), None, "outside", "Posted final score 10.050; at most 10.000 can be given."),
        (sheet(start="9.600", final="9.700"), None, "outside",
         "Posted final score 9.700; at most 9.600 can be given."),
        (sheet(final="9.501"), None, "outside",
         "Posted final score 9.501; no judges' scores come to it in this edition."),
    ],
)  # fmt: skip
def test_the_reason_is_told_in_figures(
    tmp_path: Path, posted: PostedSheet, requested: str | None, trigger: str, why: str
) -> None:
    folder = one(tmp_path, posted, requested)
    (start,) = found(folder)["starts"]
    assert {"trigger": trigger, "why": why} in start["triggers"]


def test_judges_who_give_the_same_lie_nowhere_apart(tmp_path: Path) -> None:
    folder = one(tmp_path, sheet("9.500", "9.500", "9.500"))
    assert "spread" not in triggers(folder).get("1", ())
    assert "spread" not in untold(folder)


def test_what_cannot_be_told_is_said_and_not_guessed(tmp_path: Path) -> None:
    folder = one(tmp_path, PostedSheet(), None)
    assert triggers(folder) == {}
    assert untold(folder) == set(TRIGGERS) - {"inquiry"}


def test_of_one_judge_no_spread_is_told(tmp_path: Path) -> None:
    (said,) = found(one(tmp_path, sheet("9.500")), "spread")["cannot_be_told"]
    assert said == {
        "trigger": "spread",
        "why": "Scores of fewer than two judges were posted.",
        "starts": ["1"],
    }


def test_an_edition_without_a_band_says_so(tmp_path: Path) -> None:
    """The international edition has no clause of that kind."""
    folder = one(tmp_path, sheet("9.500", "9.900"))
    document = folder / "meet.json"
    document.write_text(document.read_text("utf-8").replace("demo-bars-2", "international-bars"), "utf-8")
    (said,) = found(folder, "spread")["cannot_be_told"]
    assert said["why"] == "The edition international-bars sets no limit to a spread."


def test_a_missing_neutral_deduction_leaves_a_lower_final_open(tmp_path: Path) -> None:
    posted = PostedSheet(average=Points.parse("9.500"), final=Points.parse("9.200"))
    folder = one(tmp_path, posted)
    assert triggers(folder) == {}
    assert "contradiction" in untold(folder)


def marked(folder: Path, name: str = "1") -> Path:
    (folder / "cases").mkdir(exist_ok=True)
    return small_routine.begin(folder / "cases" / f"{name}.case")


def test_marks_say_that_an_exercise_is_short_and_which_scores_they_allow(tmp_path: Path) -> None:
    """Of the small routine two value parts are credited where the edition asks for three, and it comes to
    6.200 (worked by hand in ``test_commands.py``)."""
    folder = one(tmp_path, sheet(final="8.900"))
    marked(folder)
    (start,) = found(folder, "short", "outside")["starts"]
    assert [own["trigger"] for own in start["triggers"]] == ["short", "outside"]
    assert "fewer than 3" in start["triggers"][0]["why"]
    assert "the marks of its case (5) allow 6.250 as the nearest score" in start["triggers"][1]["why"]


def test_a_reachable_final_score_is_no_trigger(tmp_path: Path) -> None:
    folder = one(tmp_path, sheet(final="6.200"))
    marked(folder)
    assert "outside" not in triggers(folder)["1"]


def test_an_inquiry_kept_in_the_case_counts_like_one_in_the_table(tmp_path: Path) -> None:
    folder = meet_of(tmp_path / "meet", [Start("1", 2), Start("2", 3, inquiry=True), Start("3", 4)])
    with actions.open_case(marked(folder), author="A") as audit:
        actions.file_inquiry(audit, asked_by="coach", about="falls")
    assert {start for start, own in triggers(folder).items() if "inquiry" in own} == {"1", "2"}


def test_an_unknown_trigger_is_refused_with_those_there_are(tmp_path: Path) -> None:
    with pytest.raises(DocumentError, match="Name one of: spread, start-value"):
        actions.meet_triggers(one(tmp_path, WHOLE), ["height"])
