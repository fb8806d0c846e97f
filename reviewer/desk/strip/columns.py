"""How the strip's width is shared out: all of it grows with the letters."""

from dataclasses import dataclass

from PyQt6.QtGui import QFontMetricsF


@dataclass(frozen=True, slots=True)
class Columns:
    """Left edges and widths in view pixels, from the left.

    Attributes:
        unit: height of a line of words; all else is a multiple of it.
        pictures, picture_width: small pictures; no width where there is no room for them.
        times: right edge of the seconds.
        readings, elements, faults, notes: the middles of the lanes.
        lanes, lanes_end: the ground beneath the lanes.
        names: where names begin.
        width: of the strip.
    """

    unit: float
    pictures: float
    picture_width: float
    times: float
    readings: float
    elements: float
    faults: float
    notes: float
    lanes: float
    lanes_end: float
    names: float
    width: float

    @property
    def row(self) -> float:
        """Height of one name."""
        return self.unit * 1.12

    @property
    def top(self) -> float:
        """Head room above the lanes."""
        return self.unit * 1.6

    @property
    def foot(self) -> float:
        """Room below them."""
        return self.unit * 0.7


NARROWEST, FOR_NAMES, LANES = 11.5, 6.6, 6.6
"""In units: the strip at least, the names that pictures must leave room for, seconds and lanes together."""
PICTURE, PICTURE_HIGH = 3.6, 2.6
"""Width and height, in units, that a small picture must fit."""


def shared_out(metrics: QFontMetricsF, width: float, aspect: float | None) -> Columns:
    """Columns for letters of this size; ``aspect`` is small pictures' width to height, None without."""
    unit, left, picture = metrics.height(), metrics.height() * 0.35, 0.0
    if aspect is not None:
        picture = min(PICTURE * unit, PICTURE_HIGH * unit * aspect)
        picture = picture if width >= (FOR_NAMES + LANES) * unit + picture else 0.0
    times = left + (picture + 0.25 * unit if picture else 0.0) + 2.1 * unit
    lanes = times + 0.25 * unit
    readings, elements = lanes + 0.4 * unit, lanes + 1.2 * unit
    faults, notes = lanes + 2.05 * unit, lanes + 2.65 * unit
    end = lanes + 3.0 * unit
    return Columns(
        unit, left, picture, times, readings, elements, faults, notes, lanes, end, end + 0.9 * unit, width
    )
