"""The camera at work: pictures of the moving girl with motion blur, a shadow on the mat and sensor noise."""

from dataclasses import dataclass

import bending
import girl
import gym
import loose
import numpy as np
from brushes import cv2
from camera import Camera
from figure import Array, joints
from gym_measures import MAT_TOP
from motion import choreograph
from script import Script
from solids import Pixels, paint, shadow

OPEN = 0.5  # share of the frame's time for which the shutter is open
SUBFRAMES = 9  # instants averaged in one picture; taken as needed from 1 up to this
NOISE = 2.3  # standard deviation, grey levels
MARGIN_MM = 170.0


@dataclass(frozen=True)
class Staging:
    """What is true of a hall that drawn films usually lack.

    sag: mm by which the rail gives way under her weight; loose: whether hair and cloth hang and swing.
    """

    sag: float = 0.0
    loose: bool = False


PLAIN = Staging()


@dataclass(frozen=True)
class Film:
    """Everything needed to draw any picture: `instants` holds the joints (frames * SUBFRAMES, 3).

    `sag` (frames * SUBFRAMES, 3), mm, is how far the middle of the rail she holds has given way.
    """

    camera: Camera
    seed: int
    empty: Pixels
    furnished: Pixels
    instants: dict[str, Array]
    frames: int
    sag: Array | None = None

    def joints(self) -> dict[str, Array]:
        """Joints (frames, 3) in the middle of each frame's exposure, which is what its time stamp says."""
        return {name: track[SUBFRAMES // 2 :: SUBFRAMES] for name, track in self.instants.items()}

    def picture(self, frame: int) -> Pixels:
        """The picture as displayed, (height, width, 3) RGB; the same on every call."""
        first = frame * SUBFRAMES
        shot = {n: t[first : first + SUBFRAMES] for n, t in self.instants.items()}
        sag = None if self.sag is None else self.sag[first : first + SUBFRAMES]
        clean = self._expose(shot, sag)
        return _noisy(clean, np.random.default_rng([self.seed, frame]))

    def _expose(self, shot: dict[str, Array], sag: Array | None) -> Pixels:
        places = np.stack(list(shot.values()))  # (joints, instants, 3)
        if sag is not None:
            places = np.concatenate([places, gym.ends_of_low_rail()[:, None].repeat(SUBFRAMES, axis=1)])
        below = np.concatenate([places[..., :2], np.full_like(places[..., 2:], MAT_TOP)], axis=2)
        pixels = self.camera.project(places)
        (x0, y0), (x1, y1) = self._around(np.concatenate([pixels, self.camera.project(below)]))
        ground = self.empty[y0:y1, x0:x1].copy()
        middle = girl.solids({n: t[SUBFRAMES // 2] for n, t in shot.items()})
        shadow(ground, middle, self.camera, (x0, y0), MAT_TOP)
        total = np.zeros(ground.shape, np.float64)
        chosen = _instants(pixels)
        for i in chosen:
            part, bars = ground.copy(), gym.apparatus(None if sag is None else sag[i])
            paint(part, girl.solids({n: t[i] for n, t in shot.items()}) + bars, self.camera, (x0, y0))
            total += part
        picture = self.furnished.copy()
        picture[y0:y1, x0:x1] = np.round(total / len(chosen)).astype(np.uint8)
        return picture

    def _around(self, pixels: Array) -> tuple[tuple[int, int], tuple[int, int]]:
        margin = MARGIN_MM * self.camera.K[0, 0] / self.camera.t[2]
        low = np.floor(pixels.min(axis=(0, 1)) - margin).astype(int)
        high = np.ceil(pixels.max(axis=(0, 1)) + margin).astype(int)
        w, h = self.camera.size
        return (max(low[0], 0), max(low[1], 0)), (min(high[0], w), min(high[1], h))


def _instants(pixels: Array) -> list[int]:
    """As many instants as keep the steps of the fastest joint under about 2 px."""
    path = np.linalg.norm(np.diff(pixels, axis=1), axis=2).sum(axis=1).max()
    for n in (1, 3, 5, 9):
        if path / n < 2.2 or n == SUBFRAMES:
            return (
                np.round(np.linspace(0, SUBFRAMES - 1, n)).astype(int).tolist() if n > 1 else [SUBFRAMES // 2]
            )
    raise AssertionError


def _noisy(picture: Pixels, rng: np.random.Generator) -> Pixels:
    h, w = picture.shape[:2]
    grain = cv2.GaussianBlur(rng.standard_normal((h, w), dtype=np.float32), (0, 0), 0.6) * (NOISE * 1.6)
    return np.clip(np.round(picture + grain[:, :, None]), 0, 255).astype(np.uint8)


def shoot(
    script: Script,
    camera: Camera,
    seconds_per_frame: float,
    seed: int,
    moments: Array | None = None,
    staging: Staging = PLAIN,
) -> Film:
    """Set up hall and motion; nothing of the moving pictures is drawn yet.

    `moments` (frames,), s from the script's beginning, are those of the frames where they come unevenly.
    """
    begun = script.keys[0].at
    even = np.arange(int((script.keys[-1].at - begun) / seconds_per_frame)) * seconds_per_frame
    middle = begun + np.asarray(even if moments is None else moments)
    within = (np.arange(SUBFRAMES) / (SUBFRAMES - 1) - 0.5) * OPEN * seconds_per_frame
    times = np.clip((middle[:, None] + within[None]).ravel(), begun, None)
    empty = gym.hall(camera, seed)
    instants, sag = _staged(script, times, staging)
    return Film(camera, seed, empty, gym.furnished(camera, empty), instants, len(middle), sag)


def _staged(script: Script, times: Array, staging: Staging) -> tuple[dict[str, Array], Array | None]:
    """Joints and what hangs from them at `times`, and how far the rail has given way."""
    instants = joints(choreograph(script.keys, times))
    sag: Array | None = None
    grid = np.arange(script.keys[0].at, script.keys[-1].at, bending.STEP)
    steps = joints(choreograph(script.keys, grid))
    if staging.sag:
        bend = bending.sagged(steps, staging.sag)
        sag, steps = _at(times, grid, bend), {name: track + bend for name, track in steps.items()}
        instants = {name: track + sag for name, track in instants.items()}
    if staging.loose:
        instants |= {name: _at(times, grid, track) for name, track in loose.hung(steps).items()}
    return instants, sag


def _at(times: Array, grid: Array, track: Array) -> Array:
    return np.stack([np.interp(times, grid, axis) for axis in track.T], axis=1)
