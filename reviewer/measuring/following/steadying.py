"""How the camera was turned since the clicked frame, to which the calibration belongs.

Corners of the hall and the apparatus, which stand still, are looked for again on each frame; what most agree
on is the camera's, the rest is the body's and passers-by's. A camera held by hand or panned turns; that it
also moves a little from its place is neglected.
"""

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring.following.seeing import Grey, Window, corners, flow, values

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
_ROUNDS = 6


class Steady:
    """The camera's turning since the clicked frame.

    Attributes:
        turn: rotation (3, 3) that takes rays of the clicked frame to those of the frame looked at last.
    """

    def __init__(self, grey: Grey, window: Window, focal: float) -> None:
        self._grey, self._window, self._focal = grey, window, focal
        self._middle = (np.array(window.edges) - 1.0) / 2
        self._spots = corners(grey)
        self._rays = self._sent(window.outward(self._spots))
        self._patches = self._spots[:, None] + _PATCH
        self._shades = self._shown(grey)
        shades = self._shades.reshape(-1, _SIDE, _SIDE)
        down, right = np.gradient(shades, 2.0, axis=1), np.gradient(shades, 2.0, axis=2)
        self._slopes = np.stack([right, down], axis=-1).reshape(-1, _SIDE * _SIDE, 2)
        self.begin()

    def begin(self) -> None:
        """Start from the clicked frame again."""
        self.turn: Array = np.eye(3)
        self._spin: Array = np.eye(3)

    def on(self, grey: Grey) -> bool:
        """Look at the next picture; whether the camera could be told."""
        if len(self._spots) < _FEWEST:
            return True
        if self._stands(grey):
            self._turn_to(np.eye(3))
            return True
        guess = self._window.inward(self._seen(self._rays @ (self._spin @ self.turn).T))
        return self._takes(flow(self._grey, grey, self._spots, guess, levels=1)) or self._takes(
            flow(self._grey, grey, self._spots, guess, levels=4)
        )

    def as_clicked(self, spot: Array) -> Array:
        """Where the clicked frame's camera would have shown a spot of the picture."""
        return np.asarray(self._seen(self._sent(spot[None]) @ self.turn)[0])

    def _stands(self, grey: Grey) -> bool:
        """Whether enough corners look as they did, where they were: one step of flow moves them hardly."""
        off = self._shown(grey) - self._shades
        normal = np.swapaxes(self._slopes, 1, 2) @ self._slopes + 1e-6 * np.eye(2)
        moves = np.linalg.solve(normal, np.swapaxes(self._slopes, 1, 2) @ off[..., None])[..., 0]
        alike = np.std(off, axis=1) < _UNLIKE * np.std(self._shades, axis=1)
        return bool(np.mean(alike & (np.hypot(*moves.T) < _STILL)) >= _STANDING)

    def _shown(self, grey: Grey) -> Array:
        """Grey values about each corner, (n, places)."""
        return values(grey, self._patches.reshape(-1, 2)).reshape(len(self._spots), -1)

    def _takes(self, found: Array) -> bool:
        spots = self._window.outward(found)
        turn = self._fitted(spots)
        off = np.hypot(*(self._seen(self._rays @ turn.T) - spots).T)
        if np.mean(off < _AGREE * self._window.shrunk) < _SHARE:
            return False
        self._turn_to(turn)
        return True

    def _turn_to(self, turn: Array) -> None:
        """Take a turning, and that the next will go on alike."""
        self._spin, self.turn = np.asarray(turn @ self.turn.T), turn

    def _fitted(self, spots: Array) -> Array:
        """The rotation most corners agree on: least squares (Kabsch), those that disagree given no weight."""
        rays = self._sent(spots)
        weights, turn = np.ones(len(rays)), self.turn
        for _ in range(_ROUNDS):
            left, _, right = np.linalg.svd((rays * weights[:, None]).T @ self._rays)
            turn = left @ np.diag([1.0, 1.0, np.linalg.det(left @ right)]) @ right
            off = np.hypot(*(self._seen(self._rays @ turn.T) - spots).T)
            reach = max(3 * float(np.median(off)), _AGREE)
            weights = np.clip(1 - (off / reach) ** 2, 0, None) ** 2
        return np.asarray(turn)

    def _sent(self, spots: Array) -> Array:
        """Rays (n, 3) of length 1 through spots of the picture."""
        flat = (spots - self._middle) / self._focal
        rays = np.column_stack([flat, np.ones(len(flat))])
        return np.asarray(rays / np.linalg.norm(rays, axis=1, keepdims=True))

    def _seen(self, rays: Array) -> Array:
        return np.asarray(rays[:, :2] / rays[:, 2:] * self._focal + self._middle)
