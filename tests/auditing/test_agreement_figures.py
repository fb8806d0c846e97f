"""Agreement in figures, held against published examples; the source stands beside each."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy import stats

from reviewer.auditing import intraclass
from reviewer.auditing.faults import Level, alpha, faults_agreed, lay_together
from reviewer.auditing.intervals import Figure, least_number, mean, spread, wilson
from reviewer.auditing.limits import limits
from reviewer.auditing.ratings import panel
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from tests.auditing.two_sheets import element, fault, sheet

SIX_TARGETS = [[9, 2, 5, 8], [6, 1, 3, 2], [8, 4, 6, 8], [7, 1, 2, 6], [10, 5, 6, 9], [6, 2, 4, 7]]
"""Shrout and Fleiss, Psychol Bull 86 (1979), table 2: four judges, six targets (read in a copy)."""
FOUR_JUDGES = [
    ["9.3", "9.0", "8.9", "9.1"],
    ["8.8", "8.5", "8.7", "8.4"],
    ["9.2", "9.2", "9.1", "9.1"],
    ["8.8", "8.7", "8.9", "8.8"],
    ["9.1", "9.1", "9.1", "9.0"],
    ["8.3", "8.4", "8.6", "8.5"],
    ["9.0", "8.8", "8.6", "8.9"],
    ["8.4", "8.3", "8.6", "8.4"],
]
"""Four execution judges on eight vaults: published results of a national meet, senior women, 2023 (read)."""
WRIGHT = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427]
MINI = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451]
"""Peak expiratory flow by two meters, l/min, first readings: Bland and Altman, Lancet 327 (1986), table 1."""


def points(rows: list[list[int]]) -> list[list[Points]]:
    return [[Points(1000 * one) for one in row] for row in rows]


def four_judges() -> list[list[Points]]:
    return [[Points.parse(one) for one in row] for row in FOUR_JUDGES]


def near(
    found: Figure, value: float, interval: tuple[float, float] | None = None, within: float = 5e-5
) -> None:
    assert found.value == pytest.approx(value, abs=within)
    if interval is not None:
        assert found.interval == pytest.approx(interval, abs=within)


def test_mean_squares_of_shrout_and_fleiss() -> None:
    """Their table 3: BMS 11.24, JMS 32.49, EMS 1.02."""
    found = intraclass.variance(points(SIX_TARGETS))
    squares = [float(one) / 1e6 for one in (found.routines, found.judges, found.left)]
    assert squares == pytest.approx([11.24, 32.49, 1.02], abs=0.005)


def test_intraclass_correlations_of_shrout_and_fleiss() -> None:
    """Their table 4: ICC(2,1) .29, ICC(3,1) .71; intervals as R's psych prints them, from memory."""
    near(intraclass.agreement(points(SIX_TARGETS)), 0.29, (0.019, 0.76), within=0.005)
    near(intraclass.consistency(points(SIX_TARGETS)), 0.71, (0.34, 0.95), within=0.005)


def test_intraclass_correlations_of_four_published_judges() -> None:
    """Computed apart from this program, with the formulas of Shrout and Fleiss."""
    near(intraclass.agreement(four_judges()), 0.8209)
    near(intraclass.consistency(four_judges()), 0.8235)


def test_judges_who_agree_in_everything_have_no_spread_left() -> None:
    found = intraclass.agreement(points([[1, 1], [2, 2], [5, 5]]))
    assert (found.value, found.interval, found.enough) == (1.0, None, False)
    assert found.why


def test_equal_scores_tell_nothing_apart() -> None:
    for coefficient in (intraclass.agreement, intraclass.consistency):
        found = coefficient(points([[9, 9, 9], [9, 9, 9]]))
        assert (found.value, found.interval) == (None, None)
        assert "equal" in found.why


def test_with_few_judges_no_number_of_routines_is_enough_for_absolute_agreement() -> None:
    """Four judges whose levels lie far apart: the interval cannot get narrower than their number allows."""
    assert intraclass.agreement(points(SIX_TARGETS)).least is None
    assert intraclass.consistency(points(SIX_TARGETS)).least == 14


NAN = math.nan
TWELVE_UNITS = np.array(
    [
        [1, 2, 3, 3, 2, 1, 4, 1, 2, NAN, NAN, NAN],
        [1, 2, 3, 3, 2, 2, 4, 1, 2, 5, NAN, 3],
        [NAN, 3, 3, 3, 2, 3, 4, 2, 2, 5, 1, NAN],
        [1, 2, 3, 3, 2, 4, 4, 1, 2, 5, 1, NAN],
    ]
)


