"""Several judges' readings of one cast: one value, and how far judges are from each other."""

from math import sqrt
from statistics import fmean, stdev

import numpy as np
import pytest

from reviewer.measuring import MeasuringError, measure, pooled
from reviewer.terms.readings import Clicks, Reading
from tests.measuring.poses import Pose, camera, request

STRAIGHT = Pose(trunk=-30, thigh=-30, shank=-30)


def readings(judges: int, seed: int, sd: float = 2.0, **more: object) -> list[Reading]:
    """Each judge clicks the body for themselves, on one picture with the bars clicked once."""
    chance, seen_by = np.random.default_rng(seed), camera(25.0)
    bars = request(seen_by, STRAIGHT.joints(), chance, 1.0)["points"]
    return [
        measure(
            Clicks.from_json(
                request(seen_by, STRAIGHT.joints(), chance, sd, line="shoulder-ankle", **more)
                | {"points": bars}
            )
        )
        for _ in range(judges)
    ]


def number(size: object) -> float:
    return float(str(size))


def test_the_value_is_the_mean_and_reproducibility_the_judges_standard_deviation() -> None:
    """ISO 5725-1: each judge having measured once, the spread between them is the reproducibility's."""
    each = readings(5, 1)
    found = pooled(each)
    values = [number(one.value) for one in each]
    assert number(found.value) == pytest.approx(fmean(values), abs=0.001)
    assert number(found.reproducibility) == pytest.approx(stdev(values), abs=0.001)


def test_many_judges_lessen_what_is_their_own_and_not_what_they_share() -> None:
    each = readings(40, 2)
    found = pooled(each)
    shared = dict(found.budget)["what all share"]
    assert number(found.uncertainty) < number(each[0].uncertainty)
    assert found.uncertainty >= shared
    own = dict(each[0].budget)["body clicks, 2.000 px stated"]
    assert number(dict(found.budget)["40 judges"]) == pytest.approx(number(own) / sqrt(40), rel=0.35)


def test_judges_who_differ_more_than_clicks_explain_are_said_to() -> None:
    each = readings(4, 3)
    apart = readings(4, 4, sd=15.0, click_sd_px="2")
    assert pooled(each).check == "good"
    assert "more than clicks explain" in pooled(apart).check
    assert number(pooled(apart).uncertainty) > number(pooled(each).uncertainty)


def test_the_interval_of_three_judges_covers_the_truth_about_95_in_100() -> None:
    """Student's factor for few judges; of 100 sets between 87 and 100, the truth being -30."""
    inside = 0
    for seed in range(100):
        low, high = (number(end) for end in pooled(readings(3, 100 + seed)).interval)
        inside += low <= -30.0 <= high
    assert 87 <= inside <= 100


def test_readings_of_different_lines_or_frames_do_not_pool() -> None:
    chance = np.random.default_rng(5)
    asked = request(camera(10.0), STRAIGHT.joints(), chance, line="shoulder-ankle")
    one = measure(Clicks.from_json(asked))
    again = request(camera(10.0), STRAIGHT.joints(), chance, 0.5)
    other = measure(Clicks.from_json(again | {"line": "shoulder-hip"}))
    later = measure(Clicks.from_json(again | {"line": "shoulder-ankle", "frame": 3}))
    for unlike in (other, later):
        with pytest.raises(MeasuringError, match="not of one line on one frame"):
            pooled([one, unlike])
    with pytest.raises(MeasuringError, match="does not pool"):
        pooled([one])


def test_the_same_clicks_twice_are_no_second_judge() -> None:
    one = readings(1, 9)[0]
    with pytest.raises(MeasuringError, match="very same clicks"):
        pooled([one, one])
