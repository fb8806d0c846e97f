"""Where a rule leaves a reading open the judge chooses; the choice is kept, said and taken back like a mark.

The worked example: two value parts credited, three elements performed. Fewer than three credited cost 2.000
(common practice, no source); whether the credited count or all performed is left open.
"""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from reviewer import actions
from reviewer.casefile import CaseError
from reviewer.terms.problems import Problem, ReviewerError
from tests.actions.small_routine import begin, events, final

CLAUSE = "few-value-parts"


@pytest.fixture
def case(tmp_path: Path) -> Path:
    return begin(tmp_path / "routine.case")


def choose(case: Path, clause: str = CLAUSE, reading: str = "other") -> None:
    with actions.open_case(case, author="A") as audit:
        actions.choose_interpretation(audit, clause, reading)


def refused(action: Callable[[], object]) -> tuple[Problem, ...]:
    with pytest.raises(ReviewerError) as caught:
        action()
    assert all(one.where and str(one.message) and str(one.remedy) for one in caught.value.problems)
    return caught.value.problems


def test_a_reading_is_chosen_in_one_event_and_undone_as_one(case: Path) -> None:
    with actions.open_case(case, author="A") as audit:
        before = len(audit.case.events)
        change = actions.choose_interpretation(audit, CLAUSE, "other")
        assert "sheet" in change.what
        assert [event.kind for event in audit.case.events[before:]] == ["interpretation-chosen"]
        assert str(audit.sheet.final_score) == "8.200"
        actions.undo(audit)
        assert dict(audit.state.interpretations) == {}
        assert str(audit.sheet.final_score) == "6.200"
        actions.redo(audit)
        assert str(audit.sheet.final_score) == "8.200"


def test_a_reading_chosen_survives_reopening(case: Path) -> None:
    choose(case)
    with actions.open_case(case, author=None) as audit:
        assert audit.sheet.chosen == (CLAUSE,)
    assert final(case) == "8.200"


def test_the_score_says_which_question_was_answered_and_how(case: Path) -> None:
    choose(case)
    score = actions.score_document(case)
    (chosen,) = score["interpretations"]
    assert (chosen["clause"], chosen["reading"]) == (CLAUSE, "other")
    assert chosen["question"].endswith("?")
    assert "performed" in chosen["says"]
    assert all(line["clause"] != CLAUSE for line in score["lines"])


def test_the_stated_reading_chosen_again_scores_as_stated(case: Path) -> None:
    choose(case)
    choose(case, reading="stated")
    assert final(case) == "6.200"
    assert actions.score_document(case)["interpretations"] == []


def test_the_report_says_it_and_derives_again(case: Path, tmp_path: Path) -> None:
    choose(case)
    folder = tmp_path / "report"
    with actions.open_case(case, author="A") as audit:
        actions.write_report(audit, folder)
    kept = json.loads((folder / "report.json").read_bytes())["score"]["interpretations"]
    assert [one["clause"] for one in kept] == [CLAUSE]
    page = (folder / "report.html").read_text(encoding="utf-8")
    assert kept[0]["question"] in page
    assert kept[0]["says"] in page
    assert f'id="clause-{CLAUSE}"' in page
    found = actions.verify(folder)
    assert (found["same"], found["differences"]) == (True, [])


def test_a_report_whose_reading_was_changed_is_caught(case: Path, tmp_path: Path) -> None:
    choose(case)
    folder = tmp_path / "report"
    with actions.open_case(case, author="A") as audit:
        actions.write_report(audit, folder)
    stored = json.loads((folder / "report.json").read_bytes())
    stored["score"]["interpretations"] = []
    (folder / "report.json").write_text(json.dumps(stored), encoding="utf-8")
    assert not actions.verify(folder)["same"]


def test_a_clause_that_leaves_nothing_open_is_refused_naming_those_that_do(case: Path) -> None:
    before = case.read_bytes()
    for clause in ("fault.fall", "no-such-clause"):
        (problem,) = refused(lambda clause=clause: choose(case, clause))  # type: ignore[misc]
        assert (problem.code, problem.where) == ("not-open", clause)
        assert CLAUSE in str(problem.remedy)
    assert case.read_bytes() == before


