"""Two sheets of one routine: what agrees, what differs, and what each thing costs.

Where no source is named, what is expected follows from the words of the comparison itself, or was worked by
hand from the values of the demo edition (common practice, no source).
"""

from collections.abc import Sequence
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from reviewer import rules
from reviewer.auditing import AGREED, DIFFERS, ONLY, Comparison, Moves
from reviewer.auditing.aligning import align
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.marks import CastAngle, Mark
from tests.auditing.two_sheets import BOOK, MILLISECONDS, compared, element, fault, sheet, timed
from tests.scoring.drawn_routines import routines

UNMOVED = Moves(Points(0), Points(0))
ROUTINE = (
    element("m", "pullover", 1, "mount"),
    Mark("c", "element", "cast", order=2, angle=CastAngle("eye", Degrees.parse("-30"))),
    element("b", "back-hip-circle", 3),
    element("d", "sole-circle-dismount", 4, "dismount"),
)


def states(found: Comparison) -> dict[str, str]:
    """State of each thing by the id of its mark, the first sheet's where it has one."""
    return {(one.matched.first or one.matched.second).mark.id: one.state for one in found.things}  # type: ignore[union-attr]


def moved(found: Comparison, name: str) -> tuple[str | None, ...]:
    """How far each final score would move, by the id of a mark."""
    for one in found.things:
        if name in [own.mark.id for own in (one.matched.first, one.matched.second) if own]:
            return tuple(None if own is None else str(own.final_score) for own in one.moves)
    raise LookupError(name)


@given(routines(BOOK))
@settings(max_examples=40, deadline=None)
def test_a_sheet_agrees_with_itself_in_everything(marks: tuple[Mark, ...]) -> None:
    found = compared(sheet(marks), sheet(marks))
    assert found.same
    assert [one.state for one in found.things] == [AGREED] * len(marks)
    assert all(one.moves == (UNMOVED, UNMOVED) for one in found.things)
    assert found.start_lines == ()


@st.composite
def timed_routines(draw: st.DrawFn) -> tuple[Mark, ...]:
    """Elements about a second apart, faults anywhere; some marks without a time."""

    def at_a_time(mark: Mark) -> Mark:
        if draw(st.integers(0, 5)) == 0:
            return mark
        if mark.kind != "element":
            return replace(mark, at=draw(st.integers(900, 6000)))
        start = 1000 * (mark.order or 0) + draw(st.integers(-400, 400))
        return replace(mark, start=start, end=start + draw(st.integers(100, 900)))

    return tuple(at_a_time(mark) for mark in draw(routines(BOOK)))


def mirrored(there: Comparison, back: Comparison) -> bool:
    """Whether two comparisons of the same sheets, in exchanged places, say the same."""

    def told(found: Comparison, turn: int) -> list[tuple[str, ...]]:
        step = slice(None, None, turn)
        return sorted(
            (
                str([own and own.mark.id for own in (thing.matched.first, thing.matched.second)][step]),
                thing.state,
                str([(one.what, (one.first, one.second)[step]) for one in thing.differs]),
                str((thing.points[step], thing.moves[step], thing.only_slowed)),
            )
            for thing in found.things
        )

    return told(there, 1) == told(back, -1) and there.one_by_one(0) == back.one_by_one(1)


@given(routines(BOOK), routines(BOOK))
@settings(max_examples=40, deadline=None)
def test_sheets_in_exchanged_places_say_the_same_mirrored(
    one: tuple[Mark, ...], other: tuple[Mark, ...]
) -> None:
    assert mirrored(compared(sheet(one), sheet(other)), compared(sheet(other), sheet(one)))


@given(timed_routines(), timed_routines())
@settings(max_examples=40, deadline=None)
def test_so_do_sheets_with_times(one: tuple[Mark, ...], other: tuple[Mark, ...]) -> None:
    first, second = sheet(one, clock=MILLISECONDS), sheet(other, clock=MILLISECONDS)
    assert mirrored(compared(first, second), compared(second, first))


@given(timed_routines())
@settings(max_examples=40, deadline=None)
def test_a_sheet_with_times_agrees_with_itself(marks: tuple[Mark, ...]) -> None:
    own = sheet(marks, clock=MILLISECONDS)
    assert compared(own, own).same


@given(routines(BOOK), routines(BOOK))
@settings(max_examples=40, deadline=None)
def test_every_mark_stands_in_one_thing(one: tuple[Mark, ...], other: tuple[Mark, ...]) -> None:
    found = compared(sheet(one), sheet(other))
    mine = sorted(thing.matched.first.mark.id for thing in found.things if thing.matched.first)
    theirs = sorted(thing.matched.second.mark.id for thing in found.things if thing.matched.second)
    assert mine == sorted(mark.id for mark in one)
    assert theirs == sorted(mark.id for mark in other)


