"""The protractor against hand-worked trigonometry, published tables and the rendered ground truth."""

import json
from math import sqrt
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewer.measuring import MeasuringError, measure, reading_from_record, reading_to_record, verdict
from reviewer.terms.exact import Degrees, Pixels
from reviewer.terms.readings import Clicks, Reading, Requirement
from reviewer.terms.shapes import Spot

CLIPS = Path(__file__).resolve().parents[2] / "sample_clips"


def spot(x: float, y: float) -> Spot:
    return Spot(Pixels(round(x * 1000)), Pixels(round(y * 1000)))


def clicks(shoulder: Spot, ankle: Spot, **more: object) -> Clicks:
    body = (("ankle", (ankle,)), ("shoulder", (shoulder,)))
    return Clicks(0, (1280, 720), "shoulder-ankle", body, **more)  # type: ignore[arg-type]


def degrees(reading: Reading) -> float:
    return reading.value.thousandths / 1000


@pytest.mark.parametrize(
    ("ankle", "elevation"),
    [((700, 400), "-45.000"), ((500, 400), "-45.000"), ((900, 300), "0.000"), ((900, 75), "36.870")],
)
def test_a_body_line_reads_as_worked_by_hand(ankle: tuple[int, int], elevation: str) -> None:
    """Worked by hand: equal legs give 45 degrees; the 3-4-5 triangle gives atan(3/4) = 36.870."""
    assert str(measure(clicks(spot(600, 300), spot(*ankle))).value) == elevation


def test_an_upright_that_leans_takes_the_roll_away() -> None:
    """Worked by hand: a camera rolled by atan(1/10) leans the upright 5.711 degrees clockwise."""
    upright = (("low-foot-near", spot(640, 600)), ("low-rail-near", spot(670, 300)))
    found = measure(clicks(spot(600, 300), spot(700, 400), apparatus=upright))
    assert str(found.naive) == "-45.000"
    assert str(found.value) == str(found.roll_only) == "-39.289"


@given(st.floats(-170, 170), st.floats(-80, 80))
def test_turning_the_whole_picture_leaves_the_reading(turn: float, elevation: float) -> None:
    def turned(x: float, y: float) -> Spot:
        angle = np.radians(turn)
        return spot(640 + x * np.cos(angle) - y * np.sin(angle), 360 + x * np.sin(angle) + y * np.cos(angle))

    tip = 200 * np.cos(np.radians(elevation)), -200 * np.sin(np.radians(elevation))
    upright = (("low-foot-near", turned(0, 250)), ("low-rail-near", turned(0, -50)))
    found = measure(clicks(turned(0, 0), turned(*tip), apparatus=upright, cast_to="right"))
    assert degrees(found) == pytest.approx(elevation, abs=0.002)


@given(st.integers(5, 300), st.integers(-300, 300))
def test_a_cast_to_either_side_reads_the_same(across: int, down: int) -> None:
    right = measure(clicks(spot(640, 360), spot(640 + across, 360 + down)))
    left = measure(clicks(spot(640, 360), spot(640 - across, 360 + down)))
    assert right.value == left.value


def test_beyond_the_vertical_a_named_side_reads_above_ninety() -> None:
    found = measure(clicks(spot(640, 360), spot(610, 160), cast_to="right"))
    assert 90_000 < found.value.thousandths < 100_000


@pytest.mark.parametrize(("length", "sd", "u"), [(200, "2", 0.810), (300, "2", 0.540), (150, "3", 1.621)])
def test_clicks_scatter_the_angle_as_the_error_formula_says(length: int, sd: str, u: float) -> None:
    """u = sqrt(2) s / L; values worked from the formula in the project's table of check values."""
    found = measure(clicks(spot(600, 300), spot(600 + length, 300), click_sd=Pixels.parse(sd)))
    assert found.budget[0][1].thousandths / 1000 == pytest.approx(u, abs=0.001)


def test_the_first_order_share_of_the_clicks_agrees_with_monte_carlo() -> None:
    """Reference: propagation of distributions, JCGM 101, with numpy's generator."""
    chance = np.random.default_rng(7)
    scatter = chance.normal(0, 2.0, (40_000, 4))
    across, down = 150 + scatter[:, 2] - scatter[:, 0], 100 + scatter[:, 3] - scatter[:, 1]
    spread = np.degrees(np.arctan2(-down, across)).std()
    found = measure(clicks(spot(600, 300), spot(750, 400), click_sd=Pixels.parse("2")))
    assert found.budget[0][1].thousandths / 1000 == pytest.approx(spread, rel=0.03)


