"""Rounded solids: the hull of a few spheres, seen through the camera and shaded as if lit from above."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from brushes import cv2
from camera import Camera
from figure import Array
from numpy.typing import NDArray

Pixels = NDArray[np.uint8]
Colour = tuple[float, float, float]
LIGHT = np.array([-0.30, -0.46])  # towards the light in the picture, in radii
LAYERS = 6
SHIFT = 4  # fractional bits of polygon corners
_ROUND = np.stack(
    [np.cos(np.linspace(0, 2 * np.pi, 20, False)), np.sin(np.linspace(0, 2 * np.pi, 20, False))], axis=1
)


@dataclass(frozen=True)
class Solid:
    """Spheres with `centres` (n, 3) and `radii` (n) in mm, and what lies between them.

    kind: `hull` of them all; `chain`, hulls of each and the next, shaded as one; `rod`, with flat ends.
    `nearer` mm moves it forward when things are sorted, by its middle or by `sort_at`.
    """

    centres: Array
    radii: Sequence[float]
    colour: Colour
    nearer: float = 0.0
    gloss: float = 1.0
    kind: str = "hull"
    sort_at: Array | None = None


def paint(picture: Pixels, solids: Iterable[Solid], camera: Camera, corner: tuple[int, int] = (0, 0)) -> None:
    """Draw `solids`, far to near, into `picture`: the part of the camera's picture from `corner` on."""
    for solid in sorted(solids, key=lambda s: -_depth(s, camera)):
        _paint_one(picture, solid, camera, np.array(corner, dtype=float))


def _depth(solid: Solid, camera: Camera) -> float:
    where = solid.centres if solid.sort_at is None else solid.sort_at
    return float(np.mean(camera.depth(where))) - solid.nearer


def _paint_one(picture: Pixels, solid: Solid, camera: Camera, corner: Array) -> None:
    at = camera.project(solid.centres) - corner
    radii = np.asarray(solid.radii) * camera.K[0, 0] / camera.depth(solid.centres)
    base = np.array(solid.colour)
    light = _across(at, solid.kind)
    for layer in range(LAYERS):
        u = layer / (LAYERS - 1)
        colour = base * (0.66 + 0.34 * u**0.8) + solid.gloss * 26.0 * u**3
        _fill(picture, at + u * light * radii[:, None], radii * (1.0 - 0.62 * u), colour, solid.kind)


def _across(at: Array, kind: str) -> Array:
    """The light's direction, less what of it runs along a rod."""
    along = at[-1] - at[0]
    if kind != "rod" or not np.any(along):
        return LIGHT
    along = along / np.linalg.norm(along)
    return np.asarray(LIGHT - (LIGHT @ along) * along)


def _fill(picture: Pixels, at: Array, radii: Array, colour: Array, kind: str) -> None:
    groups = [slice(i, i + 2) for i in range(len(at) - 1)] if kind == "chain" else [slice(None)]
    for group in groups:
        rim = _square_ends(at, radii) if kind == "rod" else _round_rim(at[group], radii[group])
        _fill_rim(picture, rim, np.clip(colour, 0, 255).tolist())


def _round_rim(at: Array, radii: Array) -> Array:
    return np.asarray((at[:, None, :] + radii[:, None, None] * _ROUND[None]).reshape(-1, 2))


def _square_ends(at: Array, radii: Array) -> Array:
    along = at[-1] - at[0]
    side = np.array([-along[1], along[0]]) / max(float(np.linalg.norm(along)), 1e-9)
    over = 0.35 * along / max(float(np.linalg.norm(along)), 1e-9)  # pieces overlap a little: no gaps
    at = np.stack([at[0] - over, at[-1] + over])
    return np.concatenate([at + radii[:, None] * side, at - radii[:, None] * side])


def shadow(
    ground: Pixels, solids: Iterable[Solid], camera: Camera, corner: tuple[int, int], height: float
) -> None:
    """Darken `ground` where `solids`, lit from straight above, throw a shadow on the plane at `height` mm."""
    mask = np.zeros((*ground.shape[:2], 3), np.uint8)
    for solid in solids:
        flat = solid.centres * np.array([1.0, 1.0, 0.0]) + np.array([0.0, 0.0, height])
        at = camera.project(flat) - np.array(corner, dtype=float)
        radii = np.asarray(solid.radii) * camera.K[0, 0] / camera.depth(flat)
        squash = 0.12 + float(np.abs(camera.R[1, 1]))  # a circle on the ground is seen from the side
        rim = _round_rim(at * [1.0, 1.0 / squash], radii) * [1.0, squash]
        _fill_rim(mask, rim, (255, 255, 255))
    soft = cv2.GaussianBlur(mask[:, :, 0].astype(np.float32) / 255.0, (0, 0), 7.0)
    ground[:] = np.round(ground * (1.0 - 0.42 * soft[:, :, None])).astype(np.uint8)


def _fill_rim(picture: Pixels, rim: Array, colour: Sequence[float]) -> None:
    hull = cv2.convexHull(rim.astype(np.float32)).reshape(-1, 2)
    cv2.fillConvexPoly(picture, np.round(hull * (1 << SHIFT)).astype(np.int32), colour, cv2.LINE_AA, SHIFT)
