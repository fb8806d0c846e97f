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
from reviewer.terms.messages import noted
from reviewer.words import Saying

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
    "hand": noted("the hand"),
    "elbow": noted("the elbow"),
    "shoulder": noted("the shoulder"),
    "hip": noted("the hip"),
    "knee": noted("the knee"),
    "ankle": noted("the ankle"),
    FOOT: noted("the foot where it first stood"),
    FOOT_AFTER: noted("the foot where it stood then"),
    "low-rail-near": noted("the end of the low rail on the nearer side, the middle of its end"),
    "low-rail-far": noted("the end of the low rail on the farther side, the middle of its end"),
    "high-rail-near": noted("the end of the high rail on the nearer side, the middle of its end"),
    "high-rail-far": noted("the end of the high rail on the farther side, the middle of its end"),
    "low-foot-near": noted("the foot of the low rail's upright on the nearer side, where it meets the mat"),
    "low-foot-far": noted("the foot of the low rail's upright on the farther side, where it meets the mat"),
    "high-foot-near": noted("the foot of the high rail's upright on the nearer side, where it meets the mat"),
    "high-foot-far": noted("the foot of the high rail's upright on the farther side, where it meets the mat"),
}
_OTHER_SIDE = {
    "hand": noted("the hand of the other side"),
    "elbow": noted("the elbow of the other side"),
    "shoulder": noted("the shoulder of the other side"),
    "hip": noted("the hip of the other side"),
    "knee": noted("the knee of the other side"),
    "ankle": noted("the ankle of the other side"),
}
NAMES = {
    "lowest": noted("cast angle, to the lowest part"),
    "hand-lowest": noted("cast angle, hands to the lowest part"),
    "shoulder-lowest": noted("cast angle, shoulders to the lowest part"),
    "elbow-bend": noted("bend of the elbow"),
    "shoulder-bend": noted("bend of the shoulder"),
    "hip-bend": noted("bend of the hip"),
    "knee-bend": noted("bend of the knee"),
    "leg-separation": noted("legs apart, in the plane of motion"),
    "hip-over-rail": noted("hips over the rail"),
    "shoulder-over-rail": noted("shoulders over the rail"),
    "ankle-over-rail": noted("ankles over the rail"),
    "hip-over-knee": noted("hips over the knees"),
    "step": noted("step on the mat"),
    "foot-from-rail": noted("foot from below the rail"),
}
"""What may be measured beside the edition's own line, in words."""
REFERENCES = {
    LEVEL: noted("against the horizontal"),
    UPRIGHT: noted("against the vertical"),
    "hand-shoulder": noted("against the arms"),
    "shoulder-hip": noted("against the trunk"),
}


def named(line: str, say: Saying) -> str:
    """What is measured, in words."""
    if line in NAMES:
        return say.word(NAMES[line])
    first, last = (say.word(joint) for joint in line.split("-"))
    return say("cast angle, {first} to {last}", first=first, last=last)


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


def words_for(point: str, say: Saying) -> str:
    """The words for a point that is to be clicked; a repeated click is numbered."""
    name, _, number = point.partition(" ")
    if name.endswith(FAR) and name not in APPARATUS:
        return say.word(_OTHER_SIDE[name.removesuffix(FAR)])
    words = say.word(_ASKED[name])
    return say("{point} once more (click {number})", point=words, number=number) if number else words


def joint_of(name: str) -> str:
    """The joint or point of a spot's name, of either side."""
    first = name.split(" ")[0]
    return first if first in APPARATUS else first.removesuffix(FAR)