def test_clicking_a_joint_again_lowers_its_share() -> None:
    once = clicks(spot(600, 300), spot(700, 400), click_sd=Pixels.parse("2"))
    body = (("ankle", (spot(700, 400), spot(702, 398))), ("shoulder", (spot(600, 300), spot(598, 302))))
    again = measure(Clicks(0, (1280, 720), "shoulder-ankle", body))
    assert again.budget[0][1] < measure(once).budget[0][1]
    shown = sqrt((8 + 2 * 2.0**2) / (4 + 2))  # four differences of 2 px, and 2 px assumed as two more of them
    expected = 57.2958 * sqrt(2) * shown / sqrt(2) / 142.835
    assert again.budget[0][1].thousandths / 1000 == pytest.approx(expected, rel=0.02)


def test_an_unknown_yaw_is_in_the_budget() -> None:
    """Orthographic: at yaw 35 a line of -45 is seen at atan(1 / cos 35) = 50.680, so 5.680 / sqrt(3)."""
    found = dict(measure(clicks(spot(600, 300), spot(700, 400))).budget)
    assert found["camera yaw up to 35 degrees assumed"].thousandths / 1000 == pytest.approx(3.279, abs=0.001)


@pytest.mark.parametrize("clip", ["square-on"])
def test_the_true_joints_of_the_rendered_casts_give_the_true_angles(clip: str) -> None:
    """Reference: the angles of the figure in space, written when the clip was rendered."""
    truth = json.loads((CLIPS / f"{clip}.truth.json").read_text(encoding="utf-8"))
    joints = truth["joints"]
    tops = [element["top_frame"] for element in truth["elements"] if element["code"] == "cast"]
    assert len(tops) >= 3
    for frame in tops:
        shoulder, ankle = (spot(*joints[name]["mid_px"][frame]) for name in ("shoulder", "ankle"))
        found = measure(clicks(shoulder, ankle))
        assert degrees(found) == pytest.approx(truth["angles"]["shoulder-ankle_deg"][frame], abs=0.1)


@pytest.mark.parametrize(
    ("body", "code"),
    [
        ((("shoulder", (spot(1, 1),)),), "not-clicked"),
        ((("ankle", (spot(1, 1),)), ("shoulder", (spot(1, 1),))), "no-line"),
        ((("ankle", (spot(2000, 1),)), ("shoulder", (spot(1, 1),))), "outside-picture"),
    ],
)
def test_clicks_without_an_angle_are_refused(
    body: tuple[tuple[str, tuple[Spot, ...]], ...], code: str
) -> None:
    with pytest.raises(MeasuringError) as refused:
        measure(Clicks(0, (1280, 720), "shoulder-ankle", body))
    assert [problem.code for problem in refused.value.problems] == [code]


def test_a_kept_reading_comes_back_digit_for_digit() -> None:
    found = measure(clicks(spot(600, 300), spot(723.456, 401.2)), pts=77)
    assert reading_from_record(reading_to_record(found)) == found


LIMIT = Requirement(Degrees.parse("-45"), Degrees.parse("10"))


@pytest.mark.parametrize(
    ("value", "u", "word"),
    [
        ("-45", None, "met"),
        ("-45.001", None, "within tolerance"),
        ("-55", None, "within tolerance"),
        ("-55.001", None, "not met"),
        ("-43.201", "0.602", "met"),
        ("-44.5", "0.602", "cannot tell"),
        ("-50", "1", "within tolerance"),
        ("-54.5", "1", "cannot tell"),
        ("-58", "1", "not met"),
    ],
)
def test_a_limit_is_decided_clear_of_the_guard_band(value: str, u: str | None, word: str) -> None:
    found = verdict(Degrees.parse(value), None if u is None else Degrees.parse(u), LIMIT)
    assert found.word == word


@pytest.mark.parametrize(
    ("value", "reached", "tolerated", "word"),
    [
        ("-45", True, True, "met"),
        ("-45", False, True, "within tolerance"),
        ("-55", True, True, "within tolerance"),
        ("-55", True, False, "not met"),
    ],
)
def test_each_edge_belongs_to_the_side_the_book_gives_it(
    value: str, reached: bool, tolerated: bool, word: str
) -> None:
    limit = Requirement(Degrees.parse("-45"), Degrees.parse("10"), reached, tolerated)
    found = verdict(Degrees.parse(value), None, limit)
    assert found.word == word
    chances = {"met": found.met, "within tolerance": found.within, "not met": found.not_met}
    assert chances[word] == "1.0000"


def test_probabilities_are_those_of_the_published_examples() -> None:
    """JCGM 106, 7.3.3: y = 507, u = 8, lower limit 490 gives 0.983 (from memory, worked again)."""
    found = verdict(Degrees.parse("507"), Degrees.parse("8"), Requirement(Degrees.parse("490"), Degrees(0)))
    assert found.met == "0.9832"
