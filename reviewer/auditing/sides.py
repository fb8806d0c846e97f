"""One of the sheets that are compared: its marks in the order of the routine, its score, its clock."""

from dataclasses import dataclass
from typing import NamedTuple

from reviewer.terms.marks import Mark, in_routine_order
from reviewer.terms.sheets import ScoreSheet
from reviewer.terms.times import FrameTime, TimeBase


class Span(NamedTuple):
    """Whole milliseconds from which a mark holds, and to which."""

    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Placed:
    """A mark and its place in the routine.

    Attributes:
        mark: as it was made.
        span: when it holds on a clock that both sheets share, or None where that is not known.
        slot: place of its element among the elements of both sheets, from 0; None until it is known, and for
            what belongs to no element.
        judge: whose fault it is, also where the mark does not say; None for what no judge takes.
    """

    mark: Mark
    span: Span | None
    slot: int | None = None
    judge: str | None = None

    def on(self, slot: int | None) -> "Placed":
        """The same in the slot of its element."""
        return Placed(self.mark, self.span, slot, self.judge)


@dataclass(frozen=True, slots=True)
class Side:
    """A sheet as it is compared.

    Attributes:
        marks: of the attempt that counts, in the order of the routine.
        sheet: their score.
    """

    marks: tuple[Placed, ...]
    sheet: ScoreSheet

    @property
    def letters(self) -> tuple[str, ...]:
        """The judges who score on this sheet."""
        return tuple(one.judge for one in self.sheet.judges)

    def of_kind(self, kind: str) -> tuple[Placed, ...]:
        """The marks of one kind."""
        return tuple(one for one in self.marks if one.mark.kind == kind)


def side(marks: tuple[Mark, ...], sheet: ScoreSheet, clock: TimeBase | None) -> Side:
    """A sheet made ready to be compared.

    ``marks`` lie on one line of time; those that could not be scored are among them. ``clock`` is the length
    of their tick, or None where their times cannot be held against the other sheet's.
    """
    first = sheet.judges[0].judge
    placed = (
        Placed(mark, _span(mark, clock), judge=(mark.judge or first) if mark.kind == "fault" else None)
        for mark in in_routine_order(marks)
    )
    return Side(tuple(placed), sheet)


def _span(mark: Mark, clock: TimeBase | None) -> Span | None:
    moment = mark.moment()
    if moment is None or clock is None:
        return None
    begin = FrameTime(moment, clock).milliseconds()
    return Span(begin, begin if mark.end is None else FrameTime(mark.end, clock).milliseconds())
