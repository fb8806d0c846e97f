"""A body whose joints bend, filmed by cameras that are known: the truth behind lines, bends and lengths.

As `cameras`, it knows nothing of the protractor; what it shows is computed by OpenCV's own projection.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import cos, radians, sin
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tests.measuring.cameras import Bars, Camera

Array = NDArray[np.float64]

WIDTHS = {"hand": 0.114, "elbow": 0.107, "shoulder": 0.097, "hip": 0.050, "knee": 0.042, "ankle": 0.034}
"""Half the body's width at a joint, as a part of the stature (from memory)."""
SEGMENTS = (("elbow", 0.19), ("shoulder", 0.18), ("hip", 0.29), ("knee", 0.245), ("ankle", 0.245))
"""From the hands down the body: the joint a segment ends at, and its length as a part of the stature."""


@dataclass(frozen=True, slots=True)
class Pose:
    """Degrees of elevation of each segment, from the hands on: arms up to the shoulders, then down the body.

    The body is cast to the left of the picture.
    """

    forearm: float = 100.0
    upper_arm: float = 100.0
    trunk: float = -30.0
    thigh: float = -30.0
    shank: float = -30.0
    stature: float = 1400.0
    far_thigh: float = -30.0

    def joints(self, side: float = -1.0) -> dict[str, Array]:
        """Where the joints of one side lie, mm; -1 is the near side. The rail is the low one."""
        turned = (self.forearm, self.upper_arm, self.trunk, self.thigh, self.shank)
        place = np.array([0.0, 0.0, 1680.0])
        found = {"hand": place}
        for (name, part), elevation in zip(SEGMENTS, turned, strict=True):
            along = radians(elevation)
            place = place + part * self.stature * np.array([-cos(along), 0.0, sin(along)])
            found[name] = place
        return {
            name: spot + np.array([0.0, side * WIDTHS[name] * self.stature, 0.0])
            for name, spot in found.items()
        }

    def far_ankle(self) -> Array:
        """The ankle of the other leg, straight from the hip."""
        along = radians(self.far_thigh)
        hip = self.joints(1.0)["hip"]
        way = 0.49 * self.stature * np.array([-cos(along), 0.0, sin(along)])
        return np.asarray(hip + way + np.array([0.0, (WIDTHS["ankle"] - WIDTHS["hip"]) * self.stature, 0.0]))


def camera(yaw: float, roll: float = 3.0, away: float = 7000.0) -> Camera:
    """A camera turned and rolled so many degrees."""
    target = np.array([200.0, 0.0, 1400.0])
    eye = target + away * np.array([-sin(radians(yaw)), -cos(radians(yaw)), 0.0])
    eye[2] = 1900.0
    return Camera(eye, target, roll, 175.0 * away / (0.78 * 1400.0))


def request(
    seen_by: Camera,
    places: Mapping[str, Array],
    chance: np.random.Generator,
    sd: float = 0.0,
    *,
    names: Iterable[str] | None = None,
    **more: Any,
) -> dict[str, Any]:
    """Clicks on all points of the bars and on these places (names or all), each off by ``sd`` px."""
    chosen = sorted(places if names is None else names)
    bars = Bars().places()

    def click(place: Array) -> list[str]:
        x, y = seen_by.sees(place[None])[0] + chance.normal(0, 1, 2) * sd
        return [f"{x:.3f}", f"{y:.3f}"]

    return {
        "format": "reviewer.clicks/1",
        "picture": list(seen_by.size),
        "frame": 0,
        "side": "near",
        "cast_to": "left",
        "click_sd_px": f"{max(sd, 0.3):.3f}",
        "athlete_height_mm": 1400,
        "apparatus": {"spread_mm": 1430, "spread": "centre-level", "working_rail": "low"},
        "body": {name: [click(places[name])] for name in chosen},
        "points": {name: click(place) for name, place in bars.items()},
    } | more
