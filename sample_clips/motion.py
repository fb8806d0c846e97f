"""From key poses to a smooth motion.

A key pose says by what it is held: `hang` (hands on a rail, arms given), `contact` (hands on a rail, the rail
across the front of the thighs), `perch` (hands on a rail, feet on something), `stand` (feet on something) or
`free`. Between keys every quantity runs along a monotone cubic; the hips then follow from whatever is held,
so hands stay on the rail and feet on the mat. All angles are degrees, all lengths mm.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from itertools import pairwise

import numpy as np
from figure import (
    ANKLE_HEIGHT,
    LOWER_ARM,
    SHANK,
    THIGH,
    TRUNK,
    UPPER_ARM,
    Array,
    Pose,
    arm_reach,
    direction,
    two_links,
)

STEP = 1 / 240  # s, of the grid on which motion is worked out
SOFTEN = 0.022  # s, standard deviation of the Gaussian that takes the corners off
THIGH_TO_RAIL = 80.0  # axis of the thigh to axis of the rail, mm
HOLDS_RAIL = {"hang", "contact", "perch"}
CHANNELS = {
    "trunk": 90.0, "arm": 90.0, "elbow": 0.0, "shoulder": 0.0, "swing": 0.0, "hip_near": 0.0, "hip_far": 0.0,
    "knee_near": 0.0, "knee_far": 0.0, "plantar_near": 70.0, "plantar_far": 70.0, "sole": -15.0, "nod": 0.0,
    "apart": 0.0, "bow": 0.0, "x": 0.0, "z": 0.0, "near_x": 0.0, "near_z": 0.0, "far_x": 0.0, "far_z": 0.0,
}  # fmt: skip


@dataclass(frozen=True)
class Key:
    """One key pose. `at` in s; `rail` the (x, z) of the rail held; `given` every channel's value."""

    at: float
    by: str
    rail: tuple[float, float] | None
    given: Mapping[str, float]


def monotone(knots: Array, values: Array, times: Array) -> Array:
    """Piecewise cubic that keeps between its neighbours (Fritsch and Carlson 1980, from memory)."""
    h, slope = np.diff(knots), np.diff(values) / np.diff(knots)
    m = np.zeros_like(values)
    same = slope[:-1] * slope[1:] > 0
    w1, w2 = 2 * h[1:] + h[:-1], h[1:] + 2 * h[:-1]
    with np.errstate(divide="ignore", invalid="ignore"):
        m[1:-1] = np.where(same, (w1 + w2) / (w1 / slope[:-1] + w2 / slope[1:]), 0.0)
    i = np.clip(np.searchsorted(knots, times, side="right") - 1, 0, len(h) - 1)
    u = (times - knots[i]) / h[i]
    return (
        values[i] * (1 + 2 * u) * (1 - u) ** 2
        + m[i] * h[i] * u * (1 - u) ** 2
        + values[i + 1] * u**2 * (3 - 2 * u)
        + m[i + 1] * h[i] * u**2 * (u - 1)
    )


def choreograph(keys: Sequence[Key], times: Array) -> Pose:
    """The pose at each of `times` (s, ascending, within the keys)."""
    grid = np.arange(keys[0].at, keys[-1].at + STEP, STEP)
    solved = _solve_keys(keys)
    knots = np.array([k.at for k in keys])
    tracks = {c: monotone(knots, np.array([k.given[c] for k in solved]), grid) for c in CHANNELS}
    _fill_held(solved, tracks, grid)
    smooth = {c: _soften(v) for c, v in tracks.items()}
    hip = _hips(solved, smooth, grid)
    held = {f.name: smooth[f.name] for f in fields(Pose) if f.name in smooth} | _shoulders(smooth)
    at = {n: np.interp(times, grid, v) for n, v in held.items()}
    plane = np.stack([np.interp(times, grid, hip[:, i]) for i in (0, 1)], axis=1)
    return Pose(hip=plane, **at)


def _shoulders(tracks: Mapping[str, Array]) -> dict[str, Array]:
    return {
        "shoulder_near": tracks["shoulder"] + tracks["swing"],
        "shoulder_far": tracks["shoulder"] - tracks["swing"],
    }


def _solve_keys(keys: Sequence[Key]) -> list[Key]:
    return [Key(k.at, k.by, k.rail, {c: float(v[0]) for c, v in _complete(k).items()}) for k in keys]


def _complete(key: Key) -> dict[str, Array]:
    tracks = {c: np.array([v]) for c, v in key.given.items()}
    _derive(key.by, key.rail, tracks)
    return tracks


def _derive(by: str, rail: tuple[float, float] | None, c: dict[str, Array]) -> None:
    """Fill in, in place, the channels that follow from how the figure is held."""
    if by == "contact":
        _arm_from_contact(c)
    if by == "perch" and rail is not None:
        _arm_from_hips(c, rail)
    if by in {"stand", "free"}:
        c["arm"] = c["shoulder"] + arm_reach(c["elbow"])[1] + c["trunk"]
    if by in {"hang", "contact"}:
        c["shoulder"] = c["arm"] - arm_reach(c["elbow"])[1] - c["trunk"]
    if by in {"perch", "stand"}:
        _legs_from_feet(c)
    if by in HOLDS_RAIL and rail is not None:
        hip = _hip_from_rail(c, rail)
        c["x"], c["z"] = hip[:, 0], hip[:, 1]


