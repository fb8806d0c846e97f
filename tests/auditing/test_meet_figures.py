"""Figures of an audited meet: what always holds, and what other libraries and published values say."""

import json
import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations, product
from pathlib import Path

import jsonschema
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats.proportion import proportion_confint

from reviewer.actions.meetfiguresdocument import meet_figures_document
from reviewer.auditing.intervals import Figure, Interval
from reviewer.auditing.meetmeans import mean_and_spread
from reviewer.auditing.meets import FEW_FOR_A_PERSON, AuditedRoutine, MeetFigures, Whole
from reviewer.auditing.meetshares import share
from reviewer.auditing.meetsums import meet_figures
from reviewer.auditing.strata import Draw
from reviewer.terms.exact import Points

SCHEMA = json.loads(
    (Path(__file__).resolve().parents[2] / "annotations/schemas/meet-figures.schema.json").read_text("utf-8")
)
ENDLESS = 10**12
"""Routines of a meet so large that a sample leaves as much as there was."""


def draw(*strata: tuple[int, int]) -> Draw:
    """Of strata of so many, so many drawn."""
    places = [number for number, (_, drawn) in enumerate(strata) for _ in range(drawn)]
    of, drawn = ([one[at] for one in strata] for at in (0, 1))
    return Draw(np.array(places), np.array(drawn), np.array(of))


def share_of(where: Draw, found: Sequence[bool]) -> Figure:
    return share(where, np.ones(len(found), dtype=bool), np.array(found, dtype=bool))


def difference(where: Draw, thousandths: Sequence[int]) -> tuple[Figure, Figure]:
    return mean_and_spread(where, np.ones(len(thousandths), dtype=bool), np.array(thousandths))


def interval(found: Figure) -> Interval:
    assert found.interval is not None
    return found.interval


def yes(count: int, number: int) -> list[bool]:
    return [place < count for place in range(number)]


@pytest.mark.parametrize(
    ("count", "number", "expected"),
    [
        (0, 20, (0, 0.1611)),
        (1, 29, (0.0061, 0.1718)),
        (15, 148, (0.0624, 0.1605)),
        (81, 263, (0.2553, 0.3662)),
    ],
)
def test_shares_of_an_endless_meet_are_wilsons(count: int, number: int, expected: Interval) -> None:
    """The cases of Newcombe, Stat Med 17, 1998 (from memory; the formula was read)."""
    found = share_of(draw((ENDLESS, number)), yes(count, number))
    assert interval(found) == pytest.approx(expected, abs=5e-5)


@given(st.integers(2, 80), st.integers(1, 200), st.data())
@settings(deadline=None)
def test_a_finite_meet_counts_as_a_larger_sample(number: int, left: int, data: st.DataObject) -> None:
    """Wilson's interval by statsmodels, of n (N - 1) / (N - n) routines, cut to what was not seen."""
    count, of = data.draw(st.integers(0, number)), number + left
    size = number * (of - 1) / left
    low, high = proportion_confint(count / number * size, size, method="wilson")
    expected = (max(low, count / of), min(high, (count + left) / of))
    assert interval(share_of(draw((of, number)), yes(count, number))) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize("count", [0, 40])
def test_none_or_all_leave_room_for_others(count: int) -> None:
    """Of 40 of 200, in strata or not: as many as the interval allows are missed once in 20 to 40 times."""
    simple = share_of(draw((200, 40)), yes(count, 40))
    strata = share_of(draw((100, 20), (100, 20)), yes(count, 40))
    assert interval(simple) == pytest.approx(interval(strata), abs=2e-3)
    low, high = interval(simple)
    assert 0.025 < stats.hypergeom.pmf(0, 200, round(200 * (high - low)), 40) < 0.05


def test_a_share_weighs_each_stratum_by_its_size() -> None:
    """By hand: 30 routines of 40 weigh a share of 1/2, and 10 of none."""
    found = share_of(draw((30, 4), (10, 4)), [True, True, False, False, *[False] * 4])
    assert found.value == pytest.approx(0.375)


SMALL = ((100, 250, 0, 0, 900, -50), (300, 350, 800, 50, 400))
"""Two strata, in thousandths; 3 of 6 and 2 of 5 are drawn, in 200 ways."""


def every_sample() -> list[tuple[Draw, list[int]]]:
    where = draw((6, 3), (5, 2))
    ways = product(combinations(SMALL[0], 3), combinations(SMALL[1], 2))
    return [(where, [*some, *others]) for some, others in ways]


