"""Angles of many frames at once, what smears and a turning camera do to them, which lines are followed."""

from dataclasses import replace
from math import cos, radians, sin, sqrt

import cv2
import numpy as np
import pytest

from reviewer.measuring import MeasuringError, follow, measure, track_json
from reviewer.measuring.following.angles import angles
from reviewer.measuring.following.blurring import EXPOSURE, smear_sd
from reviewer.measuring.following.rays import Rays, rotation_by
from reviewer.measuring.following.sight import Sight
from reviewer.terms.pictures import Picture
from reviewer.terms.readings import Clicks
from reviewer.terms.times import FrameTime
from tests.measuring.cameras import Filmed, clicked, filmed
from tests.measuring.drawn_casts import SECOND, SIZE, Array, DrawnCast

RISING = np.concatenate([np.linspace(-75, -20, 12), np.linspace(-19, -15, 6), np.linspace(-18, -60, 8)])
SDS = {"shoulder": 1.5, "ankle": 1.5}


def cast_of(elevations: Array, yaw: float) -> list[Filmed]:
    """One cast before one camera, frame by frame."""
    scene = filmed(np.random.default_rng(3), yaw=yaw)
    return [replace(scene, athlete=replace(scene.athlete, elevation=float(one))) for one in elevations]


@pytest.mark.parametrize("yaw", [-35.0, 0.0, 35.0])
def test_all_frames_at_once_are_the_protractors_frames_one_by_one(yaw: float) -> None:
    """Truth: joints projected by OpenCV. Beside it, the protractor's own angle with its whole budget."""
    scenes = cast_of(RISING, yaw)
    sight = Sight(Clicks.from_json(clicked(scenes[0], np.random.default_rng(1), 0.0, stated_sd=1.5)))
    located = [({name: one.joints()[name] for name in SDS}, SDS) for one in scenes]
    for found, (spots, sds), scene in zip(angles(sight, located), located, scenes, strict=True):
        alone = sight.angle(spots, sds)
        assert found.degrees == pytest.approx(scene.angle(), abs=0.1)
        assert found.degrees == pytest.approx(alone.degrees, abs=1e-6)
        assert found.of_clicks == pytest.approx(alone.of_clicks, rel=1e-4)
        assert found.uncertainty == pytest.approx(alone.uncertainty, rel=0.03)


def test_no_frames_give_no_angles() -> None:
    (scene,) = cast_of(RISING[:1], 0.0)
    assert angles(Sight(Clicks.from_json(clicked(scene, np.random.default_rng(1), 0.0))), []) == []


def test_a_smear_is_a_rectangle_as_long_as_the_limb_moves_while_the_shutter_is_open() -> None:
    """JCGM 100:2008, 4.3.7: of a rectangle as wide as 2a the standard deviation is a / sqrt(3). At 480 px a
    second and 30 frames a second, half of each open: 8 px."""
    assert EXPOSURE == 0.5
    before, here, after = (np.array([100.0 + 16 * n, 50.0]) for n in range(3))
    expected = pytest.approx(4 / sqrt(3))
    assert smear_sd((1 / 30, here), [(0.0, before), (2 / 30, after)]) == expected
    assert smear_sd((1 / 30, here), [(0.0, before)]) == expected
    assert smear_sd((1 / 30, here), [(2 / 30, after)]) == expected
    assert smear_sd((1 / 30, here), []) == 0.0


def test_where_a_joint_turns_back_it_does_not_smear() -> None:
    beside = [(0.0, np.array([90.0, 50.0])), (2 / 30, np.array([90.0, 50.0]))]
    assert smear_sd((1 / 30, np.array([100.0, 50.0])), beside) == 0.0


def test_a_fast_line_is_less_certain_than_one_at_its_top() -> None:
    """A parabola of 260 degrees a second squared with its top on frame 12, frames 33 ms apart: at frame 17
    the ankle, 170 px away, moves at 254 px a second, which smears by 4.2 px or 1.2 px of uncertainty."""
    cast = DrawnCast(lambda frame: -20.0 - 260.0 * (0.033 * (frame - 12)) ** 2)
    track = follow([cast.clicks(12)], cast.facts, cast.picture, 200)
    top, fast = (next(one.angle for one in track.frames if one.frame == frame) for frame in (12, 17))
    assert top is not None
    assert fast is not None
    assert top.of_clicks == pytest.approx(np.degrees(sqrt(2) / 170), rel=0.05)
    smear = np.degrees(2 * 260 * radians(0.033 * 5) * 170 * 0.033 / 2 / sqrt(12) / 170)
    assert fast.of_clicks**2 - top.of_clicks**2 == pytest.approx(smear**2, rel=0.5)


def rolled(degrees_a_frame: float) -> DrawnCast:
    """A camera rolled by hand about its own axis while it films, from frame 12 on."""

    def moved(frame: int) -> Array:
        turn, (x, y) = radians(degrees_a_frame * (frame - 12)), ((SIZE[0] - 1) / 2, (SIZE[1] - 1) / 2)
        about = np.array([[cos(turn), -sin(turn), 0.0], [sin(turn), cos(turn), 0.0], [0.0, 0.0, 1.0]])
        aside, back = np.eye(3), np.eye(3)
        aside[:2, 2], back[:2, 2] = (x, y), (-x, -y)
        return np.asarray(aside @ about @ back)

    return DrawnCast(lambda frame: -20.0 - 0.3 * (frame - 12) ** 2, moved=moved)