def test_a_word_that_is_no_reading_is_refused(case: Path) -> None:
    (problem,) = refused(lambda: choose(case, reading="generously"))
    assert (problem.code, problem.where) == ("no-reading", CLAUSE)
    assert events(case) == 7


def test_who_only_reads_chooses_nothing(case: Path) -> None:
    before = case.read_bytes()
    with (
        actions.open_case(case, author=None) as audit,
        pytest.raises(CaseError, match="read only"),
    ):
        actions.choose_interpretation(audit, CLAUSE, "other")
    assert case.read_bytes() == before


def test_a_marks_document_carries_readings_out_and_in(case: Path, tmp_path: Path) -> None:
    choose(case)
    document, other = tmp_path / "marks.json", tmp_path / "other.case"
    with actions.open_case(case, author=None) as audit:
        document.write_text(actions.marks_text(audit), encoding="utf-8")
    assert json.loads(document.read_bytes())["interpretations"] == {CLAUSE: "other"}
    assert final(document) == "8.200"
    with actions.start_case(other, author="B", athlete_code="G-13", consent="given") as audit:
        actions.import_marks(audit, document)
        assert dict(audit.state.interpretations) == {CLAUSE: "other"}
    assert final(other) == "8.200"


def test_a_marks_document_with_a_reading_that_is_not_open_leaves_the_case_as_it_was(
    case: Path, tmp_path: Path
) -> None:
    document = tmp_path / "marks.json"
    said = {"format": "reviewer.marks/1", "marks": [], "interpretations": {"fault.fall": "other"}}
    document.write_text(json.dumps(said), encoding="utf-8")
    before = case.read_bytes()
    with actions.open_case(case, author="A") as audit:
        (problem,) = refused(lambda: actions.import_marks(audit, document))
    assert (problem.code, problem.where) == ("not-open", "marks.json: fault.fall")
    assert case.read_bytes() == before
    assert refused(lambda: actions.score_document(document))[0].code == "not-open"


def test_another_edition_reads_as_chosen_where_it_leaves_the_same_open(case: Path) -> None:
    choose(case)
    score = actions.score_document(case, rule_book="demo-bars-2")
    assert score["final_score"] == "8.200"
    assert "warnings" not in score


def test_an_edition_that_does_not_know_the_clause_says_that_the_reading_changes_nothing(
    case: Path, tmp_path: Path
) -> None:
    """What fewer than three value parts cost is new this season: the edition before has no such clause."""
    choose(case)
    document = tmp_path / "marks.json"
    with actions.open_case(case, author=None) as audit:
        document.write_text(actions.marks_text(audit), encoding="utf-8")
    for source in (case, document):
        score = actions.score_document(source, rule_book="demo-bars-2-previous")
        assert [(one["code"], one["where"]) for one in score["warnings"]] == [("choice-unheard", CLAUSE)]
        assert score["interpretations"] == []


def test_the_report_by_such_an_edition_says_so_too(case: Path, tmp_path: Path) -> None:
    choose(case)
    with actions.open_case(case, author="A") as audit:
        actions.choose_edition(audit, "demo-bars-2-previous")
        actions.write_report(audit, tmp_path / "report")
    page = (tmp_path / "report" / "report.html").read_text(encoding="utf-8")
    assert "leaves no reading open in a clause" in page
    assert actions.verify(tmp_path / "report")["same"]


def test_another_edition_is_chosen_in_one_event_and_undone_as_one(case: Path) -> None:
    with actions.open_case(case, author="A") as audit:
        actions.choose_edition(audit, "demo-bars-2-previous")
        assert audit.book.id == "demo-bars-2-previous"
        actions.undo(audit)
        assert audit.book.id == "demo-bars-2"
        assert len(audit.marks) == 5
        actions.redo(audit)
        assert audit.book.id == "demo-bars-2-previous"
    with actions.open_case(case, author="B") as audit, pytest.raises(CaseError, match="no change"):
        actions.undo(audit)


def test_the_edition_a_case_begins_with_is_never_undone(tmp_path: Path) -> None:
    with actions.start_case(tmp_path / "new.case", author="A", athlete_code="G-12", consent="given") as audit:
        with pytest.raises(CaseError, match="no change"):
            actions.undo(audit)
        assert audit.book.id == "demo-bars-2"
