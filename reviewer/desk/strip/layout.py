"""Names beside the lanes: near their place, apart from each other, and folded where there is no room."""

from collections.abc import Callable
from dataclasses import dataclass

from reviewer.desk.strip.routine import BEGINS, DAMAGE, ENDS, NOTE, UNTIMED, Routine, Row, is_aside
from reviewer.desk.strip.scale import Scale, kept, spread

_RANKS = {BEGINS: 1, ENDS: 1, "element": 2, DAMAGE: 1, UNTIMED: 3, NOTE: 4, "fact": 4, "fault": 5}
"""Which names find room first where not all do; a chosen mark comes before."""
LEAST = 6
"""Letters of a name that are shown at least before something said of it gives way."""


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
    """Timed rows at their time; those without one below the row they follow, facts at the routine's end."""
    rows = routine.rows
    if not rows:
        return ()
    ranks = [0 if row.mark in chosen else _RANKS[row.kind] for row in rows]
    shown = kept(ranks, max(1, int(scale.whole / tall)))
    places, last = [], 0.0
    for at in shown:
        tick = rows[at].tick
        last = scale.along(tick) if tick is not None else last + tall
        last = max(last, scale.whole) if is_aside(rows[at]) else last
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


def fitted(row: Row, room: float, wide: Callable[[str], float], cut: Callable[[str, float], str]) -> str:
    """The words of a row that find room, whose width is ``wide``: only a name is ever ``cut``.

    What is said of a mark stands whole or not at all: half of "not complete" says the opposite. A plus
    stands for what found no room.
    """
    if wide(row.words) <= room:
        return row.words
    name, *said = row.pieces or (row.words,)
    for whole in range(len(said), -1, -1):
        behind = "".join(f" {one}" for one in (*said[:whole], *(("+",) if whole < len(said) else ())))
        left = room - wide(behind)
        if not whole or left >= wide(name[:LEAST] + "…"):
            return f"{cut(name, left)}{behind}"
    return row.words