def test_turns_are_opencvs_and_spots_move_as_they_say() -> None:
    """Reference: cv2.Rodrigues, and the projection of rays turned by a ten-thousandth of a radian."""
    lens, spots = Rays(1400.0, np.array([639.5, 359.5])), np.array([[100.0, 650.0], [639.5, 359.5]])
    turns = np.array(
        [[0.3, -0.2, 0.5], [0.0, 0.0, 0.0], [1e-4, 0.0, 0.0], [0.0, 1e-4, 0.0], [0.0, 0.0, 1e-4]]
    )
    for turn in turns:
        assert rotation_by(turn) == pytest.approx(cv2.Rodrigues(turn)[0], abs=1e-12)
    moves = lens.moves(spots)
    for axis, turn in enumerate(turns[2:]):
        moved = lens.seen(lens.sent(spots) @ cv2.Rodrigues(turn)[0].T) - spots
        assert moves[..., axis] == pytest.approx(moved / 1e-4, abs=1.0)


def test_how_far_the_camera_was_turned_is_told() -> None:
    """0.8 degrees a frame for five frames to each side."""
    cast = rolled(0.8)
    track = follow([cast.clicks(12)], cast.facts, cast.picture, 170)
    assert track.turned == pytest.approx(4.0, abs=0.05)
    assert track_json(track)["camera"]["said"] == f"turned up to {track.turned:.3f} degrees"


def test_a_camera_that_stands_is_told_to_stand() -> None:
    cast = rolled(0.0)
    told = track_json(follow([cast.clicks(12)], cast.facts, cast.picture, 170))["camera"]
    assert told == {"said": "still", "turned_deg": "0.000", "lost": []}


def test_a_camera_torn_away_is_lost_on_named_frames() -> None:
    """From frame 15 on the rod goes on in front of another wall: nothing tells where the camera is."""
    cast = rolled(0.0)
    chance = np.random.default_rng(8)
    other = np.repeat(np.repeat(chance.integers(60, 230, (SIZE[1] // 8, SIZE[0] // 8)), 8, 0), 8, 1)

    def picture(frame: int) -> Picture | None:
        shown = cast.picture(frame)
        if shown is None or frame < 15:
            return shown
        seen = np.frombuffer(shown.bgra, np.uint8).reshape(SIZE[1], SIZE[0], 4).copy()
        y, x = np.mgrid[0 : SIZE[1], 0 : SIZE[0]]
        first, second = cast.ends(frame)
        along = (second - first) / np.hypot(*(second - first))
        off = np.abs((x - first[0]) * along[1] - (y - first[1]) * along[0])
        seen[off > 40] = other[off > 40][:, None]
        return Picture(SIZE, seen.tobytes(), frame, FrameTime(cast.pts[frame], SECOND), "bt709", False)

    track = follow([cast.clicks(12)], cast.facts, picture, 170)
    assert track.lost == [(15, 17, "camera")]
    told = track_json(track)["camera"]
    assert told["lost"] == [[15, 17]]
    assert told["said"] == "still; lost on frames 15 to 17"


def test_before_an_empty_wall_nothing_is_said_of_the_camera() -> None:
    def picture(frame: int) -> Picture | None:
        blank = np.full((SIZE[1], SIZE[0], 4), 128, np.uint8)
        return Picture(SIZE, blank.tobytes(), frame, FrameTime(33 * frame, SECOND), "bt709", False)

    cast = rolled(0.0)
    track = follow([cast.clicks(12)], cast.facts, picture, 40)
    assert track.turned is None
    assert track_json(track)["camera"]["turned_deg"] is None
    assert "too little of the hall" in track_json(track)["camera"]["said"]


def lowest(cast: DrawnCast, frame: int, hip_below: float) -> Clicks:
    """A line to the lowest part: the ankle, or a hip that hangs ``hip_below`` px under the line."""
    first, second = cast.ends(frame)
    hip = (first + second) / 2 + np.array([0.0, hip_below])
    spots = {"shoulder": first, "hip": hip, "ankle": second}
    body = {name: [[f"{size:.3f}" for size in spot]] for name, spot in spots.items()}
    return cast.clicks(frame, line="shoulder-lowest", body=body)


def test_a_line_to_the_lowest_part_goes_through_the_part_that_was_lowest_when_clicked() -> None:
    cast = rolled(0.0)
    track = follow([lowest(cast, 12, -10.0)], cast.facts, cast.picture, 40)
    assert (track.through, track_json(track)["through"]) == ("shoulder-ankle", "shoulder-ankle")
    (here,) = (one.angle for one in track.frames if one.frame == 12)
    assert here is not None
    reading = measure(lowest(cast, 12, -10.0))
    assert here.degrees == pytest.approx(reading.value.thousandths / 1000, abs=0.001)


def test_clicked_frames_with_other_lowest_parts_are_refused() -> None:
    cast = rolled(0.0)
    both = [lowest(cast, 11, -10.0), lowest(cast, 13, 25.0)]
    with pytest.raises(MeasuringError) as refused:
        follow(both, cast.facts, cast.picture, 40)
    (problem,) = refused.value.problems
    assert problem.code == "lines-differ"
    assert "shoulder-ankle on frame 11, shoulder-hip on frame 13" in str(problem.message)
