"""What hides a head in one picture."""

from dataclasses import dataclass

from reviewer.terms.exact import Pixels
from reviewer.terms.shapes import Spot


@dataclass(frozen=True, slots=True)
class Cover:
    """An ellipse along the axes of the picture as displayed; what lies under it is not shown.

    Attributes:
        centre: its middle.
        across, down: half of its width and of its height.
    """

    centre: Spot
    across: Pixels
    down: Pixels
