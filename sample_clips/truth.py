"""The ground truth written beside a clip: `reviewer.truth/1`.

Numbers, rounded: mm to 0.1, px to 0.01, degrees to 0.01 (apparatus to 0.001). Every list over time has
one entry per frame, in display order, for the middle of its exposure. World: x across in the plane of
motion, y along the rails away from the camera, z up from the floor. Joints are given on the near and far
side and between them. Pixels are of the picture as displayed, (0, 0) being the centre of its top-left
pixel; `rotation` is the clockwise turn that takes the coded picture there. Elevations are 0 level and
negative below horizontal, on the side to which the body is cast (`cast_to`, of the picture); `top` is the
highest shoulder-ankle line with the hips extended. `element` of a fault counts the elements from 0.
Amounts are those staged, in points.
"""

from dataclasses import asdict, dataclass
from fractions import Fraction
from typing import Any

import numpy as np
from camera import Camera
from figure import FOOT, FOREARM, GRIP, JOINTS, SHANK, SIDES, STATURE, THIGH, TRUNK, UPPER_ARM, Array
from filming import OPEN, Film
from gym_measures import (
    HIGH_TOP,
    INNER_DIAGONAL,
    LOW_TOP,
    MAT_TOP,
    RAIL_DIAMETER,
    RAIL_LENGTH,
    apparatus_points,
)
from script import Element, Fault, Script

LINES = (("shoulder", "ankle"), ("hand", "ankle"), ("shoulder", "hip"))
HIPS_EXTENDED = 30.0  # flexion in degrees up to which the body of a cast counts as extended


@dataclass(frozen=True)
class Timing:
    """Ticks of `time_base` between frames, and the rate they make.

    `pts` are the frames' own where they come unevenly; `ticks` is then what is usual. `begun` is the moment
    of the script, s, at which the film begins.
    """

    time_base: Fraction
    ticks: int
    pts: tuple[int, ...] = ()
    begun: float = 0.0

    @property
    def seconds(self) -> float:
        """Seconds between frames."""
        return float(self.ticks * self.time_base)

    def at(self, frame: int) -> int:
        """The tick of a frame."""
        return self.pts[frame] if self.pts else frame * self.ticks

    def frame(self, seconds: float) -> int:
        """The frame nearest to a moment of the script."""
        wanted = (seconds - self.begun) / float(self.time_base)
        if self.pts:
            return min(range(len(self.pts)), key=lambda frame: abs(self.pts[frame] - wanted))
        return round((seconds - self.begun) / self.seconds)


def document(
    name: str, film: Film, script: Script, timing: Timing, coded: tuple[int, int], rotation: int
) -> dict[str, Any]:
    """The whole truth about one clip, ready for JSON."""
    joints = film.joints()
    angles = {f"{a}-{b}_deg": elevation(_middle(joints, a), _middle(joints, b)) for a, b in LINES}
    return {
        "format": "reviewer.truth/1", "clip": f"{name}.mp4", "rule_book": "demo-bars-2", "seed": film.seed,
        "coded": coded, "displayed": film.camera.size, "rotation": rotation,
        "time_base": _ratio(timing.time_base), "frame_rate": _ratio(1 / (timing.ticks * timing.time_base)),
        "pts": [timing.at(i) for i in range(film.frames)],
        "shutter_s": round(OPEN * timing.seconds, 6),
        "camera": _camera(film.camera), "apparatus": _apparatus(film.camera), "figure": _figure(),
        "cast_to": "left", "angles": {line: _rounded(v, 2) for line, v in angles.items()},
        "joints": _joints(joints, film.camera),
        "elements": [_element(e, joints, angles["shoulder-ankle_deg"], timing) for e in script.elements],
        "faults": [_fault(f, timing, film.frames) for f in script.faults],
    }  # fmt: skip


def elevation(upper: Array, lower: Array) -> Array:
    """Elevation in degrees (frames) of the line from `upper` to `lower`, the body being cast towards -x."""
    line = lower - upper
    return np.asarray(np.degrees(np.arctan2(line[:, 2], -line[:, 0])))


def _ratio(value: Fraction) -> str:
    return f"{value.numerator}/{value.denominator}"


def _rounded(values: Array, digits: int) -> Any:
    return np.round(values, digits).tolist()


