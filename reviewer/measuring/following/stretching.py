"""From one clicked frame to both sides, as far as the joints can be told."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring.clicking import joint
from reviewer.measuring.following.body import TOWARDS
from reviewer.measuring.following.chasing import Chase, clicked_on
from reviewer.measuring.following.lengths import Lengths
from reviewer.measuring.following.seeing import Grey, Window
from reviewer.measuring.following.sight import Sight
from reviewer.measuring.following.steadying import Steady
from reviewer.measuring.following.track import APPEARANCE, CAMERA, DAMAGED, FLOW, LENGTH, Spots
from reviewer.terms.pictures import Picture
from reviewer.terms.readings import Clicks

Array = NDArray[np.float64]

Pictures = Callable[[int], Picture | None]
"""A frame's picture as displayed; None where it is damaged or missing."""
Seen = dict[int, Spots | str]
"""What became of each frame: the joints on it, or why it is lost."""

_BY_ITSELF, _BY_LOOK = 0.0012, 0.09
"""How far a joint may be astray, in lengths of the line: anyway, and for likeness lost (tried out)."""
_CREEPING, _CREEP = (APPEARANCE, FLOW, LENGTH), 0.1
"""Reasons that show late, and seconds by which (tried out: somebody walking past)."""


@dataclass(frozen=True)
class Stretch:
    """What is followed from one clicked frame.

    Attributes:
        clicks: on that frame.
        sight: how the recording sees the plane.
        seconds: when each frame is shown, since any moment.
    """

    clicks: Clicks
    sight: Sight
    seconds: Callable[[int], float]

    def seen(self, pictures: Pictures, frames: range) -> Seen:
        """What became of ``frames``, which hold the clicked one."""
        here = self.clicks.frame
        shown = pictures(here)
        if shown is None:
            return dict.fromkeys(frames, DAMAGED)
        spots = self._spots()
        window = Window.around(np.array(list(spots.values())), _extent(spots), self.clicks.picture)
        inward = {name: window.inward(spot) for name, spot in spots.items()}
        first, last = self.clicks.line.split("-")
        length = float(np.hypot(*(inward[last] - inward[first])))
        clicked = clicked_on(window.grey(shown), inward, length)
        steady = Steady(clicked.grey, window, self.sight.focal)
        found: Seen = {here: Spots(spots, spots, dict.fromkeys(spots, 0.0), steady.turned)}
        if clicked.faint & {first, last}:
            return dict.fromkeys(frames, APPEARANCE) | found
        chase = None
        for side in (range(here + 1, frames.stop), range(here - 1, frames.start - 1, -1)):
            steady.begin()
            chase = Chase(clicked, window, chase)
            run = _Run(self.sight, chase, steady, spots)
            found |= self._side(run, window, pictures, side)
        return found

    def _spots(self) -> dict[str, Array]:
        followed = (name for name, spots in self.clicks.body if spots and name in TOWARDS)
        found = ((name, joint(self.clicks, name)) for name in followed)
        return {name: np.array([one.x, one.y]) for name, one in found}

    def _side(self, run: "_Run", window: Window, pictures: Pictures, side: Iterable[int]) -> Seen:
        before, found, why = self.clicks.frame, Seen(), ""
        for frame in side:
            shown = None if why else pictures(frame)
            why = why or (DAMAGED if shown is None else "")
            if shown is not None:
                apart = abs(self.seconds(frame) - self.seconds(before))
                why = run.on(window.grey(shown), max(apart, 1e-4))
            found[frame] = why or run.told()
            before = frame
        return self._less_the_doubtful(found)

    def _less_the_doubtful(self, found: Seen) -> Seen:
        """A joint is on its way to something else before that shows: take back the frames before it."""
        first = next((frame for frame, told in found.items() if told in _CREEPING), None)
        if first is None:
            return found
        when, why = self.seconds(first), found[first]
        return {
            frame: why if abs(self.seconds(frame) - when) < _CREEP and isinstance(told, Spots) else told
            for frame, told in found.items()
        }


class _Run:
    """Joints, lengths and camera together, from one clicked frame to one side."""

    def __init__(self, sight: Sight, chase: Chase, steady: Steady, spots: Mapping[str, Array]) -> None:
        self._chase, self._sight, self._steady = chase, sight, steady
        self._lengths = Lengths(sight, spots)
        self._line = sight.clicks.line.split("-")

    def on(self, grey: Grey, seconds: float) -> str:
        """Go one frame on; why the line is lost, or nothing."""
        lost = self._chase.on(grey, seconds)
        for name in self._line:
            if name in lost:
                return lost[name]
        if not self._steady.on(grey):
            return CAMERA
        for pair in self._lengths.wrong(self._sight.places(self.told().steadied), seconds):
            doubtful = [name for name in pair if name not in self._line and name in self._chase.joints]
            if not doubtful and set(pair) <= set(self._chase.joints):
                return LENGTH
            if doubtful:
                self._chase.drop(min(doubtful, key=lambda name: self._chase.joints[name].likeness))
        return ""

    def told(self) -> Spots:
        """The joints where they are now."""
        window, size = self._chase.window, self._chase.clicked.length * self._chase.window.shrunk
        places = {name: window.outward(one.spot) for name, one in self._chase.joints.items()}
        steadied = self._steady.as_clicked(places)
        astray = {
            name: size * (_BY_ITSELF + _BY_LOOK * (1 - one.likeness))
            for name, one in self._chase.joints.items()
        }
        return Spots(places, steadied, astray, self._steady.turned)


def _extent(spots: Mapping[str, Array]) -> float:
    """The longest distance between two joints."""
    places = list(spots.values())
    return max(float(np.hypot(*(one - other))) for one in places for other in places)
