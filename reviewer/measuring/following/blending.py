"""One track of what was seen from several clicked frames: between two of them, nearer clicks say more."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import hypot

from reviewer.measuring.following.angles import angles
from reviewer.measuring.following.blurring import smear_sd
from reviewer.measuring.following.lengths import flexion
from reviewer.measuring.following.sight import Angle, Sight
from reviewer.measuring.following.stretching import Seen
from reviewer.measuring.following.track import DISAGREE, Array, Frame, Spots

_TOO_FAR = 3.0
"""Standard uncertainties by which angles followed from two clicked frames may differ."""


@dataclass(frozen=True, slots=True)
class _Placed:
    """The joints of a good frame: places, steadied as in `Spots`, their standard uncertainty but for smear,
    and the clicked frame by whose sight they are measured."""

    places: Mapping[str, Array]
    steadied: Mapping[str, Array]
    sds: Mapping[str, float]
    clicked: int


def blended(
    seen: Mapping[int, Seen],
    sights: Mapping[int, Sight],
    pts: Callable[[int], int],
    seconds: Callable[[int], float],
) -> tuple[Frame, ...]:
    """The frames seen from clicked frames (the keys), in order."""
    frames = sorted(set().union(*(set(one) for one in seen.values())))
    placed = {frame: _placed(frame, seen, sights) for frame in frames}
    good = {frame: one for frame, one in placed.items() if isinstance(one, _Placed)}
    measured = _measured(good, sights, seconds)
    return tuple(
        Frame(frame, pts(frame), one.places, measured[frame], _bent(sights[one.clicked], one.steadied))
        if isinstance(one, _Placed)
        else Frame(frame, pts(frame), why=one)
        for frame, one in placed.items()
    )


def _placed(frame: int, seen: Mapping[int, Seen], sights: Mapping[int, Sight]) -> _Placed | str:
    """The joints on a frame, or why it is lost."""
    told = {clicked: one[frame] for clicked, one in seen.items() if frame in one}
    nearest = sorted(told, key=lambda clicked: (abs(clicked - frame), clicked))
    good = [clicked for clicked in nearest if isinstance(told[clicked], Spots)]
    if not good:
        return str(told[nearest[0]])
    below, above = _neighbours(frame, good)
    several = [
        _alone(clicked, one, sights[clicked])
        for clicked in dict.fromkeys((below, above))
        if isinstance(one := told.get(clicked), Spots)
    ]
    return several[0] if len(several) == 1 else _between(frame, several[0], several[1], sights)


def _neighbours(frame: int, good: Sequence[int]) -> tuple[int, int]:
    """The nearest clicked frames before and after, or the nearest of all twice."""
    below = max((one for one in good if one <= frame), default=good[0])
    above = min((one for one in good if one >= frame), default=good[0])
    return below, above


def _alone(clicked: int, spots: Spots, sight: Sight) -> _Placed:
    sds = {name: hypot(sight.joint_sd(name), astray) for name, astray in spots.astray.items()}
    return _Placed(spots.places, spots.steadied, sds, clicked)


def _between(frame: int, first: _Placed, second: _Placed, sights: Mapping[int, Sight]) -> _Placed | str:
    ours, theirs = (angles(sights[one.clicked], [(one.steadied, one.sds)])[0] for one in (first, second))
    apart = abs((ours.degrees - theirs.degrees + 180) % 360 - 180)
    if apart > _TOO_FAR * hypot(ours.of_clicks, theirs.of_clicks):
        return DISAGREE
    share = (frame - first.clicked) / (second.clicked - first.clicked)
    joints = [name for name in first.places if name in second.places]
    places, steadied = (
        {name: mine[name] * (1 - share) + yours[name] * share for name in joints}
        for mine, yours in ((first.places, second.places), (first.steadied, second.steadied))
    )
    sds = {name: hypot((1 - share) * first.sds[name], share * second.sds[name]) for name in joints}
    return _Placed(places, steadied, sds, first.clicked if share < 0.5 else second.clicked)


def _measured(
    good: Mapping[int, _Placed], sights: Mapping[int, Sight], seconds: Callable[[int], float]
) -> dict[int, Angle]:
    """The angle of each good frame, all frames of one sight together."""
    found: dict[int, Angle] = {}
    for clicked, sight in sights.items():
        own = [frame for frame, one in good.items() if one.clicked == clicked]
        located = [(good[frame].steadied, dict(_doubts(frame, good, sight, seconds))) for frame in own]
        found |= zip(own, angles(sight, located), strict=True)
    return found


def _doubts(
    frame: int, good: Mapping[int, _Placed], sight: Sight, seconds: Callable[[int], float]
) -> Iterator[tuple[str, float]]:
    """Of each end of the line: where it was clicked and followed to, and how it smeared."""
    for name in sight.ends:
        moments = [(seconds(n), good[n].places[name]) for n in (frame - 1, frame + 1) if n in good]
        here = (seconds(frame), good[frame].places[name])
        yield name, hypot(good[frame].sds[name], smear_sd(here, moments))


def _bent(sight: Sight, spots: Mapping[str, Array]) -> float | None:
    return flexion(sight.places(spots)) if "hip" in spots else None
