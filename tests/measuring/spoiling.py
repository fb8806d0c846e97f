"""Ways in which a request for an angle goes wrong: each spoils a good ``reviewer.clicks/1`` document.

Only what the judge hands over is spoiled; the true angle stays what it was.
"""

from collections.abc import Callable
from copy import deepcopy
from typing import Any

import numpy as np

Document = dict[str, Any]
Spoiling = Callable[[Document, np.random.Generator], None]


def spoiled(document: Document, how: str, chance: np.random.Generator) -> Document:
    """The document, spoiled in the way named."""
    made = deepcopy(document)
    WAYS[how](made, chance)
    return made


def _one_off(by: tuple[float, float]) -> Spoiling:
    def spoil(made: Document, chance: np.random.Generator) -> None:
        _move(made["points"][_any(made, chance)], made, chance, chance.uniform(*by))

    return spoil


def _two_off(made: Document, chance: np.random.Generator) -> None:
    for name in chance.choice(sorted(made["points"]), 2, replace=False):
        _move(made["points"][name], made, chance, 60.0)


def _joint_off(made: Document, chance: np.random.Generator) -> None:
    _move(made["body"][str(chance.choice(sorted(made["body"])))][0], made, chance, 150.0)


def _move(spot: list[str], made: Document, chance: np.random.Generator, by: float) -> None:
    """To somewhere else in the picture."""
    turn = chance.uniform(0, 2 * np.pi)
    for axis, part in enumerate((np.cos(turn), np.sin(turn))):
        moved = float(spot[axis]) + by * part
        inside = 0 <= moved <= made["picture"][axis] - 1
        spot[axis] = f"{moved if inside else float(spot[axis]) - by * part:.3f}"


def _exchange(made: Document, first: str, second: str) -> None:
    points = made["points"]
    points[first], points[second] = points[second], points[first]


def _two_exchanged(made: Document, chance: np.random.Generator) -> None:
    _exchange(made, *map(str, chance.choice(sorted(made["points"]), 2, replace=False)))


def _ends_of_a_rail(made: Document, chance: np.random.Generator) -> None:
    rail = chance.choice(["low", "high"])
    _exchange(made, f"{rail}-rail-near", f"{rail}-rail-far")


def _an_upright(made: Document, chance: np.random.Generator) -> None:
    at = f"{chance.choice(['low', 'high'])}-{{}}-{chance.choice(['near', 'far'])}"
    _exchange(made, at.format("rail"), at.format("foot"))


def _called(old: str, new: str) -> Spoiling:
    """All points of one kind take the names of the other's."""

    def spoil(made: Document, chance: np.random.Generator) -> None:
        turned = {old: new, new: old}
        made["points"] = {
            "-".join(turned.get(part, part) for part in name.split("-")): spot
            for name, spot in made["points"].items()
        }

    return spoil


def _doubled(made: Document, chance: np.random.Generator) -> None:
    first, second = map(str, chance.choice(sorted(made["points"]), 2, replace=False))
    made["points"][first] = list(made["points"][second])


def _on_one_spot(made: Document, chance: np.random.Generator) -> None:
    spot = made["points"][_any(made, chance)]
    made["points"] = {name: list(spot) for name in made["points"]}


def _in_a_row(made: Document, chance: np.random.Generator) -> None:
    for number, spot in enumerate(made["points"].values()):
        spot[:] = [f"{300 + 60 * number:.3f}", f"{200 + 30 * number:.3f}"]


def _anywhere(made: Document, chance: np.random.Generator) -> None:
    for spot in made["points"].values():
        spot[:] = [f"{chance.uniform(0, side - 1):.3f}" for side in made["picture"]]


def _few(count: int) -> Spoiling:
    def spoil(made: Document, chance: np.random.Generator) -> None:
        kept = chance.permutation(sorted(made["points"]))[:count]
        made["points"] = {name: made["points"][name] for name in sorted(kept)}

    return spoil


