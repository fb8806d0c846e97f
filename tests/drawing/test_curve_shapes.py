"""The curve of the angle, read back from what is drawn."""

import re
import xml.etree.ElementTree as ET
from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest

from reviewer.drawing import curve, curve_svg
from reviewer.terms.exact import Degrees
from reviewer.terms.readings import Requirement
from reviewer.terms.shapes import Label, Path, Ring, Segment, Shape, Spot
from reviewer.terms.times import TimeBase

SIZE, TICK = (640, 240), TimeBase(1, 60000)
LIMIT = Requirement(Degrees.parse("-45"), Degrees.parse("10"))
LOST = {64: "flow", 65: "flow"}


def track(count: int = 40, lost: dict[int, str] = LOST, **more: Any) -> dict[str, Any]:
    """An invented cast at 60 frames a second: 40 frames from frame 40 on, a parabola with its top at 66.5."""

    def frame(number: int) -> dict[str, Any]:
        good = number not in lost
        angle = max(-50.0 - 0.05 * (number - 66.5) ** 2, -110.0)
        return {
            "frame": number,
            "pts": number * 1000,
            "state": "good" if good else "lost",
            "points": {},
            "angle_deg": f"{angle:.3f}" if good else None,
            "u_deg": "1.000" if good else None,
        }

    top = {"frame": 66, "pts": 66000, "time_s": "1.108333", "interval_s": ["1.090000", "1.126666"]}
    return {
        "format": "reviewer.track/1",
        "frames": [frame(number) for number in range(40, 40 + count)],
        "top": top | {"value_deg": "-50.000", "u_deg": "0.700"},
        "why_no_top": None,
        "lost": [{"frames": [min(lost), max(lost)], "why": "flow"}] if lost else [],
    } | more


def drawn(**more: Any) -> tuple[Shape, ...]:
    return curve(track(**more), LIMIT, SIZE, TICK)


def words(shapes: tuple[Shape, ...]) -> list[str]:
    return [one.words for one in shapes if isinstance(one, Label)]


def paths(shapes: tuple[Shape, ...], style: str) -> list[Path]:
    return [one for one in shapes if isinstance(one, Path) and one.style == style]


def lines(shapes: tuple[Shape, ...], style: str) -> list[Segment]:
    return [one for one in shapes if isinstance(one, Segment) and one.style == style]


def level(shapes: tuple[Shape, ...], style: str) -> float:
    """How far down a line right across lies."""
    (line,) = lines(shapes, style)
    assert line.start.y == line.end.y
    return line.start.y.thousandths / 1000


def degrees_at(shapes: tuple[Shape, ...], spot: Spot) -> float:
    """The elevation at a height, by the two limits as rulers: -45 and -55 degrees."""
    limit, tolerance = level(shapes, "limit"), level(shapes, "tolerance")
    return -45 - 10 * (spot.y.thousandths / 1000 - limit) / (tolerance - limit)


def seconds_at(shapes: tuple[Shape, ...], spot: Spot) -> float:
    """The time across, by the ticks of the axis as rulers."""
    marks = [one.start.x.thousandths for one in lines(shapes, "axis") if one.start.x == one.end.x][:2]
    said = [float(word) for word in words(shapes) if re.fullmatch(r"\d+\.\d+", word)][:2]
    return said[0] + (spot.x.thousandths - marks[0]) * (said[1] - said[0]) / (marks[1] - marks[0])


def test_each_good_frame_lies_at_its_time_and_its_angle() -> None:
    shapes, document = drawn(), track()
    spots = [spot for path in paths(shapes, "body-line") for spot in path.spots]
    good = [one for one in document["frames"] if one["state"] == "good"]
    assert len(spots) == len(good) == 38
    for spot, frame in zip(spots, good, strict=True):
        assert degrees_at(shapes, spot) == pytest.approx(float(frame["angle_deg"]), abs=0.05)
        assert seconds_at(shapes, spot) == pytest.approx(float(Fraction(frame["pts"], 60000)), abs=0.001)


def test_the_band_holds_the_angle_with_95_percent_to_each_side() -> None:
    """1.960 times a standard uncertainty of one degree."""
    shapes = drawn(lost={})
    (band,) = paths(shapes, "doubt")
    (line,) = paths(shapes, "body-line")
    count = len(line.spots)
    for below, middle, above in zip(
        band.spots, line.spots, band.spots[count : 2 * count][::-1], strict=False
    ):
        low, value, high = (degrees_at(shapes, spot) for spot in (below, middle, above))
        assert (value - low, high - value) == pytest.approx((1.96, 1.96), abs=0.03)


def test_no_curve_is_drawn_over_what_was_lost_and_it_says_so() -> None:
    shapes = drawn()
    before, after = paths(shapes, "body-line")
    edges = [one.start.x for one in lines(shapes, "lost") if one.start.x == one.end.x]
    assert before.spots[-1].x < edges[0] < edges[1] < after.spots[0].x
    assert "lost" in words(shapes)
    assert len(lines(shapes, "lost")) > 2


def test_a_frame_alone_between_losses_is_a_ring() -> None:
    shapes = drawn(lost={64: "flow", 66: "flow"})
    alone = [one for one in shapes if isinstance(one, Ring) and one.style == "body-line"]
    assert [round(degrees_at(shapes, one.centre), 1) for one in alone] == [-50.1]


def test_the_top_lies_on_its_value_with_its_interval_in_time() -> None:
    shapes = drawn()
    (ring,) = [one for one in shapes if isinstance(one, Ring) and one.style == "top"]
    assert degrees_at(shapes, ring.centre) == pytest.approx(-50, abs=0.05)
    ends = sorted({seconds_at(shapes, one.start) for one in lines(shapes, "top") if one.start.x == one.end.x})
    assert ends == pytest.approx([1.090, 1.108, 1.127], abs=0.001)
    assert "top 1.108 s: −50.0° ± 1.4° (95 %)" in words(shapes)


def test_a_track_without_a_top_says_why() -> None:
    assert "no top: it is still rising" in words(drawn(top=None, why_no_top="it is still rising"))
    assert "no top" in words(drawn(top=None))


def test_limits_are_named_with_their_angle_and_do_without() -> None:
    assert {"limit −45.0°", "tolerated −55.0°"} <= set(words(drawn()))
    bare = curve(track(), None, SIZE, TICK)
    assert not lines(bare, "limit")
    assert paths(bare, "body-line")


def test_ticks_are_round_and_neither_words_nor_curve_leave_the_drawing() -> None:
    for count in (1, 2, 40, 400):
        shapes = drawn(count=count, lost={})
        up = [float(word[:-1].replace("−", "-")) for word in words(shapes) if re.fullmatch(r"−?\d+°", word)]
        assert all(later - earlier in (1, 2, 5, 10, 15, 30, 45, 90) for earlier, later in pairwise(up))
        assert 2 <= len(up) <= 8
        for one in shapes:
            for spot in one.spots if isinstance(one, Path) else ():
                assert 0 <= spot.x.thousandths <= 640_000
                assert 0 <= spot.y.thousandths <= 240_000


def test_nothing_followed_is_said() -> None:
    assert words(curve(track() | {"frames": []}, LIMIT, SIZE, TICK)) == ["Nothing was followed."]


def test_the_same_track_gives_the_same_bytes_with_words_that_stay_words() -> None:
    document = track(top=None, why_no_top="<b>")
    first, again = (curve_svg(document, LIMIT, SIZE, TICK, "<curve>") for _ in range(2))
    assert first == again
    assert "no top: <b>" in "".join(ET.fromstring(first).itertext())
