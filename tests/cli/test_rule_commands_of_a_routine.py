"""What-if, readings, panels, rule cases and inquiries as a user runs them: answers, exit codes, sentences."""

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.actions.small_routine import begin

Reviewer = Callable[..., tuple[int, str, str]]
CASES = """format: reviewer.rule-cases/1
rule-book: demo-bars-2
cases:
  - name: A mount alone is one value part
    marks: [{element: pullover, roles: [mount]}]
    expect: {value-parts: VALUE}
"""
JUDGES = ("--judge", "A=9.400", "--judge", "B=9.000")


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return begin(tmp_path_factory.mktemp("begun") / "routine.case")


@pytest.fixture
def case(begun: Path, tmp_path: Path) -> Path:
    return Path(shutil.copyfile(begun, tmp_path / "routine.case"))


def document(found: tuple[int, str, str], code: int = 0) -> Any:
    """The one JSON document a command answered with, and nothing beside it."""
    assert (found[0], found[2]) == (code, "")
    return json.loads(found[1])


def test_what_if_tells_differences_in_sentences_and_writes_nothing(reviewer: Reviewer, case: Path) -> None:
    before = case.read_bytes()
    code, out, err = reviewer("what-if", case, "--verdict", "m2=not met", "--amount", "m4=0.300")
    assert (code, err) == (0, "")
    assert "final score: 6.200 -> 5.500" in out
    assert "+   -0.500  start-value" in out
    assert "below-tolerance" in out
    assert out.splitlines()[-1] == "Nothing was written."
    assert case.read_bytes() == before


def test_what_if_that_changes_nothing_says_so(reviewer: Reviewer, case: Path) -> None:
    code, out, _ = reviewer("what-if", case, "--amount", "m4=0.100")
    assert (code, out.splitlines()) == (0, ["Nothing would differ.", "Nothing was written."])


def test_what_if_answers_as_a_document(reviewer: Reviewer, case: Path) -> None:
    said = ("--without", "m5", "--credit", "m3", "--read", "few-value-parts=other")
    found = document(reviewer("what-if", case, *said, "--json"))
    assert found["format"] == "reviewer.what-if/1"
    assert (found["same"], found["kept"]) == (False, False)
    assert {"what": "final_score", "before": "6.200", "after": "9.100"} in found["figures"]
    assert set(found["gone"]) == set(found["new"]) == {"lines", "not_earned", "not_taken", "notes"}


def test_what_is_kept_is_undone_by_undo(reviewer: Reviewer, case: Path) -> None:
    code, out, _ = reviewer("what-if", case, "--without", "m5", "--angle", "m2=-40", "--keep")
    assert (code, out.splitlines()[-1]) == (0, "Written into the case.")
    assert document(reviewer("score", case, "--json"))["final_score"] == "6.600"
    for final in ("6.500", "6.200"):
        assert reviewer("marks", "undo", case) == (0, f"Undone; final score {final}\n", "")


@pytest.mark.parametrize(
    ("words", "place"),
    [
        (("--amount", "m99=0.100"), "m99"),
        (("--amount", "m4=0.120"), "m4"),
        (("--amount", "m4=lots"), "lots"),
        (("--amount", "m4"), "MARK=POINTS"),
        (("--amount", "m4=0.100", "--amount", "m4=0.200"), "m4"),
        (("--angle", "m2=-40", "--verdict", "m2=met"), "m2"),
        (("--credit", "m2", "--withhold", "m2"), "m2"),
        (("--with", "m2=spotted", "--not-with", "m2=spotted"), "m2=spotted"),
        (("--angle", "m2=steep"), "steep"),
        (("--verdict", "m2=splendid"), "within tolerance"),
        (("--with", "m2=levitating"), "spotted"),
        (("--not-with", "m2=levitating"), "spotted"),
        (("--read", "few-value-parts=kindly"), "stated"),
        (("--read", "fault.fall=other"), "few-value-parts"),
        (("--rule-book", "no-such-book"), "demo-bars-2"),
    ],
    ids=lambda said: " ".join(said) if isinstance(said, tuple) else None,
)
@pytest.mark.parametrize("keep", [(), ("--keep",)], ids=["asked", "to keep"])
def test_what_cannot_be_supposed_is_told_and_nothing_is_written(
    reviewer: Reviewer, case: Path, words: tuple[str, ...], place: str, keep: tuple[str, ...]
) -> None:
    before = case.read_bytes()
    code, out, err = reviewer("what-if", case, "--without", "m5", *words, *keep)
    assert (code, out) == (2, "")
    assert place in err
    (problem,) = document(reviewer("what-if", case, *words, *keep, "--json"), 2)["problems"]
    assert problem["where"]
    assert problem["remedy"]
    assert case.read_bytes() == before


