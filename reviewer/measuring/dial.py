"""The dial of a reading: elevations in the true plane, as the camera that was solved for sees them."""

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring.asking import asked_angle, is_elevation
from reviewer.measuring.calibration import Calibration
from reviewer.measuring.camera import ORIGIN, ROTATION, project, rotation
from reviewer.measuring.errors import MeasuringError
from reviewer.measuring.views import View
from reviewer.terms.bodylines import LEVEL
from reviewer.terms.dials import ELEVATIONS, Dial
from reviewer.terms.exact import Pixels
from reviewer.terms.readings import Clicks
from reviewer.terms.shapes import Spot

Array = NDArray[np.float64]

_LEAST_DEPTH = 100.0
"""mm before the camera within which nothing is seen."""


def dial(clicks: Clicks) -> Dial | None:
    """The dial of the line that these clicks measure; None without a camera, and where a bend is measured.

    Each end of the line lies at its own depth, as when it is measured: the rim is where the second joint
    would be, had the body that elevation. The clicks are such as `measure` takes.
    """
    try:
        view = View(clicks)
        line = asked_angle(view).through if is_elevation(clicks.line, LEVEL) else None
    except MeasuringError:  # points that do not fit give no angle either, and measuring says so
        return None
    if view.camera is None or line is None:
        return None
    places, (first, second) = view.places(), line.split("-")
    rim = _rim(places[first], places[second], view.to_right)
    if not _nearest(view.camera, rim) >= _LEAST_DEPTH:  # nor where a place is not a number
        return None
    centre, seen = view.joint(first), project(view.camera.camera, rim, view.camera.size)
    spots = (_spot(place, 100) for place in seen)
    return Dial(_spot(np.array([centre.x, centre.y]), 1), tuple(zip(ELEVATIONS, spots, strict=True)))


def _rim(start: Array, end: Array, to_right: bool) -> Array:
    """World places (n, 3) in mm around one place, through another and at its depth."""
    length = np.hypot(*(end - start)[[0, 2]])
    turned = np.radians([angle.thousandths / 1000 for angle in ELEVATIONS])
    across = length * np.cos(turned) * (1.0 if to_right else -1.0)
    depth = np.full_like(across, end[1])
    return np.stack([start[0] + across, depth, start[2] + length * np.sin(turned)], axis=-1)


def _nearest(camera: Calibration, places: Array) -> float:
    """Depth in mm before the camera of the nearest of some world places."""
    seen = places @ rotation(camera.camera[ROTATION]).T + camera.camera[ORIGIN]
    return float(seen[:, 2].min())


def _spot(place: Array, step: int) -> Spot:
    """In whole steps of thousandths of a pixel: what is solved for differs in its last digits elsewhere."""
    return Spot(*(Pixels(step * round(1000 * float(size) / step)) for size in place))
