"""What a routine cost: the parts come to the score, and what holds the start value is what it would miss."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from reviewer import rules, scoring
from reviewer.terms.costs import Cost
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.rulebook import RuleBook
from tests.scoring.drawn_routines import routines

BOOK = rules.load(rules.find("demo-bars-2"))
EDITIONS = {name: rules.load(rules.find(name)) for name in ("demo-bars-2", "international-bars")}
usual = settings(deadline=None, max_examples=50, suppress_health_check=list(HealthCheck))

ELEMENTS = ("pullover", "back-hip-circle", "sole-circle", "cast-squat-on", "underswing-dismount")


def elements(*codes: str) -> tuple[Mark, ...]:
    roles = {0: ("mount",), len(codes) - 1: ("dismount",)}
    return tuple(
        Mark(f"e{place}", "element", code, order=place, roles=roles.get(place, ()))
        for place, code in enumerate(codes)
    )


def fault(name: str, code: str, element: str, amount: str, judge: str = "A") -> Mark:
    return Mark(name, "fault", code, element=element, amount=Points.parse(amount), judge=judge)


def total(costs: tuple[Cost, ...]) -> Points:
    return sum((one.total for one in costs), Points(0))


def test_exactly_as_many_value_parts_as_needed_leave_nothing_to_spare() -> None:
    """Five value parts of 0.100 each are what the demo edition asks for, by its own clauses."""
    marks = elements(*ELEMENTS)
    found = scoring.costs(marks, scoring.score(marks, BOOK), BOOK)
    assert (found.needed, found.earned, found.spare) == (5, 5, 0)
    assert scoring.value_part_cost(BOOK) == Points.parse("0.100")
    assert {one.element for one in found.holding} == {mark.id for mark in marks}, "each of them is needed"


def test_what_one_element_holds_is_what_the_start_value_is_lower_by_without_it() -> None:
    marks = (*elements(*ELEMENTS), fault("f1", "arms-bent", "e1", "0.100"))
    sheet = scoring.score(marks, BOOK)
    for one in scoring.costs(marks, sheet, BOOK).holding:
        rest = tuple(mark for mark in marks if one.element not in (mark.id, mark.element))
        assert sheet.start_value - scoring.score(rest, BOOK).start_value == one.points


def test_the_largest_cost_stands_first_and_what_two_judges_took_for_the_same_is_one() -> None:
    marks = (
        *elements(*ELEMENTS),
        fault("f1", "arms-bent", "e1", "0.100", "A"),
        fault("f2", "arms-bent", "e1", "0.200", "B"),
        fault("f3", "legs-bent", "e2", "0.050", "B"),
    )
    found = scoring.costs(marks, scoring.score(marks, BOOK), BOOK)
    arms, legs = found.possible
    assert (str(arms.least), str(arms.most), arms.judges, found.judges) == ("0.100", "0.200", 2, 2)
    assert (str(legs.least), str(legs.most), legs.judges) == ("0.050", "0.050", 1)
    assert arms.marks == ("f1", "f2")


def test_a_start_value_loss_is_certain_and_no_judges() -> None:
    marks = elements(*ELEMENTS[1:])
    marks = (Mark("e0", "element", marks[0].code, order=0), *marks[1:])
    found = scoring.costs(marks, scoring.score(marks, BOOK), BOOK)
    assert found.certain
    assert all(one.judges == 0 for one in found.certain)
    assert [one.total.thousandths for one in found.certain] == sorted(
        (one.total.thousandths for one in found.certain), reverse=True
    )


def test_where_requirements_give_points_a_missing_one_is_a_loss() -> None:
    book = EDITIONS["international-bars"]
    marks = (Mark("e0", "element", book.elements[0].code, order=0),)
    sheet = scoring.score(marks, book)
    missing = [one for one in sheet.notes if one.code == "requirement-missing"]
    found = scoring.costs(marks, sheet, book)
    assert missing
    assert sorted(one.clause for one in found.certain) == sorted(one.clause or "" for one in missing)


@pytest.mark.parametrize("book", EDITIONS.values(), ids=EDITIONS)
@usual
@given(st.data())
def test_the_costs_are_the_ledgers_losses_whatever_was_marked(book: RuleBook, data: st.DataObject) -> None:
    marks = data.draw(routines(book))
    sheet = scoring.score(marks, book)
    found = scoring.costs(marks, sheet, book)
    lost = {stage: Points(0) for stage in ("execution", "neutral")}
    for line in sheet.lines:
        if line.stage in lost and line.points < Points(0):
            lost[line.stage] -= line.points
    assert total(found.possible) == lost["execution"]
    assert total(found.neutral) == lost["neutral"]
    assert all(one.least <= one.most <= one.total for one in found.possible)
    assert all(Points(0) < one.points for one in found.holding)


@usual
@given(st.data())
def test_an_element_that_nothing_refuses_is_a_value_part(data: st.DataObject) -> None:
    """What a learner is asked of one clip alone: whether its element earned a value part."""
    marks = data.draw(routines(BOOK))
    sheet = scoring.score(marks, BOOK)
    refused = {mark for one in sheet.not_earned for mark in one.marks}
    elements = [mark for mark in marks if mark.kind == "element" and mark.id not in refused]
    assert len(elements) == sheet.value_parts
