"""Contrast by the formulas of WCAG 2.2 (W3C Recommendation), 1.4.3 and 1.4.11: relative luminance of sRGB."""

import pytest

from reviewer.desk.looks import (
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
