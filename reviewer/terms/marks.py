"""A mark: one human decision about a routine, with or without a time, a frame or a reading behind it."""

from bisect import bisect_right
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from itertools import accumulate
from typing import Any, Self

from reviewer.terms.exact import Degrees, Points
from reviewer.terms.measures import Measure

CREDITS = ("given", "withheld")
"""What a judge may decide of an element's credit."""
EYE_VERDICTS = ("met", "within tolerance", "not met", "cannot tell", "not seen")
"""What a judge may say of a cast by eye, without an angle."""


@dataclass(frozen=True, slots=True)
class CastAngle:
    """What a judge says about a cast: an angle, or a verdict by eye.

    Attributes:
        by: ``eye`` or ``protractor``.
        value: elevation of the body line (negative below horizontal), or None for a verdict alone.
        uncertainty: standard uncertainty, None when the value is taken as exact.
        verdict: one of `EYE_VERDICTS`, or None when the value decides.
        reading: id of the reading the judge confirmed, or None.
        at_full_speed: what was called by eye at full speed, where this was found afterwards; else None.
    """

    by: str
    value: Degrees | None = None
    uncertainty: Degrees | None = None
    verdict: str | None = None
    reading: str | None = None
    at_full_speed: "CastAngle | None" = None

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Self:
        """From the ``angle`` of a marks document that its schema has passed."""
        return cls(
            by=data["by"],
            value=_degrees(data.get("deg")),
            uncertainty=_degrees(data.get("u_deg")),
            verdict=data.get("verdict"),
            reading=data.get("reading"),
            at_full_speed=cls.from_json(data["at_full_speed"]) if data.get("at_full_speed") else None,
        )

    def to_json(self) -> dict[str, Any]:
        """The ``angle`` of a marks document."""
        written: dict[str, Any] = {"by": self.by}
        if self.value is not None:
            written["deg"] = str(self.value)
            written["u_deg"] = None if self.uncertainty is None else str(self.uncertainty)
        first = None if self.at_full_speed is None else self.at_full_speed.to_json()
        return written | _given(verdict=self.verdict, reading=self.reading, at_full_speed=first)


