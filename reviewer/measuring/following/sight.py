"""Where joints on the picture lie in the plane of motion, and the angle of the body line there.

With four or more apparatus points that is the true plane; without them the picture itself, levelled by an
upright where there is one, with the doubt that a turned camera brings.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from math import sqrt
from typing import Self

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring import body as sizes
from reviewer.measuring import flat
from reviewer.measuring.calibration import FEWEST, Calibration, calibrate
from reviewer.measuring.camera import FOCAL, on_plane
from reviewer.measuring.clicking import Joint, apparatus_sd, joint, pixels, scatter
from reviewer.measuring.judging import refuse_misfit
from reviewer.measuring.trueplane import Line, elevation
from reviewer.terms.readings import Clicks

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Angle:
    """Degrees of elevation, its standard uncertainty, and the body clicks' share of that."""

    degrees: float
    uncertainty: float
    of_clicks: float


class Sight:
    """How the clicked recording sees the plane of motion.

    Attributes:
        clicks: on one frame, with the apparatus.
        camera: solved for, or None.
    """

    def __init__(self, clicks: Clicks, camera: Calibration | None = None) -> None:
        self.clicks = clicks
        self.click_sd = scatter(clicks).sd
        self.camera = camera or self._solved()
        self._rolled = flat.roll(clicks)

    def of(self, clicks: Clicks) -> Self:
        """The same sight for clicks on another frame; the side of the cast stays that of the first."""
        side = "right" if self._to_right else "left"
        return type(self)(replace(clicks, cast_to=side), self.camera)

    def joint_sd(self, name: str) -> float:
        """Standard uncertainty in px of where a joint was clicked, along one axis."""
        return joint(self.clicks, name).sd

    @property
    def focal(self) -> float:
        """Focal length in px: solved for, or usual."""
        if self.camera is None:
            return 1.3 * max(self.clicks.picture)
        return float(np.exp(self.camera.camera[FOCAL]))

    def angle(self, spots: Mapping[str, Array], sds: Mapping[str, float]) -> Angle:
        """The body line's elevation for joints in px of the picture, each with its standard uncertainty."""
        first, second = self.clicks.line.split("-")
        if self.camera is None:
            return self._in_the_picture(*(_joint(spots[name], sds[name]) for name in (first, second)))
        line = Line(
            joints=(first, second),
            spots=np.array([spots[first], spots[second]]),
            sds=(sds[first], sds[second]),
            nearer=self._nearer,
            stature=self._stature,
            stature_doubt=sizes.STATURE_DOUBT if self.clicks.height is None else 0.0,
            to_right=self._to_right,
        )
        found = elevation(line, self.camera)
        return Angle(found.degrees, found.uncertainty, found.budget[0][1])

    def places(self, spots: Mapping[str, Array]) -> dict[str, Array]:
        """Joints in the plane: (2,) across and up, in mm; without a camera in px of the picture."""
        if self.camera is None:
            return {name: spot * np.array([1.0, -1.0]) for name, spot in spots.items()}
        names = list(spots)
        halves = [sizes.HALF_WIDTHS.get(name, 0.05) for name in names]
        y = np.array(halves) * self._stature * self._nearer
        found = on_plane(self.camera.camera, np.array([spots[name] for name in names]), y, self.camera.size)
        return {name: place[[0, 2]] for name, place in zip(names, found, strict=True)}

    def _solved(self) -> Calibration | None:
        if len(self.clicks.apparatus) < FEWEST:
            return None
        spots = [(name, (pixels(spot.x), pixels(spot.y))) for name, spot in self.clicks.apparatus]
        found = calibrate(spots, self.clicks.picture, self.clicks.dimensions, apparatus_sd(self.clicks))
        refuse_misfit(self.clicks, found)
        return found

    def _in_the_picture(self, first: Joint, second: Joint) -> Angle:
        seen, length = flat.direction(first, second)
        lean = self._rolled.lean if self._rolled else 0.0
        value = flat.elevation(seen + lean, self._to_right)
        budget = flat.budget(first, second, length, self._rolled, value, "")
        return Angle(value, sqrt(sum(size * size for _, size in budget)), budget[0][1])

    @cached_property
    def _to_right(self) -> bool:
        if self.clicks.cast_to:
            return self.clicks.cast_to == "right"
        seen, _ = flat.direction(*(joint(self.clicks, name) for name in self.clicks.line.split("-")))
        return flat.points_right(seen + (self._rolled.lean if self._rolled else 0.0))

    @property
    def _nearer(self) -> float:
        return -1.0 if self.clicks.side == "near" else 1.0

    @property
    def _stature(self) -> float:
        height = self.clicks.height
        return sizes.USUAL_STATURE if height is None else height.thousandths / 1000


def _joint(spot: Array, sd: float) -> Joint:
    return Joint(float(spot[0]), float(spot[1]), sd)
