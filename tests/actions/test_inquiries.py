"""An inquiry from filing to its letter, in a case on disk."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from reviewer import actions
from reviewer.actions import Audit, AuditError
from reviewer.terms.exact import Points
from reviewer.terms.measures import Measure

HOSTILE = "<script>alert(1)</script> {{ 7 * 7 }} =cmd|'/c calc' \u202e #set text(red)"


@pytest.fixture
def audit(tmp_path: Path) -> Iterator[Audit]:
    """A case without a recording: a cast by eye and a fall, posted a point higher than it scores."""
    begun = actions.start_case(
        tmp_path / "evening.case", author="A", athlete_code="G-07", consent="given", rule_book="demo-bars-2"
    )
    actions.place_mark(begun, kind="element", code="pullover", order=1, roles=("mount",))
    actions.place_mark(begun, kind="element", code="cast", order=2)
    actions.place_mark(begun, kind="fault", code="fall", element="m2", amount=Points.parse("0.500"))
    actions.enter_posted(begun, begun.sheet.reachable.high + Points.parse("1"))
    yield begun
    begun.close()


def file(audit: Audit, **more: object) -> str:
    asked = {"asked_by": "coach", "about": "falls", "after": Measure.time("45 s")} | more
    return actions.file_inquiry(audit, **asked)  # type: ignore[arg-type]


def asked(audit: Audit) -> dict[str, object]:
    found: dict[str, object] = actions.inquiries_document(audit)["asked"][0]
    return found


def test_every_change_of_state_is_an_event_and_undo_takes_it_back(audit: Audit) -> None:
    name = file(audit, marks=("m3",))
    actions.answer_inquiry(audit, name)
    assert [event.kind for event in audit.case.events[-2:]] == ["inquiry-filed", "inquiry-answered"]
    actions.undo(audit)
    assert asked(audit)["answer"] is None
    actions.withdraw_inquiry(audit, name)
    assert actions.inquiries_document(audit)["asked"] == []


def test_the_words_lie_outside_the_chain_and_may_be_erased(audit: Audit) -> None:
    file(audit, words="Was that a fall?")
    assert "Was that" not in audit.case.events[-1].body.decode()
    assert asked(audit)["words"] == "Was that a fall?"
    audit.case.erase_texts()
    assert asked(audit)["words"] is None


def test_a_report_may_change_the_result_only_where_the_edition_admits_the_inquiry(audit: Audit) -> None:
    assert actions.inquiries_document(audit)["effect"] == "informational"
    file(audit, asked_by="parent")
    assert actions.inquiries_document(audit)["effect"] == "informational"
    file(audit)
    assert actions.inquiries_document(audit)["effect"] == "may change the result"


def test_a_minute_and_four_seconds_are_late_where_a_minute_is_allowed(tmp_path: Path) -> None:
    """A 2024 appeal decision on technical regulations, article 8.5: 64 s was held to be late."""
    with actions.start_case(
        tmp_path / "final.case",
        author="A",
        athlete_code="G-1",
        consent="given",
        rule_book="international-bars",
    ) as audit:
        for time, admitted in (("60 s", True), ("64 s", False)):
            file(audit, about="difficulty", after=Measure.time(time))
            assert actions.inquiries_document(audit)["asked"][-1]["admitted"] is admitted


def test_the_judge_may_find_otherwise_and_the_letter_says_so(audit: Audit) -> None:
    name = file(audit)
    actions.answer_inquiry(audit, name, "stands", words="The picture is too dark.")
    said = actions.letter(audit, name)
    assert "The posted score stands." in said
    assert "The judge found otherwise." in " ".join(said.split())
    assert "The picture is too dark." in said


def test_the_letter_names_what_the_finding_rests_on(audit: Audit) -> None:
    name = file(audit, about="score")
    actions.answer_inquiry(audit, name)
    said = actions.letter(audit, name)
    assert "The score changes to" in said
    assert "(m3)" in said
    assert "does not replace the federation's current rules" in said


def test_hostile_words_stay_words(audit: Audit, tmp_path: Path) -> None:
    name = file(audit, words=HOSTILE)
    actions.answer_inquiry(audit, name, words=HOSTILE * 200)
    assert "{{ 7 * 7 }}" in actions.letter(audit, name)
    actions.write_report(audit, tmp_path / "report")
    page = (tmp_path / "report" / "report.html").read_text(encoding="utf-8")
    assert "<script>alert" not in page


def test_a_report_with_words_derives_again_from_its_folder_alone(audit: Audit, tmp_path: Path) -> None:
    file(audit, words="Was that a fall?")
    actions.write_report(audit, tmp_path / "report")
    told = actions.verify(tmp_path / "report")
    assert told["same"], told["differences"]


def test_words_changed_in_a_report_are_named(audit: Audit, tmp_path: Path) -> None:
    file(audit, words="Was that a fall?")
    actions.write_report(audit, tmp_path / "report")
    stored = tmp_path / "report" / "report.json"
    stored.write_text(stored.read_text("utf-8").replace("Was that a fall?", "It was no fall."), "utf-8")
    assert not actions.verify(tmp_path / "report")["same"]


@pytest.mark.parametrize(
    ("more", "code"),
    [({"marks": ("m99",)}, "unknown-mark"), ({"clauses": ("no.such",)}, "unknown-clause")],
)
def test_what_the_case_does_not_know_is_refused(audit: Audit, more: dict[str, object], code: str) -> None:
    with pytest.raises(AuditError) as refused:
        file(audit, **more)
    assert [one.code for one in refused.value.problems] == [code]
    with pytest.raises(AuditError):
        actions.answer_inquiry(audit, "q7")


def test_execution_is_not_answered_where_something_else_was_asked(audit: Audit) -> None:
    file(audit, about="arithmetic")
    assert asked(audit)["proposed"]["finding"] == "cannot be decided"  # type: ignore[index]


@pytest.mark.parametrize("about", ["start value", "difficulty"])
def test_without_a_posted_start_value_one_is_not_answered_by_the_final_score(
    audit: Audit, about: str
) -> None:
    file(audit, about=about)
    assert asked(audit)["of"] == "start value"
    assert asked(audit)["proposed"]["finding"] == "cannot be decided"  # type: ignore[index]


def test_an_inquiry_whose_time_nobody_said_leaves_a_report_informational(audit: Audit) -> None:
    file(audit, after=None)
    assert asked(audit)["admitted"]
    assert asked(audit)["in_time"] == "not said"
    assert actions.inquiries_document(audit)["effect"] == "informational"


def test_another_score_than_the_marks_give_is_said_to_be_the_judges(audit: Audit) -> None:
    name = file(audit, about="score")
    actions.answer_inquiry(audit, name, "changes", score=Points.parse("8.000"))
    assert "The judge found otherwise." in " ".join(actions.letter(audit, name).split())


@pytest.mark.parametrize(("finding", "score"), [("changes", "25"), ("changes", "-3"), ("stands", "9.9")])
def test_a_score_that_cannot_be_is_refused(audit: Audit, finding: str, score: str) -> None:
    with pytest.raises(AuditError):
        actions.answer_inquiry(audit, file(audit), finding, score=Points.parse(score))


def test_who_asks_about_what_is_taken_in_the_editions_own_letters(audit: Audit) -> None:
    file(audit, asked_by=" Coach ", about="FALLS")
    found = asked(audit)
    assert (found["asked_by"], found["about"], found["admitted"]) == ("coach", "falls", True)
    file(audit, about="Start Value")
    assert actions.inquiries_document(audit)["asked"][1]["of"] == "start value"
