"""The curve of the angle: elevation over time along a track, with its doubt, what was lost, and the top."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby
from typing import Any

from reviewer.drawing.hatching import hatched, named
from reviewer.drawing.plotting import LEFT, LETTERS, TOP, Plot, spanned, spot, width
from reviewer.drawing.protractor import limit_words
from reviewer.drawing.vector import svg
from reviewer.terms.exact import Degrees, Pixels
from reviewer.terms.intervals import Z95_MILLIONTHS, expanded, told
from reviewer.terms.readings import Requirement
from reviewer.terms.shapes import Label, Path, Ring, Segment, Shape
from reviewer.terms.times import TimeBase
from reviewer.words import Saying

COVERAGE = Fraction(Z95_MILLIONTHS, 1_000_000)
"""Standard uncertainties to each side of the curve that the band holds: 95 %."""
BEYOND = 20
"""Degrees beyond the curve that are shown of a band, however wide."""
RING, BAR = Pixels(5000), 5
"""Radius of a ring, and half the height of an interval's ends, in pixels."""
LEAST_SECONDS, LEAST_DEGREES = Fraction(1, 10), Fraction(20)
_ENGLISH = Saying()


@dataclass(frozen=True, slots=True)
class _Moment:
    """A good frame: seconds, degrees, and standard uncertainty in degrees."""

    seconds: Fraction
    degrees: Fraction
    u: Fraction


def curve_svg(
    track: Mapping[str, Any],
    requirement: Requirement | None,
    size: tuple[int, int],
    time_base: TimeBase,
    title: str,
    say: Saying = _ENGLISH,
) -> str:
    """The curve as SVG, with letters that can be read where it is shown small."""
    return svg(curve(track, requirement, size, time_base, say), size, title, LETTERS)


