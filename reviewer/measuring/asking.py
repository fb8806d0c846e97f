"""What a request asks to be measured, once the frame is seen: through which part a line goes, and of what."""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, degrees, sqrt

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring import flat
from reviewer.measuring.quantities import Quantity, angle_of, length_of, of_both_sides
from reviewer.measuring.views import View
from reviewer.terms.bodylines import BENDS, FAR, LEGS, LENGTHS, LEVEL, LOWEST, PARTS, UPRIGHT, line_joints

Array = NDArray[np.float64]

_BASE_BEND = "shoulder-bend"
_APART = 1.0
"""Degrees by which lines from the hands and from the shoulders must differ for the choice to matter."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A quantity and the joints it is of.

    Attributes:
        through: the word for it; of a line to the lowest part, its two joints.
        joints: that must have been clicked.
        quantity: what is computed of them.
        doubt: why another line may have been meant, or None.
        both: joints of which both sides were clicked, so that their middles count.
    """

    through: str
    joints: tuple[str, ...]
    quantity: Quantity
    doubt: str | None = None
    both: tuple[str, ...] = ()

    @property
    def clicked(self) -> tuple[str, ...]:
        """All joints it is computed of."""
        return (*self.joints, *(f"{joint}{FAR}" for joint in self.both))

    @property
    def of_middles(self) -> Quantity:
        """The quantity, of the middles where both sides were clicked."""
        return of_both_sides(self.quantity, self.both) if self.both else self.quantity


def asked_angle(view: View) -> Asked:
    """The angle the clicks ask for."""
    clicks = view.clicks
    line, doubt = (clicks.line, None) if clicks.line not in LOWEST else _lowest(view)
    against = () if clicks.against in (LEVEL, UPRIGHT) or line in BENDS else tuple(clicks.against.split("-"))
    joints = tuple(dict.fromkeys((*line_joints(line), *against)))
    _refuse_short(view, line, clicks.against)
    both = () if line == LEGS else tuple(joint for joint in joints if view.has(f"{joint}{FAR}"))
    return Asked(line, joints, angle_of(line, clicks.against, view.to_right), doubt, both)


def asked_length(view: View) -> Asked:
    """The length the clicks ask for."""
    camera, line = view.camera, view.clicks.line
    assert camera is not None
    high = view.clicks.dimensions.working_rail == "high"
    return Asked(line, line_joints(line), length_of(line, high, camera.across))


def is_length(line: str) -> bool:
    """Whether a word asks for a length, and not for an angle."""
    return line in LENGTHS


def is_elevation(line: str, against: str) -> bool:
    """Whether it is the elevation of a line, to which limits of a cast belong."""
    return against == LEVEL and line not in BENDS and line != LEGS and line not in LENGTHS


def _lowest(view: View) -> tuple[str, str | None]:
    """The line through the lowest part, and why it may be another one."""
    places = view.places()
    if view.clicks.line != "lowest":
        return _through(places, view.clicks.line.split("-")[0], view.to_right), None
    bend = angle_of(_BASE_BEND, LEVEL, view.to_right)
    found = view.measured(BENDS[_BASE_BEND], bend)
    bent, limit = abs(found.degrees), view.clicks.shoulder_open.thousandths / 1000
    base, other = ("shoulder", "hand") if bent > limit else ("hand", "shoulder")
    line, instead = (_through(places, one, view.to_right) for one in (base, other))
    apart = abs(_rise(places, line, view.to_right) - _rise(places, instead, view.to_right))
    spread = sqrt(sum(size * size for _, size in found.budget))
    if abs(bent - limit) > 2 * spread or apart < _APART:
        return line, None
    said = f"the shoulder angle of {bent:.0f} degrees is hardly told from the {limit:.0f} that count as open"
    return line, f"{said}: the line {instead} reads {_rise(places, instead, view.to_right):.1f}"


def _through(places: Mapping[str, Array], base: str, to_right: bool) -> str:
    """The line from a joint through whichever part gives the lowest elevation; of equals the farthest."""
    lines = [f"{base}-{part}" for part in reversed(PARTS) if part in places]
    return min(lines, key=lambda line: _rise(places, line, to_right))


def _rise(places: Mapping[str, Array], line: str, to_right: bool) -> float:
    first, second = line.split("-")
    way = places[second] - places[first]
    return degrees(atan2(way[2], way[0] if to_right else -way[0]))


def _refuse_short(view: View, line: str, against: str) -> None:
    """No direction is taken from two joints that lie on one spot."""
    joints = line_joints(line)
    pairs = list(pairwise(joints))
    if against not in (LEVEL, UPRIGHT):
        first, second = against.split("-")
        pairs.append((first, second))
    for first, second in pairs:
        flat.direction(view.joint(first), view.joint(second))