def test_over_all_samples_there_are_mean_and_spread_come_out_as_they_are() -> None:
    """Every sample of a small meet: unbiased are the mean, its variance, and the square of the spread."""
    whole = [*SMALL[0], *SMALL[1]]
    means, squares, variances = [], [], []
    for where, sizes in every_sample():
        values = np.array(sizes)
        part = where.part(np.ones(5, dtype=bool))
        middles = part.sums(values) / part.number
        within = np.array([np.var(values[:3], ddof=1), np.var(values[3:], ddof=1)])
        means.append(float(part.mean(values)))
        variances.append(part.variance(middles, within, 0.0).whole)
        spread = difference(where, sizes)[1].value
        squares.append((1000 * (spread or 0.0)) ** 2)
    assert np.mean(means) == pytest.approx(np.mean(whole))
    assert np.mean(variances) == pytest.approx(np.var(means))
    assert np.mean(squares) == pytest.approx(np.var(whole, ddof=1))


def test_shares_come_out_as_they_are_over_all_samples() -> None:
    """Of the same small meet, the share of routines above 200 thousandths."""
    shares = [share_of(where, [size > 200 for size in sizes]).value for where, sizes in every_sample()]
    assert np.mean(shares) == pytest.approx(np.mean([size > 200 for size in [*SMALL[0], *SMALL[1]]]))


VALUES = st.lists(st.integers(-40, 40).map(lambda step: 25 * step), min_size=6, max_size=40).filter(
    lambda sizes: len(set(sizes)) > 2
)


@given(VALUES)
@settings(deadline=None)
def test_the_mean_of_an_endless_meet_has_student_s_interval(sizes: list[int]) -> None:
    """Against scipy's test of one sample."""
    found = difference(draw((ENDLESS, len(sizes))), sizes)[0]
    other = stats.ttest_1samp(np.array(sizes) / 1000, 0).confidence_interval(0.95)
    assert interval(found) == pytest.approx((other.low, other.high), abs=1e-9)


@given(VALUES, VALUES)
@settings(deadline=None)
def test_two_strata_of_one_size_have_the_degrees_of_freedom_of_welch(
    one: list[int], other: list[int]
) -> None:
    """Half the sum in place of the difference of two means: against scipy's test with unequal variances."""
    found = difference(draw((ENDLESS, len(one)), (ENDLESS, len(other))), [*one, *other])[0]
    welch = stats.ttest_ind(np.array(one) / 1000, -np.array(other) / 1000, equal_var=False)
    low, high = welch.confidence_interval(0.95)
    assert interval(found) == pytest.approx((low / 2, high / 2), abs=1e-9)


@given(VALUES)
@settings(deadline=None)
def test_the_spread_of_an_endless_meet_has_bonett_s_interval(sizes: list[int]) -> None:
    """Worked out with scipy's trimmed mean after Bonett 2006 (from memory), with Student's quantile."""
    values, number, z = np.array(sizes) / 1000, len(sizes), stats.norm.ppf(0.975)
    trimmed = stats.trim_mean(values, 1 / (2 * math.sqrt(number - 4)))
    variance = np.var(values, ddof=1)
    peaked = number * np.sum((values - trimmed) ** 4) / ((number - 1) * variance) ** 2
    grown = number / (number - z)
    error = grown * math.sqrt((peaked - (number - 3) / number) / (number - 1))
    away = stats.t.ppf(0.975, number - 1) * error
    ends = [math.sqrt(grown * variance * math.exp(turn * away)) for turn in (-1, 1)]
    assert interval(difference(draw((ENDLESS, number)), sizes)[1]) == pytest.approx(ends, rel=1e-6)


def test_what_has_no_interval_says_why() -> None:
    one, steady, four = (difference(draw((50, len(own))), own) for own in ([5], [5] * 8, [1, 2, 3, 4]))
    assert [own.interval for own in (*one, *steady)] == [None] * 4
    assert all(own.why for own in (*one, *steady, four[1]))
    assert (four[0].interval is None, four[1].interval) == (False, None)
    apart = difference(draw((50, 5), (50, 5)), [5] * 5 + [6] * 5)[0]
    assert (apart.value, apart.interval) == (0.0055, None)
    assert "stratum" in apart.why
    nothing = mean_and_spread(draw((50, 2)), np.zeros(2, dtype=bool), np.array([0, 0]))
    assert [(own.value, own.number) for own in nothing] == [(None, 0)] * 2


