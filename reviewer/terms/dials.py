"""A dial: the elevations around a body line's first joint, as they lie in the picture."""

from dataclasses import dataclass

from reviewer.terms.exact import Degrees
from reviewer.terms.shapes import Spot

STEP = Degrees(3_000)
"""From one spot of a rim to the next."""
ELEVATIONS = tuple(Degrees(angle) for angle in range(-180_000, 180_001, STEP.thousandths))
"""All the way round, the first and the last at one place."""


@dataclass(frozen=True, slots=True)
class Dial:
    """A circle around the first joint, through the second one.

    Attributes:
        centre: the first joint.
        rim: pairs of elevation, rising through `ELEVATIONS`, and where a body line of the same length would
            end with it; 0 is level on the side to which the body is cast.
    """

    centre: Spot
    rim: tuple[tuple[Degrees, Spot], ...]
