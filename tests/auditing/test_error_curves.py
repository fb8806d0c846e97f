"""The published error model: a curve of usual errors, and each judge against it."""

import numpy as np
import pytest
import statsmodels.api as sm
from hypothesis import given, settings
from hypothesis import strategies as st

from reviewer.auditing.errorcurves import (
    LEAST_JUDGES,
    LEAST_ROUTINES,
    Scores,
    error_curve,
    fit,
    relative_error,
)
from reviewer.auditing.meets import AUDITED, MEDIAN, ErrorCurve
from reviewer.auditing.meetsums import meet_figures
from reviewer.terms.exact import Points
from tests.auditing.simulated_meets import ONE, simulated
from tests.auditing.test_meet_figures import Whole, plain

LETTERS = "ABCDEF"
TIMES = np.array([0.6, 0.8, 1.0, 1.0, 1.2, 1.4]) / np.sqrt(6.4 / 6)
"""Relative errors of judges whose mean square is 1."""
LEANS = np.array([-0.3, 0.0, 0.2, 0.0, 0.1, 0.0])


def scores(chance: np.random.Generator, number: int) -> Scores:
    """Of judges whose usual error is 0.05 at 9.000, and 0.7 times that for each point more."""
    control = np.round(chance.uniform(7000, 9900, number))
    usual = 50 * 0.7 ** ((control - 9000) / 1000)
    own = np.sqrt(TIMES**2 - LEANS**2) * chance.standard_normal((number, len(TIMES))) + LEANS
    names = np.array([str(place) for place in range(number)], dtype=object)
    return Scores(names, tuple(LETTERS), control, np.round(own * usual[:, None]))


def curve(found: Scores) -> ErrorCurve:
    return error_curve(AUDITED, found, by_lot=True)


def test_the_interval_of_a_relative_error_is_as_published() -> None:
    """30 routines, 1.2: from .959 to 1.604 (principle read, worked out again apart from this program)."""
    found = relative_error(np.full(30, 1.2) * np.tile([1, -1], 15))
    assert found.value == pytest.approx(1.2)
    assert found.interval == pytest.approx((0.959, 1.604), abs=5e-4)


@given(st.integers(0, 2**32 - 1))
@settings(deadline=None, max_examples=25)
def test_the_curve_is_the_one_that_statsmodels_finds(seed: int) -> None:
    """A generalized linear model of squared errors, gamma with logarithms: the same estimating equations."""
    chance = np.random.default_rng(seed)
    levels = chance.uniform(-2, 1, 80)
    squares = (np.exp(0.4 * levels + 7) * chance.standard_normal(80) ** 2).round() + 1
    family = sm.families.Gamma(sm.families.links.Log())
    other = sm.GLM(squares, sm.add_constant(levels), family=family).fit(tol=1e-14, maxiter=200)
    assert fit(levels, squares) == pytest.approx(tuple(other.params), abs=1e-6)


def test_a_known_curve_and_known_judges_are_found_again() -> None:
    found = curve(scores(np.random.default_rng(1), 20_000))
    assert found.at(Points(9000)) == pytest.approx(0.05, rel=0.02)
    assert found.factor == pytest.approx(0.7, rel=0.02)
    assert [one.relative_error.figure.value for one in found.judges] == pytest.approx(list(TIMES), abs=0.02)
    assert [one.tendency.figure.value for one in found.judges] == pytest.approx(list(LEANS), abs=0.03)


def test_the_mean_square_of_all_relative_errors_is_one() -> None:
    """So that 1 is the average judge of these panels."""
    found = curve(scores(np.random.default_rng(2), 40))
    squares = [(one.relative_error.figure.value or 0) ** 2 for one in found.judges]
    assert np.mean(squares) == pytest.approx(1, abs=1e-8)


def test_intervals_hold_known_judges_as_often_as_they_say() -> None:
    """Of 300 meets of 60 routines and six judges; of 1,800 that is 95 %, give or take four deviations."""
    held = [0, 0]
    for seed in range(300):
        judges = curve(scores(np.random.default_rng(seed), 60)).judges
        assert len(judges) == len(LETTERS)
        for place, one in enumerate(judges):
            for at, (led, true) in enumerate(((one.relative_error, TIMES), (one.tendency, LEANS))):
                low, high = led.figure.interval or (0, 0)
                held[at] += low <= true[place] <= high
    assert all(0.93 <= count / 1800 <= 0.97 for count in held), held


@pytest.mark.parametrize("number", [LEAST_ROUTINES - 1, LEAST_ROUTINES])
def test_of_too_few_routines_no_curve_is_fitted_and_the_number_is_said(number: int) -> None:
    found = curve(scores(np.random.default_rng(3), number))
    assert (found.error is None) == (number < LEAST_ROUTINES)
    if found.why:
        assert f"{LEAST_ROUTINES} routines" in found.why.words()
        assert found.judges == ()


def test_of_too_few_judges_no_curve_is_fitted() -> None:
    rows = [plain(str(place), 9000 + 50 * (place % 3)) for place in range(40)]
    for found in meet_figures(rows, Whole({"": 60}, by_lot=True)).curves:
        assert found.why is not None
        assert f"{LEAST_JUDGES} judges" in found.why.words()


def test_judges_without_any_error_have_no_curve() -> None:
    found = scores(np.random.default_rng(4), 40)
    assert curve(Scores(found.names, found.letters, found.control, 0 * found.errors)).why is not None


def test_where_errors_vanish_at_all_other_levels_no_curve_is_fitted() -> None:
    """However steep a curve is, a steeper one is more likely."""
    found = scores(np.random.default_rng(5), 40)
    low = found.control == found.control.min()
    assert (
        curve(Scores(found.names, found.letters, found.control, found.errors * low[:, None])).why is not None
    )


def test_routines_of_one_level_have_a_flat_curve() -> None:
    found = scores(np.random.default_rng(6), 40)
    flat = curve(Scores(found.names, found.letters, 0 * found.control + 9000, found.errors))
    assert flat.factor == 1
    assert flat.lowest == flat.highest == Points(9000)


def test_against_the_median_the_panel_as_a_whole_leans_neither_way() -> None:
    """What all judges miss alike is an error against the audited score, and none against their median."""
    curves = {one.against: one for one in simulated(ONE, 7)[1].curves}
    leans = {name: [own.tendency.figure.value or 0 for own in one.judges] for name, one in curves.items()}
    assert min(leans[AUDITED]) > 0
    assert min(leans[MEDIAN]) < 0 < max(leans[MEDIAN])
