"""Requests gone wrong: refused or flagged with a reason and a remedy, never a confident wrong angle."""

import json
from copy import deepcopy
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from reviewer.measuring import (
    MeasuringError,
    held_against,
    length,
    measure,
    reading_from_record,
    reading_json,
    reading_to_record,
)
from reviewer.terms.exact import Degrees
from reviewer.terms.readings import Clicks, Reading, Requirement
from tests.measuring.cameras import USUAL_DOUBTS, Filmed, clicked, filmed
from tests.measuring.poses import Pose, camera, request
from tests.measuring.spoiling import UNSEEN, WAYS, spoiled

REFUSED = {
    "two points off by 60 px": "points-do-not-fit",
    "one of six off by 100 px": "points-do-not-fit",
    "one of four off by 100 px": "points-do-not-fit",
    "two points exchanged": "points-exchanged",
    "ends of a rail exchanged": "points-exchanged",
    "rail and foot exchanged": "points-exchanged",
    "near called far": "points-do-not-fit",
    "high called low": "points-do-not-fit",
    "all points on one spot": "no-upright",
    "all points in a row": "points-do-not-fit",
    "points anywhere": "points-do-not-fit",
}
FLAGGED = {
    "one point off by 100 px": "was left out",
    "one point on another": "was left out",
    "three points": "3 points do not give the camera, click six or more",
    "low rail alone": "four points: nothing checks",
    "near ends alone": "four points: nothing checks",
    "high rail said 10 cm too high": "px",
    "athlete said to be 3 m tall": "mm long, which it cannot be",
    "athlete said to be 1 mm tall": "mm long, which it cannot be",
    "joints exchanged": "points back from its first joint",
    "cast to the other side": "points back from its first joint",
}


def scene(seed: int = 4) -> Filmed:
    return filmed(np.random.default_rng(seed), USUAL_DOUBTS, elevation=-40)


def good(seed: int = 4) -> dict[str, Any]:
    return clicked(scene(seed), np.random.default_rng(seed), 1.5)


def read(document: dict[str, Any]) -> Reading:
    return measure(Clicks.from_json(document))


def check(document: dict[str, Any]) -> str:
    return read(document).calibration.check


def refusal(document: dict[str, Any]) -> str:
    with pytest.raises(MeasuringError) as refused:
        read(document)
    assert all(
        str(problem.message) and str(problem.remedy) and problem.where for problem in refused.value.problems
    )
    return ", ".join(problem.code for problem in refused.value.problems)


def test_the_request_that_is_spoiled_below_is_good() -> None:
    assert check(good()) == "good"


@pytest.mark.parametrize(("how", "code"), REFUSED.items())
def test_points_that_cannot_be_those_of_the_bars_are_refused(how: str, code: str) -> None:
    assert refusal(spoiled(good(), how, np.random.default_rng(2))) == code


@pytest.mark.parametrize(("how", "why"), FLAGGED.items())
def test_what_cannot_be_checked_or_cannot_be_is_flagged_with_its_reason(how: str, why: str) -> None:
    assert why in check(spoiled(good(), how, np.random.default_rng(2)))


@pytest.mark.parametrize("how", sorted(WAYS.keys() - UNSEEN))
def test_no_spoiled_request_gives_a_wrong_angle_and_calls_it_good(how: str) -> None:
    """2,000 of them stand in the benchmark ``protractor``."""
    try:
        found = read(spoiled(good(31), how, np.random.default_rng(31)))
    except MeasuringError:
        return
    off = abs((found.value.thousandths / 1000 - scene(31).angle() + 180) % 360 - 180)
    assert found.calibration.check != "good" or off <= 4 * found.uncertainty.thousandths / 1000


def test_a_mirrored_recording_gives_the_same_angle() -> None:
    mirrored = spoiled(good(), "mirrored", np.random.default_rng(0))
    assert abs(read(mirrored).value.thousandths - read(good()).value.thousandths) <= 2


def test_a_damaged_picture_is_flagged() -> None:
    found = read(good() | {"suspect": True})
    assert found.calibration.check.startswith("the picture is damaged")
    assert reading_json(found, None)["suspect"] is True


def test_every_click_outside_the_picture_is_named_at_once() -> None:
    document = good()
    document["body"]["ankle"][0] = ["1300.000", "300.000"]
    document["points"]["low-rail-near"] = ["-2.000", "300.000"]
    with pytest.raises(MeasuringError) as refused:
        read(document)
    assert [problem.where for problem in refused.value.problems] == ["ankle", "low-rail-near"]


