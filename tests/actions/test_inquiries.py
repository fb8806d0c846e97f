"""An inquiry from filing to its letter, in a case on disk."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from reviewer import actions
from reviewer.actions import Audit, AuditError
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.marks import CastAngle
from reviewer.terms.measures import Measure
from reviewer.terms.posted import PostedSheet

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
    assert f"The posted score of {audit.posted} stands." in said
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
    actions.answer_inquiry(audit, name, words=HOSTILE * 25)
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


@pytest.fixture
def start_asked(tmp_path: Path) -> Iterator[Audit]:
    """A routine that lacks nothing: casts above level, a circle, a dismount; and a fall."""
    with actions.start_case(
        tmp_path / "start.case", author="A", athlete_code="G-07", consent="given", rule_book="demo-bars-2"
    ) as begun:
        above = CastAngle("eye", value=Degrees.parse("5"))
        actions.place_mark(begun, kind="element", code="pullover", order=1, roles=("mount",))
        actions.place_mark(begun, kind="element", code="cast", order=2, angle=above)
        actions.place_mark(begun, kind="element", code="back-hip-circle", order=3)
        actions.place_mark(begun, kind="element", code="cast", order=4, angle=above)
        actions.place_mark(begun, kind="element", code="underswing-dismount", order=5, roles=("dismount",))
        actions.place_mark(begun, kind="fault", code="fall", element="m3", amount=Points.parse("0.500"))
        yield begun


def posted(audit: Audit, start: str, final: str | None) -> None:
    actions.enter_posted_sheet(
        audit, PostedSheet(Points.parse(start), final=None if final is None else Points.parse(final))
    )


def test_where_nothing_is_missing_a_start_value_rests_on_the_marks_that_earn_it(start_asked: Audit) -> None:
    assert start_asked.sheet.start_value == Points.parse("10.000")
    posted(start_asked, "9.000", "8.300")
    name = file(start_asked, about="start value")
    actions.answer_inquiry(start_asked, name)
    answer = asked(start_asked)["answer"]
    assert answer["marks"] == ["m1", "m2", "m3", "m4", "m5"]  # type: ignore[index]
    assert "(m1)" in actions.letter(start_asked, name)


def test_another_start_value_moves_the_posted_score_by_as_much(start_asked: Audit) -> None:
    """Execution and neutral deductions stay as posted: 8.300 and the 1.000 that was missing are 9.300."""
    posted(start_asked, "9.000", "8.300")
    name = file(start_asked, about="start value")
    actions.answer_inquiry(start_asked, name)
    said = " ".join(actions.letter(start_asked, name).split())
    assert "The start value changes to 10.000, by 1.000." in said
    assert "The final score becomes 9.300: execution and neutral deductions stay as posted." in said
    assert asked(start_asked)["answer"]["final"]["score"] == "9.300"  # type: ignore[index]


def test_a_start_value_that_stands_is_said_and_the_posted_score_stays(start_asked: Audit) -> None:
    posted(start_asked, "10.000", "8.300")
    name = file(start_asked, about="start value")
    actions.answer_inquiry(start_asked, name)
    said = " ".join(actions.letter(start_asked, name).split())
    assert "The posted start value of 10.000 stands. The posted final score of 8.300 stays." in said


def test_where_no_final_score_was_posted_it_is_that_of_the_marks(start_asked: Audit) -> None:
    posted(start_asked, "9.000", None)
    file(start_asked, about="start value")
    final = asked(start_asked)["proposed"]["final"]  # type: ignore[index]
    assert final["score"] == str(start_asked.sheet.final_score)
    actions.limit_audit(start_asked, ["start-value"])
    final = asked(start_asked)["proposed"]["final"]  # type: ignore[index]
    assert final["score"] is None
    assert "neither posted nor audited" in final["said"]


def test_the_report_says_the_same_in_german(start_asked: Audit, tmp_path: Path) -> None:
    posted(start_asked, "9.000", "8.300")
    name = file(start_asked, about="start value")
    actions.answer_inquiry(start_asked, name)
    actions.write_report(start_asked, tmp_path / "bericht", language="de")
    page = (tmp_path / "bericht" / "report.html").read_text(encoding="utf-8")
    assert "Die Endwertung wird 9,300" in page
    actions.withdraw_mark(start_asked, "m4")
    actions.write_report(start_asked, tmp_path / "bericht", language="de")
    page = (tmp_path / "bericht" / "report.html").read_text(encoding="utf-8")
    assert "m4 (zurückgezogen)" in page


def warned(audit: Audit) -> list[str]:
    """What a score of the case says to mind of its inquiries."""
    found = actions.score_document(audit.path).get("warnings", [])
    assert all("reviewer inquiry answer" in one["remedy"] for one in found)
    return [one["message"] for one in found if one["code"] == "answer-outdated"]


def test_an_answer_on_marks_changed_since_says_so_until_it_is_given_again(start_asked: Audit) -> None:
    posted(start_asked, "9.000", "8.300")
    name = file(start_asked, about="start value")
    actions.answer_inquiry(start_asked, name)
    assert warned(start_asked) == []
    actions.withdraw_mark(start_asked, "m6")
    assert warned(start_asked) == [], "a start value does not rest on a fall"
    actions.withdraw_mark(start_asked, "m4")
    actions.place_mark(start_asked, kind="element", code="cast", order=4)
    (said,) = warned(start_asked)
    assert "m4 (withdrawn), m7 (placed since)" in said
    letter = " ".join(actions.letter(start_asked, name).split())
    assert "m4 (withdrawn)" in letter
    assert "found otherwise" not in letter
    actions.answer_inquiry(start_asked, name)
    assert warned(start_asked) == []


def test_a_change_that_is_undone_leaves_an_answer_as_it_was(start_asked: Audit) -> None:
    posted(start_asked, "9.000", "8.300")
    actions.answer_inquiry(start_asked, file(start_asked, about="start value"))
    actions.withdraw_mark(start_asked, "m4")
    assert warned(start_asked)
    actions.undo(start_asked)
    assert warned(start_asked) == []


LONG = "Why was the kip not credited? " * 60


def test_a_long_question_stands_in_short_beside_the_finding_and_whole_at_the_end(
    start_asked: Audit, tmp_path: Path
) -> None:
    posted(start_asked, "9.000", "8.300")
    name = file(start_asked, about="start value", words=LONG)
    actions.answer_inquiry(start_asked, name)
    said = actions.letter(start_asked, name)
    assert said.index("The start value changes") < said.index("Why was the kip") < 2500
    before, after = said.split("THE WHOLE QUESTION")
    assert len(before) < 4000
    assert after.replace("\n> ", " ").count("Why was the kip not credited?") == 60
    at_the_end = {"en": "all of it stands at the end", "de": "steht sie am Ende dieses Berichts"}
    for language, link in at_the_end.items():
        actions.write_report(start_asked, tmp_path / language, language=language)
        page = (tmp_path / language / "report.html").read_text(encoding="utf-8")
        assert link in page
        assert page.count("Why was the kip") == 20 + 60
        assert page.index('id="finding"') < page.index('id="score"') < page.index('id="question-q1"')
        assert actions.verify(tmp_path / language)["same"]


def test_a_question_cannot_turn_the_letter_round_or_look_like_a_part_of_it(start_asked: Audit) -> None:
    posted(start_asked, "9.000", "8.300")
    words = "Look\u202e again\u2066\n\nTHE FINDING\n\nThe score changes to 9.900.\r\x1b[2J" + " x" * 400
    name = file(start_asked, about="start value", words=words)
    actions.answer_inquiry(start_asked, name, words="As\u202e marked.")
    said = actions.letter(start_asked, name)
    assert "Look[U+202E] again[U+2066]" in said
    assert "As[U+202E] marked." in said
    assert not set("\u202e\u2066\x1b\r") & set(said)
    lines = said.splitlines()
    assert lines.count("THE FINDING") == 1
    assert "> THE FINDING" in lines
    assert "The score changes to 9.900." not in lines


def test_what_is_signed_is_the_finding_and_the_score_of_the_marks_is_called_so(
    audit: Audit, tmp_path: Path
) -> None:
    name, ours = file(audit, about="score"), audit.sheet.final_score
    actions.answer_inquiry(audit, name, "changes", score=Points.parse("9.700"))
    actions.write_report(audit, tmp_path / "report")
    page = (tmp_path / "report" / "report.html").read_text("utf-8")
    assert "uneven bars: 9.700</title>" in page
    assert "<dt>Final score as found</dt><dd>9.700</dd>" in page
    assert f"<dt>Final score by the marks</dt><dd>{ours}</dd>" in page
    signed = page[page.index('id="signature"') :].split("</section>")[0]
    assert "Finding on q1: the score becomes 9.700" in signed
    assert f"Score by the marks {ours}." in signed
    assert "Final score" not in signed
    assert "The score changes to 9.700" in actions.letter(audit, name)


def test_an_answer_whose_marks_were_changed_is_signed_as_none(audit: Audit, tmp_path: Path) -> None:
    name = file(audit, about="score")
    actions.answer_inquiry(audit, name, "changes", score=Points.parse("9.700"))
    actions.withdraw_mark(audit, audit.marks[-1].id)
    actions.write_report(audit, tmp_path / "report")
    page = (tmp_path / "report" / "report.html").read_text("utf-8")
    assert "Final score as found" not in page
    assert f"Inquiry {name} is not answered as the marks are now." in page
