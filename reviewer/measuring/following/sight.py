"""Where joints on the picture lie in the plane of motion, and the angle of the body line there.

With four or more apparatus points that is the true plane; without them the picture itself, levelled by an
upright where there is one, with the doubt that a turned camera brings.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from math import sqrt
from typing import Self

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring import body as sizes
from reviewer.measuring import flat
from reviewer.measuring.calibration import Calibration
from reviewer.measuring.camera import FOCAL, Standing
from reviewer.measuring.clicking import Joint, joint, scatter
from reviewer.measuring.quantities import elevation_of
from reviewer.measuring.trueplane import Line, elevation
from reviewer.measuring.views import camera_of
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
        ends: names of the two joints of the line.
    """

    def __init__(self, clicks: Clicks, camera: Calibration | None = None) -> None:
        self.clicks = clicks
        first, second = clicks.line.split("-")
        self.ends = (first, second)
        self.click_sd = scatter(clicks).sd
        self.camera = camera or camera_of(clicks)
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
        first, second = self.ends
        if self.camera is None:
            return self._in_the_picture(*(_joint(spots[name], sds[name]) for name in self.ends))
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

    def elevations(self, spots: Array) -> Array:
        """The line's elevation in degrees (...), for its ends (..., 2, 2) in px; there must be a camera."""
        assert self.camera is not None
        found = self._standing.on_plane(spots, self._beside(self.ends))
        reach = found[..., 1, :] - found[..., 0, :]
        across = reach[..., 0] if self._to_right else -reach[..., 0]
        return np.asarray(np.degrees(np.arctan2(reach[..., 2], across)))

    def places(self, spots: Mapping[str, Array]) -> dict[str, Array]:
        """Joints in the plane: (2,) across and up, in mm; without a camera in px of the picture."""
        if self.camera is None:
            return {name: spot * np.array([1.0, -1.0]) for name, spot in spots.items()}
        seen = np.array(list(spots.values()))
        found = self._standing.on_plane(seen, self._beside(spots))
        return {name: place[[0, 2]] for name, place in zip(spots, found, strict=True)}

    @cached_property
    def _standing(self) -> Standing:
        assert self.camera is not None
        return Standing.of(self.camera.camera, self.camera.size)

    def _beside(self, joints: Iterable[str]) -> Array:
        """How far from the middle of the body the joints that were clicked lie, mm."""
        halves = [sizes.HALF_WIDTHS.get(name, 0.05) for name in joints]
        return np.array(halves) * self._stature * self._nearer

    def _in_the_picture(self, first: Joint, second: Joint) -> Angle:
        flat.direction(first, second)
        names = self.clicks.line.split("-")
        ends = dict(zip(names, (first, second), strict=True))
        quantity = elevation_of(names[0], names[1], self._to_right)
        lean = self._rolled.lean if self._rolled else 0.0
        budget = flat.budget(ends, quantity, self._rolled, 0.0, "")
        total = sqrt(sum(size * size for _, size in budget))
        return Angle(flat.value(ends, quantity, lean), total, budget[0][1])

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
