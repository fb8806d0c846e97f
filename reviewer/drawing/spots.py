"""Whole-numbered places and words that several drawings need."""

from collections.abc import Sequence

from reviewer.terms.exact import Pixels
from reviewer.terms.shapes import Spot

REFERENCE = 1280
"""Longest side in pixels of a picture on which pens and rings have their stated size."""


def middle(spots: Sequence[Spot]) -> Spot:
    """The mean of several spots."""
    count = len(spots)
    across, down = sum(spot.x.thousandths for spot in spots), sum(spot.y.thousandths for spot in spots)
    return Spot(Pixels((2 * across + count) // (2 * count)), Pixels((2 * down + count) // (2 * count)))


def scaled(pixels: int, picture: tuple[int, int]) -> Pixels:
    """Pixels of the reference picture in those of another."""
    return Pixels(pixels * 1000 * max(picture) // REFERENCE)
