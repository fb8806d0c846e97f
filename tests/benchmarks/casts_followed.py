"""Casts of drawn films, clicked by somebody who is simulated, and followed: for the benchmarks and tests."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from reviewer import measuring
from reviewer.measuring.following import Track
from reviewer.terms.readings import Clicks
from reviewer.video import Recording, open_recording
from tests.benchmarks.casts_drawn import Shot

CLICK_SD = 1.5
WITHIN = (-0.15, -0.1, -0.05, 0.0, 0.05, 0.1, 0.15)
"""Seconds from the top at which somebody clicks."""
FAR = (-0.5, -0.3, 0.0, 0.3, 0.5)


@dataclass(frozen=True)
class Run:
    """One click, and what was made of it."""

    shot: Shot
    clicked: int
    track: Track
    naive: float
    """Error of the picture's own angle at the top, from true joints, degrees."""

    @property
    def errors(self) -> dict[int, float]:
        """Degrees by which each good frame's angle is off."""
        good = ((one.frame, one.angle) for one in self.track.frames)
        return {frame: angle.degrees - self.shot.angle(frame) for frame, angle in good if angle}

    @property
    def beyond(self) -> float | None:
        """Degrees by which the angle on the top's frame is off beyond the click; None where not offered."""
        found = self.errors
        return found[self.shot.top] - found[self.clicked] if self.shot.top in found else None

    @property
    def frames_off(self) -> int | None:
        """Frames between the top proposed and the true one; None where none is proposed."""
        top = self.track.top
        return None if top is None else abs(self.track.frames[top.frame].frame - self.shot.top)

    @property
    def covered(self) -> bool | None:
        """Whether the top's value lies within its stated 95 %; None where none is proposed."""
        top = self.track.top
        if top is None:
            return None
        return abs(top.degrees - self.shot.angle(self.shot.top)) <= 1.96 * top.uncertainty


def runs_of(
    shot: Shot, seconds: Sequence[float], span_ms: int, seeds: int, *, hidden: bool = False
) -> Iterator[Run]:
    """Clicked so many seconds from the top, each time by several hands, followed to both sides.

    Nobody clicks where a joint is hidden; ``hidden``: only there, where it is guessed.
    """
    with open_recording(shot.path) as recording:
        for seed in range(max(1, seeds)):
            for away in seconds:
                frame = shot.top + round(away * shot.rate)
                if 0 <= frame < len(recording.facts.pts) and _hidden(shot, frame) == hidden:
                    chance = np.random.default_rng([seed, frame])
                    yield _run(shot, recording, frame, span_ms, chance)


def _hidden(shot: Shot, frame: int) -> bool:
    joints = (shot.truth["joints"][name]["near_px"][frame] for name in ("shoulder", "ankle"))
    return any(shot.hidden(frame, spot) for spot in joints)


def _run(shot: Shot, recording: Recording, frame: int, span_ms: int, chance: np.random.Generator) -> Run:
    clicks = Clicks.from_json(clicks_on(shot, frame, chance))
    track = measuring.follow([clicks], recording.facts, recording.picture, span_ms)
    exact = Clicks.from_json(clicks_on(shot, shot.top, None))
    naive = measuring.measure(exact).naive.thousandths / 1000 - shot.angle(shot.top)
    return Run(shot, frame, track, naive)


def clicks_on(
    shot: Shot, frame: int, chance: np.random.Generator | None, side: str = "near"
) -> dict[str, Any]:
    """A clicks document: joints of one side and all apparatus points in the picture, as somebody clicks."""

    def clicked(spot: Any) -> list[str]:
        off = np.zeros(2) if chance is None else chance.normal(0, CLICK_SD, 2)
        return [f"{size:.3f}" for size in shot.seen(frame, spot) + off]

    wide, tall = shot.truth["displayed"]
    points = {name: clicked(one["px"]) for name, one in shot.truth["apparatus"]["points"].items()}
    joints = {name: shot.truth["joints"][name][f"{side}_px"][frame] for name in ("shoulder", "ankle")}
    return {
        "picture": [wide, tall],
        "frame": frame,
        "line": "shoulder-ankle",
        "cast_to": "left",
        "side": side,
        "body": {name: [clicked(spot)] for name, spot in joints.items()},
        "points": {n: p for n, p in points.items() if 0 <= float(p[0]) < wide and 0 <= float(p[1]) < tall},
        "click_sd_px": f"{CLICK_SD}",
        "athlete_height_mm": 1400,
        "apparatus": {"spread_mm": 1600, "spread": "inner-diagonal"},
    }
