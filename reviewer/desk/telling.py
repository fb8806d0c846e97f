"""A reading of the protractor in words: what was measured, how sure it is, and what follows from it."""

from __future__ import annotations

from reviewer import measuring
from reviewer.desk.bench import Bench
from reviewer.desk.points import named
from reviewer.terms.bodylines import LOWEST
from reviewer.terms.intervals import half_of, tenths, told
from reviewer.terms.messages import noted
from reviewer.terms.readings import Length, Reading, Requirement
from reviewer.words import Saying


def told_of(found: Reading | Length, line: str, say: Saying) -> str:
    """What a line measures, with its interval of 95 %, and what its calibration is worth."""
    unit = " mm" if isinstance(found, Length) else "°"
    size = told(found.value, half_of(found.value, found.interval), unit)
    what, camera = named(line, say), say.retold(found.calibration.check)
    if line in LOWEST and isinstance(found, Reading):
        what = f"{what} ({say.word(found.through)})"
    return say("{what}: {size}; camera {check}", what=what, size=size, check=camera)


def verdict_words(reading: Reading, limit: Requirement, guard_per_mille: int, say: Saying) -> str:
    """The verdict on a cast's own line."""
    held = measuring.held_against(reading, limit, guard_per_mille)
    return held_words(say, held.word, limit)


def held_words(say: Saying, verdict: str, limit: Requirement) -> str:
    """A verdict with the limits it was found by."""
    return say(
        "{verdict} (at least {limit}°, tolerated down to {lowest}°)",
        verdict=say.word(verdict),
        limit=tenths(limit.at_least),
        lowest=tenths(limit.at_least - limit.tolerance),
    )


def asking(point: str | None, *, optional: bool, key: str, say: Saying) -> str:
    """What is to be clicked next; ``point`` is in words, ``key`` skips it where it may be left out."""
    if point is None:
        return say("All points are placed.")
    if optional:
        return say("Click {point}, or skip with {key}.", point=point, key=key)
    return say("Click {point}.", point=point)


def elsewhere_words(frame: int | None, bench: Bench) -> str:
    """What the protractor says while another frame is on the screen than the one it lies on."""
    return bench.say(
        "The protractor lies on frame {frame}. {also} lays it on this one as well, to follow from both; "
        "{back} puts it away.",
        frame=frame,
        also=bench.key("another-frame"),
        back=bench.key("back"),
    )


def carried_words(found: measuring.Carried, since: int | None, say: Saying) -> str:
    """Where the bars lie that were clicked on an earlier frame."""
    if found.lost_on is not None:
        lost = noted("The camera was lost on frame {frame}: click the bars again.")
        return say(lost, frame=found.lost_on)
    if found.turned is None:
        return say("Too little of the hall is in the picture to tell whether the camera moved.")
    if found.stands:
        return say("The camera stands as on frame {frame}, and so do the bars.", frame=since)
    return say(
        "The bars were carried from frame {frame}: the camera has turned by {turned}° since.",
        frame=since,
        turned=f"{found.turned:.1f}",
    )
