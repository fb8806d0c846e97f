"""Two judges who work blind of each other, sealed, compared and settled; both originals kept."""

from pathlib import Path
from typing import Any

import pytest

from reviewer import actions
from reviewer.actions import AuditError
from reviewer.casefile import CaseError, check_chain, read_events
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.marks import CastAngle, Mark
from reviewer.terms.problems import DocumentError
from tests.actions import small_routine


@pytest.fixture
def first(tmp_path: Path) -> Path:
    """Judge A's case: two value parts credited, bent arms, a springboard left."""
    return small_routine.begin(tmp_path / "first.case")


@pytest.fixture
def second(first: Path, tmp_path: Path) -> Path:
    """Judge B's case of the same routine: no bent arms, the cast seen higher, one fault more."""
    path = tmp_path / "second.case"
    with actions.begin_second(first, path, "B") as audit:
        for mark in small_routine.MARKS:
            if mark["code"] == "cast":
                mark = mark | {"angle": CastAngle("eye", Degrees.parse("-44"))}
            if mark["code"] != "arms-bent":
                actions.place_mark(audit, **mark)
        actions.place_mark(
            audit, kind="fault", code="trunk", element="m3", amount=Points.parse("0.100"), judge="A"
        )
    return path


def sealed(*paths: Path) -> None:
    for path, author in zip(paths, "AB", strict=False):
        with actions.open_case(path, author=author) as audit:
            actions.seal(audit)


def settled(first: Path, second: Path) -> Path:
    path = first.with_name("settled.case")
    actions.begin_settlement(first, second, path, "C").close()
    return path


def test_the_second_judge_begins_without_a_mark_a_score_or_a_word_of_the_first(first: Path) -> None:
    with actions.begin_second(first, first.with_name("b.case"), "B") as audit:
        assert audit.marks == ()
        assert audit.posted is None
        kinds = {event.kind for event in audit.case.events}
        assert not any(kind.startswith(("mark-", "reading-", "posted", "inquiry")) for kind in kinds)
        with actions.open_case(first, author=None) as one:
            assert audit.book.sha256 == one.book.sha256


def test_the_same_judge_does_not_judge_twice(first: Path) -> None:
    with pytest.raises(AuditError, match="marked this routine already"):
        actions.begin_second(first, first.with_name("b.case"), "A")


def test_blind_sheets_meet_only_once_both_are_sealed(first: Path, second: Path) -> None:
    for sealed_so_far in ((), (first,)):
        sealed(*sealed_so_far)
        with pytest.raises(DocumentError, match="only once both are sealed"):
            actions.compare_sheets([first, second])
    with actions.open_case(second, author="B") as audit:
        actions.seal(audit)
    assert not actions.compare_sheets([first, second])["same"]


def test_a_sealed_sheet_stays_as_it_is(first: Path) -> None:
    sealed(first)
    with actions.open_case(first, author="A") as audit:
        before = audit.sheet.final_score
        for change in (
            lambda: actions.place_mark(audit, kind="element", code="cast", order=9),
            lambda: actions.withdraw_mark(audit, "m4"),
            lambda: actions.undo(audit),
            lambda: actions.seal(audit),
        ):
            with pytest.raises((CaseError, AuditError), match="sealed"):
                change()
        assert audit.sheet.final_score == before
        actions.file_inquiry(audit, asked_by="coach", about="falls")  # what is asked of it may still be kept


def test_a_change_slipped_in_after_the_seal_is_named_by_its_event(first: Path) -> None:
    sealed(first)
    events = read_events(first)
    with actions.open_case(first, author="A") as audit:
        audit.case._refuse_sealed = lambda *_: None  # type: ignore[method-assign]
        audit.case.append("mark-withdrawn", {"id": "m4"})
        found = check_chain(audit.case.events)
    assert [(one.code, one.where) for one in found] == [("event-after-seal", f"event {len(events) + 1}")]


