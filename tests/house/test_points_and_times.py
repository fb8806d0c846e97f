"""Exact quantities, held against Python's `decimal` (IEEE 854 arithmetic, standard library)."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewer.terms.exact import Degrees, Points
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