@dataclass(frozen=True, slots=True)
class Mark:
    """One decision of a judge about a routine.

    Attributes:
        id: unique in its case or document.
        kind: ``element``, ``fault`` or ``fact``.
        code: code of the rule book's element, fault or fact.
        order: place among the elements where no time is given; of a fault, that of its element.
        start, end, at: ticks of the document's time base, or None.
        roles: ``mount``, ``dismount`` (elements).
        conditions: the document's ``with`` (elements).
        angle: of a cast (elements), or None.
        element: id of the element a fault belongs to, or None.
        amount: what this judge deducts (faults).
        arguable: False where a judge says an up-to amount is beyond dispute.
        seen: ``full-speed`` or ``slowed``, or None when not said.
        judge: the judge's letter, or None when there is one judge.
        called: what the judge calls an element, such as its number in printed tables (elements), or None.
        credit: ``given`` or ``withheld`` where the judge decides an element's credit against the rules
            (elements), or None.
        clock: time from standing on the feet to going on (faults), or None.
        length: what was measured (facts), or None.
        recording: SHA-256 of the recording that start, end and at are ticks of, or None for the first one
            (or the only one) of the case or document.
    """

    id: str
    kind: str
    code: str
    order: int | None = None
    start: int | None = None
    end: int | None = None
    at: int | None = None
    roles: tuple[str, ...] = ()
    conditions: tuple[str, ...] = ()
    angle: CastAngle | None = None
    element: str | None = None
    amount: Points | None = None
    arguable: bool = True
    seen: str | None = None
    judge: str | None = None
    recording: str | None = None
    called: str | None = None
    credit: str | None = None
    clock: Measure | None = None
    length: Measure | None = None

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Self:
        """From one of a document's ``marks`` that its schema has passed; ValueError for bad decimals."""
        return cls(
            id=data["id"],
            kind=data["kind"],
            code=data["code"],
            order=data.get("order"),
            start=data.get("start"),
            end=data.get("end"),
            at=data.get("at"),
            roles=tuple(data.get("roles", ())),
            conditions=tuple(data.get("with", ())),
            angle=CastAngle.from_json(data["angle"]) if data.get("angle") else None,
            element=data.get("element"),
            amount=Points.parse(data["amount"]) if data.get("amount") is not None else None,
            arguable=data.get("arguable", True),
            seen=data.get("seen"),
            judge=data.get("judge"),
            recording=data.get("recording"),
            called=data.get("called"),
            credit=data.get("credit"),
            clock=Measure.time(data["clock"]) if data.get("clock") is not None else None,
            length=Measure.length(data["length"]) if data.get("length") is not None else None,
        )

    def to_json(self) -> dict[str, Any]:
        """One of a document's ``marks``; what was not said is left out."""
        written: dict[str, Any] = {"id": self.id, "kind": self.kind, "code": self.code}
        written |= _given(order=self.order, start=self.start, end=self.end, at=self.at)
        written |= _given(element=self.element, seen=self.seen, judge=self.judge)
        written |= _given(recording=self.recording, called=self.called, credit=self.credit)
        written |= _given(clock=None if self.clock is None else str(self.clock))
        written |= _given(length=None if self.length is None else str(self.length))
        written |= _given(amount=None if self.amount is None else str(self.amount))
        written |= _given(roles=list(self.roles) or None, angle=self.angle.to_json() if self.angle else None)
        written |= {"with": list(self.conditions)} if self.conditions else {}
        return written if self.arguable else written | {"arguable": False}

    def found_later(self, angle: CastAngle | None) -> "Mark":
        """This mark with an angle found after it was seen: what was called at full speed stays beside it.

        Where nothing was called of the cast then, all of the mark is seen slowed down from now on. A fault
        was called with its amount: a bend measured later says nothing of that.
        """
        if self.kind == "fault":
            return replace(self, angle=angle)
        if self.seen != "full-speed" and (self.angle is None or self.angle.at_full_speed is None):
            return replace(self, angle=angle)
        first = self.angle and (self.angle.at_full_speed or (self.angle if self.angle.by == "eye" else None))
        if angle is None or first is None:
            return replace(self, angle=angle, seen="slowed")
        return replace(self, angle=replace(angle, at_full_speed=first))

    def moment(self) -> int | None:
        """The tick this mark is shown at: its own moment, or where it begins."""
        return self.at if self.at is not None else self.start


def in_routine_order(
    marks: tuple[Mark, ...], moment: Callable[[Mark], int | None] = Mark.moment
) -> tuple[Mark, ...]:
    """Marks by time where timed, else by order, then by id: the same for any order handed in.

    A mark without a time stands before the first timed one of a higher order, so that what was typed as a
    list keeps its order while times are known of some marks only. ``moment`` gives the time of a mark where
    several recordings have clocks of their own.
    """
    times = {mark.id: time for mark in marks if (time := moment(mark)) is not None}
    timed = sorted(
        (mark for mark in marks if mark.id in times), key=lambda one: (times[one.id], *_listed(one))
    )
    known = {mark.id: at for at, mark in enumerate(timed)}
    highest = tuple(accumulate((mark.order or 0 for mark in timed), max))

    def place(mark: Mark) -> tuple[int, bool, int, bool, int, str]:
        if mark.id in known:
            return known[mark.id], True, *_listed(mark)
        before = len(timed) if mark.order is None else bisect_right(highest, mark.order)
        return before, False, *_listed(mark)

    return tuple(sorted(marks, key=place))


def _listed(mark: Mark) -> tuple[int, bool, int, str]:
    """The place of a mark in a list: by order, of one order the element before its faults, then by id."""
    if mark.order is None:
        return 0, False, 0, mark.id
    return mark.order, mark.kind != "element", len(mark.id), mark.id


def _degrees(text: str | None) -> Degrees | None:
    return None if text is None else Degrees.parse(text)


def _given(**said: Any) -> dict[str, Any]:
    return {name: value for name, value in said.items() if value is not None}
