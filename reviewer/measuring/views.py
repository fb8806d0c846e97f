"""How one frame's clicks see the athlete: in the true plane with a camera, else in the levelled picture."""

from collections.abc import Iterable
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring import body, flat, trueplane
from reviewer.measuring.calibration import FEWEST, Calibration, calibrate
from reviewer.measuring.clicking import Joint, Scatter, apparatus_sd, joint, pixels, scatter
from reviewer.measuring.judging import refuse_misfit
from reviewer.measuring.quantities import Quantity
from reviewer.measuring.trueplane import BODY, Line, Measured
from reviewer.terms.bodylines import LENGTHS, LOWEST, line_joints
from reviewer.terms.readings import Clicks, Dimensions, Lens

Array = NDArray[np.float64]


class View:
    """What the clicks on one frame tell.

    Attributes:
        clicks: on the frame.
        camera: solved for, or None where the apparatus points are too few.
        rolled: how far uprights lean in the picture, or None without one.
        scatter: of one click.
    """

    def __init__(self, clicks: Clicks) -> None:
        self.clicks = clicks
        self.camera = camera_of(clicks)
        self.rolled: flat.Roll | None = flat.roll(clicks)
        self.scatter: Scatter = scatter(clicks)
        self._joints = {name: joint(clicks, name) for name, spots in clicks.body if spots}

    @property
    def lean(self) -> float:
        """Degrees by which the picture is turned to level it."""
        return self.rolled.lean if self.rolled else 0.0

    @cached_property
    def to_right(self) -> bool:
        """Whether the body is cast to the right: as said, else where the levelled line points.

        A length has no side.
        """
        if self.clicks.cast_to or self.clicks.line in LENGTHS:
            return self.clicks.cast_to == "right"
        needed = line_joints(self.clicks.line)
        ends = (needed[0], needed[-1]) if self.clicks.line in LOWEST else needed[:2]
        seen, _ = flat.direction(*(self._joints[name] for name in ends))
        return flat.points_right(seen + self.lean)

    def places(self) -> dict[str, Array]:
        """Where every joint lies, (3,): across, along the rails, up; mm, or px of the levelled picture."""
        if self.camera is None:
            return flat.places(self._joints, self.lean)
        return trueplane.places(self._line(self._joints), self.camera)

    def measured(self, joints: Iterable[str], quantity: Quantity) -> Measured:
        """A quantity of these joints, with its budget."""
        if self.camera is None:
            return self._in_the_picture(joints, quantity)
        found = trueplane.measured(self._line(joints), quantity, self.camera)
        said = f"{BODY}, {self.scatter.said}"
        parts = tuple((said if name == BODY else name, size) for name, size in found.budget)
        return Measured(found.degrees, parts)

    def seen(self, joints: Iterable[str], quantity: Quantity, lean: float = 0.0) -> float:
        """The quantity in the picture itself, turned by ``lean`` degrees."""
        return flat.value({name: self._joints[name] for name in joints}, quantity, lean)

    def _in_the_picture(self, joints: Iterable[str], quantity: Quantity) -> Measured:
        named = {name: self._joints[name] for name in joints}
        parts = flat.budget(named, quantity, self.rolled, self._blur, self.scatter.said)
        return Measured(flat.value(named, quantity, self.lean), tuple(parts))

    def has(self, name: str) -> bool:
        """Whether a joint was clicked."""
        return name in self._joints

    def joint(self, name: str) -> Joint:
        """Where a joint was clicked."""
        return self._joints[name]

    @property
    def _blur(self) -> float:
        return 0.0 if self.clicks.blur is None else pixels(self.clicks.blur)

    def _line(self, joints: Iterable[str]) -> Line:
        named = tuple(joints)
        ends = [self._joints[name] for name in named]
        height = self.clicks.height
        return Line(
            joints=named,
            spots=np.array([[end.x, end.y] for end in ends]),
            sds=tuple(end.sd for end in ends),
            nearer=-1.0 if self.clicks.side == "near" else 1.0,
            stature=body.USUAL_STATURE if height is None else height.thousandths / 1000,
            stature_doubt=body.STATURE_DOUBT if height is None else 0.0,
            to_right=self.to_right,
            blur=self._blur,
        )


def camera_of(clicks: Clicks) -> Calibration | None:
    """The camera of the apparatus points; None where they are too few, refused where they cannot be."""
    if len(clicks.apparatus) < FEWEST:
        return None
    spots = tuple((name, (pixels(spot.x), pixels(spot.y))) for name, spot in clicks.apparatus)
    found = _solved(spots, clicks.picture, clicks.dimensions, apparatus_sd(clicks), clicks.lens)
    refuse_misfit(clicks, found)
    return found


@lru_cache(maxsize=64)
def _solved(
    spots: tuple[tuple[str, tuple[float, float]], ...],
    picture: tuple[int, int],
    dimensions: Dimensions,
    click_sd: float,
    lens: Lens,
) -> Calibration:
    """The camera of these points: the same while it stands still, and while a joint is dragged."""
    return calibrate(spots, picture, dimensions, click_sd, lens)
