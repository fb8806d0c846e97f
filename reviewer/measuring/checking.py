"""Clicks that cannot give an angle: every problem in them, gathered."""

from collections.abc import Iterator

from reviewer.measuring.geometry import Stroke, body_line, uprights
from reviewer.terms.problems import Problem
from reviewer.terms.readings import LINES, Clicks
from reviewer.terms.shapes import Spot

SHORTEST = 3.0
"""Pixels: a shorter body line or upright has no direction worth the name (from memory)."""


def problems(clicks: Clicks) -> tuple[Problem, ...]:
    """All that is wrong with these clicks; empty for sound ones."""
    found = [*_words(clicks), *_outside(clicks), *_missing(clicks)]
    return tuple(found) or tuple(_short(clicks))


def _words(clicks: Clicks) -> Iterator[Problem]:
    if clicks.line not in LINES:
        lines = ", ".join(LINES)
        yield Problem(
            "unknown-line", "line", f"{clicks.line!r} is not a body line.", f"Choose one of {lines}."
        )
    if clicks.cast_to not in (None, "left", "right"):
        yield Problem(
            "unknown-side",
            "cast_to",
            f"{clicks.cast_to!r} is not a side of the picture.",
            "Say left or right, or leave it out.",
        )
    if clicks.click_sd is not None and clicks.click_sd.thousandths < 0:
        yield Problem(
            "negative-spread",
            "click_sd_px",
            f"A spread of {clicks.click_sd} px is below nothing.",
            "Give the standard deviation of one click, or leave it out.",
        )


def _missing(clicks: Clicks) -> Iterator[Problem]:
    clicked = {joint for joint, spots in clicks.body if spots}
    for joint in clicks.line.split("-") if clicks.line in LINES else ():
        if joint not in clicked:
            yield Problem(
                "joint-not-clicked",
                f"body.{joint}",
                f"The line {clicks.line} needs the {joint}, which was not clicked.",
                f"Click the {joint}, or choose another line.",
            )


def _outside(clicks: Clicks) -> Iterator[Problem]:
    placed = [(f"body.{joint}[{i}]", at) for joint, spots in clicks.body for i, at in enumerate(spots)]
    placed += [(f"points.{name}", at) for name, at in clicks.apparatus]
    width, height = clicks.picture
    for where, at in placed:
        if not _within(at, clicks.picture):
            yield Problem(
                "click-outside",
                where,
                f"({at.x}, {at.y}) lies outside the picture of {width} x {height} pixels.",
                "Click inside the picture as displayed, counted from the centre of its top-left pixel.",
            )


def _within(at: Spot, picture: tuple[int, int]) -> bool:
    """Half a pixel around the outermost centres still belongs to the picture."""
    places = zip((at.x, at.y), picture, strict=True)
    return all(-500 <= place.thousandths <= 1000 * size - 500 for place, size in places)


def _short(clicks: Clicks) -> Iterator[Problem]:
    lines: list[tuple[str, str, Stroke]] = [("body-line-too-short", "body", body_line(clicks))]
    lines += [("upright-too-short", f"points.{top}", upright) for top, upright in uprights(clicks)]
    for code, where, line in lines:
        if line.length < SHORTEST:
            yield Problem(
                code,
                where,
                f"Its two ends lie {line.length:.3f} px apart, too close to give a direction.",
                "Click the two ends where they are seen, or zoom in first.",
            )
