"""Casts filmed by cameras that are known: the truth a protractor is held against.

Nothing here knows how the protractor works. What a camera sees is computed by OpenCV's own projection, and
what is handed over is a ``reviewer.clicks/1`` document, as a judge would make one. World coordinates in mm: x
across the bars, y along the rails away from the camera, z up from the floor, the low rail at x = 0.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, radians, sin
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

SIZE = (1280, 720)
LINE_PX = 175.0
"""How long a body line square on to the camera is in the picture."""
HALF_WIDTHS = {"hand": 0.114, "shoulder": 0.097, "hip": 0.050, "ankle": 0.034}
"""Half the body's width at a joint, as a part of the stature (from memory)."""
ALONG_BODY = {"shoulder": 0.0, "hip": 0.30, "ankle": 0.78}
"""From the shoulders down a straight body, as a part of the stature (from memory)."""
NAMES = tuple(
    f"{rail}-{what}-{side}"
    for rail in ("low", "high")
    for what in ("rail", "foot")
    for side in ("near", "far")
)


@dataclass(frozen=True, slots=True)
class Bars:
    """The bars as they really stand, in mm; heights are to the upper edge of the rail.

    ``spread`` is level between the rails' centres; ``across`` is 1 where the high rail stands to the right.
    """

    high: float = 2500.0
    low: float = 1700.0
    spread: float = 1430.0
    mat: float = 200.0
    length: float = 2400.0
    across: float = 1.0

    def places(self) -> dict[str, Array]:
        """Where each point lies: the ends of the rails' axes, 20 mm below their tops, and the feet."""
        return {name: self._place(*name.split("-")) for name in NAMES}

    def _place(self, rail: str, what: str, side: str) -> Array:
        x = self.across * self.spread if rail == "high" else 0.0
        y = (-1 if side == "near" else 1) * self.length / 2
        top = self.high if rail == "high" else self.low
        return np.array([x, y, top - 20.0 if what == "rail" else self.mat])


@dataclass(frozen=True, slots=True)
class Camera:
    """A camera by where it stands, what it looks at, and its roll in degrees; focal length in px."""

    eye: Array
    target: Array
    roll: float
    focal: float
    radial: float = 0.0
    size: tuple[int, int] = SIZE

    def turn(self) -> Array:
        """World to camera (3, 3): x right, y down, z forward."""
        ahead = (self.target - self.eye) / np.linalg.norm(self.target - self.eye)
        right = np.cross(ahead, [0.0, 0.0, 1.0])
        right /= np.linalg.norm(right)
        level = np.array([right, np.cross(ahead, right), ahead])
        cosine, sine = cos(radians(self.roll)), sin(radians(self.roll))
        return np.array([[cosine, -sine, 0.0], [sine, cosine, 0.0], [0.0, 0.0, 1.0]]) @ level

    def matrix(self) -> Array:
        """The matrix of the lens (3, 3); (0, 0) is the centre of the top-left pixel."""
        x, y = ((side - 1) / 2 for side in self.size)
        return np.array([[self.focal, 0.0, x], [0.0, self.focal, y], [0.0, 0.0, 1.0]])

    def sees(self, places: Array) -> Array:
        """Picture points (n, 2) of world places (n, 3)."""
        turn, lens = self.turn(), np.array([self.radial, 0.0, 0.0, 0.0])
        seen, _ = cv2.projectPoints(places, cv2.Rodrigues(turn)[0], -turn @ self.eye, self.matrix(), lens)
        return np.asarray(seen, dtype=np.float64).reshape(-1, 2)


@dataclass(frozen=True, slots=True)
class Athlete:
    """A straight body in a cast: elevation in degrees on the side ``to`` (1 right, -1 left), stature in mm.

    ``width`` times the usual width of the body; ``along`` mm beyond the middle of the rail.
    """

    elevation: float
    to: float = -1.0
    stature: float = 1400.0
    width: float = 1.0
    along: float = 0.0

    def joints(self, low: float, side: float = -1.0) -> dict[str, Array]:
        """Where the joints of one side lie (-1 the near side), the hands on the rail."""
        level, up = self.to * cos(radians(self.elevation)), sin(radians(self.elevation))
        shoulder = np.array([-self.to * 150.0, 0.0, low + 270.0])
        places = {
            name: shoulder + part * self.stature * np.array([level, 0.0, up])
            for name, part in ALONG_BODY.items()
        }
        places["hand"] = np.array([0.0, 0.0, low - 20.0])
        beside = {name: side * part * self.stature * self.width for name, part in HALF_WIDTHS.items()}
        return {
            name: place + np.array([0.0, self.along + beside[name], 0.0]) for name, place in places.items()
        }


