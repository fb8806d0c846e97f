"""What following gives: joints and angle on each frame, the stretches that are lost, and the top."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring.following.sight import Angle

Array = NDArray[np.float64]

DAMAGED, LENGTH = "damaged", "limb length"
APPEARANCE, FLOW, LEFT = "appearance", "flow", "left the picture"
DISAGREE, CAMERA = "clicks disagree", "camera"
"""Why frames are lost."""


@dataclass(frozen=True, slots=True)
class Spots:
    """Joints on one frame.

    Attributes:
        places: in px of the picture.
        steadied: where the camera would have shown them as it stood on the clicked frame.
        astray: how far each may have been led astray, px.
        turned: degrees the camera was turned since the clicked frame; None where that cannot be told.
    """

    places: Mapping[str, Array]
    steadied: Mapping[str, Array]
    astray: Mapping[str, float]
    turned: float | None = 0.0


@dataclass(frozen=True, slots=True)
class Frame:
    """One frame of a track.

    Attributes:
        frame: 0-based number.
        pts: its tick.
        spots: joints by name in px of the picture; none on a lost frame.
        angle: of the body line, or None on a lost frame.
        flexion: degrees by which the hips are bent, where hip and knee are followed too.
        why: why it is lost; empty on a good frame.
    """

    frame: int
    pts: int
    spots: Mapping[str, Array] = field(default_factory=dict)
    angle: Angle | None = None
    flexion: float | None = None
    why: str = ""


@dataclass(frozen=True, slots=True)
class Top:
    """The highest moment.

    Attributes:
        frame: index among the track's frames of the one nearest to it.
        seconds: when, exact but for the fit that found it.
        half: half the width of the interval of 95 %, seconds.
        degrees: the value then.
        uncertainty: its standard uncertainty.
    """

    frame: int
    seconds: Fraction
    half: float
    degrees: float
    uncertainty: float


@dataclass(frozen=True, slots=True)
class Track:
    """Everything found.

    Attributes:
        frames: in order of time.
        top: or None.
        why_no_top: in words, where there is none.
        check: what the calibration is worth.
        through: the two joints of the line.
        turned: degrees the camera was turned since a clicked frame, at most; None where that cannot be told.
    """

    frames: tuple[Frame, ...]
    top: Top | None
    why_no_top: str
    check: str
    through: str
    turned: float | None = 0.0

    @property
    def lost(self) -> list[tuple[int, int, str]]:
        """First and last frame number of each stretch lost for one reason."""
        found: list[tuple[int, int, str]] = []
        for one in self.frames:
            if one.why and found and found[-1][1:] == (one.frame - 1, one.why):
                found[-1] = (found[-1][0], one.frame, one.why)
            elif one.why:
                found.append((one.frame, one.frame, one.why))
        return found
