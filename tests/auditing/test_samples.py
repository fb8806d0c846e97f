"""Samples of a meet: how many to take, and which ones by lot."""

from collections import Counter
from fractions import Fraction
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from reviewer.auditing.lots import shares, simple, stratified
from reviewer.auditing.samplesizes import for_share, none_found, to_find, to_find_share

NINETY, NINETY_FIVE, NINETY_NINE = Fraction(9, 10), Fraction(95, 100), Fraction(99, 100)


@pytest.mark.parametrize(
    ("confidence", "share", "number"),
    [
        (NINETY_FIVE, Fraction(5, 100), 59),
        (NINETY_FIVE, Fraction(1, 100), 299),
        (NINETY_FIVE, Fraction(2, 100), 149),
        (NINETY_FIVE, Fraction(10, 100), 29),
        (NINETY, Fraction(5, 100), 45),
        (NINETY_NINE, Fraction(1, 100), 459),
    ],
)
def test_as_many_as_published_find_a_share_of_faults(
    confidence: Fraction, share: Fraction, number: int
) -> None:
    """Usual sizes for an endless population (59 and 299 from memory; all worked out again)."""
    assert to_find_share(share, confidence) == number


@pytest.mark.parametrize(
    ("population", "faulty", "number"),
    [(100, 5, 45), (200, 10, 51), (200, 2, 155), (500, 25, 56), (1000, 10, 258)],
)
def test_of_a_known_number_fewer_are_needed(population: int, faulty: int, number: int) -> None:
    """Worked out from the hypergeometric distribution."""
    assert to_find(faulty, NINETY_FIVE, population) == number
    assert stats.hypergeom.pmf(0, population, faulty, number) <= 0.05
    assert stats.hypergeom.pmf(0, population, faulty, number - 1) > 0.05


@given(st.integers(1, 300), st.data())
@settings(deadline=None, max_examples=60)
def test_the_chance_to_find_none_is_scipys(population: int, data: st.DataObject) -> None:
    faulty = data.draw(st.integers(1, population))
    number = data.draw(st.integers(0, population))
    other = stats.hypergeom.pmf(0, population, faulty, number)
    assert float(none_found(number, faulty, population)) == pytest.approx(other, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize(
    ("half", "population", "number"),
    [
        (Fraction(5, 100), None, 385),
        (Fraction(10, 100), None, 97),
        (Fraction(5, 100), 1000, 278),
        (Fraction(5, 100), 100, 80),
    ],
)
def test_a_share_is_known_to_within_so_much(half: Fraction, population: int | None, number: int) -> None:
    """The usual table of sample sizes at 95 % and a share of one half (Cochran 1977, from memory)."""
    assert for_share(half, NINETY_FIVE, population) == number


def test_no_sample_is_larger_than_the_meet() -> None:
    assert for_share(Fraction(1, 1000), NINETY_NINE, 12) == 12
    assert to_find(1, NINETY_NINE, 12) == 12


@pytest.mark.parametrize(
    "call",
    [
        lambda: to_find(0, NINETY, 5),
        lambda: to_find(6, NINETY, 5),
        lambda: to_find_share(Fraction(0), NINETY),
        lambda: for_share(Fraction(2), NINETY, 5),
    ],
)
def test_what_makes_no_sense_is_refused(call: object) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match="lie between 0 and 1"):
        call()


def test_a_seed_draws_the_same_in_whatever_order_the_routines_stand() -> None:
    names = [f"start {number}" for number in range(40)]
    drawn = simple(names, 10, "17")
    Random(5).shuffle(names)
    assert simple(names, 10, "17") == drawn
    assert simple(names, 12, "17")[:10] == drawn, "a larger sample holds the smaller one"
    assert simple(names, 10, "18") != drawn


def test_each_routine_is_as_likely_as_any_other() -> None:
    """Chi-squared over 4,000 seeds; it fails of itself once in ten thousand."""
    names = [f"start {number}" for number in range(12)]
    times = Counter(name for seed in range(4000) for name in simple(names, 3, str(seed)))
    assert stats.chisquare([times[name] for name in names]).pvalue > 1e-4


@given(
    st.dictionaries(st.text("abcdef", min_size=1, max_size=3), st.integers(0, 40), min_size=1, max_size=6),
    st.data(),
)
def test_strata_give_in_proportion_and_none_is_left_out(sizes: dict[str, int], data: st.DataObject) -> None:
    whole, filled = sum(sizes.values()), sum(size > 0 for size in sizes.values())
    number = data.draw(st.integers(0, whole))
    given_ = shares(sizes, number)
    assert sum(given_.values()) == number
    assert all(0 <= given_[name] <= size for name, size in sizes.items())
    if number >= filled:
        assert all(given_[name] > 0 for name, size in sizes.items() if size)


@given(st.dictionaries(st.text("abcdef", min_size=1, max_size=3), st.integers(0, 40), min_size=1, max_size=6))
def test_a_larger_stratified_sample_holds_the_smaller(sizes: dict[str, int]) -> None:
    strata = {name: [f"{name} {at}" for at in range(size)] for name, size in sizes.items()}
    smaller: set[str] = set()
    for number in range(sum(sizes.values()) + 1):
        larger = set(stratified(strata, number, "spring"))
        assert smaller <= larger
        smaller = larger


def test_shares_are_those_of_highest_averages() -> None:
    """The usual example of Sainte-Laguë's divisors: 53, 24 and 23 thousand votes, 7 seats (from memory); and
    one in which largest remainders would take from a stratum what a smaller sample gave it."""
    assert shares({"a": 53_000, "b": 24_000, "c": 23_000}, 7) == {"a": 3, "b": 2, "c": 2}
    sizes = {"a": 60, "b": 60, "c": 20}  # largest remainders: c gives 2 to a sample of 10, and 1 to one of 11
    assert [shares(sizes, number)["c"] for number in (9, 10, 11, 12)] == [1, 1, 1, 2]


def test_a_stratified_sample_holds_its_share_of_each_division() -> None:
    strata = {"two": [f"b{n}" for n in range(30)], "three": [f"c{n}" for n in range(10)]}
    drawn = stratified(strata, 8, "7")
    assert Counter(name[0] for name in drawn) == {"b": 6, "c": 2}