def test_a_reading_is_chosen_told_and_taken_back(reviewer: Reviewer, case: Path) -> None:
    code, out, err = reviewer("interpret", case, "few-value-parts", "other")
    assert (code, err) == (0, "")
    assert out == (
        "few-value-parts, read the other way: Fewer than 3 value parts performed, credited or not: "
        "2.000 points from the average.\nFinal score 8.200\n"
    )
    code, out, _ = reviewer("score", case)
    assert code == 0
    assert "Read otherwise than the edition states: few-value-parts" in out
    assert reviewer("marks", "undo", case)[1] == "Undone; final score 6.200\n"
    found = document(reviewer("interpret", case, "few-value-parts", "other", "--json"))
    assert found == {
        "format": "reviewer.interpretation/1",
        "clause": "few-value-parts",
        "reading": "other",
        "final_score": "8.200",
    }


def test_a_clause_that_leaves_nothing_open_names_those_that_do(reviewer: Reviewer, case: Path) -> None:
    code, out, err = reviewer("interpret", case, "fault.fall", "other")
    assert (code, out) == (2, "")
    assert "few-value-parts" in err
    assert reviewer("interpret", case, "few-value-parts", "kindly")[0] == 2


def test_an_edition_without_the_clause_says_that_the_reading_changes_nothing(
    reviewer: Reviewer, case: Path
) -> None:
    reviewer("interpret", case, "few-value-parts", "other")
    code, _, err = reviewer("score", case, "--rule-book", "demo-bars-2-previous")
    assert code == 0
    assert "few-value-parts" in err
    assert "changes nothing" in err


def test_a_score_says_what_other_readings_would_do(reviewer: Reviewer, case: Path) -> None:
    code, out, _ = reviewer("score", case, "--posted", "8.200")
    assert code == 1
    assert "Posted 8.200: not reachable on these marks" in out
    assert "With another reading of what the rules leave open it would be." in out
    towards = document(reviewer("score", case, "--posted", "8.200", "--json"), 1)["towards_posted"]
    assert towards["with_other_readings"] == {"reachable": True, "nearest": "8.200"}
    reviewer("interpret", case, "few-value-parts", "other")
    assert reviewer("score", case, "--posted", "8.200")[0] == 0


def test_a_panel_that_lies_close_enough_is_averaged(reviewer: Reviewer) -> None:
    code, out, err = reviewer("panel", *JUDGES)
    assert (code, err) == (0, "")
    assert "average 9.200 of 9.000, 9.400 · final 9.200" in out
    assert "0.400 apart, within the 0.500 allowed" in out


def test_a_panel_of_a_size_that_the_edition_does_not_know_is_averaged_and_says_so(reviewer: Reviewer) -> None:
    five = [word for judge in "ABCDE" for word in ("--judge", f"{judge}=9.400")]
    code, out, err = reviewer("panel", *five)
    assert (code, err) == (0, "")
    assert "says nothing of a panel of 5: all scores are averaged" in out
    (remark,) = document(reviewer("panel", *five, "--json"))["panel"]["before"]["remarks"]
    assert "a panel of 5" in remark
    assert document(reviewer("panel", *JUDGES, "--json"))["panel"]["before"]["remarks"] == []


def test_a_judges_sheet_by_another_edition_is_refused_with_its_file(
    reviewer: Reviewer, tmp_path: Path
) -> None:
    sheet = tmp_path / "a.json"
    said = {"format": "reviewer.marks/1", "rule_book": "demo-bars-2-previous", "marks": []}
    sheet.write_text(json.dumps(said), encoding="utf-8")
    (problem,) = document(reviewer("panel", "--sheet", f"A={sheet}", "--json"), 2)["problems"]
    assert problem["code"] == "other-rule-book"
    assert problem["where"].startswith("a.json")
    previous = reviewer("panel", "--sheet", f"A={sheet}", "--rule-book", "demo-bars-2-previous")
    assert previous[0] == 0


def test_a_panel_too_far_apart_is_answered_with_1_until_it_has_conferred(reviewer: Reviewer) -> None:
    apart = ("--judge", "A=9.900", "--judge", "B=9.200")
    found = document(reviewer("panel", *apart, "--json"), 1)
    assert found["format"] == "reviewer.panel/1"
    assert found["panel"]["before"]["spread"]["within"] is False
    code, out, _ = reviewer("panel", *apart, "--after", "A=9.600", "--after", "B=9.500")
    assert code == 0
    assert "Before the conference: A 9.900, B 9.200" in out
    assert "After the conference: A 9.600, B 9.500" in out