INDEPENDENT = st.lists(
    st.tuples(st.sampled_from(["arms-bent", "legs-bent"]), st.sampled_from(["c", "b"])), unique=True
)


@given(INDEPENDENT, INDEPENDENT, st.data())
@settings(max_examples=40, deadline=None)
def test_costs_of_independent_things_add_up_to_the_difference_of_the_finals(
    mine: list[tuple[str, str]], theirs: list[tuple[str, str]], data: st.DataObject
) -> None:
    """One judge a sheet, faults that swallow nothing of each other: the score is a sum."""

    def faults(chosen: list[tuple[str, str]]) -> list[Mark]:
        return [
            Mark(f"{code} {on}", "fault", code, element=on, amount=data.draw(st.sampled_from(sizes(code))))
            for code, on in chosen
        ]

    first, second = sheet((*ROUTINE, *faults(mine))), sheet((*ROUTINE, *faults(theirs)))
    found = compared(first, second)
    assert found.one_by_one(0) == second.sheet.final_score - first.sheet.final_score
    assert found.one_by_one(1) == first.sheet.final_score - second.sheet.final_score


def sizes(code: str) -> Sequence[Points]:
    return BOOK.fault_of[code].amounts


def test_a_fault_of_another_amount_says_both_and_what_each_view_costs() -> None:
    first = sheet((*ROUTINE, fault("x", "arms-bent", "c", "0.100")))
    second = sheet((*ROUTINE, fault("y", "arms-bent", "c", "0.300")))
    found = compared(first, second)
    thing = next(one for one in found.things if one.state == DIFFERS)
    assert [(one.what, one.first, one.second) for one in thing.differs] == [("amount", "0.100", "0.300")]
    assert tuple(map(str, thing.points)) == ("-0.100", "-0.300")
    assert moved(found, "x") == ("-0.200", "0.200")


def test_a_fault_only_one_judge_took_stands_alone_in_its_place() -> None:
    found = compared(sheet((*ROUTINE, fault("x", "arms-bent", "c", "0.100"))), sheet(ROUTINE))
    assert states(found) == {"m": AGREED, "c": AGREED, "x": ONLY, "b": AGREED, "d": AGREED}
    assert list(states(found)) == ["m", "c", "x", "b", "d"]
    assert moved(found, "x") == ("0.100", "-0.100")


def test_a_condition_that_takes_credit_moves_the_start_value() -> None:
    """Worked by hand: a spotted dismount earns no value part (0.100) and not its requirement (0.500)."""
    spotted = (*ROUTINE[:-1], replace(ROUTINE[-1], conditions=("spotted",)))
    found = compared(sheet(ROUTINE), sheet(spotted))
    thing = found.things[-1]
    assert {one.what: (one.first, one.second) for one in thing.differs} == {
        "with": ("none", "spotted"),
        "credit": ("given", "spotted"),
    }
    difference = found.sheets[1].start_value - found.sheets[0].start_value
    assert thing.moves == (Moves(difference, difference), Moves(-difference, -difference))
    assert str(difference) == "-0.600"
    lines = [(number, str(line.points)) for number, line in found.start_lines]
    assert lines == [(0, "-0.100"), (1, "-0.200"), (1, "-0.500")], "one value part was short already"


def test_what_the_faults_of_an_element_cost_is_not_counted_with_the_element() -> None:
    """Only one sheet has the element and a fault on it: both together are the difference, each once."""
    more = (*ROUTINE[:3], element("h", "front-hip-circle", 4), replace(ROUTINE[3], order=5))
    first, second = sheet(ROUTINE), sheet((*more, fault("x", "feet", "h", "0.050")))
    found = compared(first, second)
    assert moved(found, "x") == ("-0.050", "0.050")
    assert found.one_by_one(0) == second.sheet.final_score - first.sheet.final_score


def test_one_element_called_otherwise_is_one_thing() -> None:
    other = (*ROUTINE[:2], replace(ROUTINE[2], code="front-hip-circle"), ROUTINE[3])
    found = compared(sheet(ROUTINE), sheet(other))
    assert states(found) == {"m": AGREED, "c": AGREED, "b": DIFFERS, "d": AGREED}


