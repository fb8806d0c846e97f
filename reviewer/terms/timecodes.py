"""SMPTE ST 12-1 time code: the label of a frame and the frame of a label, in whole numbers.

Labels roll over after 24 hours. At 30000/1001 and 60000/1001 frames a second some numbers (never frames) are
left out, so that the label keeps to the clock: 2 and 4 at the start of each minute except every tenth. Above
60 frames a second the count simply goes on: common practice, no source.
"""

import re
from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Self

from reviewer.terms.messages import Message, message
from reviewer.terms.pictures import RecordingFacts

KNOWN = (24, 25, 30, 48, 50, 60, 100, 120, 240)
"""Frames a second that cameras write."""
REDUCED = (24, 30, 48, 60, 120, 240)
"""Those of them that television also runs slower, by 1000/1001."""
DROPPED = {30: 2, 60: 4}
"""Numbers left out each minute but the tenth, by counting base (ST 12-1, drop-frame)."""
_LABEL = re.compile(r"([0-9]{2}):([0-9]{2}):([0-9]{2})([:;])([0-9]{2,4})")


@dataclass(frozen=True, slots=True)
class Rate:
    """Frames a second: ``base``, or where ``reduced`` 1000/1001 of it."""

    base: int
    reduced: bool = False

    @property
    def numerator(self) -> int:
        """Of the rate as a ratio."""
        return self.base * 1000 if self.reduced else self.base

    @property
    def denominator(self) -> int:
        """Of the rate as a ratio: 1001 or 1."""
        return 1001 if self.reduced else 1

    def __str__(self) -> str:
        return f"{self.numerator}/{self.denominator}"


@dataclass(frozen=True, slots=True)
class TimeCode:
    """One label. ``drop``: written with a semicolon; ``nominal``: counted from time, not from frames."""

    hours: int
    minutes: int
    seconds: int
    frames: int
    drop: bool = False
    nominal: bool = False

    def __str__(self) -> str:
        sign = ";" if self.drop else ":"
        return f"{self.hours:02}:{self.minutes:02}:{self.seconds:02}{sign}{self.frames:02}"


