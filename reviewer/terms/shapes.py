"""Shapes in picture coordinates, styled by name; the desk paints them and the report writes them as SVG.

Coordinates are those of the picture as displayed: (0, 0) is the centre of the top-left pixel, x right,
y down.
"""

from dataclasses import dataclass

from reviewer.terms.exact import Pixels

STYLES = (
    *("body-line", "level", "limit", "tolerance", "doubt", "upright", "joint", "number"),
    *("residual", "left-out", "axis", "grid", "lost", "top"),
)
"""Names a shape's style may have; the palette in `drawing` gives each its colour and width."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A point of the picture."""

    x: Pixels
    y: Pixels


@dataclass(frozen=True, slots=True)
class Segment:
    """A straight line between two points."""

    start: Spot
    end: Spot
    style: str


@dataclass(frozen=True, slots=True)
class Path:
    """A line through several points in turn; a style with a fill tints what it encloses."""

    spots: tuple[Spot, ...]
    style: str


@dataclass(frozen=True, slots=True)
class Ring:
    """A small open circle around a point, so that the picture beneath stays visible."""

    centre: Spot
    radius: Pixels
    style: str


@dataclass(frozen=True, slots=True)
class Label:
    """Words beside a point."""

    at: Spot
    words: str
    style: str


Shape = Segment | Path | Ring | Label
