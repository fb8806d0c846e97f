"""A marks document comes into a case whole or not at all, and every refusal names what it is about."""

import json
from pathlib import Path
from typing import Any

import pytest

from reviewer import actions
from reviewer.actions import AuditError
from reviewer.casefile import check_chain
from reviewer.terms.exact import Points
from reviewer.terms.problems import DocumentError
from tests.actions import small_routine

GOOD: list[dict[str, Any]] = [
    {"id": "e1", "kind": "element", "code": "pullover", "roles": ["mount"], "order": 1},
    {"id": "e2", "kind": "element", "code": "cast", "order": 2},
]
BAD: list[dict[str, Any]] = [
    {"id": "e3", "kind": "element", "code": "no-such-element", "order": 3},
    {"id": "f1", "kind": "fault", "code": "arms-bent", "element": "e3", "amount": "0.100"},
    {"id": "f2", "kind": "fault", "code": "arms-bent", "element": "e2", "amount": "0.777"},
]


def marks(folder: Path, own: list[dict[str, Any]]) -> Path:
    path = folder / "sheet.json"
    document = {"format": "reviewer.marks/1", "rule_book": "demo-bars-2", "marks": own}
    path.write_text(json.dumps(document), encoding="utf-8")
    return path


@pytest.fixture
def case(tmp_path: Path) -> Path:
    return small_routine.begin(tmp_path / "routine.case")


def test_one_bad_mark_keeps_the_others_out_and_the_document_is_named(case: Path, tmp_path: Path) -> None:
    before = small_routine.events(case)
    with actions.open_case(case, author="A") as audit:
        with pytest.raises(DocumentError) as refused:
            actions.import_marks(audit, marks(tmp_path, GOOD + BAD))
        assert [one.where for one in refused.value.problems] == ["sheet.json: e3", "sheet.json: f2"]
        assert len(audit.marks) == len(small_routine.MARKS)
    assert small_routine.events(case) == before


def test_the_case_goes_on_after_a_refused_document(case: Path, tmp_path: Path) -> None:
    with actions.open_case(case, author="A") as audit:
        with pytest.raises(DocumentError):
            actions.import_marks(audit, marks(tmp_path, GOOD + BAD))
        assert actions.import_marks(audit, marks(tmp_path, GOOD)) == 2
        assert not check_chain(audit.case.events)
    with actions.open_case(case, author=None) as audit:
        assert {"e1", "e2"} <= {mark.id for mark in audit.marks}


def test_a_refusal_names_the_case_beside_the_mark_or_the_inquiry(case: Path) -> None:
    with (
        pytest.raises(AuditError, match=r"^routine\.case: m99: "),
        actions.open_case(case, author="A") as audit,
    ):
        actions.withdraw_mark(audit, "m99")
    with (
        pytest.raises(AuditError, match=r"^routine\.case: q77: "),
        actions.open_case(case, author="A") as audit,
    ):
        actions.answer_inquiry(audit, "q77")


def fall(**said: str) -> dict[str, Any]:
    return {"id": "f", "kind": "fault", "code": "fall", "amount": "0.500"} | said


def test_a_refusal_names_the_document_and_writes_json(tmp_path: Path) -> None:
    named = marks(tmp_path, [*GOOD, fall(judge="Ann Smith")])
    with pytest.raises(DocumentError, match=r"sheet\.json: marks\[2\]\.judge"):
        actions.score_document(named)
    seen = marks(tmp_path, [*GOOD, fall(seen="later")])
    with pytest.raises(DocumentError, match="Write one of: full-speed, slowed, null"):
        actions.score_document(seen)
    with pytest.raises(DocumentError, match="/dev/null: This is not JSON"):
        actions.score_document(Path("/dev/null"))
    unknown = actions.Supposed(amounts={"f": Points.parse("0.300")})
    with pytest.raises(DocumentError, match=r"sheet\.json: f"):
        actions.what_if(marks(tmp_path, GOOD), unknown)


def test_sheets_that_are_not_sealed_are_named_with_their_folder(case: Path) -> None:
    second = case.with_name("second.case")
    actions.begin_second(case, second, "B").close()
    with pytest.raises(DocumentError, match=f"reviewer seal {second}"):
        actions.compare_sheets([case, second])
    with pytest.raises(AuditError, match=f"reviewer seal {second}"):
        actions.begin_settlement(case, second, case.with_name("c.case"), "C")
