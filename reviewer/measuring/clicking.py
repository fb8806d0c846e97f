"""What clicks come to: the middle of a joint's clicks, and how far one click scatters."""

from dataclasses import dataclass
from math import sqrt
from statistics import fmean, stdev

from reviewer.terms.exact import Pixels
from reviewer.terms.readings import Clicks

ASSUMED_CLICK_SD = 2.0
"""Pixels by which one click scatters when nobody said and nobody clicked twice (from memory)."""
LEAST_CLICK_SD = 0.1
"""Pixels; no click is believed to be better, whatever was stated."""
LEAST_SHOWN_SD = 0.5
"""Pixels; no repeated clicks show less: nobody finds a joint's middle better (from memory)."""
_BESIDE = 2
"""How many repeated clicks what was stated or assumed is worth, beside those that were made."""
_ASSUMED_FREEDOMS = 4
"""How many repeated clicks what was stated or assumed is worth, for points that were clicked once."""


@dataclass(frozen=True, slots=True)
class Joint:
    """The mean of a joint's clicks in px, and the standard uncertainty of that mean along one axis."""

    x: float
    y: float
    sd: float


@dataclass(frozen=True, slots=True)
class Scatter:
    """How far one click scatters.

    Attributes:
        sd: px along one axis.
        said: where that comes from, for a budget.
        freedoms: degrees of freedom where repeated clicks show it, or None where it is taken as known.
    """

    sd: float
    said: str
    freedoms: int | None = None


def scatter(clicks: Clicks) -> Scatter:
    """What repeated clicks show, all joints and directions pooled; else what was stated, or assumed."""
    squares, freedoms = 0.0, 0
    for _, spots in clicks.body:
        if len(spots) > 1:
            for side in ([pixels(spot.x) for spot in spots], [pixels(spot.y) for spot in spots]):
                squares += stdev(side) ** 2 * (len(spots) - 1)
                freedoms += len(spots) - 1
    if freedoms:
        return Scatter(_shown(squares, freedoms, clicks), "spread of repeated clicks", freedoms + _BESIDE)
    if clicks.click_sd is not None:
        return Scatter(_believed(pixels(clicks.click_sd)), f"{clicks.click_sd} px stated")
    return Scatter(ASSUMED_CLICK_SD, f"{ASSUMED_CLICK_SD:.0f} px assumed")


def _shown(squares: float, freedoms: int, clicks: Clicks) -> float:
    """What repeated clicks show, what was stated or assumed counting as a few more of them.

    Somebody who clicks again without looking again shows no spread at all.
    """
    known = squares + _BESIDE * _stated(clicks) ** 2
    return max(sqrt(known / (freedoms + _BESIDE)), LEAST_SHOWN_SD)


def _stated(clicks: Clicks) -> float:
    return ASSUMED_CLICK_SD if clicks.click_sd is None else _believed(pixels(clicks.click_sd))


def apparatus_sd(clicks: Clicks) -> float:
    """How far a click on the apparatus scatters, px: these are not repeated, so few clicks on the body that
    happen to agree do not outweigh what was stated or assumed.
    """
    shown = scatter(clicks)
    if shown.freedoms is None:
        return shown.sd
    squares = shown.freedoms * shown.sd**2 + _ASSUMED_FREEDOMS * _stated(clicks) ** 2
    return sqrt(squares / (shown.freedoms + _ASSUMED_FREEDOMS))


def joint(clicks: Clicks, name: str) -> Joint:
    """Where a joint was clicked; KeyError where it was not."""
    spots = dict(clicks.body)[name]
    xs, ys = [pixels(spot.x) for spot in spots], [pixels(spot.y) for spot in spots]
    return Joint(fmean(xs), fmean(ys), scatter(clicks).sd / sqrt(len(spots)))


def pixels(size: Pixels) -> float:
    """Pixels as a number."""
    return size.thousandths / 1000


def _believed(sd: float) -> float:
    return max(sd, LEAST_CLICK_SD)
