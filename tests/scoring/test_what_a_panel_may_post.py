"""A posted average held against marks of one auditor: checked by averaging every choice of scores.

Averages by the words of the edition (all scores of up to three judges, the two middle ones of four, cut to
thousandths), in Python's fractions.
"""

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations_with_replacement
from math import floor

from hypothesis import given, settings
from hypothesis import strategies as st

from reviewer import rules, scoring
from reviewer.terms.exact import Points
from reviewer.terms.marks import CastAngle, Mark

BOOK = rules.load(rules.find("demo-bars-2"))
TWO = (("arms-bent", "0.100"), ("legs-apart", "0.050"))
SOME = st.lists(st.sampled_from(TWO), min_size=1, max_size=3, unique=True).map(tuple)


def element(name: str, code: str, order: int, **also: object) -> Mark:
    return Mark(name, "element", code, order=order, **also)  # type: ignore[arg-type]


def marks(*faults: tuple[str, str]) -> tuple[Mark, ...]:
    """A small routine with a cast that is called, and an auditor's faults (code, amount) on it."""
    routine = (
        element("m1", "pullover", 1, roles=("mount",)),
        element("m2", "cast", 2, angle=CastAngle("eye", None, verdict="met")),
        element("m3", "back-hip-circle", 3),
        element("m4", "sole-circle-dismount", 4, roles=("dismount",)),
    )
    own = (
        Mark(f"f{at}", "fault", code, element="m3", amount=Points.parse(amount))
        for at, (code, amount) in enumerate(faults)
    )
    return (*routine, *own)


def held(posted: str, panel: int, *faults: tuple[str, str]) -> bool | None:
    own = marks(*faults)
    return scoring.held_against_panel(scoring.score(own, BOOK), own, BOOK, panel, Points.parse(posted))[0]


def averages(panel: int, *faults: tuple[str, str]) -> Iterator[int]:
    """Every average of a panel whose judges each give a score that the marks allow; thousandths."""
    scores = [one.thousandths for one in scoring.score(marks(*faults), BOOK).reachable.scores]
    for some in combinations_with_replacement(scores, panel):  # rising, as the scores are
        counting = some[1:-1] if panel == 4 else some
        yield floor(Fraction(sum(counting), len(counting)))


def test_an_average_of_scores_that_the_marks_allow_is_allowed() -> None:
    """9.250, 9.300 and 9.300 average to 9.283, which no single judge can give."""
    lowest = min(averages(1, *TWO))
    third = Points((3 * lowest + 100) // 3)
    assert held(str(third), 1, *TWO) is False
    assert held(str(third), 3, *TWO) is True


@settings(deadline=None, max_examples=40)
@given(SOME, st.integers(1, 4), st.integers(-120, 700))
def test_a_posted_score_is_allowed_where_some_choice_of_scores_averages_to_it(
    faults: tuple[tuple[str, str], ...], panel: int, above: int
) -> None:
    every = set(averages(panel, *faults))
    posted = min(every) + above
    assert held(str(Points(posted)), panel, *faults) is (posted in every)


@settings(deadline=None, max_examples=20)
@given(SOME, st.integers(1, 4), st.data())
def test_what_some_panel_averages_to_is_allowed_where_nobody_says_how_many_judged(
    faults: tuple[tuple[str, str], ...], panel: int, data: st.DataObject
) -> None:
    posted = data.draw(st.sampled_from(sorted(set(averages(panel, *faults)))))
    assert held(str(Points(posted)), 0, *faults) is True


def test_where_nobody_says_how_many_judged_only_what_lies_outside_is_denied() -> None:
    every = sorted(set(averages(1, *TWO)))
    assert held(str(Points(every[0] + 1)), 0, *TWO) is None
    assert held(str(Points(every[-1] + 1)), 0, *TWO) is False
    assert held(str(Points(every[0] - 1)), 0, *TWO) is False


def test_each_judge_of_a_panel_may_have_seen_what_either_auditor_did() -> None:
    """Two auditors: K took nothing, L up to 0.300 for bent arms; all of a panel may be with K."""
    own = tuple(Mark(**{**{name: getattr(one, name) for name in one.__slots__}, "judge": "L"})
                if one.kind == "fault" else one for one in marks(TWO[0]))  # fmt: skip
    sheet = scoring.score(own, BOOK, ("K", "L"))
    best = max(one.score for one in sheet.judges)
    assert scoring.held_against_panel(sheet, own, BOOK, 2, best) == (True, best)


def test_nothing_is_said_where_marks_were_left_out() -> None:
    own = (*marks(*TWO), Mark("f9", "fault", "arms-bent", element="m3", amount=Points.parse("0.170")))
    sheet = scoring.score(own, BOOK)
    assert sheet.problems
    assert scoring.held_against_panel(sheet, own, BOOK, 3, sheet.final_score)[0] is None
