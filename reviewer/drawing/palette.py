"""One pen for each style, used alike on the screen and in reports.

Colours are of the published Okabe-Ito palette (told apart with any colour vision), those with 3:1 contrast
against the light halo that lies under every stroke. No two lines differ by colour alone: width or dash differ
as well; a joint is a ring.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Pen:
    """How a style is drawn.

    Attributes:
        colour: ``#`` and six hexadecimal digits.
        width: pixels at a picture 1280 wide, as decimal text.
        dash: lengths in pixels of strokes and gaps in turn; empty for an unbroken line.
        fill: how strongly a path's inside is tinted, as decimal text from 0 to 1; empty for not at all.
    """

    colour: str
    width: str
    dash: tuple[int, ...] = ()
    fill: str = ""


PALETTE: Mapping[str, Pen] = MappingProxyType(
    {
        "body-line": Pen("#D55E00", "3.000"),
        "level": Pen("#0072B2", "2.000", (12, 4)),
        "limit": Pen("#000000", "2.500"),
        "tolerance": Pen("#000000", "1.500", (6, 5)),
        "doubt": Pen("#D55E00", "1.000", (2, 3), "0.200"),
        "upright": Pen("#009E73", "2.000", (2, 4)),
        "joint": Pen("#D55E00", "2.000"),
        "number": Pen("#000000", "1.000"),
        "residual": Pen("#0072B2", "1.750"),
        "left-out": Pen("#D55E00", "2.750"),
        "axis": Pen("#000000", "1.250"),
        "grid": Pen("#000000", "0.500", (1, 6)),
        "lost": Pen("#0072B2", "0.750"),
        "top": Pen("#009E73", "2.250"),
    }
)
