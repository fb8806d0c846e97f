"""Published measures of the apparatus, mm.

x across in the plane of motion, y along the rail, z up from the floor.
"""

import math

HIGH_TOP, LOW_TOP = 2500.0, 1700.0  # upper edge of the rails above the floor: published apparatus norms
RAIL_DIAMETER, RAIL_LENGTH = 40.0, 2400.0  # same
MAT_TOP = 200.0  # landing mats 200 mm thick: government summary of the apparatus norms of 2015
INNER_DIAGONAL = 1600.0  # adjustable 1300-1800: same norms

LOW = (0.0, LOW_TOP - RAIL_DIAMETER / 2)
HIGH = (
    math.sqrt((INNER_DIAGONAL + RAIL_DIAMETER) ** 2 - (HIGH_TOP - LOW_TOP) ** 2),
    HIGH_TOP - RAIL_DIAMETER / 2,
)
RAILS = {"low": LOW, "high": HIGH}


def apparatus_points() -> dict[str, tuple[float, float, float]]:
    """Ends of the rails' axes, and the middle of each upright where it meets the top of the mat."""
    points = {}
    for rail, (x, z) in RAILS.items():
        for side, y in (("near", -RAIL_LENGTH / 2), ("far", RAIL_LENGTH / 2)):
            points[f"{rail}-rail-{side}"] = (x, y, z)
            points[f"{rail}-foot-{side}"] = (x, y, MAT_TOP)
    return points
