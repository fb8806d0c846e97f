"""A stretch of a plot hatched, with words: what is not known there is not drawn there."""

from collections.abc import Iterator
from fractions import Fraction

from reviewer.drawing.plotting import LEFT, LETTERS, TOP, Plot, spot, width
from reviewer.terms.shapes import Label, Segment, Shape

APART = 12
"""Pixels across between two strokes."""
ROWS = 3
"""Rows that words take in turn, so that those of neighbouring stretches do not lie on each other."""


def hatched(plot: Plot, start: Fraction, end: Fraction) -> Iterator[Shape]:
    """Slanting strokes from the top of the plot to its axis, between two places across, in pixels."""
    height = plot.bottom - TOP
    for edge in (start, end):
        yield Segment(spot(edge, plot.bottom), spot(edge, TOP), "lost")
    first = int(start - height) // APART * APART
    for foot in range(first, int(end) + 1, APART):
        left, right = max(start, Fraction(foot)), min(end, Fraction(foot + height))
        if left < right:
            yield Segment(
                spot(left, plot.bottom - (left - foot)), spot(right, plot.bottom - (right - foot)), "lost"
            )


def named(plot: Plot, start: Fraction, end: Fraction, words: str, number: int) -> Label:
    """Words in the middle of a stretch, inside the plot; ``number`` counts stretches and gives the row."""
    begin = max(Fraction(LEFT), min((start + end - width(words)) / 2, plot.right - width(words)))
    return Label(spot(begin, plot.bottom - 8 - number % ROWS * (LETTERS + 4)), words, "number")
