"""How the strip's width is shared out: all of it grows with the letters."""

from dataclasses import dataclass

from PyQt6.QtGui import QFontMetricsF


@dataclass(frozen=True, slots=True)
class Columns:
    """Left edges and widths in view pixels, from the left.

    Attributes:
        unit: height of a line of words; all else is a multiple of it.
        pictures, picture_width: small pictures; no width where there is no room for them.
        times: right edge of the seconds; 0 where there is no room for them.
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


NARROWEST, FOR_NAMES, FOR_SECONDS = 12.5, 8.0, 1.6
"""Widths in units: of the strip at least, of names where anything else finds room, and of the seconds."""
PICTURE, WIDEST, HIGHEST = 2.8, 8.0, 5.0
"""In units: the least width or height a small picture is worth showing at, and the largest of both."""


def shared_out(metrics: QFontMetricsF, width: float, aspect: float | None) -> Columns:
    """Columns for letters of this size; ``aspect`` is small pictures' width to height, None without."""
    unit, left = metrics.height(), metrics.height() * 0.35
    spare = width - left - (FOR_NAMES + 3.95) * unit
    timed = spare >= (FOR_SECONDS - 0.3) * unit
    picture = _picture(unit, spare - (FOR_SECONDS + 0.25) * unit, aspect) if aspect is not None else 0.0
    times = left + (picture + 0.25 * unit if picture else 0.0) + (FOR_SECONDS * unit if timed else 0.0)
    lanes = times + (0.25 * unit if timed else 0.0)
    readings, elements = lanes + 0.4 * unit, lanes + 1.2 * unit
    faults, notes = lanes + 2.05 * unit, lanes + 2.65 * unit
    end = lanes + 3.0 * unit
    return Columns(
        unit,
        left,
        picture,
        times if timed else 0.0,
        readings,
        elements,
        faults,
        notes,
        lanes,
        end,
        end + 0.75 * unit,
        width,
    )


def _picture(unit: float, spare: float, aspect: float) -> float:
    """Width of small pictures in steps of half a unit, so that few sizes have to be made; 0 for none."""
    steps = int(2 * min(spare, WIDEST * unit, HIGHEST * unit * aspect) / unit)
    width = steps * unit / 2
    return width if max(width, width / aspect) >= PICTURE * unit else 0.0
