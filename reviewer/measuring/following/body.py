"""What bodies can do and look like: which joints hang together, how far lengths and speeds may go."""

SEGMENTS = (("shoulder", "hip"), ("hip", "knee"), ("knee", "ankle"), ("shoulder", "elbow"), ("elbow", "hand"))
"""Pairs of joints with a bone or a stiff trunk between them: their distance never changes."""
TOWARDS = {
    "shoulder": ("hip", "knee", "ankle"),
    "hip": ("shoulder", "knee", "ankle"),
    "knee": ("hip", "shoulder", "ankle"),
    "ankle": ("knee", "hip", "shoulder", "hand"),
    "hand": ("elbow", "wrist", "shoulder", "ankle"),
    "wrist": ("elbow", "shoulder", "ankle"),
    "elbow": ("shoulder", "hand", "ankle"),
}
"""From each joint, the one its limb leads to: the first of these that was clicked."""
LINE_OF_STATURE = 0.78
"""Length of the line from shoulder to ankle in statures (from memory)."""
FASTEST, SHARPEST = 12.0, 160.0
"""m/s and m/s²: what no joint exceeds in a cast (from memory; rendered casts reach 6 and 90)."""
STIFF = 0.06
"""Share by which a stiff length may come out otherwise, beyond what clicks explain (tried out)."""
SHORTEST_LINE, LONGEST_LINE = 0.8, 1.06
"""Length of a line over several joints, in what it was when clicked: below, the body is folded up."""
LINE_CHANGE = 2.5
"""Share of its length by which such a line changes in a second, at most (rendered casts reach 0.7)."""
EXTENDED = 30.0
"""Degrees of hip flexion up to which the body counts as extended."""
