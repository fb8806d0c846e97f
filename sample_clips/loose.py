"""What hangs loose and swings: a plait, and cloth at a shoulder and an ankle, which it covers in part.

Each is a point on a thread of a fixed length below its joint, moved by gravity and by where the joint goes,
worked out by Verlet's steps (from memory).
"""

from collections.abc import Mapping

import numpy as np
from figure import Array

STEP = 1 / 240  # s
GRAVITY = 9810.0  # mm/s^2
DRAG = 0.03  # share of its speed that a thread's end loses in a step
HANGING = {
    "plait": ("head", (0.0, -60.0, -20.0), 330.0),
    "sleeve": ("shoulder-near", (0.0, -45.0, 0.0), 190.0),
    "cuff": ("ankle-near", (0.0, -25.0, 0.0), 150.0),
}
"""Name to the joint it hangs from, how far off that (mm), and how long it is (mm)."""


def hung(joints: Mapping[str, Array]) -> dict[str, Array]:
    """Both ends, `<name>-top` and `<name>-end`, of all that hangs from joints (times, 3) every `STEP`."""
    found: dict[str, Array] = {}
    for name, (joint, off, length) in HANGING.items():
        top = joints[joint] + np.array(off)
        found |= {f"{name}-top": top, f"{name}-end": _swung(top, length)}
    return found


def _swung(top: Array, length: float) -> Array:
    """The lower end (times, 3) of a thread whose upper end is at `top` (times, 3)."""
    fall = np.array([0.0, 0.0, -GRAVITY * STEP**2])
    end = before = top[0] - np.array([0.0, 0.0, length])
    found = []
    for held in top:
        led = end + (1 - DRAG) * (end - before) + fall - held
        before, end = end, held + length * led / np.linalg.norm(led)
        found.append(end)
    return np.array(found)
