"""Several recordings on one line of time: exact, in fractions and whole numbers.

A judge says that one frame of each of two recordings shows the same instant. Each frame is on screen for a
while, and the instant lies anywhere in it: a rectangular distribution (JCGM 100:2008, 4.3.7), whose
expectation is the middle and whose variance is the square of its length over 12. So the offset is the
difference of the two middles and its variance the sum of the two.
"""

from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import isqrt, lcm

from reviewer.casefile.recordings import Joined, RecordingCited
from reviewer.terms.marks import Mark, in_routine_order
from reviewer.terms.times import TimeBase

MILLION = 1_000_000


@dataclass(frozen=True, slots=True)
class Offset:
    """What to add to a time of one recording to have the time of another.

    Attributes:
        seconds: exact.
        variance: of it, in square seconds, exact.
    """

    seconds: Fraction
    variance: Fraction

    @property
    def microseconds(self) -> int:
        """Whole microseconds, halves rounded up."""
        return (2 * self.seconds * MILLION + 1) // 2

    @property
    def uncertainty(self) -> int:
        """Standard uncertainty in whole microseconds, halves rounded up."""
        return (isqrt(int(4 * self.variance * MILLION**2)) + 1) // 2


@dataclass(frozen=True, slots=True)
class Place:
    """Where the times of a recording belong.

    Attributes:
        attempt: the attempt it shows.
        line: number of its line of time, from 1 in routine order. Recordings that are joined share one.
        time_base: length of its ticks.
        shift: exact seconds to add to its times to have those of the line.
    """

    attempt: int
    line: int
    time_base: TimeBase
    shift: Fraction


def offset_of(a: RecordingCited, a_pts: int, b: RecordingCited, b_pts: int) -> Offset:
    """What to add to a time of ``b``, where these frames of both show one instant."""
    (begin, end), (from_, to) = _shown(a, a_pts), _shown(b, b_pts)
    middles = (begin + end - from_ - to) / 2
    return Offset(middles, ((end - begin) ** 2 + (to - from_) ** 2) / 12)


def offsets_from(
    start: RecordingCited, recordings: Sequence[RecordingCited], joins: Sequence[Joined]
) -> dict[str, Offset]:
    """Every recording that is joined to one, directly or through others, with its offset to that one.

    Where joins make a ring, the oldest that closes it is left out: what was said last counts. Variances along
    a way add up, as of independent choices; two choices on the very same frame are not, and add too much.
    """
    found = {start.sha256: Offset(Fraction(0), Fraction(0))}
    links = _forest(recordings, joins)
    waiting = [start.sha256]
    while waiting:
        at = waiting.pop()
        for other, link in links.get(at, ()):
            if other not in found:
                here = found[at]
                found[other] = Offset(here.seconds + link.seconds, here.variance + link.variance)
                waiting.append(other)
    return found


def lay_out(recordings: Sequence[RecordingCited], joins: Sequence[Joined]) -> dict[str, Place]:
    """The place of each recording: attempt by attempt, each line in the time of its first recording."""
    places: dict[str, Place] = {}
    line = 0
    for root in sorted(recordings, key=lambda one: one.attempt):
        if root.sha256 in places:
            continue
        line += 1
        offsets = offsets_from(root, recordings, joins)
        for one in recordings:
            if one.sha256 in offsets:
                places[one.sha256] = Place(one.attempt, line, one.base, offsets[one.sha256].seconds)
    return places


def on_one_line(marks: Sequence[Mark], places: Mapping[str, Place], first: str | None) -> tuple[Mark, ...]:
    """The marks with all their ticks in one common base, line after line; exact.

    ``first`` is the recording of the marks that name none; a mark of none of these recordings comes last.
    With one recording the marks stay as they are.
    """
    if len(places) < 2:
        return tuple(marks)
    rate = common_base(places).denominator
    clocks = {name: _clock(place, rate) for name, place in places.items()}
    names = [mark.recording or first or "" for mark in marks]
    lines = [places[name].line if name in places else len(places) + 1 for name in names]
    moved = [_reset(mark, *clocks.get(name, (1, 0))) for mark, name in zip(marks, names, strict=True)]
    begins = dict(_begins(lines, moved))
    return tuple(_reset(mark, 1, begins.get(line, 0)) for line, mark in zip(lines, moved, strict=True))


