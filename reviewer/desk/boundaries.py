"""A mark's moment or boundary set to another tick, refused where that makes no sense."""

from dataclasses import replace

from reviewer.desk.calls import CallError
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem
from reviewer.words import Saying


def with_tick(mark: Mark, which: str, tick: int) -> Mark:
    """The mark with its ``start``, ``end`` or ``at`` at a tick of its own recording."""
    if which == "start":
        return replace(mark, start=tick)
    return replace(mark, end=tick) if which == "end" else replace(mark, at=tick)


def moved(mark: Mark, which: str, tick: int, say: Saying) -> Mark:
    """The same; CallError where that cannot be."""
    if mark.kind != "element" and mark.angle is not None and mark.angle.reading is not None:
        raise CallError(
            Problem(
                "moment-measured",
                mark.code,
                message("Its angle was measured on the frame it stands at."),
                message("Measure it on another frame, or withdraw it."),
            )
        )
    changed = with_tick(mark, which, tick)
    if changed.start is not None and changed.end is not None and changed.end < changed.start:
        raise CallError(
            Problem(
                "ends-before-start",
                mark.code,
                message("It would end before it starts."),
                message("Step to another frame, or set the other end first."),
            )
        )
    return changed