def curve(
    track: Mapping[str, Any],
    requirement: Requirement | None,
    size: tuple[int, int],
    time_base: TimeBase,
    say: Saying = _ENGLISH,
) -> tuple[Shape, ...]:
    """Shapes of a ``reviewer.track/1`` document in a drawing of this size in pixels.

    ``time_base`` is that of its ticks. The same document gives the same shapes on any machine.
    """
    frames = track["frames"]
    if not frames:
        return (Label(spot(LEFT, size[1] // 2), say("Nothing was followed."), "number"),)
    seconds = {one["frame"]: _seconds(one["pts"], time_base) for one in frames}
    runs = [[_moment(one, time_base) for one in run] for run in _good(frames)]
    limits = _limits(requirement)
    plot = _plot(size, list(seconds.values()), [one for run in runs for one in run], limits)
    lost = _lost(track, seconds, plot, say)
    return (
        *(stroke for _, start, end in lost for stroke in hatched(plot, start, end)),
        *plot.axes(say),
        *(shape for run in runs for shape in _run(run, plot)),
        *_levels(limits, limit_words(requirement, say) if requirement else (), plot),
        *(named(plot, start, end, why, number) for number, (why, start, end) in enumerate(lost)),
        *_top(track, plot, say),
    )


def moment_across(
    track: Mapping[str, Any], pts: int, size: tuple[int, int], time_base: TimeBase
) -> Fraction | None:
    """Pixels across of a tick in the drawing of this size; None where it lies outside the track."""
    seconds = [_seconds(one["pts"], time_base) for one in track["frames"]]
    moment = _seconds(pts, time_base)
    if not seconds or not min(seconds) <= moment <= max(seconds):
        return None
    return Plot(size, spanned(seconds, LEAST_SECONDS), (Fraction(0), Fraction(1))).x(moment)


def frame_across(
    track: Mapping[str, Any], across: float, size: tuple[int, int], time_base: TimeBase
) -> int | None:
    """Number of the frame nearest to a place so many pixels across; None of an empty track."""
    seconds = {one["frame"]: _seconds(one["pts"], time_base) for one in track["frames"]}
    if not seconds:
        return None
    plot = Plot(size, spanned(list(seconds.values()), LEAST_SECONDS), (Fraction(0), Fraction(1)))
    nearest: int = min(seconds, key=lambda frame: abs(plot.x(seconds[frame]) - Fraction(across)))
    return nearest


def _good(frames: Iterable[Mapping[str, Any]]) -> Iterator[list[Mapping[str, Any]]]:
    """Stretches of frames that follow each other and carry an angle."""
    runs = groupby(frames, key=lambda one: one["state"] == "good" and one.get("angle_deg") is not None)
    return (list(run) for good, run in runs if good)


def _moment(frame: Mapping[str, Any], time_base: TimeBase) -> _Moment:
    angle, u = Fraction(frame["angle_deg"]), Fraction(frame["u_deg"] or 0)
    return _Moment(_seconds(frame["pts"], time_base), angle, u)


def _plot(
    size: tuple[int, int],
    seconds: Sequence[Fraction],
    moments: Sequence[_Moment],
    limits: Sequence[tuple[str, Degrees]],
) -> Plot:
    heights = [_fraction(angle) for _, angle in limits]
    for one in moments:
        reach = min(COVERAGE * one.u, Fraction(BEYOND))
        heights += [one.degrees - reach, one.degrees + reach]
    return Plot(size, spanned(seconds, LEAST_SECONDS), spanned(heights or [Fraction(0)], LEAST_DEGREES))


def _limits(requirement: Requirement | None) -> list[tuple[str, Degrees]]:
    if requirement is None:
        return []
    limit = ("limit", requirement.at_least)
    if not requirement.tolerance:
        return [limit]
    return [limit, ("tolerance", requirement.at_least - requirement.tolerance)]


def _levels(limits: Sequence[tuple[str, Degrees]], said: Sequence[str], plot: Plot) -> Iterator[Shape]:
    """A line right across for each, and its words beside the plot, one below the other."""
    last = Fraction(0)
    for (style, angle), words in zip(limits, said, strict=True):
        down = plot.y(_fraction(angle))
        last = max(down + Fraction(LETTERS, 3), last + LETTERS + 2)
        yield Segment(spot(LEFT, down), spot(plot.right, down), style)
        yield Label(spot(plot.right + 8, last), words, "number")


def _run(run: Sequence[_Moment], plot: Plot) -> tuple[Shape, ...]:
    """The band and the curve in it; a frame that stands alone is a ring with its interval."""
    low, high = (
        [plot.at(one.seconds, one.degrees + side * COVERAGE * one.u) for one in run] for side in (-1, 1)
    )
    line = tuple(plot.at(one.seconds, one.degrees) for one in run)
    if len(run) == 1:
        return Segment(low[0], high[0], "doubt"), Ring(line[0], RING, "body-line")
    return Path((*low, *reversed(high), low[0]), "doubt"), Path(line, "body-line")


def _lost(
    track: Mapping[str, Any], seconds: Mapping[int, Fraction], plot: Plot, say: Saying
) -> list[tuple[str, Fraction, Fraction]]:
    """Each stretch that is lost, and where it lies across: from half-way to the frames beside it."""
    found = []
    for one in track.get("lost", ()):
        first, last = one["frames"]
        start, end = (
            plot.x((seconds.get(beside, seconds[edge]) + seconds[edge]) / 2)
            for edge, beside in ((first, first - 1), (last, last + 1))
        )
        found.append((say("lost"), start, end))
    return found


def _top(track: Mapping[str, Any], plot: Plot, say: Saying) -> tuple[Shape, ...]:
    """The highest moment with the interval it may lie in, its words above; or why there is none."""
    top, over = track["top"], TOP - 10
    if top is None:
        why = track.get("why_no_top")
        said = say("no top: {why}", why=say.retold(why)) if why else say("no top")
        return (Label(spot(LEFT, over), said, "number"),)
    value, u = Degrees.parse(top["value_deg"]), Degrees.parse(top["u_deg"])
    moment, ends = Fraction(top["time_s"]), [Fraction(end) for end in top["interval_s"]]
    across, down = plot.x(moment), plot.y(_fraction(value))
    size = told(value, expanded(u), "°")
    words = say("top {seconds} s: {size}", seconds=_thousandths(moment), size=size)
    left, right = (plot.x(end) for end in ends)
    begin = max(Fraction(LEFT), min(across - width(words) / 2, plot.size[0] - width(words)))
    return (
        Segment(spot(across, TOP - 4), spot(across, down - 6), "top"),
        Segment(spot(left, down), spot(right, down), "top"),
        *(Segment(spot(end, down - BAR), spot(end, down + BAR), "top") for end in (left, right)),
        Ring(spot(across, down), RING, "top"),
        Label(spot(begin, over), words, "number"),
    )


def _seconds(pts: int, time_base: TimeBase) -> Fraction:
    return Fraction(pts * time_base.numerator, time_base.denominator)


def _fraction(angle: Degrees) -> Fraction:
    return Fraction(angle.thousandths, 1000)


def _thousandths(seconds: Fraction) -> str:
    whole, places = divmod(abs(round(seconds * 1000)), 1000)
    return f"{'-' if seconds < 0 else ''}{whole}.{places:03d}"