def common_base(places: Mapping[str, Place]) -> TimeBase:
    """The length of the ticks that `on_one_line` gives: with one recording, those of its own."""
    if len(places) == 1:
        return next(iter(places.values())).time_base
    return TimeBase(1, lcm(*(one.shift.denominator * one.time_base.denominator for one in places.values())))


def routine_order(
    marks: tuple[Mark, ...], places: Mapping[str, Place], first: str | None
) -> tuple[Mark, ...]:
    """The marks as they follow each other, whichever recording each was made on."""
    moments = {mark.id: mark.moment() for mark in on_one_line(marks, places, first)}
    return in_routine_order(marks, lambda mark: moments[mark.id])


def counterpart(of: RecordingCited, tick: int, on: RecordingCited, offset: Offset) -> int | None:
    """The frame number of ``on`` that is on screen in the middle of a frame of ``of``; None past its ends.

    ``offset`` is what to add to a time of ``of`` to have the time of ``on``.
    """
    begin, end = _shown(of, tick)
    moment = (begin + end) / 2 + offset.seconds
    if not _shown(on, on.pts[0])[0] <= moment < _shown(on, on.pts[-1])[1]:
        return None
    return bisect_right(on.pts, moment * on.base.denominator / on.base.numerator) - 1


def _forest(
    recordings: Sequence[RecordingCited], joins: Sequence[Joined]
) -> dict[str, list[tuple[str, Offset]]]:
    """From each recording the ones it is joined to; the newest joins first, none that closes a ring."""
    known = {one.sha256: one for one in recordings}
    links: dict[str, list[tuple[str, Offset]]] = {}
    group = {name: name for name in known}
    for join in reversed(joins):
        a, b = known.get(join.a), known.get(join.b)
        if a is None or b is None or a.attempt != b.attempt or group[join.a] == group[join.b]:
            continue
        left, right = group[join.a], group[join.b]
        group |= {name: left for name, of in group.items() if of == right}
        offset = offset_of(a, join.a_pts, b, join.b_pts)
        links.setdefault(join.a, []).append((join.b, offset))
        links.setdefault(join.b, []).append((join.a, Offset(-offset.seconds, offset.variance)))
    return links


def _time(recording: RecordingCited, tick: int) -> Fraction:
    base = recording.base
    return Fraction(tick * base.numerator, base.denominator)


def _shown(recording: RecordingCited, tick: int) -> tuple[Fraction, Fraction]:
    start, end = recording.on_screen(tick)
    return _time(recording, start), _time(recording, end)


def _clock(place: Place, rate: int) -> tuple[int, int]:
    """What a tick is multiplied by, and what is added to it, to count in a common base."""
    scale = rate // place.time_base.denominator * place.time_base.numerator
    return scale, int(place.shift * rate)


def _reset(mark: Mark, scale: int, shift: int) -> Mark:
    if (scale, shift) == (1, 0):
        return mark
    ticks = (mark.start, mark.end, mark.at)
    start, end, at = (None if tick is None else tick * scale + shift for tick in ticks)
    return replace(mark, start=start, end=end, at=at)


def _begins(lines: Sequence[int], marks: Sequence[Mark]) -> Iterator[tuple[int, int]]:
    """How far to move each line so that its marks follow those of the lines before; the first stays."""
    last: int | None = None
    for line in sorted(set(lines)):
        own = [mark for on, mark in zip(lines, marks, strict=True) if on == line]
        ticks = [tick for one in own for tick in (one.start, one.end, one.at) if tick is not None]
        if ticks:
            later = 0 if last is None else max(0, last + 1 - min(ticks))
            yield line, later
            last = max(ticks) + later
