"""Where a head can have gone between two frames that are known: the likeliest way, and all that come near it.

Every way that is no faster than heads move is weighed at once (Viterbi's algorithm, from both ends), so that
where it may have been on a frame depends on all pictures before and after.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from reviewer.masking.seeing import Cells, Net, Thin, cv2

_STEPS = ((0.12, 0.0), (0.4, 0.15), (1.0, 0.4))
"""Share of the greatest step, and what a step so long costs against one of no length."""
_NEAR_BEST = 0.8
"""How much less likely than the likeliest way another may be, and its places are still covered."""
_NEVER = -60_000.0
"""Less likely than anything, and still a number of half precision."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where a head may be on one frame.

    Attributes:
        x, y: middle of the smallest circle around all places it may be at, in pixels.
        reach: that circle's radius.
        likeness: how much like the head the likeliest of them looks.
    """

    x: float
    y: float
    reach: float
    likeness: float


def places(
    looks: Sequence[Thin], net: Net, steps: Sequence[float], ends: tuple[tuple[float, float] | None, ...]
) -> list[Place]:
    """Where the head may be on each frame of a run.

    ``looks``: likeness on each; ``steps``: greatest way in pixels from each to the next; ``ends``: the spots
    it is known to be at on the first and on the last frame, None where that is not known.
    """
    kernels = [_kernels(step / net.cell) for step in steps]
    onward = [(looks[0] + _pinned(net, ends[0])).astype(np.float16)]
    for look, kernel in zip(looks[1:], kernels, strict=True):
        reached = _spread(onward[-1].astype(np.float32), kernel) + look
        onward.append(np.maximum(reached - reached.max(), _NEVER).astype(np.float16))
    return list(_backward(looks, onward, kernels, net, _pinned(net, ends[1])))[::-1]


def _backward(
    looks: Sequence[Thin],
    onward: Sequence[Thin],
    kernels: Sequence[list[Cells]],
    net: Net,
    end: Cells,
) -> Iterator[Place]:
    """The places from the last frame to the first: what leads there and what leads on from there."""
    left = end
    for number in range(len(looks) - 1, -1, -1):
        yield _place(onward[number].astype(np.float32) + left, looks[number], net)
        if number:
            left = _spread(left + looks[number], kernels[number - 1])
            left = np.maximum(left - left.max(), _NEVER)


def _place(ways: Cells, look: Thin, net: Net) -> Place:
    best = np.unravel_index(int(ways.argmax()), ways.shape)
    near = net.spots(*np.nonzero(ways >= ways[best] - _NEAR_BEST))
    (x, y), reach = cv2().minEnclosingCircle(near)
    return Place(float(x), float(y), float(reach), float(look[best]))


def _pinned(net: Net, spot: tuple[float, float] | None) -> Cells:
    """Nothing but the cell of a known spot is possible; all of them where none is known."""
    if spot is None:
        return np.zeros(net.shape, np.float32)
    only = np.full(net.shape, _NEVER, np.float32)
    only[net.cell_of(*spot)] = 0.0
    return only


def _kernels(step: float) -> list[Cells]:
    """The cells within each length of step, in cells."""
    reaches = (max(1, round(share * step)) for share, _ in _STEPS)
    shape = cv2().MORPH_RECT
    return [cv2().getStructuringElement(shape, (2 * reach + 1, 2 * reach + 1)) for reach in reaches]


def _spread(ways: Cells, kernels: list[Cells]) -> Cells:
    """The best way to each cell in one more step, or in none."""
    found = ways
    for kernel, (_, cost) in zip(kernels, _STEPS, strict=True):
        found = np.maximum(found, cv2().dilate(ways, kernel) - cost)
    return found