def test_a_stratum_of_which_one_was_drawn_borrows_from_the_others() -> None:
    found = difference(draw((40, 10), (10, 1)), [0, 50, 0, 100, 0, 0, 50, 150, 0, 0, 100])[0]
    low, high = interval(found)
    assert low < (found.value or 0) < high


LEVELS = st.integers(140, 200).map(lambda step: Points(50 * step))


@st.composite
def routines(draw: st.DrawFn, name: str = "1", strata: Sequence[str] = ("",)) -> AuditedRoutine:
    start, final = draw(st.none() | LEVELS), draw(st.none() | LEVELS)
    letters = draw(st.lists(st.sampled_from("ABCD"), unique=True))
    return AuditedRoutine(
        name=name,
        stratum=draw(st.sampled_from(strata)),
        posted_start=start,
        audited_start=Points(10_000),
        posted_final=final,
        audited_final=draw(LEVELS),
        reachable=None if final is None else draw(st.booleans() | st.none()),
        judges={letter: draw(LEVELS) for letter in letters},
        audited=draw(LEVELS),
        at_full_speed=draw(LEVELS),
        final_at_full_speed=draw(LEVELS),
        misapplied=draw(st.dictionaries(st.sampled_from(["one", "two"]), st.booleans())),
    )


@st.composite
def samples(draw: st.DrawFn, strata: Sequence[str] = ("", "b")) -> tuple[list[AuditedRoutine], Whole]:
    rows = [draw(routines(f"{number}", strata)) for number in range(draw(st.integers(1, 14)))]
    sizes = {
        name: sum(one.stratum == name for one in rows) + draw(st.integers(0, 20)) for name in (*strata, "c")
    }
    return rows, Whole(sizes, draw(st.booleans()))


def figures(found: MeetFigures) -> list[Figure]:
    away = [found.final, found.start, found.final_at_full_speed]
    away += [own for judge in found.judges for own in (judge.audited, judge.at_full_speed)]
    shares = [found.wrong_start, found.unreachable]
    shares += [own for clause in found.clauses for own in (clause.certain, clause.possible)]
    return [own.figure for one in away for own in (one.mean, one.spread)] + [one.figure for one in shares]


@given(samples())
@settings(deadline=None, max_examples=60)
def test_every_figure_lies_in_its_interval_and_the_document_is_as_published(
    sample: tuple[list[AuditedRoutine], Whole],
) -> None:
    rows, whole = sample
    found = meet_figures(rows, whole)
    document = meet_figures_document(found)
    jsonschema.validate(document, SCHEMA)
    json.dumps(document, allow_nan=False)
    for one in figures(found):
        if one.interval is not None:
            assert one.value is not None
            assert one.interval[0] - 1e-12 <= one.value <= one.interval[1] + 1e-12
        else:
            assert one.why


@given(samples(), st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=40)
def test_the_order_of_routines_changes_nothing(
    sample: tuple[list[AuditedRoutine], Whole], chance: object
) -> None:
    rows, whole = sample
    other = list(rows)
    chance.shuffle(other)  # type: ignore[attr-defined]
    assert meet_figures(other, whole) == meet_figures(rows, whole)


@given(samples())
@settings(deadline=None, max_examples=40)
def test_judges_who_exchange_letters_exchange_figures(sample: tuple[list[AuditedRoutine], Whole]) -> None:
    rows, whole = sample
    other = dict(zip("ABCD", "DCBA", strict=True))
    turned = [
        replace(one, judges={other[letter]: given for letter, given in one.judges.items()}) for one in rows
    ]
    there, back = meet_figures(rows, whole), meet_figures(turned, whole)
    assert {one.judge: (one.audited, one.at_full_speed) for one in there.judges} == {
        other[one.judge]: (one.audited, one.at_full_speed) for one in back.judges
    }
    assert [one.judge for one in back.judges] == sorted(one.judge for one in back.judges)


@given(samples(), st.integers(-20, 20).map(lambda step: Points(50 * step)))
@settings(deadline=None, max_examples=40)
def test_what_a_judge_always_gives_more_moves_the_bias_by_just_that(
    sample: tuple[list[AuditedRoutine], Whole], more: Points
) -> None:
    rows, whole = sample
    moved = [
        replace(one, judges={letter: given + more for letter, given in one.judges.items()}) for one in rows
    ]
    for one, other in zip(meet_figures(rows, whole).judges, meet_figures(moved, whole).judges, strict=True):
        before, after = one.audited.mean.figure.value, other.audited.mean.figure.value
        assert (after or 0) - (before or 0) == pytest.approx(more.thousandths / 1000, abs=1e-12)
        assert one.audited.spread.figure == other.audited.spread.figure


