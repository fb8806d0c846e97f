"""Which frame is due when: playing at a speed, forward or back, once or over and over."""

from collections import deque
from dataclasses import dataclass
from fractions import Fraction

from reviewer.terms.pictures import RecordingFacts

SPEEDS = (Fraction(1, 8), Fraction(1, 4), Fraction(1, 2), Fraction(1), Fraction(2), Fraction(4))
"""Speeds of playing, as parts of the recording's own."""
FULL_SPEED = Fraction(1)


@dataclass(frozen=True, slots=True)
class Passage:
    """What is to be played.

    Attributes:
        first: frame to begin at.
        low, high: first and last frame of the stretch.
        speed: how fast, as part of the recording's own speed.
        step: 1 forward, -1 back.
        again: whether it begins anew at its end.
        punctual: whether it keeps to its time whatever is left out, instead of going on slower.
    """

    first: int
    low: int
    high: int
    speed: Fraction = Fraction(1)
    step: int = 1
    again: bool = False
    punctual: bool = False

    @property
    def goes_round(self) -> bool:
        """Whether there is something to begin anew."""
        return self.again and self.low < self.high

    @property
    def beginning(self) -> int:
        """Where it begins anew."""
        return self.low if self.step > 0 else self.high

    @property
    def end(self) -> int:
        """The frame it ends with."""
        return self.high if self.step > 0 else self.low


@dataclass(frozen=True, slots=True)
class Looked:
    """A look at full speed that has ended.

    Attributes:
        first, last: the frames it began and ended with.
        whole: whether it came to the end of the recording.
        late: seconds by which the latest picture came late.
        shown: pictures shown.
        why: what gave way, in words; empty where nothing did.
    """

    first: int
    last: int
    whole: bool
    late: float
    shown: int
    why: str = ""


class Punctuality:
    """How well a passage kept to its time, by what was due and what came; counted under one lock.

    Attributes:
        late: seconds by which the latest picture came late.
        shown: pictures that came.
    """

    def __init__(self) -> None:
        self.late, self.shown = 0.0, 0
        self._due: deque[float | None] = deque()

    @property
    def on_its_way(self) -> bool:
        """Whether a picture was sent and has not come."""
        return bool(self._due)

    def sent(self, due: float | None) -> None:
        """A picture is sent; when it is due, None where it is due at no moment of its own."""
        self._due.append(due)

    def came(self, now: float) -> None:
        """The picture sent first has come."""
        due = self._due.popleft() if self._due else None
        if due is not None:
            self.late, self.shown = max(self.late, now - due), self.shown + 1

    def begin(self) -> None:
        """Count anew; what is on its way is none of it."""
        self.late, self.shown = 0.0, 0
        self._due = deque(None for _ in self._due)


class Pace:
    """A clock set to a frame: tells the frame due at a moment, and the moment a frame is due.

    ``now``: seconds of any steady clock at which ``frame`` is on the screen.
    """

    def __init__(self, facts: RecordingFacts, passage: Passage, frame: int, now: float) -> None:
        self._facts, self._passage = facts, passage
        self._began, self._from = now, frame

    def next(self, frame: int, now: float) -> int:
        """The frame to show after ``frame``: the one due, or at least the next one."""
        due, step = self.due(now), self._passage.step
        return max(due, frame + 1) if step > 0 else min(due, frame - 1)

    def due(self, now: float) -> int:
        """The frame that should be on the screen; within the passage."""
        ticks = (now - self._began) * float(self._passage.speed) / self._tick()
        pts = self._facts.pts[self._from] + self._passage.step * int(ticks + 0.001)
        frame = self._facts.frame_at(pts)
        if self._passage.step < 0 and self._facts.pts[frame] < pts:
            frame += 1  # backwards a frame stays until the beginning of the one before it
        return max(self._passage.low, min(self._passage.high, frame))

    def moment(self, frame: int) -> float:
        """When a frame is due."""
        ticks = abs(self._facts.pts[frame] - self._facts.pts[self._from])
        return self._began + ticks * self._tick() / float(self._passage.speed)

    def _tick(self) -> float:
        base = self._facts.time_base
        return base.numerator / base.denominator