@pytest.mark.parametrize(("level", "value"), [("nominal", 0.743), ("interval", 0.849)])
def test_alpha_of_krippendorff_s_own_example(level: Level, value: float) -> None:
    """Krippendorff 2011, four observers and twelve units: data read, results from memory, computed again."""
    counts = np.array([[(unit == value).sum() for value in range(1, 6)] for unit in TWELVE_UNITS.T])
    assert alpha(counts, range(1, 6), level) == pytest.approx(value, abs=5e-4)


def test_alpha_of_four_published_judges() -> None:
    """Interval alpha .8053 of the eight vaults, computed apart from this program."""
    sizes = sorted({one.thousandths for row in four_judges() for one in row})
    counts = np.array(
        [[sum(one.thousandths == size for one in row) for size in sizes] for row in four_judges()]
    )
    assert alpha(counts, sizes, "interval") == pytest.approx(0.8053, abs=5e-5)


def test_limits_of_agreement_of_bland_and_altman() -> None:
    """Their mean -2.1, SD 38.8, limits -79.7 and 75.5 with two deviations; intervals too, from memory."""
    found = limits([float(one - other) for one, other in zip(WRIGHT, MINI, strict=True)], times=2)
    near(found.difference, -2.1, (-22.0, 17.8), within=0.1)
    assert found.deviation == pytest.approx(38.8, abs=0.05)
    near(found.low, -79.7, (-114.3, -45.1), within=0.3)
    near(found.high, 75.5, (40.9, 110.1), within=0.3)


@pytest.mark.parametrize(
    ("successes", "number", "interval"),
    [
        (0, 10, (0, 0.2775)),
        (1, 10, (0.0179, 0.4042)),
        (0, 20, (0, 0.1611)),
        (2, 50, (0.0110, 0.1346)),
        (5, 100, (0.0215, 0.1118)),
        (1, 29, (0.0061, 0.1718)),
        (15, 148, (0.0624, 0.1605)),
        (81, 263, (0.2553, 0.3662)),
    ],
)
def test_intervals_of_shares(successes: int, number: int, interval: tuple[float, float]) -> None:
    """Wilson's interval; 0/20, 1/29, 15/148 and 81/263 are the cases of Newcombe 1998 (from memory)."""
    near(wilson(successes, number), successes / number, interval)


@given(st.lists(st.integers(-500, 500), min_size=2, max_size=30))
def test_intervals_of_mean_and_deviation_are_those_of_scipy(sizes: list[int]) -> None:
    """Student's and chi-squared, against `scipy.stats`."""
    assume(len(set(sizes)) > 1)
    values = [one / 1000 for one in sizes]
    free, deviation = len(values) - 1, float(np.std(values, ddof=1))
    half = float(stats.t.ppf(0.975, free)) * deviation / math.sqrt(len(values))
    middle = float(np.mean(values))
    near(mean(values), middle, (middle - half, middle + half), 1e-9)
    low, high = (deviation * math.sqrt(free / stats.chi2.ppf(p, free)) for p in (0.975, 0.025))
    near(spread(values), deviation, (low, high), 1e-9)


@given(st.integers(0, 30), st.integers(1, 30))
def test_from_the_number_that_is_enough_on_the_interval_is_narrow(successes: int, number: int) -> None:
    found = wilson(min(successes, number), number)
    assert found.interval is not None
    width = found.interval[1] - found.interval[0]
    assert found.enough == (width <= 0.4)


def test_differences_that_are_the_same_everywhere_have_no_interval() -> None:
    for found in (mean([0.1, 0.1, 0.1]), spread([0.1, 0.1, 0.1])):
        assert (found.interval, found.enough) == (None, False)
        assert found.why


def test_the_least_number_is_the_first_that_is_enough() -> None:
    assert least_number(lambda n: 1 / n, 0.1) == 10
    assert least_number(lambda _: 0.0, 0.1) == 2
    assert least_number(lambda _: 1.0, 0.1) is None


