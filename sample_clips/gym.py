"""The hall: wall, banner, floor and mat by a ray through every pixel; rails and uprights as solids."""

from itertools import pairwise

import numpy as np
from brushes import cv2
from camera import Camera
from figure import Array
from gym_measures import LOW, MAT_TOP, RAIL_DIAMETER, RAIL_LENGTH, RAILS
from numpy.typing import NDArray
from solids import Pixels, Solid, paint

Mask = NDArray[np.bool_]

BANNER = "QUARRY LANE CLUB LEAGUE"
WALL_Y = 3800.0
MAT = (-2300.0, 4100.0, -1750.0, 1750.0)  # x from, to, y from, to
BANNER_AT = (-3250.0, -650.0, 2640.0, 2957.0)  # on the wall: x from, to, z from, to
WOOD, STEEL, SHOE = (206.0, 160.0, 104.0), (150.0, 156.0, 164.0), (60.0, 64.0, 72.0)
FINER = 2  # rays per pixel in each direction


def hall(camera: Camera, seed: int) -> Pixels:
    """The empty hall without apparatus, (height, width, 3) RGB."""
    w, h = camera.size
    step = (np.arange(FINER) + 0.5) / FINER - 0.5
    u = (np.arange(w)[:, None] + step).ravel()
    v = (np.arange(h)[:, None] + step).ravel()
    rays = (
        np.stack([*np.meshgrid(u, v), np.ones((len(v), len(u)))], axis=2)
        @ np.linalg.inv(camera.K).T
        @ camera.R
    )
    eye = -camera.R.T @ camera.t
    fine = _colours(eye, rays, np.random.default_rng(seed))
    picture = cv2.resize(fine.astype(np.float32), (w, h), interpolation=cv2.INTER_AREA)
    return np.asarray(np.clip(picture * _corners_darker(w, h), 0, 255), dtype=np.uint8)


def _corners_darker(w: int, h: int) -> Array:
    x, y = np.meshgrid(np.linspace(-1, 1, w), np.linspace(-1, 1, h))
    return np.asarray(1.0 - 0.10 * (x**2 + y**2))[:, :, None]


def _colours(eye: Array, rays: Array, rng: np.random.Generator) -> Array:
    grain = cv2.GaussianBlur(rng.normal(0, 1, (1024, 1024)), (0, 0), 1.1).astype(np.float64) * 2.4
    at = {name: _meet(eye, rays, axis, value) for name, axis, value in (
        ("wall", 1, WALL_Y), ("floor", 2, 0.0), ("front", 1, MAT[2]), ("top", 2, MAT_TOP))}  # fmt: skip
    colour = np.where(
        (at["floor"][..., 1] < WALL_Y)[..., None], _floor(at["floor"], grain), _wall(at["wall"], grain)
    )
    front, top = at["front"], at["top"]
    on_front = _within(front[..., 0], MAT[:2]) & _within(front[..., 2], (0.0, MAT_TOP))
    on_top = _within(top[..., 0], MAT[:2]) & _within(top[..., 1], MAT[2:])
    colour = np.where(on_front[..., None], _front(front, grain), colour)
    return np.where(on_top[..., None], _mat(top, grain), colour)


def _meet(eye: Array, rays: Array, axis: int, value: float) -> Array:
    with np.errstate(divide="ignore", invalid="ignore"):
        far = (value - eye[axis]) / rays[..., axis]
    far = np.where(np.isfinite(far) & (far > 0), far, 1e6)
    return np.asarray(eye + far[..., None] * rays)


def _within(values: Array, span: tuple[float, ...]) -> Mask:
    return (values >= span[0]) & (values <= span[1])


def _look_up(texture: Array, u: Array, v: Array) -> Array:
    h, w = texture.shape[:2]
    return np.asarray(texture[np.mod(v.astype(np.int64), h), np.mod(u.astype(np.int64), w)])


def _seam(values: Array, every: float, wide: float) -> Mask:
    return np.asarray(np.abs(np.mod(values + every / 2, every) - every / 2) < wide / 2)


def _shade(colour: tuple[float, float, float], light: Array) -> Array:
    return np.asarray(np.array(colour) + light[..., None])


def _wall(p: Array, grain: Array) -> Array:
    x, z = p[..., 0], p[..., 2]
    course = np.floor(z / 220.0)
    joint = _seam(z, 220.0, 14.0) | _seam(x + 220.0 * np.mod(course, 2), 440.0, 14.0)
    light = 5.0 * _look_up(grain, x / 14, z / 14) - 7.0 * joint - 0.004 * (z - 1500.0)
    wall = _shade((205.0, 207.0, 203.0), light)
    pad = _shade((128.0, 150.0, 160.0), 4.0 * _look_up(grain, x / 9, z / 9) - 22.0 * _seam(x, 1200.0, 26.0))
    edge = _shade((238.0, 236.0, 228.0), np.zeros_like(x))
    colour = np.where((z < 1500.0)[..., None], pad, wall)
    colour = np.where(_within(z, (1500.0, 1545.0))[..., None], edge, colour)
    return _with_banner(colour, x, z)


