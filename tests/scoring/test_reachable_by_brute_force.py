"""The reachable scores, and what is said of them, held against trying every combination one by one.

A combination settles every arguable amount at one that the book permits, and every cast at one of the states
that its angle leaves open; each is scored on its own and has one score.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import chain, combinations, product
from math import prod

import pytest
import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from reviewer import rules, scoring
from reviewer.scoring import outcomes, rooms
from reviewer.terms.exact import Points
from reviewer.terms.marks import CastAngle, Mark
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import ScoreSheet
from tests.scoring.drawn_routines import Size, routines

BOOKS = {name: rules.load(rules.find(name)) for name in ("demo-bars-2", "international-bars")}
each_edition = pytest.mark.parametrize("book", BOOKS.values(), ids=BOOKS)
MOST, MOST_ARGUABLE, MOST_OPEN = 600, 6, 3
"""Combinations of one routine, arguable faults and casts that are left open."""
SIZE = Size(elements=(3, 7), faults=(4, 10), facts=(0, 1))
EYE = {"met": "met", "within": "within tolerance", "short": "not met"}

Way = Mapping[str, str]
"""Mark id to the verdict or the amount that a combination settles on."""


def tried(examples: int) -> settings:
    return settings(deadline=None, max_examples=examples, suppress_health_check=list(HealthCheck))


@each_edition
@tried(60)
@given(st.data())
def test_what_is_reachable_is_what_some_combination_comes_to(book: RuleBook, data: st.DataObject) -> None:
    marks = data.draw(few_open(book))
    reachable = scoring.score(marks, book).reachable
    assert reachable.exact
    assert set(reachable.scores) == set(finals(marks, book))
    assert list(reachable.scores) == sorted(set(reachable.scores))


@each_edition
@tried(60)
@given(st.data())
def test_no_combination_lies_outside_the_bounds(book: RuleBook, data: st.DataObject) -> None:
    marks = data.draw(few_open(book))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(outcomes, "MOST_COMBINATIONS", 1)
        reachable = scoring.score(marks, book).reachable
    every = finals(marks, book)
    assert reachable.low <= min(every)
    assert max(every) <= reachable.high
    assert not reachable.exact or set(reachable.scores) == set(every)


@each_edition
@tried(10)
@given(st.data())
def test_a_way_to_a_score_leads_there_with_the_fewest_changes(book: RuleBook, data: st.DataObject) -> None:
    marks = data.draw(few_open(book, Size(elements=(2, 5), faults=(1, 3), facts=(0, 1))))
    sheet = scoring.score(marks, book)
    fewest = fewest_changes(marks, sheet, book)
    for target in sheet.reachable.scores[::4]:
        way = scoring.way_to(target, marks, book)
        assert way is not None
        assert scoring.score(applied(way, marks, sheet), book).final_score == target
        assert way.steps == fewest[target]
    beyond = Points(max(one.thousandths for one in sheet.reachable.scores) + 1)
    assert scoring.way_to(beyond, marks, book) is None


@each_edition
@tried(25)
@given(st.data())
def test_facts_alone_and_judgement_alone_are_told_apart(book: RuleBook, data: st.DataObject) -> None:
    marks = data.draw(few_open(book))
    room, decided = scoring.room(marks, book), states_decided(scoring.score(marks, book))
    as_marked = tuple(replace(mark, arguable=False) for mark in marks)
    as_decided = tuple(with_verdict(mark, decided[mark.id]) if mark.id in decided else mark for mark in marks)
    assert set(room.facts.scores) == set(finals(as_marked, book))
    assert set(room.judgement.scores) == set(finals(as_decided, book))


@each_edition
@tried(8)
@given(st.data())
def test_open_readings_reach_what_some_book_read_so_comes_to(book: RuleBook, data: st.DataObject) -> None:
    """Of all books that the clauses left open make, whether they touch the marks or not."""
    marks = data.draw(few_open(book, Size(elements=(2, 5), faults=(1, 4), facts=(0, 1))))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(rooms, "MOST_COMBINATIONS", 1_000_000)
        room = scoring.room(marks, book)
    reached = {way: set(scored(marks, book, way)) for way in readings(book)}
    here = reached[frozenset()]
    every = set(room.readings.scores) if room.readings else here
    assert every == set(chain.from_iterable(reached.values()))
    assert {one.clause for one in room.open_readings} == set(moving(reached))


def test_several_dismounts_that_always_count_lie_within_the_bounds() -> None:
    book = BOOKS["international-bars"]
    high = [Mark(f"e{n}", "element", "element-e", order=n) for n in range(1, 9)]
    low = [Mark(f"d{n}", "element", "element-a", order=n, roles=("dismount",)) for n in range(10, 13)]
    marks = (*high, *low, Mark("cast", "element", "cast", order=9))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(outcomes, "MOST_COMBINATIONS", 1)
        reachable = scoring.score(marks, book).reachable
    assert not reachable.exact
    assert reachable.low <= min(finals(marks, book))


@pytest.mark.parametrize(
    ("clause", "otherwise", "marks"),
    [
        ("no-dismount", "takes: 0.500 points", (Mark("e1", "element", "pullover"),)),
        ("restricted-element", "takes: 0.300 points", (Mark("e1", "element", "giant"),)),
    ],
)
def test_a_cost_left_open_is_asked_about(clause: str, otherwise: str, marks: tuple[Mark, ...]) -> None:
    book = left_open(BOOKS["demo-bars-2"], clause, otherwise)
    room = scoring.room(marks, book)
    both = {score for way in (frozenset[str](), frozenset({clause})) for score in scored(marks, book, way)}
    assert room.readings is not None
    assert both <= set(room.readings.scores)


def left_open(book: RuleBook, clause: str, otherwise: str) -> RuleBook:
    """The book with another reading of one clause, and none of any other."""
    said = yaml.load(book.text, yaml.BaseLoader)
    key, _, value = otherwise.partition(": ")
    for one in said["clauses"]:
        one.pop("examples", None)
        one.pop("left-open", None)
        if one["id"] == clause:
            one["left-open"] = {"question": "How much?", key: value}
    return rules.parse(yaml.safe_dump(said, sort_keys=False), "book")


@st.composite
def few_open(draw: st.DrawFn, book: RuleBook, size: Size = SIZE) -> tuple[Mark, ...]:
    """A routine of which so little is left open that every combination can be tried."""
    kept: list[Mark] = []
    room = {"element": MOST_OPEN, "fault": MOST_ARGUABLE}
    number, marks = 1, draw(routines(book, size))
    for mark in reversed(marks) if draw(st.booleans()) else marks:
        menu = choices(mark, book)
        if len(menu) > 1 and (number * len(menu) > MOST or not room[mark.kind]):
            kept.append(settled(mark, menu[0]))
            continue
        if len(menu) > 1:
            number *= len(menu)
            room[mark.kind] -= 1
        kept.append(mark)
    return tuple(kept)


def choices(mark: Mark, book: RuleBook) -> tuple[str, ...]:
    """What a mark may be settled as: states of a cast, the gymnast's best first, or amounts; else nothing."""
    if mark.kind == "element" and book.element(mark.code).decides:
        return open_states(mark.angle, book)
    if mark.kind == "fault" and mark.arguable:
        fault = book.fault(mark.code)
        permitted = [str(amount) for amount in fault.amounts]
        if mark.angle is not None and mark.angle.value == fault.full_from:
            return (permitted[-1],)
        return tuple(one for one in permitted if one != "0.000") or ("0.000",)
    return ("",)


