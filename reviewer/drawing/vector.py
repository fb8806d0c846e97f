"""Shapes as SVG text (W3C SVG 1.1): the same bytes for the same shapes."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import singledispatch
from xml.sax.saxutils import escape, quoteattr

from reviewer.drawing.palette import PALETTE
from reviewer.drawing.spots import REFERENCE
from reviewer.terms.exact import Pixels
from reviewer.terms.shapes import Label, Path, Ring, Segment, Shape

HALO = "#FFFFFF"
HALO_WIDTH = 3.0
"""Pixels that the halo is wider than its stroke."""
LETTER_HEIGHT = 26.0
"""Of words, in pixels of a picture 1280 long."""
ENLARGED = 1.4
"""Times larger that a page may show the words on a small screen; the picture leaves room for that."""
LETTER_WIDTH = 0.56
"""Of a letter's height: enough to keep words inside the picture."""
_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


@dataclass(frozen=True, slots=True)
class _Sheet:
    """The part of the picture that is shown, in pixels, and how large pens and letters are on it.

    Words keep room to be shown ``grown`` times as large.
    """

    corner: tuple[int, int]
    size: tuple[int, int]
    scale: float
    grown: float


def svg(
    shapes: Iterable[Shape],
    size: tuple[int, int],
    title: str,
    letter_height: float | None = None,
    corner: tuple[int, int] = (0, 0),
    letters: str = "sans-serif",
) -> str:
    """An ``<svg>`` to lay over a picture of this size in pixels, or over the part of it at a corner.

    Pens and letters grow with the picture, or go by a letter's height in pixels; ``letters`` names them. SVG
    counts from a pixel's corner and shapes from its centre: the one shift by half a pixel is here.
    """
    part = f"{corner[0]} {corner[1]} {size[0]} {size[1]}"
    scale = max(size) / REFERENCE if letter_height is None else letter_height / LETTER_HEIGHT
    sheet = _Sheet(corner, size, scale, ENLARGED if letter_height is None else 1.0)
    drawn = "\n".join(_drawn(shape, sheet) for shape in shapes)
    name = _clean(title)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{part}" role="img" '
        f"aria-label={quoteattr(name)}>\n<title>{escape(name)}</title>\n"
        f'<g transform="translate(0.5 0.5)" fill="none" font-family="{letters}" font-weight="bold" '
        f'font-size="{LETTER_HEIGHT * scale:.3f}">\n'
        f"{drawn}\n</g>\n</svg>\n"
    )


@singledispatch
def _drawn(shape: Shape, sheet: _Sheet) -> str:
    raise TypeError(shape)


@_drawn.register
def _(shape: Segment, sheet: _Sheet) -> str:
    start, end = shape.start, shape.end
    return _stroked(f'<line x1="{start.x}" y1="{start.y}" x2="{end.x}" y2="{end.y}"', shape.style, sheet)


@_drawn.register
def _(shape: Ring, sheet: _Sheet) -> str:
    centre = shape.centre
    return _stroked(f'<circle cx="{centre.x}" cy="{centre.y}" r="{shape.radius}"', shape.style, sheet)


@_drawn.register
def _(shape: Path, sheet: _Sheet) -> str:
    through = " ".join(f"{spot.x},{spot.y}" for spot in shape.spots)
    pen, opened = PALETTE[shape.style], f'<polyline points="{through}" stroke-linejoin="round"'
    tint = f'{opened} fill="{pen.colour}" fill-opacity="{pen.fill}"/>\n' if pen.fill else ""
    return tint + _stroked(opened, shape.style, sheet)


@_drawn.register
def _(shape: Label, sheet: _Sheet) -> str:
    words, letters = _clean(shape.words), LETTER_HEIGHT * sheet.scale * sheet.grown
    (left, top), (wide, high) = sheet.corner, sheet.size
    across = _kept(shape.at.x, left, left + wide - letters * LETTER_WIDTH * len(words))
    down = _kept(shape.at.y, top + letters, top + high - letters / 3)
    return (
        f'<text x="{across}" y="{down}" fill="{PALETTE[shape.style].colour}" '
        f'stroke="{HALO}" stroke-width="{HALO_WIDTH * sheet.scale:.3f}" stroke-linejoin="round" '
        f'paint-order="stroke">{escape(words)}</text>'
    )


def _stroked(opened: str, style: str, sheet: _Sheet) -> str:
    """The outline twice: a light halo, then the pen, so that it shows on any picture."""
    pen, scale = PALETTE[style], sheet.scale
    width = float(pen.width) * scale
    dash = " ".join(f"{length * scale:.3f}" for length in pen.dash)
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'{opened} stroke="{HALO}" stroke-opacity="0.8" stroke-width="{width + HALO_WIDTH * scale:.3f}"/>\n'
        f'{opened} stroke="{pen.colour}" stroke-width="{width:.3f}"{dashed}/>'
    )


def _kept(place: Pixels, low: float, high: float) -> Pixels:
    """A place moved inside bounds; the lower bound wins where they cross."""
    return Pixels(round(max(1000 * low, min(place.thousandths, 1000 * high))))


def _clean(text: str) -> str:
    """Text with every character that XML 1.0 forbids replaced."""
    return _NOT_XML.sub("\N{REPLACEMENT CHARACTER}", text)
