"""What of the strip can be taken hold of: where elements begin and end, and moments of other marks."""

from collections.abc import Iterable
from dataclasses import dataclass

from reviewer.desk.strip.columns import Columns
from reviewer.desk.strip.routine import Routine
from reviewer.desk.strip.scale import Scale

GRASP = 0.3
"""How near a press must be, in heights of a line of words; never under `NEAREST` pixels."""
NEAREST = 5.0


@dataclass(frozen=True, slots=True)
class Grip:
    """One tick of one mark.

    Attributes:
        mark: its id.
        which: ``start``, ``end`` or ``at``.
        tick: of the recording on the screen.
        element: whether it is a boundary of an element, in the lane of elements.
    """

    mark: str
    which: str
    tick: int
    element: bool


def grips(routine: Routine) -> Iterable[Grip]:
    """All there are."""
    for row in routine.rows:
        if row.mark is not None:
            yield from (Grip(row.mark, which, tick, row.kind == "element") for which, tick in row.own)


def grip_near(
    routine: Routine, scale: Scale, columns: Columns, place: tuple[float, float], chosen: tuple[str, ...]
) -> Grip | None:
    """The grip under a place of the view.

    Where an element ends as the next begins, the chosen mark's is meant, else that of the side pressed.
    """
    x, y = place
    lane = columns.elements if x < (columns.elements + columns.faults) / 2 else columns.faults
    if abs(x - lane) > 0.6 * columns.unit:
        return None

    def far(grip: Grip) -> tuple[float, bool, bool]:
        off = scale.y_of(grip.tick) - y
        outside = off > 0 if grip.which == "start" else off < 0
        return round(abs(off)), grip.mark not in chosen, outside

    there = [one for one in grips(routine) if one.element == (lane == columns.elements)]
    nearest = min(there, key=far, default=None)
    return nearest if nearest and far(nearest)[0] <= max(NEAREST, GRASP * columns.unit) else None
