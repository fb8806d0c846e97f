"""Exact quantities, held against Python's `decimal` (IEEE 854 arithmetic, standard library)."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewer.terms.exact import Degrees, Points
from reviewer.terms.measures import Measure
from reviewer.terms.times import FrameTime, TimeBase

amounts = st.integers(-10_000_000, 10_000_000)


@given(amounts, amounts)
def test_points_add_and_subtract_as_decimals_do(first: int, second: int) -> None:
    one, two = Points(first), Points(second)
    assert Decimal(str(one + two)) == Decimal(str(one)) + Decimal(str(two))
    assert Decimal(str(one - two)) == Decimal(str(one)) - Decimal(str(two))


@given(amounts)
def test_what_is_written_is_read_back(size: int) -> None:
    assert Points.parse(str(Points(size))) == Points(size)


def test_three_tenths_are_exactly_three_tenths() -> None:
    assert Points.parse("0.1") + Points.parse("0.1") + Points.parse("0.1") == Points.parse("0.3")


@pytest.mark.parametrize("text", ["", "1e9", "0.1234", "1.", ".5", "1,5", "+1", " 1", "NaN", "0x1", "١"])
def test_other_text_is_no_amount(text: str) -> None:
    with pytest.raises(ValueError, match="decimal"):
        Points.parse(text)


def test_points_and_degrees_never_mix() -> None:
    with pytest.raises(TypeError):
        Points(1) + Degrees(1)  # type: ignore[operator]
    assert Points(1) != Degrees(1)


@pytest.mark.parametrize(
    ("pts", "base", "seconds"),
    [(77077, "1/60000", "1.285"), (0, "1/1000", "0.000"), (-1, "1/2", "-0.500"), (1001, "1/30000", "0.033")],
)
def test_ticks_become_seconds_to_the_millisecond(pts: int, base: str, seconds: str) -> None:
    """Worked by hand: 77077 / 60000 = 1.28461…; 1001 / 30000 = 0.03336…"""
    assert FrameTime(pts, TimeBase.parse(base)).seconds() == seconds


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("64 s", "64 s"),
        ("64", "64 s"),
        ("64s", "64 s"),
        ("64 seconds", "64 s"),
        ("1:04", "64 s"),
        ("01:04,5", "64.5 s"),
        (" 4,5 s ", "4.5 s"),
        ("9 min", "9 minutes"),
        ("1 Minute", "1 minute"),
        ("9 min 30 s", "570 s"),
        ("9min30", "570 s"),
    ],
)
def test_a_time_is_read_as_people_write_it_and_kept_so_that_it_is_read_again(typed: str, read: str) -> None:
    found = Measure.typed_time(typed)
    assert str(found) == read
    assert Measure.time(str(found)) == found


@pytest.mark.parametrize(
    "text", ["", " ", "soon", "-5 s", "5 6", "1:64", "9 m", "1e3", "1:04:00", "s", "min", "99999999", "٦ s"]
)
def test_what_is_no_time_says_how_times_are_written(text: str) -> None:
    with pytest.raises(ValueError, match="'64 s', '64', '1:04', '9 min' or '9 min 30 s'"):
        Measure.typed_time(text)
