"""What a protractor may measure on a body, in closed lists of plain words."""

from reviewer.terms.exact import Degrees

JOINTS = ("hand", "elbow", "shoulder", "hip", "knee", "ankle")
"""Joints as they are clicked, those of one side of the body."""
FAR = "-far"
"""Ends the name of a joint of the other side, clicked beside those of the one."""
LINES = ("shoulder-ankle", "hand-ankle", "shoulder-hip")
"""Body lines between two named joints that a rule book may ask for."""
LOWEST = ("lowest", "hand-lowest", "shoulder-lowest")
"""Lines through the lowest body part: from the hands, or from the shoulders where there is a shoulder angle;
always from the hands; always from the shoulders (a national code of 2013-17, quoted on a secondary page)."""
PARTS = ("hip", "knee", "ankle")
"""Where the lowest part may be. Below horizontal the feet always hang lowest: the line that counts goes
through whichever of these gives the lowest elevation."""
BENDS = {
    "elbow-bend": ("shoulder", "elbow", "hand"),
    "shoulder-bend": ("hand", "shoulder", "hip"),
    "hip-bend": ("shoulder", "hip", "knee"),
    "knee-bend": ("hip", "knee", "ankle"),
}
"""Bends of a joint, 0 where it is straight: the joints before, at and after it."""
LEGS = "leg-separation"
"""How far the legs are apart in the plane of motion; apart sideways is not seen from the side."""
RISES = ("hip-over-rail", "shoulder-over-rail", "ankle-over-rail", "hip-over-knee")
"""Heights in the plane of motion: over the rail's upper edge, or of one joint over another."""
STEP, FROM_RAIL = "step", "foot-from-rail"
"""Lengths on the mat: from a foot to where it stands after, and from below the working rail."""
FOOT, FOOT_AFTER = "foot", "foot-after"
LENGTHS = (*RISES, STEP, FROM_RAIL)
SHOULDER_OPEN = Degrees(10_000)
"""The shoulder angle up to which shoulders count as open where no rule book says (from memory)."""
LEVEL, UPRIGHT = "horizontal", "vertical"
"""What a line may be held against, beside another line."""


def line_joints(line: str) -> tuple[str, ...]:
    """Joints that must be clicked for a line, a bend or a length; empty for a word that is none of these.

    A line to the lowest part needs its beginning and the ankle; hip and knee are looked at where clicked.
    """
    if line in BENDS:
        return BENDS[line]
    if line == LEGS:
        return ("ankle", "hip", f"ankle{FAR}")
    if line in LENGTHS:
        return _of_length(line)
    if line in LOWEST:
        return ("hand", "shoulder", "hip", "ankle") if line == "lowest" else (line.split("-")[0], "ankle")
    pair = tuple(line.split("-"))
    return pair if len(pair) == 2 and pair[0] != pair[1] and set(pair) <= set(JOINTS) else ()


def _of_length(line: str) -> tuple[str, ...]:
    if line == STEP:
        return FOOT, FOOT_AFTER
    if line == FROM_RAIL:
        return (FOOT,)
    return tuple(part for part in line.split("-over-") if part != "rail")
