"""Names beside the lanes: near their place, apart from each other, and folded where there is no room."""

from dataclasses import dataclass

from reviewer.desk.strip.routine import BEGINS, DAMAGE, ENDS, NOTE, Routine, Row
from reviewer.desk.strip.scale import Scale, kept, spread

_RANKS = {BEGINS: 1, ENDS: 1, "element": 2, DAMAGE: 1, NOTE: 4, "fact": 4, "fault": 5}
"""Which names find room first where not all do; a chosen mark comes before."""


@dataclass(frozen=True, slots=True)
class Name:
    """A row on the strip: where it belongs and where there was room, in pixels from the routine's beginning.

    Attributes:
        folded: rows that found no room and stand behind this one.
    """

    row: Row
    belongs: float
    stands: float
    folded: tuple[Row, ...] = ()


def laid_out(routine: Routine, scale: Scale, tall: float, chosen: tuple[str, ...]) -> tuple[Name, ...]:
    """Timed rows at their time; those without one below the row they follow."""
    rows = routine.rows
    if not rows:
        return ()
    ranks = [0 if row.mark in chosen else _RANKS[row.kind] for row in rows]
    shown = kept(ranks, max(1, int(scale.whole / tall)))
    places, last = [], 0.0
    for at in shown:
        tick = rows[at].tick
        last = scale.along(tick) if tick is not None else last + tall
        places.append(last)
    within = [max(place, tall / 2) for place in places]
    stands = spread(within, tall, max(tall, scale.whole - tall / 2))
    ends = [*shown[1:], len(rows)]
    behind = [rows[at + 1 : end] for at, end in zip(shown, ends, strict=True)]
    behind[0] = (*rows[: shown[0]], *behind[0])
    return tuple(
        Name(rows[at], *where)
        for at, where in zip(shown, zip(places, stands, behind, strict=True), strict=True)
    )
