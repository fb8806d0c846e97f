"""A sensor read row after row: the lower a row, the later it saw.

Each frame is put together from several pictures taken about its moment, which is when the middle row is read.
"""

from dataclasses import dataclass, replace
from math import ceil

import numpy as np
from figure import Array
from filming import SUBFRAMES, Film
from solids import Pixels

STEP = 1 / 240  # s between the pictures that one frame is put together from
OPEN = 2.0  # steps for which a row sees


def pictures_about(readout: float) -> int:
    """How many pictures it takes before a frame's moment, and after; `readout` s from top to bottom."""
    return ceil(readout / STEP / 2 + OPEN / 2)


def moments_about(moments: Array, readout: float) -> Array:
    """When those pictures are taken (n,), for frames at `moments` (s)."""
    each = np.arange(-pictures_about(readout), pictures_about(readout) + 1) * STEP
    return np.asarray((moments[:, None] + each).ravel())


@dataclass(frozen=True)
class RowByRow:
    """`quick` holds the pictures of `moments_about`, one frame's after the other's; `readout` in s."""

    quick: Film
    readout: float

    def still(self) -> Film:
        """The film of the frames' own moments, as a sensor read at once would give it."""
        each, frames = self._each, self.quick.frames // self._each
        instants = {
            name: track.reshape(frames, each, SUBFRAMES, 3)[:, each // 2].reshape(-1, 3)
            for name, track in self.quick.instants.items()
        }
        return replace(self.quick, instants=instants, frames=frames)

    def picture(self, frame: int) -> Pixels:
        """The frame as it is read."""
        tall = self.quick.camera.size[1]
        when = self._late(np.arange(tall, dtype=float))
        total, seen = np.zeros((*self.quick.empty.shape,)), np.zeros((tall, 1, 1))
        for at in range(self._each):
            open_there = np.clip(OPEN / 2 + 0.5 - np.abs(when - at), 0, 1)[:, None, None]
            if open_there.any():
                total += open_there * self.quick.picture(frame * self._each + at)
                seen += open_there
        return np.asarray(np.round(total / seen), dtype=np.uint8)

    def spots(self, name: str) -> Array:
        """Where a joint is seen, (frames, 2) px: at the moment its own row is read."""
        middles = self.quick.joints()[name]
        tracks = self.quick.camera.project(middles).reshape(-1, self._each, 2)
        found = tracks[:, self._each // 2]
        for _ in range(4):
            found = np.array([_between(t, w) for t, w in zip(tracks, self._late(found[:, 1]), strict=True)])
        return found

    @property
    def _each(self) -> int:
        return 2 * pictures_about(self.readout) + 1

    def _late(self, rows: Array) -> Array:
        """Which of a frame's pictures rows come from, in parts of one."""
        share = np.asarray(rows) / (self.quick.camera.size[1] - 1) - 0.5
        return np.asarray(self._each // 2 + share * self.readout / STEP)


def _between(track: Array, at: float) -> Array:
    return np.array([np.interp(at, np.arange(len(track)), axis) for axis in track.T])