def test_elements_are_matched_by_time_where_both_have_it() -> None:
    """The second judge left out the first of two casts; order alone could not tell which."""
    casts = (timed("c1", "cast", 1000, 1800), timed("c2", "cast", 3000, 3700))
    late = timed("k", "cast", 3033, 3600)
    found = compared(sheet(casts, clock=MILLISECONDS), sheet([late], clock=MILLISECONDS))
    assert states(found) == {"c1": ONLY, "c2": AGREED}
    found = compared(sheet([late], clock=MILLISECONDS), sheet(casts[:1], clock=MILLISECONDS))
    assert states(found) == {"k": ONLY, "c1": ONLY}


def test_boundaries_further_apart_than_counts_as_the_same_are_said() -> None:
    first = sheet([timed("a", "cast", 1000, 1800)], clock=MILLISECONDS)
    second = sheet([timed("b", "cast", 1200, 2001)], clock=MILLISECONDS)
    (thing,) = compared(first, second).things
    assert [(one.what, one.first, one.second) for one in thing.differs] == [("end", "1.800 s", "2.001 s")]
    assert thing.moves == (UNMOVED, UNMOVED)


def test_one_fault_given_to_neighbouring_elements_is_one_where_the_times_say_so() -> None:
    elements = (timed("c", "cast", 0, 900), timed("b", "back-hip-circle", 900, 1800))
    first = sheet((*elements, fault("x", "arms-bent", "c", "0.100", at=890)), clock=MILLISECONDS)
    second = sheet((*elements, fault("y", "arms-bent", "b", "0.100", at=910)), clock=MILLISECONDS)
    thing = next(one for one in compared(first, second).things if one.state != AGREED)
    assert [(one.what, one.first, one.second) for one in thing.differs] == [("element", "1", "2")]


def test_what_only_slow_motion_shows_stands_apart() -> None:
    slowed = fault("x", "feet", "b", "0.050", seen="slowed")
    seen = fault("y", "arms-bent", "c", "0.100", seen="full-speed")
    found = compared(sheet((*ROUTINE, slowed, seen)), sheet(ROUTINE))
    assert {
        thing.matched.first.mark.id for thing in found.things if thing.only_slowed and thing.matched.first
    } == {"x"}


def test_another_edition_alone_changes_points_and_not_views() -> None:
    previous = rules.load(rules.find("demo-bars-2-previous"))
    marks = (*ROUTINE, fault("x", "arms-bent", "c", "0.100"))
    found = compared(sheet(marks), sheet(marks, previous), (BOOK, previous))
    assert all(one.moves == (UNMOVED, UNMOVED) for one in found.things)


def test_a_view_that_the_other_edition_cannot_score_has_no_cost_there() -> None:
    other = rules.load(rules.find("international-bars"))
    first = sheet([element("k", "glide-kip", 1)])
    second = sheet([Mark("e", "element", "element-b", called="101", order=1)], other)
    (thing,) = compared(first, second, (BOOK, other)).things
    assert thing.state == DIFFERS
    assert thing.moves == (None, None)


def test_the_only_judge_of_a_sheet_is_the_first_where_no_letter_is_said() -> None:
    """Beside a sheet of judges A and B the fault is A's; what B alone took nobody can hold against it."""
    by_a = Mark("x", "fault", "arms-bent", element="c", amount=Points.parse("0.100"), judge="A")
    by_b = replace(by_a, id="y", judge="B")
    one = sheet((*ROUTINE, replace(by_a, judge=None)))
    found = compared(one, sheet((*ROUTINE, by_a, by_b)))
    assert {name: state for name, state in states(found).items() if name in "xy"} == {"x": AGREED, "y": ONLY}
    assert moved(found, "y") == (None, None)


def test_as_many_are_paired_as_the_longest_common_subsequence_has() -> None:
    """Cormen, Leiserson, Rivest, Stein, Introduction to Algorithms, 15.4: BCBA, of four (from memory)."""
    pairs = align("ABCBDAB", "BDCABA", lambda mine, theirs: 0 if mine == theirs else None, str)
    assert sum(None not in pair for pair in pairs) == 4


@given(st.text("xyz", max_size=6), st.text("xyz", max_size=6))
def test_no_other_pairing_costs_less(one: str, other: str) -> None:
    """Against every pairing there is, tried one by one."""

    def cost(mine: str, theirs: str) -> int | None:
        return None if {mine, theirs} == {"x", "z"} else 700 * (mine != theirs)

    def least(mine: str, theirs: str) -> int:
        if not mine or not theirs:
            return 2000 * (len(mine) + len(theirs))
        alone = 2000 + min(least(mine[1:], theirs), least(mine, theirs[1:]))
        price = cost(mine[0], theirs[0])
        return alone if price is None else min(alone, price + least(mine[1:], theirs[1:]))

    found = align(one, other, cost, str)
    spent = sum(2000 if a is None or b is None else cost(a, b) or 0 for a, b in found)
    assert spent == least(one, other)