@dataclass(frozen=True, slots=True)
class Scale:
    """Labels in their order: the counting base, and whether numbers are dropped."""

    base: int
    drop: bool = False

    def label(self, count: int, nominal: bool = False) -> TimeCode:
        """The label ``count`` frames after 00:00:00:00, below nought too."""
        tens, rest = divmod(count % self.day, self._ten_minutes)
        whole = 60 * self.base
        minutes = 0 if rest < whole else 1 + (rest - whole) // (whole - self._dropped)
        number = count % self.day + self._dropped * (9 * tens + minutes)
        seconds, frames = divmod(number, self.base)
        minutes, seconds = divmod(seconds, 60)
        return TimeCode(*divmod(minutes, 60), seconds, frames, self.drop, nominal)

    def count(self, text: str) -> int:
        """How many frames after 00:00:00:00 a label stands; ValueError says why there is no such label."""
        found = _LABEL.fullmatch(text)
        if found is None:
            raise ValueError(message("{text} is not hours:minutes:seconds:frames", text=repr(text)))
        hours, minutes, seconds, frames = (int(found[place]) for place in (1, 2, 3, 5))
        if (found[4] == ";") != self.drop:
            raise ValueError(
                message(
                    "{text} has {sign} before the frames; {rule}",
                    text=repr(text),
                    sign=repr(found[4]),
                    rule=self._sign(),
                )
            )
        if hours > 23 or minutes > 59 or seconds > 59 or frames >= self.base:
            raise ValueError(
                message(
                    "{text} lies outside {first} to {last}",
                    text=repr(text),
                    first=f"00:00:00{found[4]}00",
                    last=self.label(-1),
                )
            )
        if minutes % 10 and seconds == 0 and frames < self._dropped:
            raise ValueError(
                message("{text} is a number that drop-frame counting leaves out", text=repr(text))
            )
        passed = hours * 60 + minutes
        return (passed * 60 + seconds) * self.base + frames - self._dropped * (passed - passed // 10)

    @property
    def day(self) -> int:
        """Labels in 24 hours."""
        return 144 * self._ten_minutes

    @property
    def _dropped(self) -> int:
        return DROPPED[self.base] if self.drop else 0

    @property
    def _ten_minutes(self) -> int:
        return 600 * self.base - 9 * self._dropped

    def _sign(self) -> Message:
        if self.drop:
            return message("this count of {base} a second drops numbers, written ';'", base=self.base)
        return message("this count of {base} a second drops no numbers, written ':'", base=self.base)


@dataclass(frozen=True, slots=True)
class TimeCodes:
    """The time code of one recording.

    Attributes:
        facts: the recording.
        rate: its constant rate or, where ``nominal``, the usual one nearest to its middle gap.
        scale: how labels are counted. The file's own start code says whether numbers are dropped; without
            one they are, at 30000/1001 and 60000/1001.
        start: count of the first frame's label.
        nominal: the rate varies, so a label is the nearest one to the time since the first frame; several
            frames may share it, or none have it.
        unread: the file's own start code where it cannot be one at this rate; labels then start at nought.
    """

    facts: RecordingFacts
    rate: Rate
    scale: Scale
    start: int = 0
    nominal: bool = False
    unread: str | None = None

    @classmethod
    def of(cls, facts: RecordingFacts) -> Self:
        """The time code of a recording, from its frames' times and its own start code."""
        own, constant = facts.time_code, rate_of(facts)
        rate = constant or _usual_rate(facts)
        if constant is None and rate.base in DROPPED and own and ";" in own:
            rate = Rate(rate.base, reduced=True)
        can_drop = rate.reduced and rate.base in DROPPED
        if own is None:
            return cls(facts, rate, Scale(rate.base, can_drop), nominal=constant is None)
        scale = Scale(rate.base, can_drop and ";" in own)
        try:
            return cls(facts, rate, scale, scale.count(own), constant is None)
        except ValueError:
            return cls(facts, rate, Scale(rate.base, can_drop), nominal=constant is None, unread=own)

    def label(self, frame: int) -> TimeCode:
        """The label of a frame; IndexError outside the recording."""
        if not 0 <= frame < len(self.facts.pts):
            raise IndexError(frame)
        return self.scale.label(self.start + self._passed(frame), self.nominal)

    def frame(self, text: str) -> int:
        """The frame of a label. ValueError: there is no such label; KeyError: it lies outside the recording.

        A nominal label that no frame has stands for the frame on screen then; one that several have for the
        first of them. In a recording of more than 24 hours the first day counts.
        """
        wanted, frames = (self.scale.count(text) - self.start) % self.scale.day, range(len(self.facts.pts))
        found = bisect_left(frames, wanted, key=self._passed)
        if found == len(frames):
            raise KeyError(text)
        return found if self._passed(found) == wanted else found - 1

    def _passed(self, frame: int) -> int:
        """Labels since the first frame."""
        if not self.nominal:
            return frame
        since, base = self.facts.pts[frame] - self.facts.pts[0], self.facts.time_base
        whole = base.denominator * self.rate.denominator
        return (2 * since * base.numerator * self.rate.numerator + whole) // (2 * whole)


def rate_of(facts: RecordingFacts) -> Rate | None:
    """The constant rate of a recording, or None where its rate varies or one frame tells nothing.

    Times rounded to whole ticks differ from where the rate puts them by amounts that together span no more
    than a tick, whichever way they were rounded. Times that are all whole milliseconds were rounded to those
    before they were written in finer ticks. A frame left out makes a difference of a whole period, so half a
    period is never reached. Where a short recording fits several rates, a usual one is taken, then one that
    needs no rounding, then an unreduced one unless the file's own start code drops numbers.
    """
    drops = facts.time_code is not None and ";" in facts.time_code
    for grain in _grains(facts):
        spreads = {rate: _spread(facts, rate) for rate in _candidates(facts, grain)}
        fits = [rate for rate, span in spreads.items() if span <= grain and 2 * span <= _period(facts, rate)]
        if fits:
            return min(fits, key=lambda rate: _doubt(rate, spreads[rate], drops))
    return None


def _doubt(rate: Rate, spread: Fraction, drops: bool) -> tuple[bool, bool, bool, Fraction]:
    """Rises with what speaks against a rate that fits."""
    return rate.base not in KNOWN, spread > 0, rate.reduced != drops, spread


def _candidates(facts: RecordingFacts, grain: int) -> Iterator[Rate]:
    """Usual rates and the nearest whole one, less those that the recording's length rules out."""
    gaps, span = len(facts.pts) - 1, facts.pts[-1] - facts.pts[0]
    if not span:
        return
    nearest = _nearest(gaps * facts.time_base.denominator, span * facts.time_base.numerator)
    named = [Rate(base, slow) for slow, bases in ((False, KNOWN), (True, REDUCED)) for base in bases]
    for rate in [*named, Rate(nearest)]:
        if abs(span - gaps * _period(facts, rate)) <= grain:
            yield rate


def _spread(facts: RecordingFacts, rate: Rate) -> Fraction:
    """Ticks between the earliest and the latest frame, each against where the rate puts it."""
    tick = facts.time_base.numerator * rate.numerator
    step = facts.time_base.denominator * rate.denominator
    late = [pts * tick - number * step for number, pts in enumerate(facts.pts)]
    return Fraction(max(late) - min(late), tick)


def _grains(facts: RecordingFacts) -> tuple[int, ...]:
    """Ticks that times may have been rounded to: one and, where all are whole milliseconds, those."""
    millisecond, rest = divmod(facts.time_base.denominator, 1000 * facts.time_base.numerator)
    whole = millisecond > 1 and not rest and all((pts - facts.pts[0]) % millisecond == 0 for pts in facts.pts)
    return (1, millisecond) if whole else (1,)


def _usual_rate(facts: RecordingFacts) -> Rate:
    """The rate that a recording of varying rate counts by: a usual one within 5 % of its middle gap, since
    coarse ticks put 240 a second at 250; else the nearest whole one; 30 where nothing tells."""
    gaps = sorted(after - before for before, after in zip(facts.pts, facts.pts[1:], strict=False))
    gap = gaps[len(gaps) // 2] if gaps else 0
    if not gap:
        return Rate(30)
    tick, second = gap * facts.time_base.numerator, facts.time_base.denominator
    close = min(KNOWN, key=lambda base: abs(base * tick - second))
    return Rate(close if abs(close * tick - second) * 20 <= second else _nearest(second, tick))


def _period(facts: RecordingFacts, rate: Rate) -> Fraction:
    base = facts.time_base
    return Fraction(base.denominator * rate.denominator, base.numerator * rate.numerator)


def _nearest(numerator: int, denominator: int) -> int:
    return max(1, (2 * numerator + denominator) // (2 * denominator))
