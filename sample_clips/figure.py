"""The figure: a jointed girl of 1.40 m, from joint angles to joint positions.

Segment lengths are fractions of the stature. They follow the drawing of segment lengths by Drillis and
Contini as printed in Winter, "Biomechanics and Motor Control of Human Movement" (from memory, not read);
shoulders and hips are narrower than an adult's and the head larger, as children's are (from memory).

Angles are degrees in the plane of motion, counter-clockwise seen by the camera (x right, z up); she faces +x
when upright. Her near side is -y. Every angle array has the shape (times,).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

STATURE = 1400.0  # mm
UPPER_ARM, FOREARM, GRIP = 0.186 * STATURE, 0.146 * STATURE, 0.043 * STATURE
TRUNK, THIGH, SHANK = 0.288 * STATURE, 0.245 * STATURE, 0.246 * STATURE
ANKLE_HEIGHT, FOOT = 0.039 * STATURE, 0.110 * STATURE
LOWER_ARM = FOREARM + GRIP  # elbow to the middle of the closed hand
HALF_WIDTH = {
    "shoulder": 132.0, "elbow": 150.0, "wrist": 158.0, "hand": 160.0,
    "hip": 68.0, "knee": 58.0, "ankle": 48.0, "toe": 50.0,
}  # fmt: skip
JOINTS = tuple(HALF_WIDTH)
SIDES = ("near", "far")


@dataclass(frozen=True)
class Pose:
    """Joint angles over time (degrees); `hip` is (times, 2): x and z of the hips in mm.

    trunk: direction from hips to shoulders; shoulder, elbow, hip_near.. and knee_near..: flexion; plantar: 0
    is a foot at right angles, 90 a pointed one; apart: each leg's angle out of the plane of motion; bow:
    rounding of the back, mm.
    """

    hip: Array
    trunk: Array
    shoulder_near: Array
    shoulder_far: Array
    elbow: Array
    hip_near: Array
    hip_far: Array
    knee_near: Array
    knee_far: Array
    plantar_near: Array
    plantar_far: Array
    nod: Array
    apart: Array
    bow: Array


def direction(degrees: Array) -> Array:
    """Unit vectors (..., 2) of angles in degrees."""
    radians = np.radians(degrees)
    return np.stack([np.cos(radians), np.sin(radians)], axis=-1)


def arm_reach(elbow: Array) -> tuple[Array, Array]:
    """For elbow flexion: shoulder to hand (mm), and how far that line is ahead of the upper arm (degrees)."""
    e = np.radians(elbow)
    along, across = UPPER_ARM + LOWER_ARM * np.cos(e), LOWER_ARM * np.sin(e)
    return np.hypot(along, across), np.degrees(np.arctan2(across, along))


def two_links(first: float, second: float, reach: Array) -> tuple[Array, Array]:
    """Law of cosines: degrees between the first link and the line to the end, and flexion at the middle."""
    d = np.clip(reach, abs(first - second) + 1.0, first + second - 0.05)
    at_start = np.degrees(np.arccos((first**2 + d**2 - second**2) / (2 * first * d)))
    inside = np.degrees(np.arccos((first**2 + second**2 - d**2) / (2 * first * second)))
    return at_start, 180.0 - inside


def joints(pose: Pose) -> dict[str, Array]:
    """Positions (times, 3) in mm of every `<joint>-<side>`, and of `neck`, `head`, `spine` in mid-plane."""
    shoulder = pose.hip + TRUNK * direction(pose.trunk)
    found = _middle(pose, shoulder)
    for side, sign in (("near", -1.0), ("far", 1.0)):
        flat = _arm(pose, shoulder, side) | _leg(pose, side)
        for name, (plane, out) in flat.items():
            found[f"{name}-{side}"] = _lift(plane, sign * (HALF_WIDTH[name] + out))
    return found


def _lift(plane: Array, y: Array | float) -> Array:
    return np.stack([plane[:, 0], np.broadcast_to(y, plane[:, 0].shape), plane[:, 1]], axis=1)


def _middle(pose: Pose, shoulder: Array) -> dict[str, Array]:
    up = direction(pose.trunk + pose.nod)
    spine = pose.hip + 0.5 * (shoulder - pose.hip) + pose.bow[:, None] * direction(pose.trunk + 90.0)
    neck = shoulder + 0.030 * STATURE * direction(pose.trunk)
    head = neck + 0.082 * STATURE * up + 0.008 * STATURE * direction(pose.trunk + pose.nod - 90.0)
    return {"spine": _lift(spine, 0.0), "neck": _lift(neck, 0.0), "head": _lift(head, 0.0)}


def _arm(pose: Pose, shoulder: Array, side: str) -> dict[str, tuple[Array, Array]]:
    upper = pose.trunk + 180.0 + getattr(pose, f"shoulder_{side}")
    fore = direction(upper + pose.elbow)
    elbow = shoulder + UPPER_ARM * direction(upper)
    wrist = elbow + FOREARM * fore
    none = np.zeros_like(pose.trunk)
    return {
        "shoulder": (shoulder, none), "elbow": (elbow, none),
        "wrist": (wrist, none), "hand": (wrist + GRIP * fore, none),
    }  # fmt: skip


def _leg(pose: Pose, side: str) -> dict[str, tuple[Array, Array]]:
    thigh = pose.trunk + 180.0 + getattr(pose, f"hip_{side}")
    shank = thigh - getattr(pose, f"knee_{side}")
    foot = shank + 90.0 - getattr(pose, f"plantar_{side}")
    out, keep = np.sin(np.radians(pose.apart)), np.cos(np.radians(pose.apart))[:, None]
    knee = pose.hip + THIGH * keep * direction(thigh)
    ankle = knee + SHANK * keep * direction(shank)
    toe = ankle + FOOT * keep * direction(foot)
    aside = THIGH * out
    return {
        "hip": (pose.hip, np.zeros_like(aside)), "knee": (knee, aside),
        "ankle": (ankle, aside + SHANK * out), "toe": (toe, aside + (SHANK + FOOT) * out),
    }  # fmt: skip