@given(samples())
@settings(deadline=None, max_examples=40)
def test_where_every_routine_was_audited_nothing_is_uncertain(
    sample: tuple[list[AuditedRoutine], Whole],
) -> None:
    rows, _ = sample
    sizes = {name: sum(one.stratum == name for one in rows) for name in ("", "b")}
    for one in figures(meet_figures(rows, Whole(sizes, by_lot=True))):
        assert one.value is None or one.interval == (one.value, one.value)


@given(samples())
@settings(deadline=None, max_examples=40)
def test_routines_chosen_otherwise_than_by_lot_say_nothing_of_the_meet(
    sample: tuple[list[AuditedRoutine], Whole],
) -> None:
    rows, whole = sample
    found = meet_figures(rows, replace(whole, by_lot=False))
    assert all(one.interval is None and one.why for one in figures(found))
    assert found.remarks
    assert not any(judge.enough for judge in found.judges)
    assert [curve.error for curve in found.curves] == [None] * 3
    posted = [one for one in rows if one.posted_start is not None]
    if posted:
        wrong = sum(one.posted_start != one.audited_start for one in posted)
        assert found.wrong_start.figure.value == pytest.approx(wrong / len(posted))


def plain(name: str, judge: int = 9000, **changed: object) -> AuditedRoutine:
    nine = Points(9000)
    found = AuditedRoutine(
        name, "", Points(10_000), Points(10_000), nine, nine, True, {"A": Points(judge)}, nine, nine, nine, {}
    )
    return replace(found, **changed)  # type: ignore[arg-type]


def test_each_figure_leads_to_its_routines_the_largest_difference_first() -> None:
    rows = [plain("2"), plain("10", 8800), plain("9", 9100), plain("1", posted_start=Points(9900))]
    rows += [plain("3", misapplied={"x": True}), plain("4", misapplied={"x": False})]
    found = meet_figures(rows, Whole({"": 20}, by_lot=True))
    assert found.judges[0].audited.mean.routines == ("10", "9")
    assert found.wrong_start.routines == ("1",)
    (clause,) = found.clauses
    assert (clause.certain.routines, clause.possible.routines) == (("3",), ("3", "4"))


def test_below_ten_routines_nothing_is_concluded_about_a_judge() -> None:
    """Ten: common practice, no source."""
    for number in (FEW_FOR_A_PERSON - 1, FEW_FOR_A_PERSON):
        rows = [plain(str(place), 9000 + 50 * (place % 3)) for place in range(number)]
        (judge,) = meet_figures(rows, Whole({"": 60}, by_lot=True)).judges
        assert judge.enough == (number >= FEW_FOR_A_PERSON)
        assert ("nothing may be concluded" in judge.says.words()) == (not judge.enough)


def test_strata_that_nothing_was_drawn_from_are_named() -> None:
    rows = [plain("1"), plain("2", 9100)]
    found = meet_figures(rows, Whole({"": 20, "two": 5}, by_lot=True))
    assert any("two" in one.words() for one in found.remarks)


def test_few_start_values_that_differ_are_said_to_be_few() -> None:
    rows = [plain(str(place)) for place in range(30)]
    rows += [plain(f"b{place}", posted_start=Points(9900)) for place in range(3)]
    found = meet_figures(rows, Whole({"": 200}, by_lot=True))
    assert any("Few start values differ (3)" in one.words() for one in found.remarks)


@pytest.mark.parametrize(
    ("rows", "whole"),
    [
        ([plain("1"), plain("1")], Whole({"": 5}, by_lot=True)),
        ([plain("1")], Whole({"b": 5}, by_lot=True)),
        ([plain("1"), plain("2")], Whole({"": 1}, by_lot=True)),
    ],
)
def test_samples_that_cannot_be_are_refused(rows: list[AuditedRoutine], whole: Whole) -> None:
    with pytest.raises(ValueError, match=r"audited|no stratum"):
        meet_figures(rows, whole)


def test_of_no_routines_nothing_is_told() -> None:
    found = meet_figures([], Whole({"": 5}, by_lot=True))
    assert all(one.value is None and one.why for one in figures(found))
    jsonschema.validate(meet_figures_document(found), SCHEMA)
