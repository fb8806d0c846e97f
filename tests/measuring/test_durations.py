"""Durations, held against the Guide to the Expression of Uncertainty and against simulated events."""

from collections.abc import Sequence
from fractions import Fraction
from math import sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewer import measuring
from reviewer.measuring.durations import coverage
from reviewer.terms.pictures import RecordingFacts
from reviewer.terms.times import TimeBase


def recording(pts: Sequence[int], base: str = "1/1000") -> RecordingFacts:
    return RecordingFacts("", TimeBase.parse(base), tuple(pts), (0,), "index", (2, 2), (2, 2), 0, "1/1")


STEADY = recording(range(0, 60_000, 20))
"""A minute of 50 frames a second."""


def test_equal_gaps_make_a_triangle() -> None:
    """Rectangles of 20 ms: u = 20 / sqrt 6 ms (JCGM 100:2008, 4.3.7 and 5.1.2); the triangle of half-width
    a = 20 ms holds 95 % within a (1 - sqrt 0.05) = 15.528 ms (its distribution function, by hand)."""
    found = measuring.duration(STEADY, 10, 1510)
    assert found.value == 30_000_000
    assert found.uncertainty == 8165
    assert found.interval == (30_000_000 - 15_528, 30_000_000 + 15_528)


def test_a_much_finer_gap_leaves_the_rectangle() -> None:
    """Gaps of 1 s and 1 ms: 95 % of a rectangle of 1 s lies within 475 ms of its middle."""
    found = measuring.duration(recording([0, 1000, 2000, 2999, 3000]), 1, 4)
    assert found.value == 3_000_000 - 500 - (1_000_000 - 500_000)
    assert found.uncertainty == round(sqrt((1e6**2 + 1e3**2) / 12))
    assert found.interval == (found.value - 475_000, found.value + 475_000)


gaps = st.integers(1, 400)


@given(gaps, gaps, st.integers(0, 2**32 - 1))
def test_the_interval_holds_95_of_100_simulated_events(first: int, second: int, seed: int) -> None:
    """Propagation of distributions by a Monte Carlo method (JCGM 101:2008, clause 7)."""
    draw = np.random.default_rng(seed)
    pts = [0, first, 5000, 5000 + second]
    began = draw.uniform(0, first, 20_000)
    ended = draw.uniform(5000, 5000 + second, 20_000)
    found = measuring.duration(recording(pts), 1, 3)
    low, high = found.interval
    took = (ended - began) * 1000
    assert np.mean((took >= low) & (took <= high)) == pytest.approx(0.95, abs=0.012)
    assert np.std(took) == pytest.approx(found.uncertainty, rel=0.03)
    assert np.mean(took) == pytest.approx(found.value, abs=found.uncertainty * 0.05)


@given(gaps)
def test_slope_and_level_meet_where_one_gap_is_a_twentieth_of_the_other(gap: int) -> None:
    """By hand: at h = g / 20 both formulas give 0.475 g."""
    assert coverage(Fraction(gap), Fraction(gap, 20)) == pytest.approx(0.475 * gap)
    assert coverage(Fraction(gap, 20), Fraction(gap)) == coverage(Fraction(gap), Fraction(gap, 20))


def test_two_events_on_one_frame_lie_up_to_its_gap_apart() -> None:
    found = measuring.duration(STEADY, 10, 10)
    assert found.value == 0
    assert found.interval == (-15_528, 15_528)


@given(st.integers(0, 2999), st.integers(0, 2999))
def test_the_other_way_round_is_the_same_time_negative(one: int, other: int) -> None:
    there, back = measuring.duration(STEADY, one, other), measuring.duration(STEADY, other, one)
    assert (back.value, back.uncertainty) == (-there.value, there.uncertainty)
    assert back.interval == (-there.interval[1], -there.interval[0])


def test_before_the_first_frame_the_following_gap_is_assumed() -> None:
    assert measuring.gap_before(STEADY, 0).assumed
    assert measuring.duration(STEADY, 0, 5).value == 100_000
    assert not measuring.gap_before(STEADY, 1).assumed


def test_frames_of_one_time_share_the_gap_before_it() -> None:
    doubled = recording([0, 0, 20, 40, 40, 60])
    assert [measuring.gap_before(doubled, frame).ticks for frame in range(6)] == [20, 20, 20, 20, 20, 20]
    assert measuring.gap_before(doubled, 1).assumed
    assert measuring.duration(doubled, 3, 4).value == 0
    assert measuring.duration(doubled, 3, 4).uncertainty == 8165


@pytest.mark.parametrize("pts", [(5,), (5, 5, 5)])
def test_one_moment_gives_no_duration(pts: tuple[int, ...]) -> None:
    with pytest.raises(measuring.MeasuringError) as refused:
        measuring.duration(recording(pts), 0, len(pts) - 1)
    assert refused.value.problems[0].code == "one-moment"


def test_a_frame_outside_the_recording_has_no_time() -> None:
    with pytest.raises(IndexError):
        measuring.duration(STEADY, 0, 3000)


def test_ticks_that_are_no_whole_microseconds_are_rounded_once() -> None:
    """By hand: 90 gaps of 1001 / 30000 s are 3.003 s; u = 1001 / 30000 / sqrt 6 s = 13.62199… ms."""
    found = measuring.duration(recording(range(0, 100 * 1001, 1001), "1/30000"), 3, 93)
    assert (found.value, found.uncertainty) == (3_003_000, 13_622)


@pytest.mark.parametrize(
    ("last", "word"),
    [(1509, "within"), (1510, "cannot be said at 95 %"), (1511, "beyond")],
)
def test_a_fall_clock_of_thirty_seconds_names_what_can_be_said(last: int, word: str) -> None:
    """Thirty seconds to remount (official course slides of an older cycle, section 11.1). One frame of
    20 ms either side is clear of the half-width of 15.528 ms worked out above."""
    assert measuring.against_limit(measuring.duration(STEADY, 10, last), 30_000_000) == word


def test_the_limit_itself_is_kept() -> None:
    found = measuring.duration(STEADY, 10, 1510)
    assert measuring.against_limit(found, found.interval[1]) == "within"
    assert measuring.against_limit(found, found.interval[1] - 1) != "within"
    assert measuring.against_limit(found, found.interval[0]) != "beyond"
    assert measuring.against_limit(found, found.interval[0] - 1) == "beyond"
