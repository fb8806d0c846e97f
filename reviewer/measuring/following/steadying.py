"""How the camera was turned since the clicked frame, to which the calibration belongs.

Corners of the hall and the apparatus, which stand still, are looked for again on each frame; what most agree
on is the camera's, the rest is the body's and passers-by's. A camera held by hand or panned turns; that it
also moves a little from its place is neglected. The turning is laid onto the picture by least squares (Gauss
and Newton, the slopes taken from the clicked frame); only where that finds nothing, optical flow is asked.
"""

from collections.abc import Mapping
from math import acos, degrees, hypot

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring.following.rays import Rays, rotation_by
from reviewer.measuring.following.seeing import Grey, Window, corners, flow, median, solved, values

Array = NDArray[np.float64]

_FEWEST = 8
"""Corners below which nothing is said of the camera, and it is taken to stand still."""
_AGREE, _SHARE = 1.0, 0.4
"""Pixels within which corners agree, and the share of them that must."""
_STILL, _STANDING = 0.5, 0.25
"""Pixels by which a corner does not move where the camera stands still, and the share of corners that shows
it: where the camera turns, none is left in its place."""
_UNLIKE = 0.5
"""Share of a corner's contrast by which it may look otherwise and still be taken for itself."""
_SIDE = 5
_PATCH = 2.0 * (np.stack(np.meshgrid(range(_SIDE), range(_SIDE)), axis=-1).reshape(-1, 2) - _SIDE // 2)
"""Places about a corner, every second pixel."""
_ROUNDS, _SETTLED = 6, 0.1
"""Rounds of a fit at most, and pixels by which it moves in its last: what is left after that is far less."""


class Steady:
    """The camera's turning since the clicked frame.

    Attributes:
        turn: rotation (3, 3) that takes rays of the clicked frame to those of the frame looked at last.
    """

    def __init__(self, grey: Grey, window: Window, focal: float) -> None:
        self._grey, self._window = grey, window
        self._lens = Rays(focal, (np.array(window.edges) - 1.0) / 2)
        self._spots = corners(grey)
        if self._told:
            self._learn(grey)
        self._spin: Array = np.eye(3)
        self._first: Array = np.eye(3)
        self.begin()

    @property
    def turned(self) -> float | None:
        """Degrees of the turning; None where too little stands still in the picture to tell."""
        if not self._told:
            return None
        return degrees(acos(min(1.0, max(-1.0, (float(np.trace(self.turn)) - 1) / 2))))

    def begin(self) -> None:
        """Start from the clicked frame again, to the other side: as it went on, it came."""
        self.turn: Array = np.eye(3)
        self._spin = self._first.T
        self._stood = True

    def on(self, grey: Grey) -> bool:
        """Look at the next picture; whether the camera could be told."""
        if not self._told:
            return True
        if self._stood and np.mean(self._same(self._shown(grey, self._patches))) >= _STANDING:
            return True
        guess = self._spin @ self.turn
        return self._lays(grey, guess) or self._flows(grey, guess, 1) or self._flows(grey, guess, 4)

    def as_clicked(self, spots: Mapping[str, Array]) -> dict[str, Array]:
        """Where the clicked frame's camera would have shown spots of the picture."""
        if self._stood:
            return dict(spots)
        seen = self._lens.seen(self._lens.sent(np.array(list(spots.values()))) @ self.turn)
        return dict(zip(spots, seen, strict=True))

    @property
    def _told(self) -> bool:
        """Whether there is enough to tell the camera by."""
        return len(self._spots) >= _FEWEST

    def _learn(self, grey: Grey) -> None:
        """The shades about corners, and how they change for moving right and down and for turning."""
        self._patches = (self._spots[:, None] + _PATCH).reshape(-1, 2)
        self._shades = self._shown(grey, self._patches)
        self._contrast = np.std(self._shades, axis=1)
        shades = self._shades.reshape(-1, _SIDE, _SIDE)
        down, right = np.gradient(shades, 2.0, axis=1), np.gradient(shades, 2.0, axis=2)
        slopes = np.stack([right, down], axis=-1).reshape(-1, _SIDE * _SIDE, 2)
        normal = np.swapaxes(slopes, 1, 2) @ slopes + 1e-6 * np.eye(2)
        self._moving = np.linalg.solve(normal, np.swapaxes(slopes, 1, 2))
        outside = self._window.outward(self._patches)
        self._patch_rays = self._lens.sent(outside)
        moves = self._lens.moves(outside) / self._window.shrunk
        turning = np.einsum("na,nab->nb", slopes.reshape(-1, 2), moves).reshape(*self._shades.shape, 3)
        self._turning = turning - turning.mean(axis=1, keepdims=True)

    def _shown(self, grey: Grey, spots: Array) -> Array:
        """Grey values about each corner, (n, places)."""
        return values(grey, spots).reshape(-1, _SIDE * _SIDE)

    def _same(self, shown: Array) -> NDArray[np.bool_]:
        """Which corners look as they did, where they were: one step of flow moves them hardly."""
        off = shown - self._shades
        moves = (self._moving @ off[..., None])[..., 0]
        alike = np.std(off, axis=1) < _UNLIKE * self._contrast
        return np.asarray(alike & (np.hypot(*moves.T) < _STILL))

    def _lays(self, grey: Grey, turn: Array) -> bool:
        """Lay the corners onto the picture from a guessed turning; what looks otherwise has no weight."""
        for _ in range(_ROUNDS):
            shown = self._laid(grey, turn)
            off = shown - self._shades
            off -= off.mean(axis=1, keepdims=True)
            unlike = np.sqrt(np.mean(off**2, axis=1)) / (self._contrast + 1e-9)
            reach = max(3 * median(unlike), _UNLIKE)
            weights = np.maximum(1 - (unlike / reach) ** 2, 0) ** 2 / (self._contrast + 1.0) ** 2
            weighed = (self._turning * weights[:, None, None]).reshape(-1, 3)
            normal = weighed.T @ self._turning.reshape(-1, 3)
            normal.flat[::4] += 1e-9 * normal.trace() + 1e-12
            move = solved(normal, weighed.T @ off.ravel())
            turn = turn @ rotation_by(-move)
            if self._lens.focal * hypot(*move) < _SETTLED * self._window.shrunk:
                break
        if np.mean(self._same(shown)) < _SHARE:
            return False
        self._turn_to(turn)
        return True

    def _laid(self, grey: Grey, turn: Array) -> Array:
        """Grey values where a turning takes what was about the corners."""
        return self._shown(grey, self._window.inward(self._lens.seen(self._patch_rays @ turn.T)))

    def _flows(self, grey: Grey, turn: Array, levels: int) -> bool:
        """Ask optical flow where the corners went, from a guessed turning."""
        rays = self._lens.sent(self._window.outward(self._spots))
        guess = self._window.inward(self._lens.seen(rays @ turn.T))
        spots = self._window.outward(flow(self._grey, grey, self._spots, guess, levels))
        turn = self._fitted(rays, spots)
        off = np.hypot(*(self._lens.seen(rays @ turn.T) - spots).T)
        if np.mean(off < _AGREE * self._window.shrunk) < _SHARE:
            return False
        self._turn_to(turn)
        return True

    def _turn_to(self, turn: Array) -> None:
        """Take a turning, and that the next will go on alike."""
        self._first = turn if self._stood else self._first
        self._spin, self.turn, self._stood = np.asarray(turn @ self.turn.T), turn, False

    def _fitted(self, clicked: Array, spots: Array) -> Array:
        """The rotation most corners agree on: least squares (Kabsch), those that disagree given no weight."""
        rays = self._lens.sent(spots)
        weights, turn = np.ones(len(rays)), self.turn
        for _ in range(_ROUNDS):
            left, _, right = np.linalg.svd((rays * weights[:, None]).T @ clicked)
            turn = left @ np.diag([1.0, 1.0, np.linalg.det(left @ right)]) @ right
            off = np.hypot(*(self._lens.seen(clicked @ turn.T) - spots).T)
            reach = max(3 * float(np.median(off)), _AGREE)
            weights = np.clip(1 - (off / reach) ** 2, 0, None) ** 2
        return np.asarray(turn)
