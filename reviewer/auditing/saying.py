"""What a sheet says of a mark, as texts that can be held against another sheet's."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Self

from reviewer.auditing.matching import Matched
from reviewer.auditing.sides import Placed
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.intervals import expanded
from reviewer.terms.marks import CastAngle
from reviewer.terms.sheets import ScoreSheet

NONE = "none"
"""Said of what a mark leaves out."""
DECIDED = (
    "code",
    "roles",
    "with",
    "angle",
    "called",
    "credit by the judge",
    "amount",
    "clock",
    "length",
    "element",
)
"""What moves points when the other sheet's view of it is taken."""
_NOUGHT = Points(0)


@dataclass(frozen=True, slots=True)
class Otherwise:
    """What differs of a thing, as both sheets say it."""

    what: str
    first: str
    second: str


@dataclass(frozen=True, slots=True)
class Consequences:
    """What a sheet makes of its marks, by mark id.

    Attributes:
        points: what the lines that name it move, of all judges together.
        refused: why its credit was withheld.
        counted: how a cast was counted.
        unscored: those that cannot be scored as they stand.
    """

    points: Mapping[str, Points] = field(default_factory=dict)
    refused: Mapping[str, str] = field(default_factory=dict)
    counted: Mapping[str, str] = field(default_factory=dict)
    unscored: frozenset[str] = frozenset()

    @classmethod
    def of(cls, sheet: ScoreSheet) -> Self:
        """Gathered from a sheet."""
        points: dict[str, Points] = {}
        for line in sheet.lines:
            for name in line.marks:
                points[name] = points.get(name, _NOUGHT) + line.points
        reasons: dict[str, set[str]] = {}
        for one in sheet.not_earned:
            for name in one.marks:
                reasons.setdefault(name, set()).add(one.reason)
        refused = {name: ", ".join(sorted(why)) for name, why in reasons.items()}
        counted = {one.mark: one.state for one in sheet.casts}
        return cls(points, refused, counted, frozenset(one.where for one in sheet.problems))

    def moved(self, one: Placed | None) -> Points:
        """What the lines that name a mark move."""
        return self.points.get(one.mark.id, _NOUGHT) if one else _NOUGHT


def otherwise(
    thing: Matched, sheets: tuple[Consequences, Consequences], within_ms: int
) -> Iterator[Otherwise]:
    """Everything that two sheets say otherwise of a thing that both have."""
    if thing.first is None or thing.second is None:
        return
    first, second = (_said(one, own) for one, own in zip((thing.first, thing.second), sheets, strict=True))
    for what, was in first.items():
        if was != second[what]:
            yield Otherwise(what, was, second[what])
    yield from _times(thing.first, thing.second, within_ms)


def _said(one: Placed, sheet: Consequences) -> dict[str, str]:
    mark = one.mark
    own = {"element": _of_element, "fault": _of_fault, "fact": _of_fact}[mark.kind](one, sheet)
    scored = "no" if mark.id in sheet.unscored else "yes"
    return {"code": mark.code} | own | {"seen": mark.seen or NONE, "scored": scored}


def _of_element(one: Placed, sheet: Consequences) -> dict[str, str]:
    mark = one.mark
    return {
        "roles": _list(mark.roles),
        "with": _list(mark.conditions),
        "angle": _angle(mark.angle),
        "called": mark.called or NONE,
        "credit by the judge": mark.credit or NONE,
        "credit": sheet.refused.get(mark.id, "given"),
        "counted": sheet.counted.get(mark.id, NONE),
    }


def _of_fault(one: Placed, _: Consequences) -> dict[str, str]:
    mark = one.mark
    return {
        "amount": _text(mark.amount),
        "arguable": "yes" if mark.arguable else "no",
        "clock": _text(mark.clock),
        "angle": _angle(mark.angle),
        "element": NONE if one.slot is None else str(one.slot + 1),
    }


def _of_fact(one: Placed, _: Consequences) -> dict[str, str]:
    return {"length": _text(one.mark.length)}


def _angle(angle: CastAngle | None) -> str:
    """Which reading it rests on is another matter: two judges never cite the same."""
    if angle is None:
        return NONE
    degrees = None if angle.value is None else _degrees(angle.value, angle.uncertainty)
    return f"{' '.join(filter(None, (degrees, angle.verdict)))} by {angle.by}"


def _degrees(value: Degrees, uncertainty: Degrees | None) -> str:
    """To the thousandth, since two readings are held against each other."""
    return f"{value}°" if uncertainty is None else f"{value}° ± {expanded(uncertainty)}° (95 %)"


def _times(first: Placed, second: Placed, within_ms: int) -> Iterator[Otherwise]:
    """Where a mark begins and ends, where that lies further apart than counts as the same."""
    if first.span is None or second.span is None:
        return
    names = ("start", "end") if first.mark.kind == "element" else ("at",)
    for what, mine, theirs in zip(names, first.span, second.span, strict=False):
        if abs(mine - theirs) > within_ms:
            yield Otherwise(what, f"{seconds(mine)} s", f"{seconds(theirs)} s")


def seconds(milliseconds: int) -> str:
    """Whole milliseconds as seconds with three places."""
    return str(Points(milliseconds))


def _list(words: tuple[str, ...]) -> str:
    return ", ".join(sorted(words)) or NONE


def _text(said: object | None) -> str:
    return NONE if said is None else str(said)