def test_each_judge_stands_beside_the_mean_of_the_others() -> None:
    """Deviations from the others, by hand: with four judges 4/3 of those from the mean of all, which are
    +.06875, -.04375, +.01875, -.04375."""
    letters = "ABCD"
    ratings = {(str(n), letters[k]): one for n, row in enumerate(four_judges()) for k, one in enumerate(row)}
    found = panel(ratings)
    assert [one.judge for one in found.judges] == list(letters)
    assert (found.routines, found.complete) == (8, 8)
    away = np.array([[float(str(one)) for one in row] for row in four_judges()])
    expected = (away - away.mean(axis=1, keepdims=True)).mean(axis=0) * 4 / 3
    assert [one.bias.value for one in found.judges] == pytest.approx(list(expected))
    assert len(found.pairs) == 6


def test_routines_that_one_judge_alone_scored_are_left_out() -> None:
    nine = Points.parse("9")
    found = panel({("1", "A"): nine, ("1", "B"): nine, ("2", "A"): nine, ("3", "B"): nine, ("3", "C"): nine})
    assert (found.routines, found.complete) == (2, 0)
    assert [one.judges for one in found.pairs] == [("A", "B"), ("B", "C")]
    assert found.agreement.value is None


SCORES = st.integers(8000, 10_000).map(lambda size: Points(size // 50 * 50))


@given(st.lists(st.tuples(SCORES, SCORES, SCORES), min_size=2, max_size=12))
@settings(deadline=None)
def test_the_order_of_routines_and_the_letters_of_judges_change_no_coefficient(
    rows: list[tuple[Points, ...]],
) -> None:
    there = panel(
        {(str(n), who): one for n, row in enumerate(rows) for who, one in zip("ABC", row, strict=True)}
    )
    back = panel(
        {(str(-n), who): one for n, row in enumerate(rows) for who, one in zip("CBA", row, strict=True)}
    )
    assert there.agreement == back.agreement
    assert there.consistency == back.consistency
    assert there.same == back.same


ROUTINE = (element("m", "pullover", 1), element("c", "cast", 2), element("d", "underswing-dismount", 3))


def marked(*faults: Mark) -> list[Mark]:
    return [*ROUTINE, *faults]


def test_faults_are_held_against_each_other_element_by_element() -> None:
    """Two judges, three elements, two codes: six units; by hand, both took one alike and one of them another.

    Nominal alpha by its definition: of 12 pairable values 3 say taken; observed disagreement is 2 of 12,
    expected 2 * 3 * 9 of 12 * 11.
    """
    one = sheet(marked(fault("1", "arms-bent", "c", "0.100"), fault("2", "feet", "m", "0.050")))
    other = sheet(marked(fault("1", "arms-bent", "c", "0.100")))
    found = faults_agreed([lay_together([(one, {"A": "A"}), (other, {"A": "B"})])])
    assert found.units == 6
    near(found.taken, 1 - (2 / 12) / (54 / 132))


def test_judges_who_take_the_same_faults_agree_wholly() -> None:
    one = sheet(marked(fault("1", "arms-bent", "c", "0.100")))
    found = faults_agreed([lay_together([(one, {"A": "A"}), (one, {"A": "B"})])])
    assert (found.taken.value, found.amounts.value) == (1.0, 1.0)


def test_an_element_that_one_judge_left_out_shifts_no_other() -> None:
    one = sheet(marked(fault("1", "feet", "d", "0.050")))
    short = sheet([ROUTINE[0], ROUTINE[2], fault("1", "feet", "d", "0.050")])
    found = lay_together([(short, {"A": "A"}), (one, {"A": "B"})])
    assert found.elements == 3
    assert len({tuple(own) for own in found.taken.values()}) == 1


def test_where_nobody_took_a_fault_there_is_no_alpha() -> None:
    one = sheet(ROUTINE)
    found = faults_agreed([lay_together([(one, {"A": "A"}), (one, {"A": "B"})])])
    assert (found.units, found.taken.value) == (0, None)
    assert found.taken.why


def test_a_judge_whose_faults_cannot_be_scored_takes_none() -> None:
    """B's only fault costs what no fault may cost, so that B has no score on that sheet."""
    amiss = replace(fault("y", "arms-bent", "a", "0.007"), judge="B")
    scored = replace(fault("x", "arms-bent", "a", "0.100"), judge="A")
    own = sheet([element("a", "cast", 1), scored, amiss])
    assert own.letters == ("A",)
    assert lay_together([(own, {"A": "A"})]).taken == {"A": {(0, "arms-bent"): Points(100)}}
