"""A rail that gives way under the hands: by so much under her weight, by more where she is thrown upward."""

from collections.abc import Mapping

import numpy as np
from figure import Array

STEP = 1 / 240  # s
GRAVITY = 9810.0  # mm/s^2
SOFTEN = 5  # steps over which an acceleration is told
MOST = 3.0  # times her weight


def sagged(joints: Mapping[str, Array], under_weight: float) -> Array:
    """How far (times, 3) the middle of the rail is moved, mm, for joints (times, 3) every `STEP`.

    As a spring without mass: by `under_weight` mm for each of her weights, along the force she needs for the
    way the middle of her body goes; what the moving rail does to that is neglected.
    """
    middle = np.mean(
        [joints[f"{n}-{s}"] for n in ("shoulder", "hip", "knee") for s in ("near", "far")], axis=0
    )
    return -under_weight * np.clip(_force(middle), -MOST, MOST)


def _force(middle: Array) -> Array:
    """In her weights (times, 3), on a body whose middle (times, 3) moves so."""
    bell = np.exp(-0.5 * (np.arange(-3 * SOFTEN, 3 * SOFTEN + 1) / SOFTEN) ** 2)
    pull = np.gradient(np.gradient(middle, STEP, axis=0), STEP, axis=0) / GRAVITY
    padded = np.pad(pull, ((3 * SOFTEN, 3 * SOFTEN), (0, 0)), mode="edge")
    soft = np.stack([np.convolve(one, bell / bell.sum(), mode="valid") for one in padded.T], axis=1)
    return np.asarray((soft + np.array([0.0, 0.0, 1.0])) * np.array([1.0, 0.0, 1.0]))
