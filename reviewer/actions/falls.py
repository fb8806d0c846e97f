"""A fall as a state: she stands on her feet, the clock runs, she goes on or the exercise is ended."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from reviewer import measuring
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.marking import Change, change_mark
from reviewer.measuring import Duration, MeasuringError
from reviewer.terms.exact import Thousandths
from reviewer.terms.marks import Mark
from reviewer.terms.measures import TIMES, Measure
from reviewer.terms.messages import message
from reviewer.terms.pictures import RecordingFacts
from reviewer.terms.problems import Problem
from reviewer.terms.provisions import TimeLimit


@dataclass(frozen=True, slots=True)
class FallClock:
    """How a fall stands against the time there is to go on.

    Attributes:
        limit: the edition's clause on it.
        on_feet: frame on which she first stands on her feet, or None while that is not said.
        goes_on: frame on which she first goes on, or None.
        last: last frame in time; None while she does not stand, and where the recording ends before that.
        took: from her feet to going on, or None.
        verdict: `within`, `beyond` or that it cannot be said, of ``took``; empty without it.
    """

    limit: TimeLimit
    on_feet: int | None = None
    goes_on: int | None = None
    last: int | None = None
    took: Duration | None = None
    verdict: str = ""


def limit_after(audit: Audit, mark: Mark) -> TimeLimit | None:
    """The clause that gives time to go on after this fault, or None where the edition has none."""
    if mark.kind != "fault":
        return None
    return next((one for one in audit.book.all(TimeLimit) if mark.code in one.after), None)


def fall_clock(audit: Audit, mark: Mark, facts: RecordingFacts) -> FallClock | None:
    """The clock of a fall that was marked on this recording; None for what is no fall."""
    limit = limit_after(audit, mark)
    if limit is None:
        return None
    feet, on = (None if tick is None else facts.frame_at(tick) for tick in (mark.start, mark.end))
    if feet is None:
        return FallClock(limit, goes_on=on)
    found = FallClock(limit, feet, on, last_in_time(facts, feet, limit.within))
    if on is None:
        return found
    try:
        took = measuring.duration(facts, feet, on)
    except MeasuringError:
        return found
    return replace(found, took=took, verdict=measuring.against_limit(took, _ms(limit.within) * 1000))


def last_in_time(facts: RecordingFacts, feet: int, within: Measure) -> int | None:
    """The last frame no later than the limit after a frame; None where the recording ends before."""
    base = facts.time_base
    ticks = _ms(within) * base.denominator // (1000 * base.numerator)
    end = facts.pts[feet] + ticks
    return facts.frame_at(end) if end <= facts.pts[-1] else None


def stands(audit: Audit, mark: Mark, tick: int, facts: RecordingFacts) -> Change:
    """She first stands on her feet at this tick: the clock of the fall starts."""
    return _timed(audit, replace(mark, start=tick), facts)


def goes_on(audit: Audit, mark: Mark, tick: int, facts: RecordingFacts) -> Change:
    """She first goes on at this tick: the clock of the fall stops."""
    return _timed(audit, replace(mark, end=tick), facts)


def _timed(audit: Audit, mark: Mark, facts: RecordingFacts) -> Change:
    """Keep the fall with what its clock says by now."""
    if mark.start is not None and mark.end is not None and mark.end < mark.start:
        said = message("She would go on before she stands on her feet.")
        raise AuditError(
            Problem("clock-backwards", mark.id, said, message("Step to another frame, or say the other."))
        )
    found = fall_clock(audit, mark, facts)
    if found is None:
        said = message("The edition gives no time to go on after this.")
        raise AuditError(Problem("no-time-limit", mark.code, said, message("Choose a fall.")))
    clock = None if found.took is None else Measure(Thousandths(round(found.took.value / 1000)), "s")
    return change_mark(audit, replace(mark, clock=clock))


def latest_fall(audit: Audit, marks: Sequence[Mark]) -> Mark | None:
    """The last of these marks that has a time to go on."""
    falls = [mark for mark in marks if limit_after(audit, mark) is not None]
    return falls[-1] if falls else None


def _ms(limit: Measure) -> int:
    return limit.number.thousandths * TIMES[limit.unit]
