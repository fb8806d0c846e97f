"""Lines through the lowest part, angles against other lines, bends of joints, and lengths in millimetres."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from reviewer.measuring import MeasuringError, length, measure
from reviewer.terms.exact import Degrees
from reviewer.terms.readings import Clicks, Lens
from tests.measuring.poses import Pose, camera, request

CHANCE = np.random.default_rng(20261126)
OBLIQUE = camera(30.0)


def reading_of(pose: Pose, line: str, yaw: float = 30.0, **more: Any) -> Any:
    """What is measured on clicks without error, from the side and behind."""
    asked = request(camera(yaw), pose.joints(), CHANCE, line=line, **more)
    return measure(Clicks.from_json(asked))


def degrees(reading: Any) -> float:
    return float(str(reading.value))


class TestTheLowestPart:
    """A national code of 2013-17 quoted on a secondary page: with a shoulder angle from the shoulders,
    without one from the hands, through the lowest body part.
    """

    def test_open_shoulders_take_the_line_from_the_hands(self) -> None:
        found = reading_of(Pose(forearm=20, upper_arm=20, trunk=20, thigh=20, shank=20), "lowest")
        assert found.through.startswith("hand-")
        assert degrees(found) == pytest.approx(20, abs=0.3)

    def test_a_shoulder_angle_takes_the_line_from_the_shoulders(self) -> None:
        found = reading_of(Pose(trunk=-30, thigh=-30, shank=-30), "lowest")
        assert found.through.startswith("shoulder-")
        assert degrees(found) == pytest.approx(-30, abs=0.3)

    @pytest.mark.parametrize(
        ("pose", "part"),
        [
            (Pose(trunk=-40, thigh=0, shank=0), "hip"),
            (Pose(trunk=0, thigh=-50, shank=20), "knee"),
            (Pose(trunk=0, thigh=0, shank=-40), "ankle"),
        ],
        ids=["hips sag", "knees sag", "feet hang"],
    )
    def test_the_line_goes_through_the_part_that_gives_the_lowest_elevation(
        self, pose: Pose, part: str
    ) -> None:
        places = pose.joints()
        rises = {
            name: np.degrees(np.arctan2(way[2], -way[0]))
            for name in ("hip", "knee", "ankle")
            for way in [places[name] - places["shoulder"]]
        }
        found = reading_of(pose, "lowest")
        assert found.through == f"shoulder-{part}"
        assert degrees(found) == pytest.approx(min(rises.values()), abs=0.3)

    def test_which_line_is_measured_changes_a_low_cast_by_many_degrees(self) -> None:
        low = Pose(trunk=-50, thigh=-50, shank=-50)
        from_hands, from_shoulders = (
            degrees(reading_of(low, f"{base}-lowest")) for base in ("hand", "shoulder")
        )
        assert from_hands - from_shoulders > 15

    def test_a_shoulder_angle_at_the_limit_is_said_to_be_doubtful(self) -> None:
        edge = Pose(forearm=-10, upper_arm=-10, trunk=-20, thigh=-20, shank=-20)
        said = reading_of(edge, "lowest", click_sd_px="2").calibration.check
        assert "shoulder angle" in said
        assert "reads" in said

    def test_the_book_says_up_to_which_angle_shoulders_are_open(self) -> None:
        slight = Pose(forearm=5, upper_arm=5, trunk=-20, thigh=-20, shank=-20)
        assert reading_of(slight, "lowest").through.startswith("shoulder-")
        assert reading_of(slight, "lowest", shoulder_open_deg="40").through.startswith("hand-")


class TestReferences:
    def test_against_the_vertical_it_is_how_far_short_of_upright(self) -> None:
        pose = Pose(trunk=75, thigh=75, shank=75)
        assert degrees(reading_of(pose, "shoulder-ankle", against="vertical")) == pytest.approx(15, abs=0.3)

    def test_against_another_line_it_is_the_angle_between_the_two(self) -> None:
        pose = Pose(forearm=100, upper_arm=100, trunk=-20, thigh=-20, shank=-20)
        found = reading_of(pose, "shoulder-hip", against="hand-shoulder")
        assert degrees(found) == pytest.approx(120, abs=0.3)

    @pytest.mark.parametrize("line", ["elbow-bend", "step"])
    def test_a_bend_or_a_length_is_held_against_nothing(self, line: str) -> None:
        asked = request(OBLIQUE, Pose().joints(), CHANCE, line=line, against="vertical")
        with pytest.raises(MeasuringError, match="cannot be held against"):
            measure(Clicks.from_json(asked))


class TestBends:
    @pytest.mark.parametrize("yaw", [-35.0, 0.0, 35.0])
    @pytest.mark.parametrize(
        ("line", "pose", "bend"),
        [
            ("elbow-bend", Pose(forearm=110, upper_arm=75), 35.0),
            ("shoulder-bend", Pose(upper_arm=100, trunk=-30), 130.0),
            ("hip-bend", Pose(trunk=-10, thigh=-55, shank=-55), 45.0),
            ("knee-bend", Pose(thigh=-30, shank=-75), 45.0),
        ],
    )
    def test_a_bend_is_that_of_the_plane_from_any_seat(
        self, line: str, pose: Pose, bend: float, yaw: float
    ) -> None:
        assert degrees(reading_of(pose, line, yaw)) == pytest.approx(bend, abs=0.4)

    def test_a_straight_joint_is_0_and_its_interval_begins_there(self) -> None:
        found = reading_of(Pose(), "knee-bend", click_sd_px="2")
        assert degrees(found) == pytest.approx(0, abs=0.3)
        assert found.interval[0] == Degrees(0)
        assert float(str(found.interval[1])) > 1.0

    def test_legs_apart_take_the_other_ankle_at_its_own_depth(self) -> None:
        pose = Pose(trunk=-20, thigh=-20, shank=-20, far_thigh=-45)
        asked = request(
            OBLIQUE, pose.joints() | {"ankle-far": pose.far_ankle()}, CHANCE, line="leg-separation"
        )
        assert degrees(measure(Clicks.from_json(asked))) == pytest.approx(25, abs=0.8)


class TestLegsApart:
    """Legs straddled to both sides of the plane, as casts may be until they are joined."""

    APART = 110.0
    """mm by which each ankle lies beside where it would lie with legs together."""

    def clicked(self, yaw: float, *, both: bool) -> Any:
        pose = Pose(trunk=-30, thigh=-30, shank=-30)
        near, far = pose.joints(-1.0), pose.joints(1.0)
        aside = np.array([0.0, self.APART, 0.0])
        places = near | {"ankle": near["ankle"] - aside}
        places |= {"ankle-far": far["ankle"] + aside} if both else {}
        return measure(Clicks.from_json(request(camera(yaw), places, CHANCE, line="shoulder-ankle")))

    @pytest.mark.parametrize("yaw", [-35.0, 35.0])
    def test_the_middle_of_both_ankles_is_where_one_ankle_is_not(self, yaw: float) -> None:
        one, middle = self.clicked(yaw, both=False), self.clicked(yaw, both=True)
        assert abs(degrees(one) + 30) > 1.5
        assert degrees(middle) == pytest.approx(-30, abs=0.4)

    def test_how_unevenly_they_may_lie_is_in_the_budget(self) -> None:
        budget = dict(self.clicked(30.0, both=True).budget)
        assert float(str(budget["both sides, not quite even"])) > 0.2


class TestLengths:
    @pytest.mark.parametrize(
        ("line", "true"),
        [
            ("hip-over-rail", lambda at: at["hip"][2] - 1700.0),
            ("hip-over-knee", lambda at: at["hip"][2] - at["knee"][2]),
            ("ankle-over-rail", lambda at: at["ankle"][2] - 1700.0),
        ],
    )
    def test_heights_are_of_the_plane_of_motion(self, line: str, true: Callable[[Any], float]) -> None:
        pose = Pose(trunk=10, thigh=15, shank=20)
        asked = request(OBLIQUE, pose.joints(), CHANCE, line=line) | {"cast_to": None}
        found = length(Clicks.from_json(asked))
        assert float(str(found.value)) == pytest.approx(true(pose.joints()), abs=6)

    def test_a_step_is_measured_on_the_mat_in_any_direction(self) -> None:
        feet = {"foot": np.array([-900.0, 100.0, 200.0]), "foot-after": np.array([-600.0, 350.0, 200.0])}
        found = length(Clicks.from_json(request(OBLIQUE, feet, CHANCE, line="step")))
        assert float(str(found.value)) == pytest.approx(np.hypot(300, 250), abs=4)

    @pytest.mark.parametrize(("rail", "true"), [("low", 500.0), ("high", 930.0)])
    def test_a_foot_is_so_far_from_below_the_rail(self, rail: str, true: float) -> None:
        feet = {"foot": np.array([500.0, 100.0, 200.0])}
        asked = request(OBLIQUE, feet, CHANCE, line="foot-from-rail")
        asked["apparatus"] |= {"working_rail": rail}
        assert float(str(length(Clicks.from_json(asked)).value)) == pytest.approx(true, abs=5)

    def test_without_a_camera_there_is_no_length(self) -> None:
        asked = request(OBLIQUE, Pose().joints(), CHANCE, line="hip-over-rail", points={})
        with pytest.raises(MeasuringError, match="no length"):
            length(Clicks.from_json(asked))


@pytest.mark.parametrize(
    ("line", "true"),
    [
        ("elbow-bend", lambda pose: pose.forearm - pose.upper_arm),
        ("lowest", lambda pose: pose.trunk),
        ("hip-over-rail", lambda pose: pose.joints()["hip"][2] - 1700.0),
    ],
)
def test_the_stated_interval_covers_about_95_in_100(line: str, true: Callable[[Pose], float]) -> None:
    """Clicks of 1.5 px, cameras turned up to 35 degrees; of 150 between 134 and 149."""
    chance, inside = np.random.default_rng(7), 0
    for _ in range(150):
        pose = Pose(forearm=110, upper_arm=80, trunk=-25, thigh=-20, shank=-15)
        seen_by = camera(chance.uniform(-35, 35), chance.uniform(-5, 5), chance.uniform(5500, 9000))
        asked = Clicks.from_json(request(seen_by, pose.joints(), chance, 1.5, line=line))
        found = length(asked) if line == "hip-over-rail" else measure(asked)
        low, high = (float(str(end)) for end in found.interval)
        inside += low <= true(pose) <= high
    assert 134 <= inside <= 149


class TestWhatIsKnownBeforehand:
    def test_a_stored_lens_narrows_a_calibration_of_few_points(self) -> None:
        pose = Pose(trunk=-30, thigh=-30, shank=-30)
        asked = request(OBLIQUE, pose.joints(), CHANCE, 1.0, line="shoulder-ankle")
        first = measure(Clicks.from_json(asked))
        few = {name: asked["points"][name] for name in sorted(asked["points"])[:4]}
        without = measure(Clicks.from_json(asked | {"points": few}))
        lens = {"focal_px": f"{OBLIQUE.focal:.3f}", "u_focal_px": "5", "k1": "0.000", "u_k1": "0.002"}
        stored = measure(Clicks.from_json(asked | {"points": few, "lens": lens}))
        assert stored.uncertainty < without.uncertainty
        focal, doubt = first.calibration.lens.focal or (None, None)
        assert focal is not None
        assert doubt is not None
        assert abs(float(str(focal)) - OBLIQUE.focal) < 3 * float(str(doubt))

    def test_a_lens_travels_from_a_reading_into_clicks(self) -> None:
        lens = measure(Clicks.from_json(request(OBLIQUE, Pose().joints(), CHANCE, line="shoulder-ankle")))
        assert Lens.from_json(lens.calibration.lens.to_json()) == lens.calibration.lens

    def test_a_smear_adds_what_it_hides(self) -> None:
        """A rectangle as wide as the smear: its length over the square root of 12 (JCGM 100, 4.3.7)."""
        asked = request(OBLIQUE, Pose().joints(), CHANCE, line="shoulder-ankle")
        clear, smeared = (measure(Clicks.from_json(asked | more)) for more in ({}, {"blur_px": "12"}))
        assert smeared.value == clear.value
        share = dict(smeared.budget)["motion blur"]
        expected = np.degrees(np.sqrt(2) * 12 / np.sqrt(12) / 175)
        assert float(str(share)) == pytest.approx(expected, rel=0.35)
        assert smeared.uncertainty > clear.uncertainty