def _middle(joints: dict[str, Array], name: str) -> Array:
    return np.asarray((joints[f"{name}-near"] + joints[f"{name}-far"]) / 2)


def _joints(joints: dict[str, Array], camera: Camera) -> dict[str, Any]:
    paired = {n: _joint(n, joints, camera) for n in JOINTS}
    return paired | {"head": _single(joints["head"], camera)}


def _joint(name: str, joints: dict[str, Array], camera: Camera) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for side in SIDES:
        place = joints[f"{name}-{side}"]
        found |= {f"{side}_mm": _rounded(place, 1), f"{side}_px": _rounded(camera.project(place), 2)}
    middle = _middle(joints, name)
    return found | {"mid_mm": _rounded(middle, 1), "mid_px": _rounded(camera.project(middle), 2)}


def _single(place: Array, camera: Camera) -> dict[str, Any]:
    return {"mid_mm": _rounded(place, 1), "mid_px": _rounded(camera.project(place), 2)}


def _camera(camera: Camera) -> dict[str, Any]:
    return {
        "model": "pinhole, x_cam = R x_mm + t, no distortion",
        "K": camera.K.tolist(), "R": _rounded(camera.R, 12), "t_mm": _rounded(camera.t, 6),
        "yaw_deg": camera.yaw, "pitch_deg": camera.pitch, "roll_deg": camera.roll,
    }  # fmt: skip


def _apparatus(camera: Camera) -> dict[str, Any]:
    points = {n: np.array(p) for n, p in apparatus_points().items()}
    return {
        "high_top_mm": HIGH_TOP, "low_top_mm": LOW_TOP, "rail_diameter_mm": RAIL_DIAMETER,
        "rail_length_mm": RAIL_LENGTH, "spread_mm": INNER_DIAGONAL, "spread": "inner-diagonal",
        "mat_top_mm": MAT_TOP,
        "points": {
            n: {"mm": _rounded(p, 3), "px": _rounded(camera.project(p), 3)} for n, p in points.items()
        },
    }  # fmt: skip


def _figure() -> dict[str, float]:
    lengths = {
        "stature": STATURE, "upper_arm": UPPER_ARM, "forearm": FOREARM, "wrist_to_grip": GRIP,
        "trunk": TRUNK, "thigh": THIGH, "shank": SHANK, "ankle_to_toe": FOOT,
    }  # fmt: skip
    return {f"{n}_mm": round(v, 3) for n, v in lengths.items()}


def _element(element: Element, joints: dict[str, Array], angle: Array, timing: Timing) -> dict[str, Any]:
    first, last = timing.frame(element.start), timing.frame(element.end)
    found: dict[str, Any] = {
        "code": element.code, "roles": element.roles, "with": element.conditions,
    } | _span(first, last, timing)  # fmt: skip
    if element.code.startswith("cast"):
        top = first + _top(joints, angle, slice(first, last + 1))
        found |= {"top_frame": top, "top_pts": timing.at(top), "top_deg": round(float(angle[top]), 2)}
    return found


def _top(joints: dict[str, Array], angle: Array, span: slice) -> int:
    """Index within `span` of the highest body line, among the frames with the hips extended."""
    trunk = _middle(joints, "shoulder")[span] - _middle(joints, "hip")[span]
    thigh = _middle(joints, "hip")[span] - _middle(joints, "knee")[span]
    cosine = np.sum(trunk * thigh, axis=1) / np.linalg.norm(trunk, axis=1) / np.linalg.norm(thigh, axis=1)
    extended = np.degrees(np.arccos(np.clip(cosine, -1, 1))) <= HIPS_EXTENDED
    return int(np.argmax(np.where(extended, angle[span], -np.inf)))


def _fault(fault: Fault, timing: Timing, frames: int) -> dict[str, Any]:
    first, last = timing.frame(fault.start), min(timing.frame(fault.end), frames - 1)
    given = {k: v for k, v in asdict(fault).items() if k in ("code", "amount", "element")}
    return given | _span(first, last, timing)


def _span(first: int, last: int, timing: Timing) -> dict[str, int]:
    return {
        "start_frame": first, "end_frame": last,
        "start_pts": timing.at(first), "end_pts": timing.at(last),
    }  # fmt: skip
