"""Uncertainty, coverage and conformity against worked values of the JCGM guides."""

from math import hypot, sqrt

import numpy as np
import pytest
from scipy.stats import t
from uncertainties import ufloat

from reviewer.measuring import verdict
from reviewer.measuring.coverage import factor95
from reviewer.measuring.trueplane import Measured
from reviewer.terms.exact import Degrees
from reviewer.terms.readings import Requirement, Verdict


def total(*parts: float) -> float:
    return Measured(0.0, tuple((str(number), part) for number, part in enumerate(parts))).uncertainty


def held(value: str, u: str, at_least: str, tolerance: str = "0", guard: int = 1645) -> Verdict:
    limit = Requirement(Degrees.parse(at_least), Degrees.parse(tolerance))
    return verdict(Degrees.parse(value), Degrees.parse(u), limit, guard)


def test_a_budget_adds_up_as_in_the_guides_end_gauge() -> None:
    """JCGM 100, H.1: 25, 16.599, 6.7, 5.8, 3.9 and 2.887 nm come to 32 nm (31.67 worked again)."""
    assert total(25, 16.599, 6.7, 5.8, 3.9, 2.887) == pytest.approx(31.67, abs=0.01)


def test_a_budget_adds_up_as_the_package_uncertainties_has_it() -> None:
    parts = (0.48, 0.31, 0.05, 0.22)
    assert total(*parts) == pytest.approx(sum(ufloat(0, part) for part in parts).std_dev)


def test_four_normal_parts_have_the_guides_interval() -> None:
    """JCGM 101, 9.2.2: four standard normal quantities, u = 2.00, 95 % within 3.92."""
    u = total(1, 1, 1, 1)
    assert u == pytest.approx(2.0)
    assert factor95(u, 0.0, None) * u == pytest.approx(3.92, abs=0.005)


def test_four_rectangular_parts_stay_inside_the_interval_of_the_first_order() -> None:
    """JCGM 101, 9.2.3: four rectangles of u = 1 have 95 % within 3.88, the first order says 3.92."""
    drawn = np.random.default_rng(4).uniform(-sqrt(3), sqrt(3), (200_000, 4)).sum(axis=1)
    assert np.quantile(np.abs(drawn), 0.95) == pytest.approx(3.88, abs=0.02)
    assert factor95(total(1, 1, 1, 1), 0.0, None) * 2 >= 3.88


def test_few_repeated_clicks_count_with_their_effective_freedoms() -> None:
    """Welch and Satterthwaite: 0.57 with 9 freedoms beside 0.25 known well has 12.8 (published value)."""
    factor = factor95(hypot(0.57, 0.25), 0.57, 9)
    assert factor == pytest.approx(t.ppf(0.975, 12.8), abs=0.001)
    assert 2.160 < factor < 2.179, "the tabled points of Student's distribution for 13 and 12 freedoms"


def test_known_parts_alone_are_covered_by_the_normal_point() -> None:
    assert factor95(1.0, 0.0, 3) == factor95(1.0, 0.5, None) == pytest.approx(1.96, abs=0.001)


@pytest.mark.parametrize(
    ("value", "u", "limit", "chance"),
    [
        ("5.47", "0.05", "5.40", 0.9192),  # JCGM 106, 7.3.3, example 1, its upper limit turned about 0
        ("507", "8", "490", 0.9832),  # example 2
    ],
)
def test_the_probability_of_conformity_is_the_guides(value: str, u: str, limit: str, chance: float) -> None:
    """JCGM 106, 7.3.3 (from memory, worked again)."""
    assert float(held(value, u, limit).met) == pytest.approx(chance, abs=0.0001)


def test_the_probability_between_two_limits_is_the_guides() -> None:
    """JCGM 106, 7.4: 13.6, u 1.8, between 12.5 and 16.3: 0.93 - 0.27 (from memory, 0.6626 worked again)."""
    assert float(held("13.6", "1.8", "16.3", "3.8").within) == pytest.approx(0.6626, abs=0.0001)


@pytest.mark.parametrize(("speed", "word"), [("106.5", "cannot tell"), ("106.7", "met")])
def test_the_guard_band_acts_where_the_guides_speed_trap_does(speed: str, word: str) -> None:
    """JCGM 106, 8.3.3: limit 100, u 2 %, 99.9 % sure only beyond 106.59 (from memory, worked again)."""
    assert held(speed, f"{0.02 * float(speed):.3f}", "100", guard=3090).word == word


@pytest.mark.parametrize(
    ("off", "beyond"), [("10", 0.5), ("11", 0.6915), ("12", 0.8413), ("13.3", 0.9505), ("14", 0.9772)]
)
def test_a_cast_off_the_vertical_is_beyond_the_tolerance_with_this_chance(off: str, beyond: float) -> None:
    """The project's table: limit 10 degrees, u 2 degrees."""
    found = held(f"-{off}", "2", "-10")
    assert float(found.not_met) == pytest.approx(beyond, abs=0.0001)
    assert (found.word == "not met") == (float(off) > 13.29), "10 + 1.645 u"


def test_the_chances_of_the_words_add_up_to_one() -> None:
    found = held("-50", "3", "-45", "10")
    assert float(found.met) + float(found.within) + float(found.not_met) == pytest.approx(1, abs=0.0002)
