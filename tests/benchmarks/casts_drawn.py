"""A single cast filmed as asked: drawn by the scripts of the sample clips, with its truth."""

import json
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tests.benchmarks.clips import ROOT

sys.path.insert(0, str(ROOT / "sample_clips"))

from brushes import cv2
from camera import aim
from encoding import encode, turn_clockwise
from filming import Staging, shoot
from lens import bend, bent, sources
from rolling import STEP, RowByRow, moments_about
from routines import SUPPORT, back_to_support, cast, hip_circle
from script import Script
from truth import Timing, document

Array = NDArray[np.float64]
Pixels = NDArray[np.uint8]

SIZE, TICKS = (1280, 720), 30_000
PX_PER_MM = 0.165
"""At the athlete: a body line of about 175 px."""
SHIRT = 45
"""Half the width in px of somebody walking past."""
AIMED_AT = (300.0, 0.0, 1500.0)
UNEVEN = (1.0, 1.0, 1.25, 0.9, 2.0, 1.0, 0.75, 1.5)
"""Usual steps of time from frame to frame where they come unevenly: some late, some left out."""


@dataclass(frozen=True)
class Effects:
    """What is different from a film as films are usually drawn.

    Attributes:
        size: of the picture as displayed; what stands upright is stored lying and said to be turned.
        radial: the lens' distortion, k1.
        uneven: whether frames come unevenly.
        sag: mm by which the rail gives way under her weight.
        loose: whether hair and cloth hang and swing.
        scissored: degrees by which the near leg is before, and the far leg behind, at the top.
        straddled: degrees by which each leg is out of the plane at the top.
        readout: seconds from the first row to the last; 0 for all rows at once.
        crf: how coarse the encoder may become; None for little.
        between: the seconds of the script that are filmed; None for all.
    """

    size: tuple[int, int] = SIZE
    radial: float = 0.0
    uneven: bool = False
    sag: float = 0.0
    loose: bool = False
    scissored: float = 0.0
    straddled: float = 0.0
    readout: float = 0.0
    crf: int | None = None
    between: tuple[float, float] | None = None


NONE = Effects()


