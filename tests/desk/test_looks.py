"""Contrast by the formulas of WCAG 2.2 (W3C Recommendation), 1.4.3 and 1.4.11: relative luminance of sRGB."""

from itertools import pairwise

import pytest
from PyQt6.QtCore import QRectF
from PyQt6.QtGui import QColor, QImage, QPainter
from PyQt6.QtWidgets import QApplication

from reviewer.desk.framing import Framing, spot_at
from reviewer.desk.looks import (
    AROUND,
    CHOSEN,
    EDGE,
    ELEMENT,
    FAULT,
    HERE,
    INK,
    LANE,
    LOOKS,
    OFF,
    PAPER,
    PROBLEM,
    QUIET,
    READING,
    SHEET,
)
from reviewer.desk.painting import paint, paint_focus
from reviewer.drawing import PALETTE
from reviewer.terms.shapes import Label, Segment

GROUNDS = (PAPER, SHEET, CHOSEN, PROBLEM)


def luminance(colour: str) -> float:
    """Relative luminance of a colour such as ``#0072B2``."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio, 1 to 21."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_gives_the_ratios_that_are_known() -> None:
    """Black on white is 21:1; #767676 on white is the darkest grey that just reaches 4.54:1 (WCAG)."""
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("ground", GROUNDS)
def test_words_reach_four_and_a_half_to_one(look: str, ground: str) -> None:
    shades = LOOKS[look]
    assert {name: contrast(shades[name], shades[ground]) >= 4.5 for name in (INK, QUIET, FAULT)} == {
        INK: True,
        QUIET: True,
        FAULT: True,
    }


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("ground", [*GROUNDS, LANE])
def test_signs_edges_and_the_focus_reach_three_to_one(look: str, ground: str) -> None:
    shades = LOOKS[look]
    weak = [
        name
        for name in (ELEMENT, FAULT, READING, HERE, EDGE, OFF)
        if contrast(shades[name], shades[ground]) < 3
    ]
    assert weak == []


@pytest.mark.parametrize("look", LOOKS)
def test_each_look_has_a_shade_for_every_use(look: str) -> None:
    assert LOOKS[look].keys() == LOOKS["light"].keys()


WORDS_BY_HAND = ((INK, SHEET), (QUIET, SHEET), (INK, CHOSEN), (QUIET, CHOSEN), (INK, AROUND))
"""Names and seconds of the strip, lines of the sheet, what the empty picture says."""
SIGNS_BY_HAND = (
    *((sign, LANE) for sign in (INK, QUIET, ELEMENT, FAULT, READING, HERE)),
    (SHEET, ELEMENT),
    (INK, SHEET),
    (ELEMENT, CHOSEN),
)
"""What the strip's lanes carry; the light rim of a line that crosses a block, and that line on its rim."""


@pytest.mark.parametrize("look", LOOKS)
def test_words_painted_by_hand_reach_four_and_a_half_to_one(look: str) -> None:
    shades = LOOKS[look]
    assert [pair for pair in WORDS_BY_HAND if contrast(*(shades[name] for name in pair)) < 4.5] == []


@pytest.mark.parametrize("look", LOOKS)
def test_signs_painted_by_hand_reach_three_to_one(look: str) -> None:
    shades = LOOKS[look]
    assert [pair for pair in SIGNS_BY_HAND if contrast(*(shades[name] for name in pair)) < 3] == []


GROUNDS_OF_PICTURES = ("#000000", "#404040", "#777777", "#B0B0B0", "#FFFFFF", "#2050A0", "#C03030", "#D8B088")


def shades_of(image: QImage) -> set[str]:
    """Every colour of a picture."""
    return {image.pixelColor(x, y).name() for x in range(image.width()) for y in range(image.height())}


@pytest.mark.parametrize("ground", GROUNDS_OF_PICTURES)
@pytest.mark.parametrize("style", sorted(PALETTE))
def test_lines_over_a_picture_stand_out_from_the_halo_or_the_picture(
    application: QApplication, style: str, ground: str
) -> None:
    image = QImage(60, 60, QImage.Format.Format_RGB32)
    image.fill(QColor(ground))
    painter = QPainter(image)
    paint(painter, Framing(1, 0, 0), [Segment(spot_at(0, 30), spot_at(59, 30), style)])
    painter.end()
    line = PALETTE[style].colour
    assert max(contrast(line, shade) for shade in shades_of(image)) >= 3


@pytest.mark.parametrize("ground", GROUNDS_OF_PICTURES)
def test_words_over_a_picture_have_a_halo_they_can_be_read_on(application: QApplication, ground: str) -> None:
    image = QImage(120, 40, QImage.Format.Format_RGB32)
    image.fill(QColor(ground))
    painter = QPainter(image)
    paint(painter, Framing(1, 0, 0), [Label(spot_at(8, 28), "−43.2°", "number")])
    painter.end()
    assert {"#000000", "#ffffff"} <= shades_of(image)


@pytest.mark.parametrize("ground", GROUNDS_OF_PICTURES)
def test_the_focus_round_a_picture_is_seen_on_every_picture(application: QApplication, ground: str) -> None:
    image = QImage(60, 60, QImage.Format.Format_RGB32)
    image.fill(QColor(ground))
    painter = QPainter(image)
    paint_focus(painter, QRectF(image.rect()))
    painter.end()
    edge = [image.pixelColor(x, 30).name() for x in range(8)]
    assert max(contrast(one, other) for one, other in pairwise(edge)) >= 3
