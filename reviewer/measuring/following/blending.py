"""One track of what was seen from several clicked frames: between two of them, nearer clicks say more."""

from collections.abc import Callable, Mapping, Sequence
from math import hypot

from reviewer.measuring.following.lengths import flexion
from reviewer.measuring.following.sight import Sight
from reviewer.measuring.following.stretching import Seen
from reviewer.measuring.following.track import DISAGREE, Array, Frame, Spots

_TOO_FAR = 3.0
"""Standard uncertainties by which angles followed from two clicked frames may differ."""


def blended(
    seen: Mapping[int, Seen],
    sights: Mapping[int, Sight],
    pts: Callable[[int], int],
) -> tuple[Frame, ...]:
    """The frames seen from clicked frames (the keys), in order."""
    frames = sorted(set().union(*(set(one) for one in seen.values())))
    return tuple(_frame(frame, pts(frame), seen, sights) for frame in frames)


def _frame(frame: int, pts: int, seen: Mapping[int, Seen], sights: Mapping[int, Sight]) -> Frame:
    told = {clicked: one[frame] for clicked, one in seen.items() if frame in one}
    nearest = sorted(told, key=lambda clicked: (abs(clicked - frame), clicked))
    good = [clicked for clicked in nearest if isinstance(told[clicked], Spots)]
    if not good:
        return Frame(frame, pts, why=str(told[nearest[0]]))
    below, above = _neighbours(frame, good)
    spots = [(clicked, one) for clicked in (below, above) if isinstance(one := told.get(clicked), Spots)]
    if len(spots) == 2 and below != above:
        return _between(frame, pts, spots, sights)
    return _single(frame, pts, spots[0][1], sights[spots[0][0]])


def _neighbours(frame: int, good: Sequence[int]) -> tuple[int, int]:
    """The nearest clicked frames before and after, or the nearest of all twice."""
    below = max((one for one in good if one <= frame), default=good[0])
    above = min((one for one in good if one >= frame), default=good[0])
    return below, above


def _single(frame: int, pts: int, spots: Spots, sight: Sight) -> Frame:
    sds = {name: hypot(sight.joint_sd(name), astray) for name, astray in spots.astray.items()}
    bent = _bent(sight, spots.steadied)
    return Frame(frame, pts, spots.places, sight.angle(spots.steadied, sds), bent)


def _bent(sight: Sight, spots: Mapping[str, Array]) -> float | None:
    return flexion(sight.places(spots)) if "hip" in spots else None


def _between(frame: int, pts: int, spots: Sequence[tuple[int, Spots]], sights: Mapping[int, Sight]) -> Frame:
    (first, one), (second, other) = spots
    ours, theirs = (_single(frame, pts, told, sights[clicked]) for clicked, told in spots)
    assert ours.angle is not None
    assert theirs.angle is not None
    apart = abs((ours.angle.degrees - theirs.angle.degrees + 180) % 360 - 180)
    if apart > _TOO_FAR * hypot(ours.angle.of_clicks, theirs.angle.of_clicks):
        return Frame(frame, pts, why=DISAGREE)
    share = (frame - first) / (second - first)
    joints = [name for name in one.places if name in other.places]
    places, steadied = (
        {name: mine[name] * (1 - share) + yours[name] * share for name in joints}
        for mine, yours in ((one.places, other.places), (one.steadied, other.steadied))
    )
    sds = {
        name: hypot(
            (1 - share) * hypot(sights[first].joint_sd(name), one.astray[name]),
            share * hypot(sights[second].joint_sd(name), other.astray[name]),
        )
        for name in joints
    }
    sight = sights[first if share < 0.5 else second]
    return Frame(frame, pts, places, sight.angle(steadied, sds), _bent(sight, steadied))