def test_no_click_is_believed_to_be_exact() -> None:
    document = clicked(scene(), np.random.default_rng(1), 0.001, stated_sd=0.0)
    try:
        share = read(document | {"points": {}}).budget[0][1]
    except MeasuringError as refused:
        raise AssertionError("exact clicks on a body alone can be measured") from refused
    assert share.thousandths > 0


def test_two_clicks_that_happen_to_agree_do_not_make_the_camera_certain() -> None:
    document = clicked(scene(), np.random.default_rng(3), 2.0)
    del document["click_sd_px"]
    spot = document["body"]["ankle"][0]
    document["body"]["ankle"] = [spot, [f"{float(spot[0]) + 0.2:.3f}", spot[1]]]
    found = dict(read(document).budget)
    once = dict(read(document | {"body": document["body"] | {"ankle": [spot]}}).budget)
    assert found["apparatus clicks"].thousandths > 0.6 * once["apparatus clicks"].thousandths


@pytest.mark.parametrize("picture", [[10**18, 10**18], [1_000_000, 2]])
def test_a_picture_of_an_absurd_size_is_refused(picture: list[int]) -> None:
    assert refusal(good() | {"picture": picture})


def test_huge_numbers_are_refused_in_words() -> None:
    document = good()
    document["points"]["low-rail-near"] = ["999999999.999", "-999999999.999"]
    assert refusal(document) == "outside-picture"


def test_clicks_that_scatter_widely_leave_nothing_certain() -> None:
    found = read(good() | {"click_sd_px": "100"})
    assert found.uncertainty.thousandths > 30_000


def test_a_kept_reading_comes_back_digit_for_digit_residuals_and_all() -> None:
    found = read(good())
    assert len(found.calibration.residuals) == 8
    kept = json.loads(json.dumps(reading_to_record(found)))
    assert reading_from_record(kept) == found
    assert reading_to_record(reading_from_record(kept)) == kept


def _without(*path: str) -> Any:
    def damage(record: dict[str, Any]) -> None:
        for step in path[:-1]:
            record = record[step]
        del record[path[-1]]

    return damage


def _instead(value: Any, *path: str) -> Any:
    def damage(record: dict[str, Any]) -> None:
        for step in path[:-1]:
            record = record[step]
        record[path[-1]] = value

    return damage


DAMAGES = [
    *(_without(key) for key in ("pts", "clicks", "reading")),
    *(_without("reading", key) for key in ("value_deg", "u_deg", "interval95_deg", "budget", "calibration")),
    *(_without("reading", "calibration", key) for key in ("points", "rms_px", "residuals_px", "check")),
    *(_without("clicks", key) for key in ("picture", "frame", "line", "body")),
    *(_instead(value, "reading", "value_deg") for value in (None, 5, "nan", "", "1e3", [])),
    *(_instead(value, "reading", "interval95_deg") for value in (None, ["1"], ["1", "2", "3"], "ab")),
    *(_instead(value, "reading", "budget") for value in (None, [{}], [{"source": 3, "u_deg": "1"}], 7)),
    *(_instead(value, "reading", "calibration") for value in (None, [], "good")),
    *(_instead(value, "reading", "calibration", "residuals_px") for value in (None, {"a": ["1"]}, {"a": 3})),
    *(_instead(value, "clicks", "picture") for value in (None, [1280], ["a", "b"], [0, 0], [1.5, 2])),
    *(_instead(value, "clicks", "body") for value in (None, [], {"ankle": 5}, {"ankle": [["x", "y"]]})),
    *(_instead(value, "clicks", "points") for value in (None, [], {"low-rail-near": "no"})),
    *(_instead(value, "clicks", "apparatus") for value in (5, {"high_top_mm": "tall"}, {"spread": "thick"})),
    _instead("tall", "clicks", "athlete_height_mm"),
    _instead("twelve", "pts"),
    _instead(None, "reading"),
]


@pytest.mark.parametrize("number", range(len(DAMAGES)))
def test_a_damaged_record_is_named_and_never_breaks_the_reader(number: int) -> None:
    record = deepcopy(reading_to_record(read(good() | {"points": {}}))) | {"id": "r7"}
    DAMAGES[number](record)
    with pytest.raises(MeasuringError, match="reading r7: This kept reading is damaged") as refused:
        reading_from_record(record)
    assert "whole" in str(refused.value.problems[0].remedy)


