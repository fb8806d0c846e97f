"""The point clicked is the point meant, at every zoom.

Source: Qt's own manual, "Coordinate System" (pixels are counted from their corner); arithmetic by hand.
"""

from hypothesis import given
from hypothesis import strategies as some

from reviewer.desk.framing import CLOSEST, Framing, spot_at

scales = some.floats(0.05, 40)
places = some.floats(-5000, 5000)
framings = some.builds(Framing, scales, places, places)


@given(framings, places, places)
def test_a_place_in_the_picture_comes_back_from_the_view_unchanged(
    framing: Framing, x: float, y: float
) -> None:
    back = framing.to_picture(*framing.to_view(x, y))
    assert spot_at(*back) in {spot_at(x + dx, y + dy) for dx in (-1e-6, 0, 1e-6) for dy in (-1e-6, 0, 1e-6)}


def test_the_centre_of_the_top_left_pixel_is_nought_nought() -> None:
    framing = Framing(scale=4.0, left=100.0, top=50.0)
    assert framing.to_view(0, 0) == (102.0, 52.0)
    assert framing.to_picture(100.0, 50.0) == (-0.5, -0.5)


@given(framings, some.floats(0.1, 10), places, places)
def test_zooming_keeps_what_is_under_the_pointer(framing: Framing, factor: float, x: float, y: float) -> None:
    before, after = framing.to_picture(x, y), framing.zoomed(factor, x, y).to_picture(x, y)
    assert abs(before[0] - after[0]) < 1e-4
    assert abs(before[1] - after[1]) < 1e-4


def test_the_whole_picture_stands_in_the_middle_of_the_view() -> None:
    assert Framing.whole((1280, 720), (640, 480)) == Framing(0.5, 0.0, 60.0)
    assert Framing.whole((720, 1280), (640, 640)) == Framing(0.5, 140.0, 0.0)


def test_no_zoom_goes_past_the_closest() -> None:
    assert Framing(1, 0, 0).zoomed(1000, 0, 0).scale == CLOSEST
