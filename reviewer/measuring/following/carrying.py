"""The bars carried from the frame they were clicked on to another one, over a camera that was turned."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring.camera import FOCAL
from reviewer.measuring.clicking import pixels
from reviewer.measuring.following.rays import Rays
from reviewer.measuring.following.seeing import Window
from reviewer.measuring.following.steadying import Steady
from reviewer.measuring.views import camera_of
from reviewer.terms.exact import Pixels
from reviewer.terms.pictures import Picture
from reviewer.terms.readings import Clicks
from reviewer.terms.shapes import Spot

Array = NDArray[np.float64]

_WIDEST = 1280
"""Pixels of the longer side beyond which pictures are looked at in half, a third … of their size."""
_STANDS = 0.02
"""Degrees of turning up to which a camera is said to stand still: a third of a pixel at 720 lines."""


@dataclass(frozen=True, slots=True)
class Carried:
    """Where the bars lie on another frame.

    Attributes:
        points: apparatus points by name; empty where the camera was lost.
        turned: degrees by which the camera was turned; None where nothing in the picture tells.
        lost_on: the frame on which the camera could not be told any more, or None.
    """

    points: tuple[tuple[str, Spot], ...]
    turned: float | None
    lost_on: int | None = None

    @property
    def stands(self) -> bool:
        """Whether the camera stands as it did."""
        return self.turned is not None and self.turned <= _STANDS


def carried(clicks: Clicks, between: Iterable[Picture], *, onwards: bool) -> Carried:
    """Carry the apparatus points of clicks through pictures in order of time.

    ``onwards`` says that the clicks are on the first of these pictures, else they are on the last; the points
    are given as the other end has them. A camera that is turned in its place is followed; that it also moves
    a little is neglected.
    """
    focal = _focal(clicks)
    lens = Rays(focal, (np.array(clicks.picture) - 1.0) / 2)
    window = Window((0, 0), clicks.picture, max(1, -(-max(clicks.picture) // _WIDEST)), clicks.picture)
    steady: Steady | None = None
    for shown in between:
        if steady is None:
            steady = Steady(window.grey(shown), window, focal)
        elif not steady.on(window.grey(shown)):
            return Carried((), None, shown.frame)
    if steady is None or steady.turned is None:
        return Carried(clicks.apparatus, None)
    spots = np.array([[pixels(spot.x), pixels(spot.y)] for _, spot in clicks.apparatus])
    turn = steady.turn.T if onwards else steady.turn
    seen = lens.seen(lens.sent(spots) @ turn)
    names = [name for name, _ in clicks.apparatus]
    return Carried(
        tuple((name, _spot(place)) for name, place in zip(names, seen, strict=True)), steady.turned
    )


def _focal(clicks: Clicks) -> float:
    """Pixels: solved for, or usual."""
    camera = camera_of(clicks)
    return 1.3 * max(clicks.picture) if camera is None else float(np.exp(camera.camera[FOCAL]))


def _spot(place: Array) -> Spot:
    x, y = (Pixels(round(float(side) * 1000)) for side in place)
    return Spot(x, y)