def _with_banner(colour: Array, x: Array, z: Array) -> Array:
    texture = _banner()
    h, w = texture.shape[:2]
    x0, x1, z0, z1 = BANNER_AT
    inside = _within(x, (x0, x1)) & _within(z, (z0, z1))
    u, v = (x - x0) / (x1 - x0) * (w - 1), (z1 - z) / (z1 - z0) * (h - 1)
    return np.where(inside[..., None], _look_up(texture, np.clip(u, 0, w - 1), np.clip(v, 0, h - 1)), colour)


def _banner() -> Array:
    cloth = np.full((200, 1640, 3), (34, 92, 104), np.uint8)
    cv2.rectangle(cloth, (10, 10), (1629, 189), (232, 214, 150), 5)
    (w, h), _ = cv2.getTextSize(BANNER, cv2.FONT_HERSHEY_DUPLEX, 3.3, 9)
    at = ((1640 - w) // 2, (200 + h) // 2)
    cv2.putText(cloth, BANNER, at, cv2.FONT_HERSHEY_DUPLEX, 3.3, (244, 238, 220), 9, cv2.LINE_AA)
    return cv2.GaussianBlur(cloth, (0, 0), 1.5).astype(np.float64)


def _floor(p: Array, grain: Array) -> Array:
    x, y = p[..., 0], p[..., 1]
    boards = 6.0 * np.sin(np.floor(y / 130.0) * 12.9898) - 14.0 * _seam(y, 130.0, 8.0)
    return _shade((190.0, 160.0, 124.0), boards + 5.0 * _look_up(grain, x / 40, y / 6))


def _mat(p: Array, grain: Array) -> Array:
    x, y = p[..., 0], p[..., 1]
    light = 5.0 * _look_up(grain, x / 6, y / 6) + 3.0 * _look_up(grain, x / 60, y / 60)
    cloth = _shade((62.0, 116.0, 168.0), light - 26.0 * (_seam(x - MAT[0], 1600.0, 22.0) & (x > MAT[0] + 50)))
    band = (x - MAT[0] < 130) | (MAT[1] - x < 130) | (y - MAT[2] < 110) | (MAT[3] - y < 110)
    return np.where(band[..., None], _shade((226.0, 226.0, 214.0), 0.6 * light), cloth)


def _front(p: Array, grain: Array) -> Array:
    x, z = p[..., 0], p[..., 2]
    return _shade(
        (44.0, 84.0, 126.0), 5.0 * _look_up(grain, x / 6, z / 6) - 18.0 * _seam(x - MAT[0], 1600.0, 22.0)
    )


def ends_of_low_rail() -> Array:
    """Both ends (2, 3) of its axis, mm."""
    return np.array([[LOW[0], -RAIL_LENGTH / 2, LOW[1]], [LOW[0], RAIL_LENGTH / 2, LOW[1]]])


def apparatus(sag: Array | None = None) -> list[Solid]:
    """Rails in short pieces, so that hands and legs sort between them, and uprights on the mat.

    `sag` (3,), mm, is how far the middle of the low rail is moved; to its ends less and less.
    """
    parts = []
    half = RAIL_LENGTH / 2
    for x, z in RAILS.values():
        moved = np.zeros(3) if sag is None or (x, z) != LOW else sag
        edges = np.unique([*np.linspace(-half, half, 7), *np.linspace(-270.0, 270.0, 10)])
        for a, b in pairwise(edges):
            ends = np.array([[x, y, z] + moved * _bend(y / half) for y in (a, b)])
            parts.append(Solid(ends, [RAIL_DIAMETER / 2] * 2, WOOD, gloss=0.8, kind="rod"))
        for y in (-half, half):
            parts += _upright(x, y, z)
    return parts


def _bend(share: float) -> float:
    """How far a rod held at its ends (-1 and 1) gives way at a place, where it is loaded in its middle.

    As part of what it does there (from memory).
    """
    return 1 - 1.5 * abs(share) ** 2 + 0.5 * abs(share) ** 3


def _upright(x: float, y: float, top: float) -> list[Solid]:
    cuts = np.linspace(MAT_TOP, top, 5)
    lengths = [np.array([[x, y, a], [x, y, b]]) for a, b in pairwise(cuts)]
    post = [Solid(ends, [23.0, 23.0], STEEL, kind="rod") for ends in lengths]
    shoe = Solid(np.array([[x - 70, y, MAT_TOP], [x + 70, y, MAT_TOP]]), [14.0, 14.0], SHOE, -5.0)
    return [shoe, *post, Solid(np.array([[x, y, top], [x, y, top + 1]]), [30.0, 30.0], STEEL, 2.0)]


def furnished(camera: Camera, empty: Pixels) -> Pixels:
    """The hall with the apparatus and nobody on it."""
    picture = empty.copy()
    paint(picture, apparatus(), camera)
    return picture
