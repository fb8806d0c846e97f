"""Scores that are answered or posted are those that the edition can give; words are kept to a length."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from reviewer import actions, rules, scoring
from reviewer.actions import AuditError
from reviewer.terms.exact import Points
from reviewer.terms.posted import PostedSheet
from tests.actions import small_routine


@pytest.fixture
def audit(tmp_path: Path) -> Iterator[actions.Audit]:
    """A routine with a posted score, and two inquiries: q1 about the score, q2 about the start value."""
    with actions.open_case(small_routine.begin(tmp_path / "routine.case"), author="A") as audit:
        actions.enter_posted(audit, Points.parse("8.900"))
        actions.file_inquiry(audit, asked_by="coach", about="score")
        actions.file_inquiry(audit, asked_by="coach", about="start value")
        yield audit


@pytest.mark.parametrize("score", ["10.500", "9.999", "9.003"])
def test_an_answer_is_no_score_above_the_most_or_between_the_steps(audit: actions.Audit, score: str) -> None:
    with pytest.raises(AuditError, match="gives no score") as refused:
        actions.answer_inquiry(audit, "q1", "changes", score=Points.parse(score))
    assert "from 0.000 to 10.000" in str(refused.value.problems[0].remedy)


@pytest.mark.parametrize("score", ["9.350", "9.375", "9.366"])
def test_an_answer_is_an_average_of_one_of_two_and_of_three_judges(audit: actions.Audit, score: str) -> None:
    actions.answer_inquiry(audit, "q1", "changes", score=Points.parse(score))


def test_a_start_value_is_answered_in_the_steps_of_the_amounts(audit: actions.Audit) -> None:
    actions.answer_inquiry(audit, "q2", "changes", score=Points.parse("9.200"))
    with pytest.raises(AuditError, match="gives no start value"):
        actions.answer_inquiry(audit, "q2", "changes", score=Points.parse("9.375"))


def test_a_posted_sheet_holds_no_more_than_the_edition_can_give(audit: actions.Audit) -> None:
    for given in (PostedSheet(final=Points.parse("99")), PostedSheet(start_value=Points.parse("50"))):
        with pytest.raises(AuditError, match="more than the edition demo-bars-2 can give"):
            actions.enter_posted_sheet(audit, given)
    with pytest.raises(AuditError, match="Give it without a sign"):
        actions.enter_posted_sheet(audit, PostedSheet(final=Points.parse("-1")))


def test_a_panel_that_erred_by_a_step_is_kept_as_it_posted(audit: actions.Audit) -> None:
    actions.enter_posted_sheet(audit, PostedSheet(final=Points.parse("9.123")))
    assert audit.state.posted_sheet is not None


def test_a_difficulty_and_an_execution_add_up_to_more_than_ten() -> None:
    book = rules.load(rules.find("international-bars"))
    assert scoring.is_final(Points.parse("14.833"), book)
    assert scoring.is_start(Points.parse("6.200"), book)
    assert not scoring.is_start(Points.parse("6.250"), book)
    assert not scoring.is_final(Points.parse("20.100"), book)


def test_words_of_an_inquiry_are_kept_to_the_length_of_a_note(audit: actions.Audit) -> None:
    actions.file_inquiry(audit, asked_by="coach", about="score", words="a" * 2000)
    with pytest.raises(AuditError, match="2001 letters, and at most 2000"):
        actions.file_inquiry(audit, asked_by="coach", about="score", words="a" * 2001)
    with pytest.raises(AuditError, match="at most 2000"):
        actions.answer_inquiry(audit, "q1", "stands", words="a" * 2001)


def test_longer_words_of_a_case_that_was_kept_are_still_read(audit: actions.Audit) -> None:
    long = "why " * 1000
    inquiry = {"id": "q9", "asked_by": "coach", "about": "score", "words": audit.case.keep_text(long)}
    audit.case.append("inquiry-filed", {"inquiry": inquiry})
    assert actions.inquiries_document(audit)["asked"][-1]["words"] == long


def test_a_letter_before_an_answer_says_that_the_inquiry_was_received(audit: actions.Audit) -> None:
    told = actions.letter(audit, "q1", "2026-11-26")
    assert told.startswith("INQUIRY RECEIVED")
    assert "ANSWER" not in told
    assert "may change the result" not in told
    actions.answer_inquiry(audit, "q1", "stands")
    assert actions.letter(audit, "q1", "2026-11-26").startswith("ANSWER TO AN INQUIRY")


def test_where_a_difficulty_is_added_none_is_called_a_start_value(tmp_path: Path) -> None:
    begun = actions.start_case(
        tmp_path / "a.case", author="A", athlete_code="G-1", consent="given", rule_book="international-bars"
    )
    with begun as audit:
        actions.file_inquiry(audit, asked_by="coach", about="difficulty")
        (asked,) = actions.inquiries_document(audit)["asked"]
    assert asked["proposed"]["why"] == ["No posted difficulty was entered."]
