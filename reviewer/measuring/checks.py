"""What must hold of clicks before an angle is made of them."""

from collections.abc import Iterator

from reviewer.measuring.errors import MeasuringError
from reviewer.terms.bodylines import BENDS, JOINTS, LEGS, LENGTHS, LEVEL, LINES, LOWEST, UPRIGHT, line_joints
from reviewer.terms.messages import message, spoken
from reviewer.terms.problems import Problem
from reviewer.terms.readings import Clicks
from reviewer.terms.shapes import Spot

_WIDEST = 100
LARGEST = 100_000
"""Pixels of the longest side of a picture; no recording comes near it."""


_WORDS = message(
    "Measure one of: {lines}; or from joint to joint.",
    lines=", ".join((*LINES, *LOWEST, *BENDS, LEGS, *LENGTHS)),
)


def refuse_unmeasurable(clicks: Clicks) -> None:
    """A MeasuringError with every problem of the clicks, if there is one."""
    problems = tuple(_problems(clicks))
    if problems:
        raise MeasuringError(problems)


def _problems(clicks: Clicks) -> Iterator[Problem]:
    if not all(1 <= side <= LARGEST for side in clicks.picture):
        size, remedy = (
            "{} x {}".format(*clicks.picture),
            message("Give the size of the recording as displayed."),
        )
        yield Problem(
            "picture-size",
            "picture",
            message("No recording has a picture of {size} pixels.", size=size),
            remedy,
        )
    needed = line_joints(clicks.line)
    if not needed:
        yield Problem("unknown-line", f"line {clicks.line}", message("There is no such body line."), _WORDS)
        return
    against = _of_reference(clicks)
    if not against:
        remedy = message(
            "Hold it against {level}, {upright} or a line between two joints, such as hand-shoulder.",
            level=LEVEL,
            upright=UPRIGHT,
        )
        yield Problem(
            "unknown-line", f"against {clicks.against}", message("A line cannot be held against it."), remedy
        )
        return
    if against[1:] and set(against[1:]) == set(needed):
        said = message("A line held against itself has no angle.")
        yield Problem("same-line", f"against {clicks.against}", said, message("Name another line."))
    for what, wide in (("click_sd_px", clicks.click_sd), ("blur_px", clicks.blur)):
        if wide is not None and wide.thousandths > _WIDEST * 1000:
            said = message("Clicks do not scatter, nor limbs blur, by more than {widest} px.", widest=_WIDEST)
            yield Problem(
                "too-wide", f"{what} {wide}", said, message("Click on a clearer frame, or say what it is.")
            )
    clicked = {joint for joint, spots in clicks.body if spots}
    for joint in dict.fromkeys((*needed, *against[1:])):
        if joint not in clicked:
            said = message(
                "The line {line} needs the {joint}.", line=spoken(clicks.line), joint=spoken(joint)
            )
            yield Problem("not-clicked", joint, said, message("Click the {joint}.", joint=spoken(joint)))
    for name, spot in _all_spots(clicks):
        if not _inside(spot, clicks.picture):
            remedy = message("Click on the body or the apparatus as shown.")
            yield Problem(
                "outside-picture",
                name,
                message("({x}, {y}) lies outside the picture.", x=spot.x, y=spot.y),
                remedy,
            )


def _of_reference(clicks: Clicks) -> tuple[str, ...]:
    """A word for what the line is held against, and the joints that takes; empty where it cannot be."""
    if clicks.against == LEVEL:
        return (LEVEL,)
    if clicks.line in (*BENDS, LEGS, *LENGTHS):
        return ()
    joints = line_joints(clicks.against)
    is_line = len(joints) == 2 and set(joints) <= set(JOINTS)
    return (UPRIGHT,) if clicks.against == UPRIGHT else ("line", *joints) if is_line else ()


def _all_spots(clicks: Clicks) -> Iterator[tuple[str, Spot]]:
    for joint, spots in clicks.body:
        yield from ((joint, spot) for spot in spots)
    yield from clicks.apparatus


def _inside(spot: Spot, picture: tuple[int, int]) -> bool:
    """The picture's pixels reach half a pixel beyond their centres."""
    width, height = picture
    x, y = spot.x.thousandths, spot.y.thousandths
    return -500 <= x <= width * 1000 - 500 and -500 <= y <= height * 1000 - 500
