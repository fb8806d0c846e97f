"""What must hold of clicks before an angle is made of them."""

from collections.abc import Iterator

from reviewer.measuring.errors import MeasuringError
from reviewer.terms.problems import Problem
from reviewer.terms.readings import LINES, Clicks
from reviewer.terms.shapes import Spot

LARGEST = 100_000
"""Pixels of the longest side of a picture; no recording comes near it."""


def refuse_unmeasurable(clicks: Clicks) -> None:
    """A MeasuringError with every problem of the clicks, if there is one."""
    problems = tuple(_problems(clicks))
    if problems:
        raise MeasuringError(problems)


def _problems(clicks: Clicks) -> Iterator[Problem]:
    if not all(1 <= side <= LARGEST for side in clicks.picture):
        size, remedy = "{} x {}".format(*clicks.picture), "Give the size of the recording as displayed."
        yield Problem("picture-size", "picture", f"No recording has a picture of {size} pixels.", remedy)
    if clicks.line not in LINES:
        remedy = f"Measure one of: {', '.join(LINES)}."
        yield Problem("unknown-line", f"line {clicks.line}", "There is no such body line.", remedy)
        return
    clicked = {joint for joint, spots in clicks.body if spots}
    for joint in clicks.line.split("-"):
        if joint not in clicked:
            yield Problem(
                "not-clicked", joint, f"The line {clicks.line} needs the {joint}.", f"Click the {joint}."
            )
    for name, spot in _all_spots(clicks):
        if not _inside(spot, clicks.picture):
            remedy = "Click on the body or the apparatus as shown."
            yield Problem("outside-picture", name, f"({spot.x}, {spot.y}) lies outside the picture.", remedy)


def _all_spots(clicks: Clicks) -> Iterator[tuple[str, Spot]]:
    for joint, spots in clicks.body:
        yield from ((joint, spot) for spot in spots)
    yield from clicks.apparatus


def _inside(spot: Spot, picture: tuple[int, int]) -> bool:
    """The picture's pixels reach half a pixel beyond their centres."""
    width, height = picture
    x, y = spot.x.thousandths, spot.y.thousandths
    return -500 <= x <= width * 1000 - 500 and -500 <= y <= height * 1000 - 500
