"""How far a limb smears over a picture while the shutter is open, and what that leaves in doubt."""

from collections.abc import Sequence
from math import sqrt

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

EXPOSURE = 0.5
"""Share of the time from frame to frame for which the shutter is open (from memory: usual; in bright light it
is less, and the smear too)."""


def smear_sd(here: tuple[float, Array], beside: Sequence[tuple[float, Array]]) -> float:
    """Standard uncertainty in px of where a joint is on a picture, from its smear.

    ``here`` and the frames ``beside`` it (one or two, or none: nothing is known then) are seconds and spot in
    px. The joint is anywhere on the smear, which is speed times exposure long: a rectangular distribution,
    whose standard deviation is its length over the square root of 12 (JCGM 100, 4.3.7).
    """
    if not beside:
        return 0.0
    (from_, begin), (to, end) = (beside[0], here) if len(beside) == 1 else (beside[0], beside[-1])
    speed = float(np.hypot(*(end - begin))) / max(abs(to - from_), 1e-6)
    interval = min(abs(seconds - here[0]) for seconds, _ in beside)
    return speed * interval * EXPOSURE / sqrt(12)
