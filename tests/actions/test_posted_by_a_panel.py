"""A score posted by a panel, audited by one judge: the average of several lies between what one can give."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from reviewer import actions
from reviewer.actions import Audit
from reviewer.actions.weighing import proposal
from reviewer.desk.posting import posted_words
from reviewer.terms.exact import Points
from reviewer.terms.inquiries import CHANGES, STANDS, Inquiry
from reviewer.terms.posted import PostedSheet
from reviewer.words import Saying

ROOT = Path(__file__).parents[2]


@pytest.fixture
def audit(tmp_path: Path) -> Iterator[Audit]:
    """One judge's marks, which reach 9.350 to 9.750 in steps of 0.050."""
    with actions.start_case(
        tmp_path / "one.case", author="A", athlete_code="G-12", consent="given"
    ) as opened:
        actions.import_marks(opened, ROOT / "annotations" / "square-on.marks.json")
        yield opened


def posted(audit: Audit, final: str, *judges: str) -> None:
    scores = tuple((letter, Points.parse(one)) for letter, one in zip("ABC", judges, strict=False))
    actions.enter_posted_sheet(audit, PostedSheet(judges=scores, final=Points.parse(final)))
    actions.enter_posted(audit, Points.parse(final))


def found(audit: Audit) -> str:
    return proposal(audit, Inquiry("q1", "coach", "score")).finding


def test_the_average_of_three_stands_where_no_single_sheet_reaches_it(audit: Audit) -> None:
    posted(audit, "9.616", "9.650", "9.600", "9.600")
    score = actions.audit_score(audit)["posted"]
    assert (score["reachable"], score["nearest"]) == (False, "9.600")  # of these marks alone, as documented
    assert score["as_panel"] == {"judges": 3, "reachable": True, "nearest": "9.616"}
    assert found(audit) == STANDS


def test_what_no_panel_can_give_on_these_marks_changes(audit: Audit) -> None:
    posted(audit, "9.766", "9.800", "9.750", "9.750")
    score = actions.audit_score(audit)["posted"]
    assert (score["as_panel"]["reachable"], score["as_panel"]["nearest"]) == (False, "9.750")
    assert found(audit) == CHANGES


def test_one_judge_is_held_against_these_marks_alone(audit: Audit) -> None:
    posted(audit, "9.616", "9.616")
    assert "as_panel" not in actions.audit_score(audit)["posted"]
    assert found(audit) == CHANGES


def test_report_and_desk_say_so(audit: Audit, tmp_path: Path) -> None:
    posted(audit, "9.616", "9.650", "9.600", "9.600")
    actions.write_report(audit, tmp_path / "report")
    page = (tmp_path / "report" / "report.html").read_text(encoding="utf-8")
    assert "is the average of 3 judges, and on these marks such a panel may come to it." in page
    assert "cannot be reached" not in page
    panel = actions.as_panel(audit, audit.posted)
    told = posted_words(audit.sheet, audit.posted, Saying(), panel)
    assert told == "can be reached as the average of 3 judges"
    assert actions.verify(tmp_path / "report")["same"]