def test_only_sealed_sheets_of_one_edition_are_settled(first: Path, second: Path) -> None:
    with pytest.raises(AuditError, match="sealed"):
        settled(first, second)
    sealed(first, second)
    document = first.with_name("other.case")
    with actions.start_case(
        document, author="D", athlete_code="G-12", consent="given", rule_book="demo-bars-2-previous"
    ) as other:
        actions.seal(other, although_empty=True)
    with pytest.raises(AuditError, match="different editions"):
        actions.begin_settlement(first, document, first.with_name("x.case"), "C")


def test_what_both_agree_on_is_settled_and_the_rest_is_open(first: Path, second: Path) -> None:
    sealed(first, second)
    with actions.open_case(settled(first, second), author="C") as audit:
        found = actions.settlement_document(audit)
        lines = {one["kind"] + " " + (one["first"] or one["second"])["code"]: one for one in found["lines"]}
        assert lines["element pullover"]["taken"] == "both"
        assert lines["element cast"]["taken"] is None
        assert lines["fault arms-bent"]["second"] is None
        assert found["open"] == 3
        assert {mark.code for mark in audit.marks} >= {"pullover", "sole-circle-dismount", "springboard-left"}


def test_a_settled_case_scores_as_the_views_that_were_taken(first: Path, second: Path) -> None:
    sealed(first, second)
    path = settled(first, second)
    with actions.open_case(path, author="C") as audit:
        by_code = {
            (one["first"] or one["second"])["code"]: one["line"]
            for one in actions.settlement_document(audit)["lines"]
        }
        actions.settle_line(audit, by_code["cast"], "second")
        actions.settle_line(audit, by_code["arms-bent"], "first")
        actions.settle_line(audit, by_code["trunk"], "neither")
        assert actions.settlement_document(audit)["open"] == 0
        cast = next(mark for mark in audit.marks if mark.code == "cast")
        arms = next(mark for mark in audit.marks if mark.code == "arms-bent")
        assert cast.angle is not None
        assert cast.angle.value == Degrees.parse("-44")
        assert arms.element == cast.id
        assert "trunk" not in {mark.code for mark in audit.marks}
        with pytest.raises(AuditError, match="settled already"):
            actions.settle_line(audit, by_code["cast"], "first")
        actions.undo(audit)
        assert actions.settlement_document(audit)["open"] == 1
    assert actions.verify(path)["same"]


def line_of(audit: actions.Audit, code: str) -> dict[str, Any]:
    """The line of the settlement on which a thing of this code stands."""
    lines: list[dict[str, Any]] = actions.settlement_document(audit)["lines"]
    return next(one for one in lines if (one["first"] or one["second"])["code"] == code)


def test_a_line_both_agreed_on_is_opened_again_for_a_reason_and_left_out(first: Path, second: Path) -> None:
    sealed(first, second)
    with actions.open_case(settled(first, second), author="C") as audit:
        line = line_of(audit, "springboard-left")["line"]
        with pytest.raises(AuditError, match="settled already"):
            actions.settle_line(audit, line, "neither")
        with pytest.raises(AuditError, match="for a reason"):
            actions.reopen_line(audit, line, " ")
        actions.reopen_line(audit, line, "It was removed in time.")
        assert line_of(audit, "springboard-left")["taken"] is None
        assert "springboard-left" not in {mark.code for mark in audit.marks}
        with pytest.raises(AuditError, match="is open"):
            actions.reopen_line(audit, line, "Again.")
        actions.settle_line(audit, line, "neither")
        assert line_of(audit, "springboard-left")["taken"] == "neither"
        kept = audit.state.settlement
        assert kept is not None
        assert all("springboard-left" in {mark["code"] for mark in one["marks"]} for one in kept["sheets"])
        assert [event.kind for event in audit.case.events[-2:]] == ["line-reopened", "line-settled"]
        assert "removed in time" not in audit.case.events[-2].body.decode()
        actions.undo(audit)
        actions.undo(audit)
        assert line_of(audit, "springboard-left")["taken"] == "both"
        assert "springboard-left" in {mark.code for mark in audit.marks}


