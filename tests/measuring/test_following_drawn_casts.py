"""A drawn rod followed where the answer is known exactly, and lost where nobody could say."""

from math import cos, radians, sin

import numpy as np
import pytest

from reviewer.measuring import follow, measure, track_json
from reviewer.measuring.following import Track
from tests.measuring.drawn_casts import SIZE, Array, DrawnCast

TOP_S, TOP_DEG, BEND = 0.4, -20.0, 260.0
"""A cast whose angle is a parabola of time: its top, and degrees a second squared."""


def parabola(pts: tuple[int, ...]) -> DrawnCast:
    return DrawnCast(lambda frame: TOP_DEG - BEND * (pts[frame] / 1000 - TOP_S) ** 2, pts)


EVEN = parabola(tuple(range(0, 1000, 33)))


def followed(cast: DrawnCast, *frames: int, span_ms: int = 250) -> Track:
    return follow([cast.clicks(frame) for frame in frames], cast.facts, cast.picture, span_ms)


def errors(track: Track, cast: DrawnCast) -> dict[int, float]:
    good = ((one.frame, one.angle) for one in track.frames)
    return {frame: angle.degrees - cast.angle(frame) for frame, angle in good if angle is not None}


def test_every_frame_within_a_quarter_second_is_offered_and_right() -> None:
    found = errors(followed(EVEN, 12), EVEN)
    assert list(found) == list(range(5, 20))
    assert max(map(abs, found.values())) < 0.3


def test_on_the_clicked_frame_the_angle_is_the_protractors() -> None:
    track = followed(EVEN, 12, span_ms=0)
    reading = measure(EVEN.clicks(12))
    (only,) = track.frames
    assert only.angle is not None
    assert only.angle.degrees == pytest.approx(reading.value.thousandths / 1000, abs=0.0006)
    assert only.angle.uncertainty == pytest.approx(reading.uncertainty.thousandths / 1000, abs=0.0006)
    assert track.top is None


@pytest.mark.parametrize("clicked", [9, 12, 15])
def test_the_top_lies_between_frames_where_the_parabola_has_it(clicked: int) -> None:
    top = followed(EVEN, clicked).top
    assert top is not None
    assert float(top.seconds) == pytest.approx(TOP_S, abs=min(0.006, top.half))
    assert top.degrees == pytest.approx(TOP_DEG, abs=0.15)


def test_frames_that_come_unevenly_give_the_same_top() -> None:
    """As phones film in low light: times are those of the frames, not of a rate."""
    steps = [33, 17, 50, 33, 33, 17, 33, 50] * 4
    uneven = parabola(tuple(int(at) for at in np.cumsum(steps)))
    nearest = min(range(len(uneven.pts)), key=lambda frame: abs(uneven.pts[frame] - 400))
    top = followed(uneven, nearest - 1).top
    assert top is not None
    assert float(top.seconds) == pytest.approx(TOP_S, abs=min(0.01, top.half))


def test_the_farther_from_the_click_the_less_certain() -> None:
    angles = {one.frame: one.angle for one in followed(EVEN, 12).frames}
    here, away = angles[12], angles[18]
    assert here is not None
    assert away is not None
    assert away.of_clicks > here.of_clicks


def test_the_same_pictures_give_the_same_track() -> None:
    assert track_json(followed(EVEN, 10)) == track_json(followed(EVEN, 10))


def test_behind_a_board_the_line_is_lost_and_stays_lost() -> None:
    """The 100 ms before it are taken back too: a joint may be on its way to the board already."""
    cast = DrawnCast(EVEN.angle, EVEN.pts, hidden=frozenset({15, 16}))
    track = followed(cast, 10)
    assert track.lost == [(12, 17, "appearance")]
    assert all(not one.spots for one in track.frames if one.why)


def test_clicks_on_both_sides_of_a_board_leave_only_what_is_near_it() -> None:
    cast = DrawnCast(EVEN.angle, EVEN.pts, hidden=frozenset({15, 16}))
    track = followed(cast, 9, 22)
    assert track.lost == [(12, 19, "appearance")]
    assert max(map(abs, errors(track, cast).values())) < 0.5


def test_clicks_on_two_frames_that_contradict_each_other_are_told() -> None:
    """The second click lies 25 px from the ankle: no following explains that."""
    ankle = EVEN.ends(14)[1] + np.array([12.0, -22.0])
    body = {"shoulder": [["400", "200"]], "ankle": [[f"{size:.3f}" for size in ankle]]}
    wrong = EVEN.clicks(14, body=body)
    track = follow([EVEN.clicks(11), wrong], EVEN.facts, EVEN.picture, 100)
    assert [one.why for one in track.frames if one.frame in (12, 13)] == ["clicks disagree"] * 2


def test_damaged_frames_are_not_offered_nor_what_lies_behind_them() -> None:
    cast = DrawnCast(EVEN.angle, EVEN.pts, damaged=frozenset({9}))
    assert followed(cast, 12).lost == [(5, 9, "damaged")]


def test_clicks_on_a_damaged_frame_offer_nothing() -> None:
    cast = DrawnCast(EVEN.angle, EVEN.pts, damaged=frozenset({12}))
    track = followed(cast, 12)
    assert track.lost == [(5, 19, "damaged")]
    assert track.top is None


def test_a_recording_of_one_frame_is_that_frame() -> None:
    track = followed(DrawnCast(lambda _: -30.0, (0,)), 0)
    assert [one.frame for one in track.frames] == [0]
    assert track.top is None


def test_a_line_that_still_rises_at_the_end_has_no_top() -> None:
    cast = DrawnCast(lambda frame: -60.0 + 2.0 * frame, tuple(range(0, 500, 33)))
    track = followed(cast, 8)
    assert track.top is None
    assert "end of what could be followed" in track.why_no_top


def test_a_line_out_of_the_picture_is_lost_there() -> None:
    def slid(frame: int) -> Array:
        return np.array([[1.0, 0.0, -205.0 - 6.0 * (frame - 12)], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]])

    cast = DrawnCast(lambda _: -10.0, EVEN.pts, moved=slid)
    assert followed(cast, 12).lost[-1][2] == "left the picture"


def test_a_camera_that_turns_with_the_cast_leaves_the_angle() -> None:
    """The picture's turn about its middle is that of a camera rolled by hand; the angles stay those of the
    clicked frame's camera."""

    def rolled(frame: int) -> Array:
        turn, (x, y) = radians(0.8 * (frame - 12)), ((SIZE[0] - 1) / 2, (SIZE[1] - 1) / 2)
        about = np.array([[cos(turn), -sin(turn), 0.0], [sin(turn), cos(turn), 0.0], [0.0, 0.0, 1.0]])
        aside, back = np.eye(3), np.eye(3)
        aside[:2, 2], back[:2, 2] = (x, y), (-x, -y)
        return np.asarray(aside @ about @ back)

    cast = DrawnCast(EVEN.angle, EVEN.pts, moved=rolled)
    found = errors(followed(cast, 12, span_ms=170), cast)
    assert len(found) >= 9
    assert max(map(abs, found.values())) < 0.5


def test_a_picture_three_times_as_large_gives_the_same_angles() -> None:
    cast = DrawnCast(EVEN.angle, EVEN.pts, larger=3)
    found = errors(followed(cast, 12, span_ms=140), cast)
    assert len(found) >= 9
    assert max(map(abs, found.values())) < 0.3