@dataclass(frozen=True)
class CastFilm:
    """One film.

    Attributes:
        name: of its file; its letters seed what is random.
        trunk, arm, elbow: of the figure at the top, degrees as `figure` counts them.
        rate: frames a second.
        distance: mm.
        view: yaw, pitch and roll of the camera, degrees.
        weather: words of ``crossing`` (somebody, before the top) and ``returning`` (just after it), ``dark``,
            ``restless``, or none.
        circle: whether a hip circle follows.
        effects: what else is different. A lens that distorts is held still: not in a restless hand.
    """

    name: str
    trunk: float
    arm: float
    elbow: float
    rate: int
    distance: float
    view: tuple[float, float, float]
    weather: str = ""
    circle: bool = False
    effects: Effects = NONE

    @property
    def seed(self) -> int:
        """Of what is random, and of when between two frames the top is."""
        return sum(map(ord, self.name))

    def shot(self, folder: Path) -> "Shot":
        """The film in a folder, drawn if it is not there yet."""
        made = Shot(folder / f"{self.name}.mp4", self)
        if not made.path.exists():
            self._draw(made.path)
        return made

    def turned(self, seconds: float) -> Array:
        """How a restless hand moves the picture: (3, 3), from where it would be to where it is."""
        if "restless" not in self.weather:
            return np.eye(3)
        yaw, roll = np.radians([12 * seconds + 0.3 * np.sin(9 * seconds), 5 * seconds])
        about = [[np.cos(yaw), 0, np.sin(yaw)], [0, 1, 0], [-np.sin(yaw), 0, np.cos(yaw)]]
        lean = [[np.cos(roll), -np.sin(roll), 0], [np.sin(roll), np.cos(roll), 0], [0, 0, 1]]
        inside = self._camera.K
        return np.asarray(inside @ np.array(lean) @ np.array(about) @ np.linalg.inv(inside))

    def passing(self, part: float) -> list[float]:
        """Where somebody walks past, in shares of the picture's width, after this part of the film."""
        ways = {"crossing": 0.15 + 0.75 * part, "returning": 1.05 - 0.75 * part}
        return [share for way, share in ways.items() if way in self.weather]

    @cached_property
    def _camera(self) -> Any:
        yaw, pitch, roll = self.view
        return aim(self.effects.size, PX_PER_MM * self.distance, AIMED_AT, self.distance, yaw, pitch, roll)

    def _script(self) -> Any:
        script = Script()
        script.key(0.0, "contact", **SUPPORT)
        script.key(0.25 + self.seed % 7 / 200, "contact")
        top = {"arm": self.arm, "trunk": self.trunk, "elbow": self.elbow, "nod": 12.0, "bow": 6.0}
        apart = self.effects.scissored
        legs = {"hip_near": 6.0 + apart, "hip_far": 6.0 - apart, "apart": self.effects.straddled}
        cast(script, top | legs)
        (hip_circle if self.circle else back_to_support)(script)
        return script

    def _draw(self, path: Path) -> None:
        script, pts = self._script(), self._pts()
        begun, _ = self._span()
        read = self._read(script, begun + np.array(pts) / TICKS)
        unfinished = path.with_name(f"unfinished-{path.name}")
        wide, tall = sorted(self.effects.size, reverse=True)
        upright = self.effects.size != (wide, tall)
        pictures = (np.rot90(one) if upright else one for one in self._pictures(read, pts))
        uneven = pts if self.effects.uneven else ()
        encode(unfinished, pictures, (wide, tall), Fraction(self.rate), TICKS, uneven, self.effects.crf)
        if upright:
            turn_clockwise(unfinished, tall)
        timing = Timing(Fraction(1, TICKS), TICKS // self.rate, tuple(pts), begun)
        film = read.still() if isinstance(read, RowByRow) else read
        said = document(self.name, film, script, timing, (wide, tall), 90 if upright else 0)
        self._as_seen(said, read)
        path.with_suffix(".truth.json").write_text(json.dumps(said), "utf-8")
        unfinished.rename(path)

    def _span(self) -> tuple[float, float]:
        """From when to when of the script is filmed, s."""
        return self.effects.between or (0.0, self._script().keys[-1].at)

    def _pts(self) -> list[int]:
        """The ticks of the frames."""
        begun, ended = self._span()
        usual, last = TICKS // self.rate, (ended - begun) * TICKS
        if not self.effects.uneven:
            return list(range(0, int(last / usual) * usual, usual))
        times = np.cumsum([0.0, *np.tile(UNEVEN, int(last / usual)) * usual])
        return [round(at) for at in times if at < last]

    def _read(self, script: Any, moments: Array) -> Any:
        """The film, or its rows; (frames,) s are its frames' moments."""
        readout, staging = self.effects.readout, Staging(self.effects.sag, self.effects.loose)
        if not readout:
            return shoot(script, self._camera, 1 / self.rate, self.seed, moments, staging)
        taken = moments_about(moments, readout)
        return RowByRow(shoot(script, self._camera, STEP, self.seed, taken, staging), readout)

    def _as_seen(self, said: Any, read: Any) -> None:
        """Put right, in place, where the truth says joints and apparatus are in the picture."""
        if isinstance(read, RowByRow):
            for name, joint in said["joints"].items():
                for side in set(joint) & {"near_px", "far_px"}:
                    joint[side] = read.spots(f"{name}-{side[:-3]}").round(2).tolist()
        places = [*said["joints"].values(), *said["apparatus"]["points"].values()]
        for place in places if self.effects.radial else ():
            for what in set(place) & {"near_px", "far_px", "mid_px", "px"}:
                place[what] = bent(place[what], self._camera, self.effects.radial).round(3).tolist()

    def _pictures(self, film: Any, pts: list[int]) -> Iterator[Pixels]:
        lens = sources(self._camera, self.effects.radial) if self.effects.radial else None
        for frame in range(len(pts)):
            chance = np.random.default_rng([self.seed, frame])
            picture = film.picture(frame).astype(np.float64)
            for share in self.passing(frame / len(pts)):
                _walk_past(picture, share)
            if "dark" in self.weather:
                picture = picture * 0.45 + chance.normal(0, 5, picture.shape)
            shown = np.clip(np.round(picture), 0, 255).astype(np.uint8)
            if lens:
                shown = bend(shown, lens)
            turned = self.turned(pts[frame] / TICKS)
            seen = cv2.warpPerspective(shown, turned, self.effects.size, borderMode=cv2.BORDER_REPLICATE)
            yield np.asarray(seen, dtype=np.uint8)


@dataclass(frozen=True)
class Shot:
    """A film's file, and what is true of it."""

    path: Path
    film: CastFilm

    @cached_property
    def truth(self) -> Any:
        """The ``reviewer.truth/1`` document."""
        return json.loads(self.path.with_suffix(".truth.json").read_text("utf-8"))

    @cached_property
    def rate(self) -> float:
        """Frames a second."""
        return float(Fraction(self.truth["frame_rate"]))

    @cached_property
    def top(self) -> int:
        """The frame of the highest body line."""
        return int(next(one["top_frame"] for one in self.truth["elements"] if "top_frame" in one))

    def angle(self, frame: int) -> float:
        """Degrees of the line from the near shoulder to the near ankle, which is what is clicked."""
        first, last = (self.truth["joints"][name]["near_mm"][frame] for name in ("shoulder", "ankle"))
        return float(np.degrees(np.arctan2(last[2] - first[2], first[0] - last[0])))

    def hidden(self, frame: int, spot: Any) -> bool:
        """Whether somebody walking past hides a spot, so that nobody can click on it."""
        wide, past = self.truth["displayed"][0], self.film.passing(frame / len(self.truth["pts"]))
        return any(abs(spot[0] - share * wide) < SHIRT for share in past)

    def seen(self, frame: int, spot: Any) -> Array:
        """Where a spot of the still camera's picture lies on a frame."""
        lifted = self.film.turned(frame / self.rate) @ np.array([*spot, 1.0])
        return np.asarray(lifted[:2] / lifted[2])


def _walk_past(picture: Array, share: float) -> None:
    """Somebody in a striped shirt at this share of the picture's width."""
    tall, wide, _ = picture.shape
    y, x = np.mgrid[0:tall, 0:wide]
    shirt = (np.abs(x - share * wide) < SHIRT) & (y > 120)
    picture[shirt] = np.array([60.0, 80.0, 120.0]) + 20 * np.sin(y[shirt] / 9.0)[:, None]
    picture[(x - share * wide) ** 2 + (y - 95) ** 2 < 40**2] = [90.0, 70.0, 60.0]
