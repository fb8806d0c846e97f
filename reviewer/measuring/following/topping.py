"""The highest moment of a track: a smooth curve through the frames about the highest one.

Where the body line turns back the angle runs smoothly, so that the moment lies between frames more exactly
than they are apart. The curve is a parabola, and one that falls otherwise than it rose (a cubic term) where
there are frames enough. Frames weigh less the farther they are from the highest.
"""

from collections.abc import Sequence
from fractions import Fraction
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring.following.body import EXTENDED
from reviewer.measuring.following.track import Frame, Top
from reviewer.terms.times import TimeBase

Array = NDArray[np.float64]

_REACH, _FEWEST = 0.07, 2
"""Seconds on each side of the highest frame that the curve takes in, and frames at least."""
_LOPSIDED = 5
"""Frames from which the curve may fall otherwise than it rose."""
_ABOUT = 0.25
"""Seconds on each side from which it is told how angles scatter."""
_FACTOR = 2.571
"""Student's factor of 95 % for 5 degrees of freedom: about what these frames tell of the scatter."""
_FLOOR, _UNKNOWN = 0.04, 0.2
"""Degrees by which a followed angle scatters at least, and where nothing tells (drawn casts)."""
_SKEW = 0.03
"""Share of the distance to the farthest frame by which a curve of another shape may shift the top."""
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
    near = _near(since, highest, _REACH)
    reach = max(max(abs(since[at]) for at in near), 1e-6)
    times, sizes = np.array([since[at] for at in near]) / reach, np.array([angles[at] for at in near])
    shape, covariance = _curve(times, sizes, _scatter(angles, _near(since, highest, _ABOUT)))
    peak = _peak(shape)
    angle = frames[highest].angle
    if peak is None or angle is None:
        return None, "the angle does not turn back where it is highest"
    level, slope, bend = _powers(shape, peak)
    moved = slope / float(bend @ shape)
    half = _FACTOR * sqrt(float(moved @ covariance @ moved) + _SKEW**2) * reach
    if not min(since.values()) <= peak * reach - half <= peak * reach + half <= max(since.values()):
        return None, "the frames that were followed do not tell the moment of the top"
    return Top(
        frame=min(near, key=lambda at: abs(since[at] - peak * reach)),
        seconds=frames[highest].pts * tick + Fraction(peak * reach),
        half=half,
        degrees=float(level @ shape),
        uncertainty=sqrt(angle.uncertainty**2 + float(level @ covariance @ level)),
    ), ""


def _near(since: dict[int, float], highest: int, reach: float) -> list[int]:
    """Good frames about the highest within seconds, with none lost between."""
    found = [highest]
    for side in (1, -1):
        at = highest + side
        while at in since and (abs(since[at]) <= reach or abs(at - highest) <= _FEWEST):
            found.append(at)
            at += side
    return sorted(found)


def _scatter(angles: dict[int, float], among: Sequence[int]) -> float:
    """Degrees by which angles scatter from frame to frame.

    From third differences, in which a smooth curve leaves hardly anything and independent errors twenty times
    their variance; their median, so that a start or a landing has no say.
    """
    thirds = np.diff([angles[at] for at in among], n=3)
    return max(_FLOOR, 1.4826 * float(np.median(np.abs(thirds))) / sqrt(20)) if len(thirds) else _UNKNOWN


def _curve(times: Array, sizes: Array, scatter: float) -> tuple[Array, Array]:
    """Coefficients (3 or 4,), the constant first, of a curve through points; their covariance."""
    weights = (1 - (np.abs(times) / 1.15) ** 3) ** 3
    columns = np.vander(times, 4 if len(times) >= _LOPSIDED else 3, increasing=True)
    weighed = columns * weights[:, None]
    inverse = np.linalg.inv(columns.T @ weighed)
    covariance = inverse @ weighed.T @ weighed @ inverse * scatter**2
    return np.asarray(inverse @ weighed.T @ sizes), np.asarray(covariance)


def _peak(shape: Array) -> float | None:
    """Where the curve is highest, in parts of its reach; None where it is not, or far off."""
    slope, bend, skew = float(shape[1]), float(shape[2]), float(shape[3]) if len(shape) > 3 else 0.0
    inside = bend**2 - 3 * skew * slope
    if bend >= 0 or inside <= 0:
        return None
    peak = slope / (sqrt(inside) - bend)
    return peak if abs(peak) <= 1 else None


def _powers(shape: Array, at: float) -> tuple[Array, Array, Array]:
    """What each coefficient adds to the curve, to its slope and to its bend at a time."""
    level = [1.0, at, at**2, at**3]
    slope = [0.0, 1.0, 2 * at, 3 * at**2]
    bend = [0.0, 0.0, 2.0, 6 * at]
    return tuple(np.array(row[: len(shape)]) for row in (level, slope, bend))  # type: ignore[return-value]


def _unwrapped(frames: Sequence[Frame], good: list[int]) -> dict[int, float]:
    sizes = [angle.degrees for at in good if (angle := frames[at].angle) is not None]
    return dict(zip(good, np.unwrap(sizes, period=360.0).tolist(), strict=True))
