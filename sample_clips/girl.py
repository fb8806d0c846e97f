"""The girl as rounded solids: sleeveless leotard, short tights, bare arms and legs, hair in a bun."""

import numpy as np
from figure import SIDES, Array
from solids import Colour, Solid

SKIN: Colour = (222.0, 168.0, 136.0)
LEOTARD: Colour = (150.0, 28.0, 74.0)
TIGHTS: Colour = (52.0, 34.0, 78.0)
HAIR: Colour = (72.0, 46.0, 34.0)
GRIP: Colour = (236.0, 232.0, 222.0)
RIBBON: Colour = (240.0, 196.0, 60.0)
CLOTH: Colour = (226.0, 214.0, 150.0)

Joints = dict[str, Array]  # one instant: name -> (3,)


def solids(j: Joints) -> list[Solid]:
    """What to draw for the joints of one instant."""
    parts = _trunk(j) + head(j)
    for side in SIDES:
        parts += _arm(j, side) + _leg(j, side)
    return parts + (_loose(j) if "plait-end" in j else [])


def _solid(
    points: list[Array],
    radii: list[float],
    colour: Colour,
    nearer: float = 0.0,
    kind: str = "hull",
    at: Array | None = None,
) -> Solid:
    return Solid(np.stack(points), radii, colour, nearer, kind=kind, sort_at=at)


def _along(a: Array, b: Array, u: float) -> Array:
    return np.asarray(a + u * (b - a))


def _unit(v: Array) -> Array:
    return np.asarray(v / max(float(np.linalg.norm(v)), 1e-9))


def _trunk(j: Joints) -> list[Solid]:
    shoulder = (j["shoulder-near"] + j["shoulder-far"]) / 2
    hip = (j["hip-near"] + j["hip-far"]) / 2
    up = _unit(shoulder - hip)
    front = np.array([up[2], 0.0, -up[0]])
    y, spine = np.array([0.0, 1.0, 0.0]), j["spine"]
    chest = [shoulder - 78 * up + front * 6 + s * 66 * y for s in (-1, 1)]
    top = [shoulder - 22 * up + s * 84 * y for s in (-1, 1)]
    waist = [spine - 20 * up + s * 58 * y for s in (-1, 1)]
    seat = [hip - 6 * up - front * 14 + s * 62 * y for s in (-1, 1)]
    belly = [hip + 46 * up + s * 56 * y for s in (-1, 1)]
    return [
        _solid(top + chest + waist, [50, 50, 80, 80, 68, 68], LEOTARD),
        _solid(waist + belly, [68, 68, 76, 76], LEOTARD, 2.0),
        _solid(belly + seat, [76, 76, 80, 80], LEOTARD, 1.0),
        _solid([j["neck"] - 40 * up, j["neck"] + 40 * up], [44, 36], SKIN, -6.0),
    ]


def head(j: Joints) -> list[Solid]:
    """Face, hair and bun."""
    up = _unit(j["head"] - j["neck"])
    front = np.array([up[2], 0.0, -up[0]])
    middle = j["head"] + 12 * up
    return [
        _solid([middle - 8 * front + 6 * up, middle - 22 * front - 14 * up], [96, 84], HAIR),
        _solid([middle + 26 * front - 6 * up, middle + 34 * front - 52 * up], [72, 50], SKIN, 14.0),
        _solid([middle - 16 * front - 34 * up, middle + 20 * front - 58 * up], [38, 42], SKIN, 13.0),
        _solid([middle - 92 * front + 52 * up, middle - 100 * front + 56 * up], [40, 38], HAIR, -3.0),
        _solid([middle - 74 * front + 40 * up], [42], RIBBON, -4.0),
    ]


def _arm(j: Joints, side: str) -> list[Solid]:
    shoulder, elbow, wrist, hand = (j[f"{n}-{side}"] for n in ("shoulder", "elbow", "wrist", "hand"))
    skin = SKIN if side == "near" else _dim(SKIN)
    limb = [shoulder, _along(shoulder, elbow, 0.35), elbow, _along(elbow, wrist, 0.3), wrist]
    return [
        _solid(limb, [40, 36, 29, 31, 22], skin, 21.0, "chain", elbow),
        _solid([_along(elbow, wrist, 0.84), wrist], [25, 24], GRIP, 24.0, "rod", elbow),
        _solid([wrist, hand], [21, 30], skin, 46.0),
    ]


def _leg(j: Joints, side: str) -> list[Solid]:
    hip, knee, ankle, toe = (j[f"{n}-{side}"] for n in ("hip", "knee", "ankle", "toe"))
    near = side == "near"
    skin, tights = (SKIN, TIGHTS) if near else (_dim(SKIN), _dim(TIGHTS))
    heel = ankle + 20 * _unit(ankle - knee) - 22 * _unit(toe - ankle)
    limb = [hip, _along(hip, knee, 0.35), _along(hip, knee, 0.9), knee, _along(knee, ankle, 0.28), ankle]
    foot = [heel, _along(ankle, toe, 0.5), toe]
    at = _along(hip, knee, 0.5)
    return [
        _solid([ankle, heel, foot[1]], [29, 25, 25], skin, 2.0, at=at),
        _solid(foot[1:], [25, 15], skin, 2.5, at=at),
        _solid(limb, [72, 67, 48, 46, 47, 28], skin, 4.0, "chain", at),
        _solid(
            [hip, _along(hip, knee, 0.25), _along(hip, knee, 0.48)], [76, 72, 64], tights, 5.0, "chain", at
        ),
    ]


def _dim(colour: Colour) -> Colour:
    r, g, b = colour
    return (0.84 * r, 0.82 * g, 0.82 * b)


def _loose(j: Joints) -> list[Solid]:
    """A plait, a sleeve and a trouser leg, on the near side of what they hang from."""
    looks = (("plait", HAIR, [34, 28, 12]), ("sleeve", CLOTH, [58, 52, 34]), ("cuff", CLOTH, [40, 38, 26]))
    parts = []
    for name, colour, radii in looks:
        top, end = j[f"{name}-top"], j[f"{name}-end"]
        parts.append(_solid([top, _along(top, end, 0.6), end], [float(r) for r in radii], colour, 60.0))
    return parts
