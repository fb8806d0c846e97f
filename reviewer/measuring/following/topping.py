"""The highest moment of a track: a parabola through the frames about the highest one.

Where the body line turns back the angle runs smoothly, so that the moment lies between frames more exactly
than they are apart. Frames weigh less the farther they are from the highest.
"""

from collections.abc import Sequence
from fractions import Fraction
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring.coverage import Z95
from reviewer.measuring.following.body import EXTENDED
from reviewer.measuring.following.track import Frame, Top
from reviewer.terms.times import TimeBase

Array = NDArray[np.float64]

_REACH, _FEWEST = 0.07, 2
"""Seconds on each side of the highest frame that the parabola takes in, and frames at least."""
_FLOOR = 0.04
"""Degrees by which a followed angle scatters at least from frame to frame (rendered casts)."""
_SKEW = 0.08
"""Share of the distance to the farthest frame by which a curve that is no parabola may shift its top."""
_LARGEST = 2.0
"""Degrees of the clicks' and the following's own uncertainty beyond which no top is proposed."""


def top_of(frames: Sequence[Frame], time_base: TimeBase) -> tuple[Top | None, str]:
    """The top, or why there is none."""
    good = [at for at, one in enumerate(frames) if one.angle is not None]
    if not good:
        return None, "nothing could be followed"
    angles = _unwrapped(frames, good)
    highest = max(good, key=lambda at: (angles[at], -at))
    if not {highest - 1, highest + 1} <= set(good):
        return None, "the highest frame lies at the end of what could be followed"
    bent = frames[highest].flexion
    if bent is not None and bent > EXTENDED:
        return None, f"the hips are bent by {bent:.0f} degrees at the highest frame"
    angle = frames[highest].angle
    assert angle is not None
    if angle.of_clicks > _LARGEST:
        return None, f"the highest angle is uncertain by {angle.of_clicks:.1f} degrees from clicks alone"
    return _fitted(frames, angles, highest, time_base)


def _fitted(
    frames: Sequence[Frame], angles: dict[int, float], highest: int, time_base: TimeBase
) -> tuple[Top | None, str]:
    tick = Fraction(time_base.numerator, time_base.denominator)
    since = {at: float((frames[at].pts - frames[highest].pts) * tick) for at in angles}
    near = _near(since, highest)
    reach = max(max(abs(since[at]) for at in near), 1e-6)
    times, sizes = np.array([since[at] for at in near]) / reach, np.array([angles[at] for at in near])
    weights = (1 - (np.abs(times) / 1.15) ** 3) ** 3
    shape, covariance = _parabola(times, sizes, weights)
    if shape[0] >= 0 or abs(shape[1] / shape[0]) > 2:
        return None, "the angle does not turn back where it is highest"
    peak = -shape[1] / (2 * shape[0])
    slopes = np.array([shape[1] / (2 * shape[0] ** 2), -1 / (2 * shape[0]), 0.0])
    half = Z95 * sqrt(float(slopes @ covariance @ slopes) + _SKEW**2) * reach
    at_peak = np.array([peak**2, peak, 1.0])
    angle = frames[highest].angle
    assert angle is not None
    uncertainty = sqrt(angle.uncertainty**2 + float(at_peak @ covariance @ at_peak))
    nearest = min(near, key=lambda at: abs(since[at] - peak * reach))
    seconds = frames[highest].pts * tick + Fraction(peak * reach)
    return Top(nearest, seconds, half, float(shape @ at_peak), uncertainty), ""


def _near(since: dict[int, float], highest: int) -> list[int]:
    """Good frames about the highest, with none lost between."""
    found = [highest]
    for side in (1, -1):
        at = highest + side
        while at in since and (abs(since[at]) <= _REACH or abs(at - highest) <= _FEWEST):
            found.append(at)
            at += side
    return sorted(found)


def _parabola(times: Array, sizes: Array, weights: Array) -> tuple[Array, Array]:
    """Coefficients (3,) of a parabola through weighted points, and their covariance."""
    columns = np.stack([times**2, times, np.ones_like(times)], axis=1)
    weighed = columns * weights[:, None]
    inverse = np.linalg.inv(columns.T @ weighed + 1e-9 * np.eye(3))
    shape = inverse @ weighed.T @ sizes
    off = sizes - columns @ shape
    freedoms = max(len(times) - 3, 1)
    scatter = max(_FLOOR**2, float(np.sum(weights * off**2)) / freedoms)
    return np.asarray(shape), np.asarray(inverse @ weighed.T @ weighed @ inverse * scatter)


def _unwrapped(frames: Sequence[Frame], good: list[int]) -> dict[int, float]:
    sizes = [angle.degrees for at in good if (angle := frames[at].angle) is not None]
    return dict(zip(good, np.unwrap(sizes, period=360.0).tolist(), strict=True))