@dataclass(frozen=True, slots=True)
class Filmed:
    """What the camera really saw, before anybody clicked; and the angle that is true."""

    camera: Camera
    bars: Bars
    athlete: Athlete

    def points(self) -> dict[str, Array]:
        """The apparatus points that lie in the picture."""
        places = self.bars.places()
        seen = dict(zip(places, self.camera.sees(np.array(list(places.values()))), strict=True))
        return {name: spot for name, spot in seen.items() if self._inside(spot)}

    def joints(self, side: float = -1.0) -> dict[str, Array]:
        """The joints of one side in the picture."""
        places = self.athlete.joints(self.bars.low, side)
        return dict(zip(places, self.camera.sees(np.array(list(places.values()))), strict=True))

    def angle(self, line: str = "shoulder-ankle") -> float:
        """Degrees of elevation of a body line, in the plane at right angles to the rails."""
        first, second = (self.athlete.joints(self.bars.low)[name] for name in line.split("-"))
        across, _, up = second - first
        return degrees(atan2(up, self.athlete.to * across))

    def length(self, line: str = "shoulder-ankle") -> float:
        """Pixels of a body line."""
        first, second = (self.joints()[name] for name in line.split("-"))
        return hypot(*(second - first))

    def _inside(self, spot: Array) -> bool:
        return all(0 <= at <= side - 1 for at, side in zip(spot, self.camera.size, strict=True))


@dataclass(frozen=True, slots=True)
class Doubts:
    """How far the world may be from what the judge says of it.

    Attributes:
        heights: mm by which each rail's height may be off, as a rectangle.
        mat, length: mm, standard deviations.
        spread: mm by which the true spread is wider than stated.
        radial: standard deviation of the lens' k1.
        width: share by which the body is wider or narrower than usual, either with equal chance.
        along: mm from the middle of the rail, standard deviation.
    """

    heights: float = 0.0
    mat: float = 0.0
    length: float = 0.0
    spread: float = 0.0
    radial: float = 0.0
    width: float = 0.0
    along: float = 0.0


NO_DOUBTS = Doubts()
USUAL_DOUBTS = Doubts(heights=10.0, mat=8.0, length=4.0, radial=0.02, width=0.2, along=100.0)


def filmed(
    chance: np.random.Generator,
    doubts: Doubts = NO_DOUBTS,
    *,
    yaw: float | None = None,
    roll: float | None = None,
    elevation: float | None = None,
) -> Filmed:
    """A cast filmed from 5.5 to 9 m, turned up to 35 degrees and rolled up to 5 either way unless said."""
    to, across = chance.choice([-1.0, 1.0], 2)
    bars = Bars(
        high=2500.0 + chance.uniform(-1, 1) * doubts.heights,
        low=1700.0 + chance.uniform(-1, 1) * doubts.heights,
        spread=1430.0 + doubts.spread,
        mat=200.0 + chance.normal() * doubts.mat,
        length=2400.0 + chance.normal() * doubts.length,
        across=across,
    )
    athlete = Athlete(
        elevation=chance.uniform(-70, 20) if elevation is None else elevation,
        to=to,
        width=1.0 + chance.choice([-1.0, 1.0]) * doubts.width,
        along=chance.normal() * doubts.along,
    )
    return Filmed(_camera(chance, doubts, yaw, roll, across * 300.0), bars, athlete)


def _camera(
    chance: np.random.Generator, doubts: Doubts, yaw: float | None, roll: float | None, aside: float
) -> Camera:
    turned = radians(chance.uniform(-35, 35) if yaw is None else yaw)
    away = chance.uniform(5500, 9000)
    target = np.array([aside, 0.0, 1500.0]) + chance.normal(0, 100, 3)
    eye = target + away * np.array([-sin(turned), -cos(turned), 0.0])
    eye[2] = chance.uniform(1200, 2600)
    return Camera(
        eye=eye,
        target=target,
        roll=chance.uniform(-5, 5) if roll is None else roll,
        focal=LINE_PX * away / (ALONG_BODY["ankle"] * 1400.0),
        radial=chance.normal() * doubts.radial,
    )


def clicked(
    scene: Filmed,
    chance: np.random.Generator,
    sd: float,
    *,
    points: int = 8,
    body_sd: float | None = None,
    stated_sd: float | None = None,
    line: str = "shoulder-ankle",
    apparatus: Mapping[str, Any] | None = None,
) -> dict[str, Any]:
    """The judge's clicks as a document: so many of the points in the picture, each click off by ``sd`` px.

    ``body_sd`` for the clicks on the body where it differs, ``stated_sd`` for what the judge says it is.
    """
    seen, joints = scene.points(), scene.joints()
    chosen = sorted(chance.permutation(sorted(seen))[:points])
    on_body = sd if body_sd is None else body_sd
    return {
        "format": "reviewer.clicks/1",
        "picture": list(scene.camera.size),
        "frame": 0,
        "line": line,
        "side": "near",
        "cast_to": "right" if scene.athlete.to > 0 else "left",
        "body": {name: [_click(joints[name], chance, on_body)] for name in line.split("-")},
        "click_sd_px": f"{sd if stated_sd is None else stated_sd:.3f}",
        "athlete_height_mm": scene.athlete.stature,
        "apparatus": {"spread_mm": 1430, "spread": "centre-level", **(apparatus or {})},
        "points": {name: _click(seen[name], chance, sd) for name in chosen},
    }


def _click(spot: Array, chance: np.random.Generator, sd: float) -> list[str]:
    x, y = (
        min(max(at, -0.5), side - 0.5)
        for at, side in zip(spot + chance.normal(0, 1, 2) * sd, SIZE, strict=True)
    )
    return [f"{x:.3f}", f"{y:.3f}"]