def open_states(angle: CastAngle | None, book: RuleBook) -> tuple[str, ...]:
    """By the definition of the guard band, in fractions of a degree."""
    if angle is None or angle.verdict == "cannot tell":
        return ("met", "within", "short")
    if angle.verdict is not None:
        return ({**{said: state for state, said in EYE.items()}, "not seen": "not seen"}[angle.verdict],)
    assert angle.value is not None
    value, u = Fraction(str(angle.value)), Fraction(str(angle.uncertainty or 0))
    spread = u * Fraction(book.cast.guard_per_mille, 1000)
    limit = Fraction(str(book.cast.at_least))
    edge = limit - Fraction(str(book.cast.tolerance.below))
    open_ = {
        "met": value + spread >= limit,
        "within": value - spread < limit and value + spread >= edge,
        "short": value - spread < edge,
    }
    return tuple(state for state, possible in open_.items() if possible)


def settled(mark: Mark, choice: str) -> Mark:
    """The mark as one combination has it."""
    if mark.kind == "fault" and choice:
        return replace(mark, amount=Points.parse(choice), arguable=False)
    return with_verdict(mark, choice) if choice in EYE else mark


def with_verdict(mark: Mark, state: str) -> Mark:
    """The cast with the state said in so many words; its angle still ranks it among the others."""
    return replace(mark, angle=replace(mark.angle or CastAngle("eye"), verdict=EYE.get(state, "not seen")))


