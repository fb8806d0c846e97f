"""A track as a document."""

from fractions import Fraction
from typing import Any

from reviewer.measuring.following.track import CAMERA, Array, Frame, Top, Track

_STILL = 0.0005
"""Degrees of turning that would be written as none."""


def track_json(track: Track) -> dict[str, Any]:
    """``reviewer.track/1``."""
    return {
        "format": "reviewer.track/1",
        "frames": [_frame(one) for one in track.frames],
        "top": None if track.top is None else _top(track.top, track.frames[track.top.frame]),
        "why_no_top": track.why_no_top or None,
        "lost": [{"frames": [first, last], "why": why} for first, last, why in track.lost],
        "through": track.through,
        "calibration": {"check": track.check},
        "camera": _camera(track),
        "problems": [],
    }


def _camera(track: Track) -> dict[str, Any]:
    """How the calibration of the clicked frames was carried to the others."""
    lost = [[first, last] for first, last, why in track.lost if why == CAMERA]
    if track.turned is None:
        said = "too little of the hall in the picture to tell; taken to stand still"
    else:
        said = "still" if track.turned < _STILL else f"turned up to {_decimal(track.turned)} degrees"
    if lost:
        stretches = ", ".join(f"{first} to {last}" for first, last in lost)
        said += f"; lost on frames {stretches}"
    turned = None if track.turned is None else _decimal(track.turned)
    return {"said": said, "turned_deg": turned, "lost": lost}


def _frame(one: Frame) -> dict[str, Any]:
    angle = one.angle
    return {
        "frame": one.frame,
        "pts": one.pts,
        "state": "lost" if one.why else "good",
        "points": {name: _spot(spot) for name, spot in sorted(one.spots.items())},
        "angle_deg": None if angle is None else _decimal(angle.degrees),
        "u_deg": None if angle is None else _decimal(min(angle.uncertainty, 180.0)),
    }


def _top(top: Top, nearest: Frame) -> dict[str, Any]:
    half = Fraction(top.half)
    return {
        "frame": nearest.frame,
        "pts": nearest.pts,
        "time_s": _seconds(top.seconds),
        "interval_s": [_seconds(top.seconds - half), _seconds(top.seconds + half)],
        "value_deg": _decimal(top.degrees),
        "u_deg": _decimal(min(top.uncertainty, 180.0)),
    }


def _spot(spot: Array) -> list[str]:
    return [_decimal(float(side)) for side in spot]


def _decimal(size: float) -> str:
    """Decimal text with three places."""
    thousandths = round(size * 1000)
    whole, places = divmod(abs(thousandths), 1000)
    return f"{'-' if thousandths < 0 else ''}{whole}.{places:03d}"


def _seconds(moment: Fraction) -> str:
    """Seconds with six places."""
    parts = round(moment * 1_000_000)
    whole, places = divmod(abs(parts), 1_000_000)
    return f"{'-' if parts < 0 else ''}{whole}.{places:06d}"