def _few_and_one_off(count: int) -> Spoiling:
    def spoil(made: Document, chance: np.random.Generator) -> None:
        _few(count)(made, chance)
        _one_off((100.0, 100.0))(made, chance)

    return spoil


def _said(key: str, value: Any) -> Spoiling:
    def spoil(made: Document, chance: np.random.Generator) -> None:
        made["apparatus"][key] = value

    return spoil


def _also(key: str, value: Any) -> Spoiling:
    def spoil(made: Document, chance: np.random.Generator) -> None:
        made[key] = value

    return spoil


def _joints_exchanged(made: Document, chance: np.random.Generator) -> None:
    first, second = made["line"].split("-")
    made["body"][first], made["body"][second] = made["body"][second], made["body"][first]


def _other_side(made: Document, chance: np.random.Generator) -> None:
    made["cast_to"] = {"left": "right", "right": "left"}[made["cast_to"]]


def _mirrored(made: Document, chance: np.random.Generator) -> None:
    """As a phone that mirrors its pictures, the judge naming what can be seen."""
    for spot in [*made["points"].values(), *(spot for spots in made["body"].values() for spot in spots)]:
        spot[0] = f"{made['picture'][0] - 1 - float(spot[0]):.3f}"
    _other_side(made, chance)


def _only(part: str) -> Spoiling:
    def spoil(made: Document, chance: np.random.Generator) -> None:
        made["points"] = {name: spot for name, spot in made["points"].items() if part in name}

    return spoil


def _any(made: Document, chance: np.random.Generator) -> str:
    return str(chance.choice(sorted(made["points"])))


WAYS: dict[str, Spoiling] = {
    "one point off by 100 px": _one_off((100.0, 100.0)),
    "one point off by 10 to 40 px": _one_off((10.0, 40.0)),
    "one point off by 40 to 300 px": _one_off((40.0, 300.0)),
    "two points off by 60 px": _two_off,
    "one of six off by 100 px": _few_and_one_off(6),
    "one of five off by 100 px": _few_and_one_off(5),
    "one of four off by 100 px": _few_and_one_off(4),
    "two points exchanged": _two_exchanged,
    "ends of a rail exchanged": _ends_of_a_rail,
    "rail and foot exchanged": _an_upright,
    "near called far": _called("near", "far"),
    "high called low": _called("high", "low"),
    "rails called feet": _called("rail", "foot"),
    "one point on another": _doubled,
    "all points on one spot": _on_one_spot,
    "all points in a row": _in_a_row,
    "points anywhere": _anywhere,
    "three points": _few(3),
    "low rail alone": _only("low"),
    "near ends alone": _only("near"),
    "feet alone": _only("foot"),
    "rails alone": _only("rail"),
    "spread 30 cm too narrow": _said("spread_mm", 1130),
    "spread 30 cm too wide": _said("spread_mm", 1730),
    "spread taken for the inner diagonal": _said("spread", "inner-diagonal"),
    "high rail said 10 cm too high": _said("high_top_mm", 2600),
    "both rails said low by a mat": _said("low_top_mm", 1500),
    "mat said to be absent": _said("mat_top_mm", 0),
    "clicks said to be ten times as good": _also("click_sd_px", "0.150"),
    "clicks said to be exact": _also("click_sd_px", "0"),
    "size of another picture": _also("picture", [1920, 1080]),
    "athlete said to be 3 m tall": _also("athlete_height_mm", 3000),
    "athlete said to be 1 mm tall": _also("athlete_height_mm", 1),
    "far joints said": _also("side", "far"),
    "one joint off by 150 px": _joint_off,
    "joints exchanged": _joints_exchanged,
    "cast to the other side": _other_side,
    "mirrored": _mirrored,
}
"""Name of a way to what it does to a document of eight points."""
UNSEEN = {"one joint off by 150 px", "far joints said"}
"""Two joints alone tell neither a bent body from a click gone wrong, as long as the line could be that long,
nor on which side of the body they lie: nothing in the request contradicts them.
"""