def every_combination(marks: Sequence[Mark], book: RuleBook) -> Iterator[tuple[Mark, ...]]:
    menus = [choices(mark, book) for mark in marks]
    assert prod(map(len, menus)) <= MOST
    for chosen in product(*menus):
        yield tuple(map(settled, marks, chosen))


def finals(marks: Sequence[Mark], book: RuleBook) -> list[Points]:
    return [scoring.score(one, book).final_score for one in every_combination(marks, book)]


def fewest_changes(marks: Sequence[Mark], sheet: ScoreSheet, book: RuleBook) -> dict[Points, int]:
    """Final score to the fewest decisions that are otherwise than marked and scored."""
    decided, found = states_decided(sheet), dict[Points, int]()
    for one in every_combination(marks, book):
        changes = sum(differs(mark, other, decided) for mark, other in zip(marks, one, strict=True))
        final = scoring.score(one, book).final_score
        found[final] = min(changes, found.get(final, changes))
    return found


def differs(mark: Mark, other: Mark, decided: Mapping[str, str]) -> bool:
    if mark.id in decided:
        return other.angle is not None and other.angle.verdict not in (
            None,
            EYE.get(decided[mark.id], "not seen"),
        )
    return mark.amount != other.amount


def states_decided(sheet: ScoreSheet) -> dict[str, str]:
    return {one.mark: one.state for one in sheet.casts}


def applied(way: scoring.Way, marks: Sequence[Mark], sheet: ScoreSheet) -> tuple[Mark, ...]:
    """The marks with these decisions otherwise; every other cast stays as it was counted."""
    states, amounts = states_decided(sheet) | dict(way.casts), dict(way.amounts)
    changed = (with_verdict(mark, states[mark.id]) if mark.id in states else mark for mark in marks)
    return tuple(replace(mark, amount=amounts.get(mark.id, mark.amount)) for mark in changed)


def open_clauses(book: RuleBook) -> tuple[str, ...]:
    """The clauses left open that may move a score: an inquiry moves none."""
    asked = {clause.id for clause in book.clauses if clause.rule == "inquiry"}
    return tuple(one.clause for one in book.interpretations if one.clause not in asked)


def readings(book: RuleBook) -> Iterator[frozenset[str]]:
    clauses = open_clauses(book)
    return (frozenset(some) for n in range(len(clauses) + 1) for some in combinations(clauses, n))


def moving(reached: Mapping[frozenset[str], set[Points]]) -> Iterator[str]:
    """The clauses that change what is reached, alone or together with others read otherwise."""
    for clause in frozenset().union(*reached):
        if any(scores != reached[way ^ {clause}] for way, scores in reached.items()):
            yield clause


def scored(marks: Sequence[Mark], book: RuleBook, way: frozenset[str]) -> tuple[Points, ...]:
    return scoring.score(marks, book.read_as(way)).reachable.scores
