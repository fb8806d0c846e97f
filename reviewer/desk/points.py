"""Points the protractor asks for, one after the other, and the words it asks with."""

from reviewer.terms.bodylines import (
    BENDS,
    FAR,
    FOOT,
    FOOT_AFTER,
    JOINTS,
    LENGTHS,
    LEVEL,
    LOWEST,
    UPRIGHT,
    line_joints,
)

SIDES = {"near": "nearer", "far": "farther"}
APPARATUS = tuple(
    f"{rail}-{what}-{side}"
    for side in ("near", "far")
    for rail in ("low", "high")
    for what in ("rail", "foot")
)
"""Points of the bars, those of the nearer side first."""
ON_BODY = (*JOINTS, *(f"{joint}{FAR}" for joint in JOINTS), FOOT, FOOT_AFTER)
"""Joints from the hands down, in the order they are asked for."""
_HELPFUL = ("hand", "shoulder", "hip", "ankle")
"""Clicked beside a line's own ends: they show which line it is, and steady what is followed."""
_ASKED = {
    "hand": "the hand",
    "elbow": "the elbow",
    "shoulder": "the shoulder",
    "hip": "the hip",
    "knee": "the knee",
    "ankle": "the ankle",
    FOOT: "the foot where it first stood",
    FOOT_AFTER: "the foot where it stood then",
    "rail": "the end of the {rail} rail on the {side} side, the middle of its end",
    "foot-of": "the foot of the {rail} rail's upright on the {side} side, where it meets the mat",
}
NAMES = {
    "lowest": "cast angle, to the lowest part",
    "hand-lowest": "cast angle, hands to the lowest part",
    "shoulder-lowest": "cast angle, shoulders to the lowest part",
    "elbow-bend": "bend of the elbow",
    "shoulder-bend": "bend of the shoulder",
    "hip-bend": "bend of the hip",
    "knee-bend": "bend of the knee",
    "leg-separation": "legs apart, in the plane of motion",
    "hip-over-rail": "hips over the rail",
    "shoulder-over-rail": "shoulders over the rail",
    "ankle-over-rail": "ankles over the rail",
    "hip-over-knee": "hips over the knees",
    "step": "step on the mat",
    "foot-from-rail": "foot from below the rail",
}
"""What may be measured beside the edition's own line, in words."""
REFERENCES = {
    LEVEL: "against the horizontal",
    UPRIGHT: "against the vertical",
    "hand-shoulder": "against the arms",
    "shoulder-hip": "against the trunk",
}


def named(line: str) -> str:
    """What is measured, in words."""
    return NAMES.get(line) or "cast angle, {} to {}".format(*line.split("-"))


def needed(line: str, against: str) -> tuple[str, ...]:
    """Joints without which there is nothing to read."""
    other = () if against in (LEVEL, UPRIGHT) else line_joints(against)
    return tuple(dict.fromkeys((*line_joints(line), *other)))


def asked_for(line: str, against: str) -> tuple[str, ...]:
    """All points, in the order they are asked for: the joints, then the bars."""
    wanted = {*needed(line, against)}
    if line not in BENDS and line not in LENGTHS:
        wanted |= {*_HELPFUL, *(("knee",) if line in LOWEST else ())}
    return (*(joint for joint in ON_BODY if joint in wanted), *APPARATUS)


def words_for(point: str) -> str:
    """The words for a point that is to be clicked; a repeated click is numbered."""
    name, _, number = point.partition(" ")
    if name in APPARATUS:
        rail, what, side = name.split("-")
        words = _ASKED["foot-of" if what == "foot" else what]
        return words.format(rail=rail, side=SIDES[side])
    if name.endswith(FAR):
        return f"{_ASKED[name.removesuffix(FAR)]} of the other side"
    return f"{_ASKED[name]} once more (click {number})" if number else _ASKED[name]