def test_faults_stay_on_an_element_that_is_settled_anew(first: Path, second: Path) -> None:
    """Bent arms are taken on the cast; the cast, settled as the first judge had it, is then the second's."""
    sealed(first, second)
    with actions.open_case(settled(first, second), author="C") as audit:
        cast, arms = line_of(audit, "cast")["line"], line_of(audit, "arms-bent")["line"]
        actions.settle_line(audit, cast, "first")
        actions.settle_line(audit, arms, "first")
        actions.reopen_line(audit, cast, "Seen again, it is higher.")
        assert actions.score_document(audit.path)["problems"], "the fault's element is open"
        actions.settle_line(audit, cast, "second")
        assert actions.score_document(audit.path)["problems"] == []
        (one,) = [mark for mark in audit.marks if mark.code == "cast"]
        assert one.angle is not None
        assert one.angle.value == Degrees.parse("-44")
        assert next(mark.element for mark in audit.marks if mark.code == "arms-bent") == one.id


@pytest.mark.parametrize("language", ["en", "de"])
def test_the_reason_stands_in_the_report_and_derives_again(first: Path, second: Path, language: str) -> None:
    sealed(first, second)
    folder = first.with_name("report")
    with actions.open_case(settled(first, second), author="C") as audit:
        actions.reopen_line(audit, line_of(audit, "pullover")["line"], "It was a glide\u202e.")
        with pytest.raises(AuditError, match="are open"):
            actions.seal(audit)
        actions.write_report(audit, folder, language=language)
    page = (folder / "report.html").read_text(encoding="utf-8")
    assert "It was a glide[U+202E]." in page
    assert {"en": "opened again:", "de": "wieder geöffnet wurden"}[language] in page
    told = actions.verify(folder)
    assert told["same"], told["differences"]


def test_a_sealed_settlement_opens_no_line_again(first: Path, second: Path) -> None:
    sealed(first, second)
    with actions.open_case(settled(first, second), author="C") as audit:
        for line in actions.settlement_document(audit)["lines"]:
            if line["taken"] is None:
                actions.settle_line(audit, line["line"], "first" if line["first"] else "neither")
        actions.seal(audit)
        with pytest.raises(CaseError, match="sealed"):
            actions.reopen_line(audit, "L1", "Too late.")


def test_a_fault_waits_for_its_element(first: Path, second: Path) -> None:
    sealed(first, second)
    with actions.open_case(settled(first, second), author="C") as audit:
        line = next(
            one["line"]
            for one in actions.settlement_document(audit)["lines"]
            if one["first"] and one["first"]["code"] == "arms-bent"
        )
        with pytest.raises(AuditError, match="element"):
            actions.settle_line(audit, line, "first")
        with pytest.raises(AuditError, match="nothing on this line"):
            actions.settle_line(audit, line, "second")


def test_both_originals_are_kept_whole(first: Path, second: Path) -> None:
    sealed(first, second)
    with actions.open_case(settled(first, second), author="C") as audit:
        kept = audit.state.settlement
        assert kept is not None
        for path, sheet in zip((first, second), kept["sheets"], strict=True):
            with actions.open_case(path, author=None) as original:
                assert tuple(map(Mark.from_json, sheet["marks"])) == original.counting_marks
                assert sheet["head"] == original.case.events[-1].hash


def test_the_report_of_a_settlement_shows_both_views_and_derives_again(first: Path, second: Path) -> None:
    sealed(first, second)
    folder = first.with_name("report")
    with actions.open_case(settled(first, second), author="C") as audit:
        actions.settle_line(audit, "L2", "second")
        actions.write_report(audit, folder)
    page = (folder / "report.html").read_text(encoding="utf-8")
    assert "Settlement of two sheets" in page
    assert "Judge B" in page
    told = actions.verify(folder)
    assert told["same"], told["differences"]


