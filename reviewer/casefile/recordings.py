"""The recordings of a case: the attempt each one shows, and the instants that two of them share."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from dataclasses import dataclass

from reviewer.terms.times import TimeBase


@dataclass(frozen=True, slots=True)
class RecordingCited:
    """A recording a case is about, by fingerprint.

    Attributes:
        sha256: of the file's bytes.
        frames: how many it holds.
        time_base: length of a tick, as text.
        pts: the tick of every frame.
        attempt: which attempt at the exercise it shows, from 1.
    """

    sha256: str
    frames: int
    time_base: str
    pts: tuple[int, ...]
    attempt: int = 1

    @property
    def base(self) -> TimeBase:
        """Length of a tick."""
        return TimeBase.parse(self.time_base)

    def on_screen(self, tick: int) -> tuple[int, int]:
        """From which tick, and up to which, the picture at a tick is on screen.

        The last picture is taken to stay as long as the one before it; the only one, no time at all.
        """
        shown = self.pts[max(0, bisect_right(self.pts, tick) - 1)]
        before, after = bisect_left(self.pts, shown), bisect_right(self.pts, shown)
        if after < len(self.pts):
            return shown, self.pts[after]
        return shown, 2 * shown - self.pts[before - 1] if before else shown


@dataclass(frozen=True, slots=True)
class Joined:
    """One instant that two recordings show, as a judge set it.

    Attributes:
        a, b: SHA-256 of each recording.
        a_pts, b_pts: tick of the frame that shows the instant in each.
        offset_us: microseconds to add to a time of ``b`` to have the time of ``a``, as derived then.
        u_us: its standard uncertainty in microseconds.
    """

    a: str
    a_pts: int
    b: str
    b_pts: int
    offset_us: int
    u_us: int


def cited_also(known: tuple[RecordingCited, ...], one: RecordingCited) -> tuple[RecordingCited, ...]:
    """The recordings with one more; one that is known already keeps its place."""
    if all(other.sha256 != one.sha256 for other in known):
        return (*known, one)
    return tuple(one if other.sha256 == one.sha256 else other for other in known)


def joined_also(known: tuple[Joined, ...], one: Joined) -> tuple[Joined, ...]:
    """The common instants with one more, the newest last; of one pair only the last that was said counts."""
    return (*(other for other in known if {other.a, other.b} != {one.a, one.b}), one)


def attempt_that_counts(recordings: Iterable[RecordingCited], said: int | None) -> int:
    """The attempt a judge said counts, while a recording shows it; else the first that one shows."""
    shown = {one.attempt for one in recordings}
    return said if said in shown and said is not None else min(shown, default=1)
