"""Where the uncertainty of an angle comes from: first-order propagation by the GUM (JCGM 100:2008, 5.1.2)."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from reviewer.measuring.geometry import Stroke, lean, middle, point
from reviewer.terms.readings import Clicks

ASSUMED_CLICK_SD = 2.0
"""Pixels, for clicks whose spread nobody stated and that were not repeated (from memory)."""
LEAST_CLICK_SD = 1 / math.sqrt(12)
"""Pixels: a repeated click is never better than a rectangle of one pixel (JCGM 100, 4.3.7)."""
ASSUMED_ROLL = 2.0
"""Degrees either way, for a hand-levelled camera (from memory)."""
ASSUMED_YAW = 15.0
"""Degrees either way from side on; beyond it footage is refused or corrected (suggested practice)."""

_T95 = (
    12.71, 4.30, 3.18, 2.78, 2.57, 2.45, 2.36, 2.31, 2.26, 2.23,
    2.20, 2.18, 2.16, 2.14, 2.13, 2.12, 2.11, 2.10, 2.09, 2.09,
)  # fmt: skip
"""Student's t for 95 % and 1 to 20 degrees of freedom: JCGM 100, table G.2."""


@dataclass(frozen=True, slots=True)
class Spread:
    """Standard deviation of one click along one axis in pixels, where it is from, and its degrees of freedom."""

    sd: float
    origin: str
    freedom: float = math.inf


@dataclass(frozen=True, slots=True)
class Share:
    """One line of the budget: a source and its standard uncertainty in degrees."""

    source: str
    degrees: float
    freedom: float = math.inf


def click_spread(clicks: Clicks) -> Spread:
    """From repeated clicks, pooled over joints and both axes; else as stated; else 2 px assumed."""
    repeated = [[point(spot) for spot in spots] for _, spots in clicks.body if len(spots) > 1]
    if repeated:
        return _pooled(repeated)
    if clicks.click_sd is not None:
        return Spread(clicks.click_sd.thousandths / 1000, f"{clicks.click_sd} px stated")
    return Spread(ASSUMED_CLICK_SD, f"{ASSUMED_CLICK_SD:.0f} px assumed, from memory")


def _pooled(joints: Sequence[Sequence[tuple[float, float]]]) -> Spread:
    freedom, squares = 0, 0.0
    for points in joints:
        for places in zip(*points, strict=True):
            mean = sum(places) / len(places)
            squares += sum((place - mean) ** 2 for place in places)
            freedom += len(places) - 1
    sd = max(math.sqrt(squares / freedom), LEAST_CLICK_SD)
    return Spread(sd, f"{sd:.3f} px from repeated clicks", freedom)


def body_share(clicks: Clicks, spread: Spread) -> Share:
    """Clicks on the two joints: u = sqrt(s1^2 + s2^2) / L, s of a joint being that of the mean of its clicks."""
    body = dict(clicks.body)
    first, second = (body[joint] for joint in clicks.line.split("-"))
    length = math.dist(middle(first), middle(second))
    across = spread.sd * math.sqrt(1 / len(first) + 1 / len(second))
    return Share(f"body clicks, {spread.origin}", math.degrees(across / length), spread.freedom)


def roll_shares(uprights: Sequence[Stroke], spread: Spread) -> tuple[Share, ...]:
    """What the roll correction adds: its clicks and how far uprights disagree, or an assumption without any."""
    if not uprights:
        assumed = f"no upright: roll within {ASSUMED_ROLL:.0f} degrees assumed, from memory"
        return (Share(assumed, ASSUMED_ROLL / math.sqrt(3)),)
    each = [math.sqrt(2) * spread.sd / upright.length for upright in uprights]
    clicked = math.degrees(math.hypot(*each) / len(each))
    shares = (Share(f"upright clicks, {spread.origin}", clicked, spread.freedom),)
    if len(uprights) == 1:
        return shares
    leans = [math.radians(lean(upright)) for upright in uprights]
    apart = max(math.acos(max(-1.0, min(1.0, math.cos(one - leans[0])))) for one in leans)
    return (*shares, Share("uprights lean differently", math.degrees(apart) / 2 / math.sqrt(3)))


def yaw_share(elevation: float) -> Share:
    """A camera not square on, its yaw unknown and left uncorrected.

    An orthographic picture yawed by psi shows tan t' = tan t cos psi, t from the vertical. Taking psi as rectangular
    within `ASSUMED_YAW`, the share is the root mean square of t - t': nothing is corrected, so the bias counts too
    (JCGM 100, F.2.4.5).
    """
    seen = math.radians(90 - elevation)
    steps = 200
    yaws = [math.radians(ASSUMED_YAW) * (step + 0.5) / steps for step in range(steps)]
    slips = [_unfolded(seen, yaw) for yaw in yaws]
    rms = math.sqrt(sum(slip * slip for slip in slips) / steps)
    return Share(f"camera yaw up to {ASSUMED_YAW:.0f} degrees assumed", math.degrees(rms))


def _unfolded(seen: float, yaw: float) -> float:
    """True less seen angle from the vertical, in radians; written so that it holds at 90 degrees too."""
    true = math.atan2(math.sin(seen), math.cos(seen) * math.cos(yaw))
    return math.remainder(true - seen, 2 * math.pi)


def combined(shares: Sequence[Share]) -> float:
    """Standard uncertainty of the whole, in degrees: independent sources add in squares."""
    return math.hypot(*(share.degrees for share in shares))


def coverage(shares: Sequence[Share]) -> float:
    """Factor for 95 %: 1.96, or Student's t where few repeated clicks carry weight.

    Degrees of freedom by Welch-Satterthwaite (JCGM 100, G.4.1), cut to a whole number. Shares with finite freedom
    rest on the same pooled clicks, so they are joined first.
    """
    pooled = [share for share in shares if share.freedom < math.inf]
    clicks = combined(pooled)
    if not clicks:
        return 1.96
    freedom = pooled[0].freedom * (combined(shares) / clicks) ** 4
    return _T95[int(freedom + 1e-9) - 1] if freedom < len(_T95) + 1 else 1.96 + 2.6 / freedom