def test_a_joint_clicked_far_off_shows_in_its_distance_to_the_next_one() -> None:
    """The angle of the line itself shows no trace of it; the hip, clicked beside, does."""
    pose = Pose(trunk=-30, thigh=-30, shank=-30)
    asked = request(camera(20.0), pose.joints(), np.random.default_rng(1), line="shoulder-ankle")
    x, y = (float(at) for at in asked["body"]["ankle"][0])
    asked["body"]["ankle"] = [[f"{x:.3f}", f"{y - 150:.3f}"]]
    alone = measure(Clicks.from_json(asked | {"body": {k: asked["body"][k] for k in ("shoulder", "ankle")}}))
    beside = measure(Clicks.from_json(asked))
    assert alone.calibration.check == "good"
    assert "which it cannot be" in beside.calibration.check


CLIPS = Path(__file__).resolve().parents[2] / "sample_clips"


@pytest.mark.parametrize("clip", ["square-on", "off-axis-fall"])
def test_no_true_joint_of_a_whole_routine_is_called_impossible(clip: str) -> None:
    """Hips lie at the hands in a support and the body folds up in circles: only bones keep their length."""
    truth = json.loads((CLIPS / f"{clip}.truth.json").read_text(encoding="utf-8"))
    bars = {name: [f"{at:.3f}" for at in one["px"]] for name, one in truth["apparatus"]["points"].items()}
    wide, tall = truth["displayed"]
    inside = {name: at for name, at in bars.items() if 0 <= float(at[0]) < wide and 0 <= float(at[1]) < tall}
    flagged = {}
    for frame in range(0, len(truth["pts"]), 9):
        body = {
            name: [[f"{at:.3f}" for at in truth["joints"][name]["near_px"][frame]]]
            for name in ("hand", "elbow", "shoulder", "hip", "knee", "ankle")
        }
        if not all(0 <= float(x) < wide and 0 <= float(y) < tall for [[x, y]] in body.values()):
            continue
        asked = {
            "format": "reviewer.clicks/1", "picture": [wide, tall], "frame": frame, "line": "shoulder-hip",
            "body": body, "points": inside, "athlete_height_mm": truth["figure"]["stature_mm"],
        }  # fmt: skip
        check = measure(Clicks.from_json(asked)).calibration.check
        if "which it cannot be" in check:
            flagged[frame] = check
    assert flagged == {}


@pytest.mark.parametrize(("x", "y"), [(340.0, 10.0), (300.0, 150.0)])
def test_what_does_not_lie_on_the_mat_has_no_length_there(x: float, y: float) -> None:
    pose = Pose()
    asked = request(camera(20.0), pose.joints(), np.random.default_rng(1), line="foot-from-rail")
    asked["body"] = {"foot": [[f"{x}", f"{y}"]]}
    with pytest.raises(MeasuringError, match="does not lie on the mat"):
        length(Clicks.from_json(asked))


def test_clicking_again_without_looking_again_buys_no_certainty() -> None:
    pose = Pose(trunk=-30, thigh=-30, shank=-30)
    asked = request(camera(20.0), pose.joints(), np.random.default_rng(1), 1.0, line="shoulder-ankle")
    del asked["click_sd_px"]
    once = measure(Clicks.from_json(asked))
    asked["body"]["ankle"] *= 4
    again = measure(Clicks.from_json(asked))
    assert again.uncertainty.thousandths > 0.4 * once.uncertainty.thousandths


def test_a_reading_whose_joints_are_doubtful_gives_no_verdict() -> None:
    pose = Pose(trunk=-30, thigh=-30, shank=-30)
    asked = request(camera(20.0), pose.joints(), np.random.default_rng(1), line="shoulder-ankle")
    limit = Requirement(Degrees.parse("-45"), Degrees.parse("10"))
    sound, damaged = (measure(Clicks.from_json(asked | more)) for more in ({}, {"suspect": True}))
    assert held_against(sound, limit, 1645).word == "met"
    assert held_against(damaged, limit, 1645).word == "cannot tell"


@pytest.mark.parametrize(
    ("more", "code"),
    [
        ({"click_sd_px": "500"}, "too-wide"),
        ({"blur_px": "9999"}, "too-wide"),
        ({"against": "shoulder-ankle"}, "same-line"),
        ({"against": "ankle-shoulder"}, "same-line"),
    ],
)
def test_what_leaves_nothing_to_measure_is_refused(more: dict[str, str], code: str) -> None:
    asked = request(camera(20.0), Pose().joints(), np.random.default_rng(1), line="shoulder-ankle") | more
    with pytest.raises(MeasuringError) as refused:
        measure(Clicks.from_json(asked))
    assert [one.code for one in refused.value.problems] == [code]