def test_a_case_keeps_both_and_takes_its_own_neutral_deductions(reviewer: Reviewer, case: Path) -> None:
    later = ("--after", "A=9.300", "--after", "B=9.100")
    found = document(reviewer("panel", *JUDGES, *later, "--case", case, "--json"))
    assert found["neutral"] == "2.300"
    assert [found["panel"][when]["final_score"] for when in ("before", "after")] == ["6.900", "6.900"]
    code, out, _ = reviewer("score", case)
    assert code == 0
    assert "The panel's own scores before a conference: A 9.400, B 9.000 · 6.900" in out
    assert "The panel's own scores after a conference: A 9.300, B 9.100 · 6.900" in out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "each judge"),
        (("--judge", "A"), "JUDGE=SCORE"),
        (("--judge", "=9.0"), "JUDGE=SCORE"),
        (("--judge", " =9.0"), "letter"),
        (("--judge", "A=nine"), "nine"),
        (("--judge", "A=9.0005"), "9.0005"),
        (("--judge", "A=94"), "10.000"),
        (("--judge", "A=-1"), "10.000"),
        (("--judge", "A=9.0", "--judge", "A=9.1"), "two scores"),
        (("--judge", "A=9.0", "--judge", "B=9.1", "--after", "A=9.0"), "every judge"),
        (("--judge", "A=9.0", "--neutral", "-0.3"), "neutral"),
        (("--judge", "A=9.0", "--rule-book", "no-such-book"), "demo-bars-2"),
        (("--judge", "A=9.0", "--case", "missing.case"), "missing.case"),
        (("--sheet", "A=missing.json"), "missing.json"),
        (("--judge", "A=9.0", "--case", "missing.case", "--neutral", "0.3"), "--neutral"),
    ],
    ids=lambda said: " ".join(said) if isinstance(said, tuple) else None,
)
def test_what_is_no_panel_is_told(reviewer: Reviewer, words: tuple[str, ...], said: str) -> None:
    code, out, err = reviewer("panel", *words)
    assert (code, out) == (2, "")
    assert said in err
    assert document(reviewer("panel", *words, "--json"), 2)["problems"]


def test_cases_of_a_book_are_run_and_one_that_differs_is_answered_with_1(
    reviewer: Reviewer, tmp_path: Path
) -> None:
    right, wrong = tmp_path / "right.yaml", tmp_path / "wrong.yaml"
    right.write_text(CASES.replace("VALUE", "1"), encoding="utf-8")
    wrong.write_text(CASES.replace("VALUE", "2"), encoding="utf-8")
    code, out, err = reviewer("rules", "check", "demo-bars-2", "--cases", right)
    assert (code, err) == (0, "")
    assert "the book is sound" in out
    assert "all as written" in out
    code, out, err = reviewer("rules", "check", "demo-bars-2", "--cases", wrong)
    assert code == 1
    assert f"{wrong}:4" in err
    assert "expected 2" in err
    assert "otherwise than written 1" in out
    found = document(reviewer("rules", "check", "demo-bars-2", "--cases", wrong, "--json"), 1)
    assert found["format"] == "reviewer.rules-check/1"
    assert [one["code"] for one in found["problems"]] == ["case-differs"]


def test_a_case_with_a_mark_that_cannot_be_scored_does_not_pass_by_chance(
    reviewer: Reviewer, tmp_path: Path
) -> None:
    path = tmp_path / "typo.yaml"
    path.write_text(CASES.replace("VALUE", "0").replace("pullover", "pull-over"), encoding="utf-8")
    code, _, err = reviewer("rules", "check", "demo-bars-2", "--cases", path)
    assert code == 1
    assert "unknown-element" in err


def test_cases_that_cannot_be_read_are_bad_input(reviewer: Reviewer, tmp_path: Path) -> None:
    path = tmp_path / "bad.yaml"
    path.write_text(CASES.replace("VALUE", "1").replace("value-parts", "value-pats"), encoding="utf-8")
    code, out, err = reviewer("rules", "check", "demo-bars-2", "--cases", path)
    assert (code, out) == (2, "")
    assert f"{path}:4" in err
    assert "value-parts" in err
    assert reviewer("rules", "check", "demo-bars-2", "--cases", tmp_path / "missing.yaml")[0] == 2
    assert reviewer("rules", "check", "demo-bars-2", "--cases", tmp_path)[0] == 2


def test_an_inquiry_in_time_is_admitted_and_a_late_one_refused(reviewer: Reviewer) -> None:
    """A 2024 appeal decision on technical regulations, article 8.5: one minute; 64 seconds were late."""
    said = ("rules", "ask", "international-bars", "--by", "coach", "--about", "difficulty")
    code, out, err = reviewer(*said, "--after", "60 seconds")
    assert (code, out, err) == (0, "It may be filed.\n", "")
    code, out, _ = reviewer(*said, "--after", "64 seconds")
    assert code == 1
    assert "It is refused." in out
    found = document(reviewer(*said, "--after", "64 seconds", "--json"), 1)
    assert (found["format"], found["admissible"]) == ("reviewer.inquiry-asked/1", False)
    assert all(one["clause"] and one["why"] and one["source"] for one in found["refused_by"])


@pytest.mark.parametrize("after", ["soon", "-1 seconds", "9 in", "1e9 seconds", ""])
def test_a_time_that_is_none_is_told(reviewer: Reviewer, after: str) -> None:
    said = ("rules", "ask", "demo-bars-2", "--by", "coach", "--about", "start value", f"--after={after}")
    code, out, err = reviewer(*said)
    assert (code, out) == (2, "")
    assert "64 s" in err
    (problem,) = document(reviewer(*said, "--json"), 2)["problems"]
    assert (problem["code"], problem["where"]) == ("no-time", "--after")
