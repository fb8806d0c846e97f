"""A case is the sheet of who began it: the score, comparisons, settlements and merges call it so."""

from pathlib import Path

import pytest

from reviewer import actions
from reviewer.actions import AuditError
from reviewer.terms.exact import Points
from tests.actions import small_routine


def begun(path: Path, author: str, *, faults: str | None = None, writer: str | None = None) -> Path:
    """The small routine in a case of a judge, whose faults say ``faults``; ``writer`` types it."""
    actions.start_case(path, author=author, athlete_code="G-12", consent="given").close()
    with actions.open_case(path, author=writer or author) as audit:
        for mark in small_routine.MARKS:
            actions.place_mark(audit, **(mark | ({"judge": faults} if mark["kind"] == "fault" else {})))
    return path


def judges(path: Path) -> list[str]:
    return [one["judge"] for one in actions.score_document(path)["judges"]]


def test_a_case_that_says_no_judge_is_the_sheet_of_who_began_it(tmp_path: Path) -> None:
    assert judges(begun(tmp_path / "b.case", "B")) == ["B"]
    assert judges(begun(tmp_path / "typed.case", "B", writer="A")) == ["B"]
    assert judges(begun(tmp_path / "said.case", "B", faults="D")) == ["D"]


def test_marks_that_leave_the_case_without_a_letter_are_of_judge_a(tmp_path: Path) -> None:
    marks = tmp_path / "marks.json"
    with actions.open_case(begun(tmp_path / "b.case", "B"), author=None) as audit:
        marks.write_text(actions.marks_text(audit), encoding="utf-8")
    assert judges(marks) == ["A"]


def test_two_judges_are_compared_and_agree_under_their_own_letters(tmp_path: Path) -> None:
    first, second = begun(tmp_path / "a.case", "A"), begun(tmp_path / "b.case", "B")
    found = actions.compare_sheets([first, second])
    assert [side["judges"][0]["judge"] for side in found["sides"]] == ["A", "B"]
    assert found["same"]
    agreed = actions.agreement_of_sheets([actions.Source(first, "12"), actions.Source(second, "12")])
    assert agreed["judges"] == ["A", "B"]


@pytest.mark.parametrize("faults", [None, "own"])
def test_what_is_settled_is_the_sheet_of_who_settles(tmp_path: Path, faults: str | None) -> None:
    first = begun(tmp_path / "a.case", "A", faults=faults and "A")
    second = begun(tmp_path / "b.case", "B", faults=faults and "B")
    for path, author in ((first, "A"), (second, "B")):
        with actions.open_case(path, author=author) as audit:
            actions.seal(audit)
    settled = tmp_path / "settled.case"
    actions.begin_settlement(first, second, settled, "C").close()
    assert judges(settled) == ["C"]
    with actions.open_case(settled, author=None) as audit:
        assert [one["judge"] for one in actions.settlement_document(audit)["sheets"]] == ["A", "B"]
        assert actions.settlement_document(audit)["open"] == 0


def test_merged_faults_keep_the_judge_whose_case_they_are_from(tmp_path: Path) -> None:
    first = begun(tmp_path / "a.case", "A")
    second = begun(tmp_path / "b.case", "B", writer="A")
    actions.merge_cases(first, second, tmp_path / "both.case", author="A", although_other_recording=True)
    assert judges(tmp_path / "both.case") == ["A", "B"]


def test_the_faults_of_one_case_do_not_become_the_other_judges_where_that_has_none(tmp_path: Path) -> None:
    first, second = tmp_path / "a.case", begun(tmp_path / "b.case", "B")
    actions.start_case(first, author="A", athlete_code="G-12", consent="given").close()
    actions.merge_cases(first, second, tmp_path / "both.case", author="A", although_other_recording=True)
    assert judges(tmp_path / "both.case") == ["B"]


def test_only_the_judge_whose_sheet_it_is_seals_it(tmp_path: Path) -> None:
    path = begun(tmp_path / "b.case", "B")
    with actions.open_case(path, author="A") as audit, pytest.raises(AuditError, match="sheet of judge B"):
        actions.seal(audit)
    with actions.open_case(path, author="B") as audit:
        actions.seal(audit)
        assert audit.state.sealed is not None


def test_an_empty_sheet_is_sealed_only_where_that_is_meant(tmp_path: Path) -> None:
    path = tmp_path / "b.case"
    actions.start_case(path, author="B", athlete_code="G-12", consent="given").close()
    with actions.open_case(path, author="B") as audit:
        with pytest.raises(AuditError, match="no mark"):
            actions.seal(audit)
        actions.seal(audit, although_empty=True)


def test_nobody_is_their_own_second_judge(tmp_path: Path) -> None:
    first = tmp_path / "a.case"
    actions.start_case(first, author="A", athlete_code="G-12", consent="given").close()
    with pytest.raises(AuditError, match="The case is judge A's own"):
        actions.begin_second(first, tmp_path / "again.case", "A")


def test_a_table_of_marks_names_the_judge_of_each_fault(tmp_path: Path) -> None:
    with actions.open_case(begun(tmp_path / "b.case", "B"), author=None) as audit:
        actions.export_case(audit, "csv", tmp_path / "marks.csv", today="2026-11-26")
    rows = (tmp_path / "marks.csv").read_text(encoding="utf-8").splitlines()
    assert rows[0].split(",")[8] == "judge"
    assert {row.split(",")[1]: row.split(",")[8] for row in rows[1:]} == {
        "element": "", "fault": "B", "fact": ""
    }  # fmt: skip


def test_a_fault_that_costs_more_moves_the_score_of_its_own_judge(tmp_path: Path) -> None:
    with actions.open_case(begun(tmp_path / "b.case", "B"), author=None) as audit:
        supposed = actions.Supposed(amounts={"m4": Points.parse("0.300")})
        assert [one.judge for one in actions.supposed_sheet(audit, supposed).judges] == ["B"]
