"""One frame of a followed cast: where the joints were followed to, and the angle there."""

from collections.abc import Mapping
from typing import Any

from reviewer.drawing.spots import scaled
from reviewer.terms.exact import Pixels
from reviewer.terms.intervals import degrees_told
from reviewer.terms.shapes import Label, Ring, Segment, Shape, Spot
from reviewer.words import Saying

ENGLISH = Saying()

RING = 7
"""Radius of a ring in pixels of a picture 1280 long."""


def followed(
    frame: Mapping[str, Any], line: str, picture: tuple[int, int], say: Saying = ENGLISH
) -> tuple[Shape, ...]:
    """Shapes of a frame of a ``reviewer.track/1`` document; none where it was lost.

    ``line`` are the joints the angle is of, ``picture`` the size of the picture.
    """
    if frame["state"] != "good":
        return ()
    spots = {name: _spot(pair) for name, pair in frame["points"].items()}
    rings = tuple(Ring(spot, scaled(RING, picture), "joint") for spot in spots.values())
    ends = [spots[name] for name in line.split("-") if name in spots]
    if len(ends) < 2:
        return rings
    step = scaled(2 * RING, picture)
    words = say.word(degrees_told({"value_deg": frame["angle_deg"], "u_deg": frame["u_deg"]}))
    beside = Spot(ends[1].x + step, ends[1].y + step)
    return (*rings, Segment(ends[0], ends[1], "body-line"), Label(beside, words, "number"))


def _spot(pair: list[str]) -> Spot:
    return Spot(Pixels.parse(pair[0]), Pixels.parse(pair[1]))
