"""Where the joints lie beside the plane of motion: the judge clicks those of one side, half a body nearer."""

HALF_WIDTHS = {
    "hand": 0.114,
    "wrist": 0.113,
    "elbow": 0.107,
    "shoulder": 0.097,
    "hip": 0.050,
    "knee": 0.042,
    "ankle": 0.034,
}
"""Fractions of the stature between the middle of the body and a joint, of girls (from memory)."""
WIDTH_DOUBT = 0.2
"""How far these are trusted: 20 % standard uncertainty, all joints together (from memory)."""
USUAL_STATURE, STATURE_DOUBT = 1400.0, 120.0
"""mm taken where nobody said, and its standard uncertainty (from memory)."""
UNEVEN = 0.2
"""How unevenly two legs lie to both sides of the middle, as a part of what they are apart (from memory)."""
ALONG_RAIL = 120.0
"""mm; how far from the middle of the rail the athlete may be (standard uncertainty, from memory)."""
LENGTHS = {
    "shoulder-ankle": (0.25, 0.95),
    "hand-ankle": (0.0, 1.40),
    "shoulder-hip": (0.17, 0.45),
    "shoulder-knee": (0.04, 0.70),
    "hand-hip": (0.0, 0.90),
    "hand-knee": (0.0, 1.20),
    "hip-ankle": (0.05, 0.62),
    "hip-knee": (0.12, 0.37),
    "knee-ankle": (0.12, 0.37),
    "shoulder-elbow": (0.08, 0.28),
    "elbow-hand": (0.08, 0.32),
}
"""The least and greatest length of a line as a part of the stature, from folded up to stretched; 0.78, 1.2,
0.29, 0.54, 0.71, 0.96, 0.49, 0.25, 0.25, 0.18 and 0.19 of it on a straight body (from memory). Wide, since
only a click gone wrong is to be noticed."""
STRETCHED = {"shoulder-ankle": 0.38}
"""The least length of a line that is measured: nobody is folded up in a cast (from memory)."""
STATURES = (900.0, 1900.0)
"""mm between which an athlete's stature lies where nobody said (from memory)."""
