"""High dynamic range shown on a standard screen, in whole numbers.

Each of red, green and blue goes from its signal to light (ITU-R BT.2100: HLG as a screen of 1000 cd/m² shows
it, gamma 1.2 taken colour by colour; PQ as coded), is bent by the curve of ITU-R BT.2390 (EETF, from
1000 cd/m² to 203, the level ITU-R BT.2408 gives reference white) and is written as sRGB, 203 cd/m² being 255.
So what is dark and middle keeps its light, reference white comes out at 230, and what is brighter than
1000 cd/m² is white. Between, wide primaries are brought to those of BT.709 (ITU-R BT.2087), colours outside
cut off. All formulas from memory. The tables come from decimal arithmetic, which is the same on any machine.
"""

from decimal import Decimal, localcontext
from functools import cache

import numpy as np
from numpy.typing import NDArray

from reviewer.video.deinterlacing import Lines

SIGNALS = 1024
"""Steps of the signal taken in: 10 bits, full range."""

_LIGHT = 1 << 14  # what stands for 203 cd/m²
_WHITE, _PEAK = Decimal(203), Decimal(1000)
_M1, _M2 = Decimal(2610) / 16384, Decimal(2523) / 32
_C1, _C2, _C3 = Decimal(3424) / 4096, Decimal(2413) / 128, Decimal(2392) / 128
_A, _B, _C = Decimal("0.17883277"), Decimal("0.28466892"), Decimal("0.55991073")
# Red, green, blue of BT.2020 to those of BT.709, in 1/4096; rows add up to 4096, so that grey stays grey.
_NARROWED = ((6801, -2407, -298), (-510, 4640, -34), (-74, -412, 4582))
_AT_ONCE = 1 << 16  # points worked on together, so that they stay in the processor's cache


def treatment(transfer: str) -> str:
    """What was done, in words."""
    return f"{transfer.upper()} shown as standard range"


def standard(rgb: tuple[Lines, Lines, Lines], transfer: str, wide: bool) -> NDArray[np.uint8]:
    """Lines × points × (blue, green, red, 255) of red, green and blue signals of 10 bits.

    ``transfer`` is ``hlg`` or ``pq``; ``wide`` says that the primaries are those of BT.2020.
    """
    height, width = rgb[0].shape
    light, code = _light(transfer), _code()
    shown = np.full((height, width, 4), 255, np.uint8)
    step = max(1, _AT_ONCE // width)
    for top in range(0, height, step):
        rows = slice(top, top + step)
        parts = [light.take(part[rows], mode="clip") for part in rgb]
        for channel, part in zip((2, 1, 0), _narrowed(parts) if wide else parts, strict=True):
            shown[rows, :, channel] = code.take(part, mode="clip")
    return shown


def _narrowed(parts: list[NDArray[np.int32]]) -> list[NDArray[np.int32]]:
    return [(r * parts[0] + g * parts[1] + b * parts[2] + 2048) >> 12 for r, g, b in _NARROWED]


@cache
def _light(transfer: str) -> NDArray[np.int32]:
    """Light, 0 to ``_LIGHT``, of each signal."""
    with localcontext(prec=15):
        signals = [Decimal(step) / (SIGNALS - 1) for step in range(SIGNALS)]
        bent = [_bent(_pq_of(_hlg(signal)) if transfer == "hlg" else signal) for signal in signals]
        return np.array([round(_LIGHT * light / _WHITE) for light in bent], np.int32)


@cache
def _code() -> NDArray[np.uint8]:
    """The sRGB code, 0 to 255, of each light up to ``_LIGHT`` (IEC 61966-2-1): where each code begins."""
    with localcontext(prec=15):
        begins = [_LIGHT * _srgb((code - Decimal("0.5")) / 255) for code in range(1, 256)]
        steps = [int(begin.to_integral_value("ROUND_CEILING")) for begin in begins]
    return np.searchsorted(steps, np.arange(_LIGHT + 1), side="right").astype(np.uint8)


def _srgb(signal: Decimal) -> Decimal:
    if signal <= Decimal("0.04045"):
        return signal / Decimal("12.92")
    return ((signal + Decimal("0.055")) / Decimal("1.055")) ** Decimal("2.4")


def _hlg(signal: Decimal) -> Decimal:
    """cd/m² of an HLG signal."""
    scene = signal**2 / 3 if signal <= Decimal("0.5") else (((signal - _C) / _A).exp() + _B) / 12
    return _PEAK * scene ** Decimal("1.2")


def _pq(signal: Decimal) -> Decimal:
    """cd/m² of a PQ signal."""
    root = signal ** (1 / _M2)
    return 10000 * (max(root - _C1, Decimal(0)) / (_C2 - _C3 * root)) ** (1 / _M1)


def _pq_of(light: Decimal) -> Decimal:
    """The PQ signal of cd/m²."""
    power = (light / 10000) ** _M1
    return ((_C1 + _C2 * power) / (1 + _C3 * power)) ** _M2


def _bent(signal: Decimal) -> Decimal:
    """cd/m², up to 203, of a PQ signal: straight up to the knee, then a Hermite curve to the peak."""
    top, most, knee = _bend()
    here = min(signal / top, Decimal(1))
    if here < knee:
        return _pq(signal)
    t = (here - knee) / (1 - knee)
    begun, rising, ended = 2 * t**3 - 3 * t**2 + 1, t**3 - 2 * t**2 + t, 3 * t**2 - 2 * t**3
    return _pq(top * (begun * knee + rising * (1 - knee) + ended * most))


@cache
def _bend() -> tuple[Decimal, Decimal, Decimal]:
    """The peak's PQ signal and, in parts of it, the level that white keeps and the knee."""
    top = _pq_of(_PEAK)
    most = _pq_of(_WHITE) / top
    return top, most, (3 * most - 1) / 2
