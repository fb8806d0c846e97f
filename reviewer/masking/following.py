"""A head followed through a whole recording from the covers that were placed over it by hand."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise
from math import ceil

import numpy as np

from reviewer.masking.colours import Colours
from reviewer.masking.paths import places
from reviewer.masking.seeing import Net, Oval, Thin
from reviewer.terms.covers import Cover, Followed, Placed, Stretch, fingerprint_of
from reviewer.terms.pictures import Picture, RecordingFacts

Look = Callable[[int], Picture | None]
"""The picture of a frame; None where it is missing or damaged."""

FARTHEST = 900
"""Frames of a run that is followed at once, since all ways are kept; beyond, the head counts as lost."""
_FASTEST = 50.0
"""Half sizes of a head in a second that none is faster than: 6 m/s, from memory."""
_GROWN = 1.2
"""What a cover placed by hand grows by on other frames, since a head turns and is not round."""
_WIDEST = 1.0
"""Half sizes of the head by which places may lie apart before it counts as lost."""
_LEAST, _FAINTEST = 0.6, 0.3
"""Share of its usual likeness below which a head is not seen, and likeness at all."""


@dataclass(frozen=True, slots=True)
class _Run:
    """Frames from one that is known to one that is, or to the recording's end.

    Attributes:
        first, last: its frames.
        begin, end: what was placed on them, or None.
    """

    first: int
    last: int
    begin: Placed | None
    end: Placed | None


def follow(placed: Sequence[Placed], facts: RecordingFacts, look: Look) -> Followed:
    """Cover a head on every frame of a recording; ``placed`` in order of frames, one at least with a cover.

    Where places that nothing speaks against lie too far apart, or nothing looks like the head, it is lost:
    such a frame's cover holds every place it can have gone to from where it was seen last, or is seen next.
    """
    anchors = {one.frame: Oval.of(one.cover) for one in placed if one.cover is not None}
    pictures = ((look(frame), oval) for frame, oval in anchors.items())
    colours = Colours((picture, oval) for picture, oval in pictures if picture is not None)
    found: dict[int, Oval | None] = dict.fromkeys(range(placed[0].frame)) if placed[0].cover is None else {}
    for run in _runs(placed, len(facts.pts)):
        found |= dict.fromkeys(range(run.first, run.last + 1))
        found |= {frame: oval for part in _cut(run) for frame, oval in _followed(part, colours, facts, look)}
    found |= {frame: oval.grown(_GROWN) for frame, oval in anchors.items()}
    lost = tuple(_stretches(sorted(frame for frame, oval in found.items() if oval is None)))
    speed = _FASTEST * max(oval.radius for oval in anchors.values())
    for stretch in lost:
        found |= _grown(stretch, found, facts, speed)
    covers = (found.get(frame) for frame in range(len(facts.pts)))
    whole = tuple(None if oval is None else _whole(oval) for oval in covers)
    return Followed(placed[0].head, fingerprint_of(placed), whole, lost)


def _runs(placed: Sequence[Placed], frames: int) -> Iterator[_Run]:
    """The runs on which it is to be seen: before its first cover it is taken to be there already."""
    if placed[0].cover is not None:
        yield _Run(0, placed[0].frame, None, placed[0])
    for one, after in pairwise(placed):
        if one.cover is not None and after.cover is not None:
            yield _Run(one.frame, after.frame, one, after)
        elif one.cover is not None:
            yield _Run(one.frame, after.frame - 1, one, None)
    if placed[-1].cover is not None:
        yield _Run(placed[-1].frame, frames - 1, placed[-1], None)


def _cut(run: _Run) -> Iterator[_Run]:
    """The parts of a run that are followed: all of it, or what is near enough to its ends."""
    if run.last - run.first < FARTHEST:
        yield run
        return
    if run.begin is not None:
        yield _Run(run.first, run.first + FARTHEST // 2, run.begin, None)
    if run.end is not None:
        yield _Run(run.last - FARTHEST // 2, run.last, None, run.end)


def _followed(run: _Run, colours: Colours, facts: RecordingFacts, look: Look) -> Iterator[tuple[int, Oval]]:
    """The cover of each frame of a run on which the head is not lost."""
    begin, end = (Oval.of(one.cover) if one and one.cover else None for one in (run.begin, run.end))
    first, last = begin or end, end or begin
    if first is None or last is None:
        raise ValueError("a run begins or ends with a cover")
    radius, least = (first.radius + last.radius) / 2, max(_LEAST * colours.usual, _FAINTEST)
    net = Net.over(facts.displayed, radius)
    looks = list(_looks(run, colours, look, net, radius))
    seconds = _seconds(facts, run.first, run.last)
    steps = [_FASTEST * radius * (after - before) for before, after in pairwise(seconds)]
    spots = tuple(None if oval is None else (oval.x, oval.y) for oval in (begin, end))
    for frame, place in enumerate(places(looks, net, steps, spots), start=run.first):
        if place.reach <= _WIDEST * radius and place.likeness >= least:
            share = (frame - run.first) / max(run.last - run.first, 1)
            size = _GROWN * (first.radius + share * (last.radius - first.radius)) + place.reach + net.cell
            yield frame, Oval(place.x, place.y, size, size)


def _looks(run: _Run, colours: Colours, look: Look, net: Net, radius: float) -> Iterator[Thin]:
    """How much like the head each frame of a run looks, everywhere; where there is no picture, not at all."""
    for frame in range(run.first, run.last + 1):
        picture = look(frame)
        yield (
            net.empty().astype(np.float16)
            if picture is None
            else colours.likeness(picture, net, radius).astype(np.float16)
        )


def _grown(
    stretch: Stretch, found: Mapping[int, Oval | None], facts: RecordingFacts, speed: float
) -> dict[int, Oval]:
    """Covers for a lost stretch: all within reach of where the head was seen last, or is seen next."""
    first, last = stretch
    known = [(frame, oval) for frame in (first - 1, last + 1) if (oval := found.get(frame)) is not None]
    seconds = dict(zip(range(first - 1, last + 2), _seconds(facts, first - 1, last + 1), strict=True))
    everywhere = Oval(facts.displayed[0] / 2, facts.displayed[1] / 2, *(2.0 * max(facts.displayed),) * 2)
    grown = {}
    for frame in range(first, last + 1):
        reached = [everywhere]
        for other, oval in known:
            size = oval.radius + speed * abs(seconds[frame] - seconds[other])
            reached.append(Oval(oval.x, oval.y, size, size))
        grown[frame] = min(reached, key=lambda one: one.across)
    return grown


def _seconds(facts: RecordingFacts, first: int, last: int) -> list[float]:
    """The time of each of some frames, those beyond the recording at its ends."""
    most = len(facts.pts) - 1
    ticks = (facts.pts[min(max(frame, 0), most)] for frame in range(first, last + 1))
    return [tick * facts.time_base.numerator / facts.time_base.denominator for tick in ticks]


def _stretches(frames: Sequence[int]) -> Iterator[Stretch]:
    """Frames in order as stretches of those that follow each other."""
    for _, group in groupby(enumerate(frames), key=lambda one: one[1] - one[0]):
        own = [frame for _, frame in group]
        yield own[0], own[-1]


def _whole(oval: Oval) -> Cover:
    """A cover in whole pixels that holds this one."""
    x, y = round(oval.x), round(oval.y)
    return Cover.of_whole(x, y, ceil(oval.across + abs(oval.x - x)), ceil(oval.down + abs(oval.y - y)))
