"""What a sheet says to an inquiry, held against cases that can be reasoned out by hand."""

from dataclasses import replace

import pytest

from reviewer import rules, scoring
from reviewer.scoring import Proposal
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.inquiries import CHANGES, STANDS, UNDECIDED
from reviewer.terms.marks import CastAngle, Mark

BOOK = rules.load(rules.find("demo-bars-2"))
ROUTINE = (
    Mark("m1", "element", "pullover", order=1, roles=("mount",)),
    Mark("m2", "element", "cast", order=2, angle=CastAngle("eye", value=Degrees.parse("-40"))),
    Mark("m3", "element", "back-hip-circle", order=3),
    Mark("m4", "element", "cast", order=4, angle=CastAngle("eye", value=Degrees.parse("-60"))),
    Mark("m5", "element", "glide-kip", order=5),
    Mark("m6", "element", "underswing-dismount", order=6, roles=("dismount",)),
    Mark("f1", "fault", "arms-bent", element="m2", amount=Points.parse("0.100")),
    Mark("f2", "fault", "fall", element="m5", amount=Points.parse("0.500")),
)
SHEET = scoring.score(ROUTINE, BOOK)


def answer(posted: str | None, *, unseen: bool = False) -> Proposal:
    """The proposal for a posted score; ``unseen`` makes the best cast one that cannot be told."""
    cannot = CastAngle("eye", verdict="cannot tell")
    marks = tuple(replace(one, angle=cannot) if unseen and one.id == "m2" else one for one in ROUTINE)
    score = None if posted is None else Points.parse(posted)
    return scoring.propose(scoring.score(marks, BOOK), scoring.room(marks, BOOK), score)


def test_the_score_of_the_marks_stands() -> None:
    assert answer(str(SHEET.final_score)).finding == STANDS


def test_what_judges_may_differ_by_stands_too_for_execution_is_not_judged_again() -> None:
    other = next(one for one in SHEET.reachable.scores if one != SHEET.final_score)
    found = answer(str(other))
    assert found.finding == STANDS
    assert "differ by" in found.why[0].words()


def test_what_no_judging_allows_changes_to_the_sheets_score_and_says_the_least_it_must() -> None:
    posted = SHEET.reachable.high + Points.parse("0.500")
    found = answer(str(posted))
    assert found.finding == CHANGES
    assert found.score == SHEET.final_score
    assert found.by == SHEET.final_score - posted
    assert "at least 0.500" in found.why[1].words()
    assert "f2" in found.marks


def test_what_rests_on_a_cast_that_nobody_could_see_cannot_be_decided() -> None:
    found = answer(str(SHEET.final_score), unseen=True)
    assert found.finding == UNDECIDED
    assert found.marks == ("m2",)


def test_what_cannot_be_reached_whatever_was_not_seen_changes_all_the_same() -> None:
    assert answer("9.990", unseen=True).finding == CHANGES


def test_without_a_posted_score_nothing_is_decided() -> None:
    assert answer(None).finding == UNDECIDED


@pytest.mark.parametrize(
    ("starts", "posted", "finding", "by"),
    [
        (("9.500",), "9.500", STANDS, None),
        (("9.500",), "9.000", CHANGES, "0.500"),
        (("9.500", "9.000"), "9.000", UNDECIDED, None),
        (("9.500", "9.000"), "8.900", CHANGES, "0.100"),
    ],
)
def test_a_start_value_is_settled_by_itself(
    starts: tuple[str, ...], posted: str, finding: str, by: str | None
) -> None:
    possible = frozenset(map(Points.parse, starts))
    found = scoring.propose_start(SHEET, possible, Points.parse(posted))
    assert found.finding == finding
    assert found.by == (None if by is None else Points.parse(by))