def _arm_from_contact(c: dict[str, Array]) -> None:
    """Slide the rail along the thighs until the arms, as bent as they are, reach from it to the shoulders."""
    flex = np.radians((c["hip_near"] + c["hip_far"]) / 2)
    thigh = np.stack([np.sin(flex), -np.cos(flex)], axis=1)  # in the trunk's frame: front, up
    front = np.stack([np.cos(flex), np.sin(flex)], axis=1)
    start = THIGH_TO_RAIL * front - np.array([0.0, TRUNK])
    half, rest = np.sum(thigh * start, axis=1), np.sum(start**2, axis=1) - arm_reach(c["elbow"])[0] ** 2
    along = -half + np.sqrt(np.maximum(half**2 - rest, 0.0))
    at = start + along[:, None] * thigh  # shoulder to rail
    ahead = np.degrees(np.arctan2(at[:, 0], -at[:, 1]))  # 0 down along the trunk, 90 to the front
    c["arm"] = c["trunk"] + ahead


def _arm_from_hips(c: dict[str, Array], rail: tuple[float, float]) -> None:
    shoulder = np.stack([c["x"], c["z"]], axis=1) + TRUNK * direction(c["trunk"])
    line = np.array(rail) - shoulder
    reach = np.hypot(line[:, 0], line[:, 1])
    before, c["elbow"] = two_links(UPPER_ARM, LOWER_ARM, reach)
    pointing = np.degrees(np.arctan2(line[:, 1], line[:, 0])) - before
    c["shoulder"] = (pointing - c["trunk"] - 180.0 + 90.0) % 360.0 - 90.0
    c["arm"] = c["shoulder"] + c["trunk"] + before


def _legs_from_feet(c: dict[str, Array]) -> None:
    for side in ("near", "far"):
        dx, dz = c[f"{side}_x"] - c["x"], c[f"{side}_z"] - c["z"]
        before, knee = two_links(THIGH, SHANK, np.hypot(dx, dz))
        thigh = np.degrees(np.arctan2(dz, dx)) + before
        c[f"hip_{side}"] = (thigh - c["trunk"] - 180.0 + 120.0) % 360.0 - 120.0
        c[f"knee_{side}"] = knee
        lifted = np.clip((c[f"{side}_z"] - np.minimum(c["near_z"], c["far_z"])) / 90.0, 0.0, 1.0)
        plantar = (thigh - knee + 90.0 - (c["sole"] - 30.0 * lifted) + 180.0) % 360.0 - 180.0
        c[f"plantar_{side}"] = plantar


def _hip_from_rail(c: Mapping[str, Array], rail: tuple[float, float]) -> Array:
    reach, before = arm_reach(c["elbow"])
    arm = c["shoulder"] + c["trunk"] + before
    shoulder = np.array(rail) + reach[:, None] * direction(arm)
    return np.asarray(shoulder - TRUNK * direction(c["trunk"]))


def _between(a: Key, b: Key) -> str:
    if a.by == b.by and a.rail == b.rail:
        return a.by
    return "hang" if a.rail is not None and a.rail == b.rail else "free"


def _fill_held(keys: Sequence[Key], tracks: dict[str, Array], grid: Array) -> None:
    for a, b in pairwise(keys):
        span = (grid >= a.at) & (grid <= b.at)
        by = _between(a, b)
        if by == "free" or not span.any():
            continue
        part = {c: v[span] for c, v in tracks.items()}
        _derive(by, a.rail, part)
        for c, v in part.items():
            tracks[c][span] = v


def _soften(track: Array) -> Array:
    reach = int(4 * SOFTEN / STEP)
    bell = np.exp(-0.5 * (np.arange(-reach, reach + 1) * STEP / SOFTEN) ** 2)
    return np.convolve(np.pad(track, reach, mode="edge"), bell / bell.sum(), mode="valid")


def _hips(keys: Sequence[Key], c: Mapping[str, Array], grid: Array) -> Array:
    """Hips from the rail held, from the standing hips, or along a flight between the two."""
    hip = np.stack([c["x"], c["z"]], axis=1)
    free = np.zeros(len(grid), dtype=bool)
    for a, b in pairwise(keys):
        span = (grid >= a.at) & (grid <= b.at)
        by = _between(a, b)
        if by in HOLDS_RAIL and a.rail is not None:
            hip[span] = _hip_from_rail({n: v[span] for n, v in c.items()}, a.rail)
        free[(grid > a.at) & (grid < b.at)] |= by == "free"
    for first, last in _runs(free):
        hip[first:last] = _flight(hip, first, last)
    return hip


def _runs(mask: Array) -> list[tuple[int, int]]:
    edges = np.flatnonzero(np.diff(np.concatenate([[0], mask.astype(int), [0]])))
    return list(zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True))


def _flight(hip: Array, first: int, last: int) -> Array:
    """A parabola: it starts with the speed at release and ends where the next hold begins."""
    n = last - first + 1
    u = (np.arange(1, n) / n)[:, None]
    start, end = hip[first - 1], hip[last]
    lead = (hip[first - 1] - hip[first - 3]) / 2 * n if first > 2 else end - start
    return np.asarray(start + lead * u + (end - start - lead) * u**2)


def on_mat(x: float, top: float, lift: float = 0.0) -> tuple[float, float]:
    """Where the ankle is when the foot stands at `x` on something whose top is at height `top`."""
    return x, top + ANKLE_HEIGHT + lift