def test_a_settlement_with_open_lines_is_not_sealed_and_a_sheet_not_settled_against_itself(
    first: Path, second: Path
) -> None:
    sealed(first, second)
    with actions.open_case(settled(first, second), author="C") as audit:
        with pytest.raises(AuditError, match="are open"):
            actions.seal(audit)
        for line in actions.settlement_document(audit)["lines"]:
            if line["taken"] is None:
                actions.settle_line(audit, line["line"], "first" if line["first"] else "neither")
        actions.seal(audit)
    with pytest.raises(AuditError, match="one case"):
        actions.begin_settlement(first, first, first.with_name("own.case"), "C")


def open_settlement(first: Path, second: Path) -> Path:
    """The same with an open line left: judge A's bent arms, which judge B did not see."""
    sealed(first, second)
    path = settled(first, second)
    with actions.open_case(path, author="C") as audit:
        for line in actions.settlement_document(audit)["lines"]:
            mark = line["first"] or line["second"]
            if line["taken"] is None and mark["code"] != "arms-bent":
                actions.settle_line(audit, line["line"], "first" if line["first"] else "second")
    return path


def test_a_settlement_with_an_open_line_is_no_settled_score(first: Path, second: Path) -> None:
    path = open_settlement(first, second)
    assert len(actions.score_document(path)["open_lines"]) == 1
    with actions.open_case(path, author="C") as audit:
        assert len(actions.write_report(audit, path.with_name("report"))["open_lines"]) == 1
    page = path.with_name("report").joinpath("report.html").read_text(encoding="utf-8")
    assert page.index("1 line is still open") < page.index("The question and the finding")
    assert "There is no place to sign before every line is settled." in page
    assert "Signature of whoever" not in page


def test_an_element_is_not_left_out_from_under_its_faults(first: Path, second: Path) -> None:
    path = open_settlement(first, second)
    with actions.open_case(path, author="C") as audit:
        dismount, trunk = line_of(audit, "sole-circle-dismount")["line"], line_of(audit, "trunk")["line"]
        actions.reopen_line(audit, dismount, "Nobody saw it.")
        assert actions.settlement_document(audit)["problems"]
        with pytest.raises(AuditError, match=f"open {trunk} again"):
            actions.settle_line(audit, dismount, "neither")
        actions.reopen_line(audit, trunk, "Its element was not seen.")
        actions.settle_line(audit, dismount, "neither")
        assert not actions.settlement_document(audit)["problems"]
        with pytest.raises(AuditError, match=f"left out: {dismount} is settled as neither"):
            actions.settle_line(audit, trunk, "second")


def test_a_fault_that_waits_names_the_line_of_its_element(first: Path, second: Path) -> None:
    path = open_settlement(first, second)
    with actions.open_case(path, author="C") as audit:
        cast, arms = line_of(audit, "cast")["line"], line_of(audit, "arms-bent")["line"]
        actions.reopen_line(audit, cast, "To look again.")
        with pytest.raises(AuditError) as refused:
            actions.settle_line(audit, arms, "first")
    problem = refused.value.problems[0]
    assert problem.where == arms
    assert f"{cast} is open" in str(problem.message)


def test_the_report_tells_both_sheets_by_names_with_a_true_minus(
    first: Path, second: Path, tmp_path: Path
) -> None:
    sealed(first, second)
    with actions.open_case(settled(first, second), author="C") as audit:
        actions.write_report(audit, tmp_path / "report")
    page = (tmp_path / "report" / "report.html").read_text("utf-8")
    table = page[page.index("Two sealed sheets, line by line") :].split("</table>")[0]
    assert "−44" in table
    assert "-44" not in table
    assert "Arms bent 0.100" in table
    assert "arms-bent" not in table
