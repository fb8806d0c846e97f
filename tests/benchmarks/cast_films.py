"""Films of single casts, drawn for the benchmarks by the scripts of the sample clips, with their truth.

Thirty, sixty and 120 frames a second, from both sides and tilted; one with somebody walking past, one in low
light, one from a camera in a restless hand. Drawn once into a folder, in a few minutes.
"""

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
from encoding import encode
from filming import shoot
from routines import SUPPORT, back_to_support, cast, hip_circle
from script import Script
from truth import Timing, document

Array = NDArray[np.float64]
Pixels = NDArray[np.uint8]

SIZE, TICKS = (1280, 720), 30_000
PX_PER_MM = 0.165
"""At the athlete: a body line of about 175 px."""


@dataclass(frozen=True)
class CastFilm:
    """One film.

    Attributes:
        name: of its file; its letters seed what is random.
        trunk, arm, elbow: of the figure at the top, degrees as `figure` counts them.
        rate: frames a second.
        distance: mm.
        view: yaw, pitch and roll of the camera, degrees.
        weather: ``crossing``, ``dark``, ``restless`` or nothing of these.
        circle: whether a hip circle follows.
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
        if self.weather != "restless":
            return np.eye(3)
        yaw, roll = np.radians([12 * seconds + 0.3 * np.sin(9 * seconds), 5 * seconds])
        about = [[np.cos(yaw), 0, np.sin(yaw)], [0, 1, 0], [-np.sin(yaw), 0, np.cos(yaw)]]
        lean = [[np.cos(roll), -np.sin(roll), 0], [np.sin(roll), np.cos(roll), 0], [0, 0, 1]]
        inside = self._camera.K
        return np.asarray(inside @ np.array(lean) @ np.array(about) @ np.linalg.inv(inside))

    @cached_property
    def _camera(self) -> Any:
        yaw, pitch, roll = self.view
        return aim(SIZE, PX_PER_MM * self.distance, (300.0, 0.0, 1500.0), self.distance, yaw, pitch, roll)

    def _script(self) -> Any:
        script = Script()
        script.key(0.0, "contact", **SUPPORT)
        script.key(0.25 + self.seed % 7 / 200, "contact")
        top = {"arm": self.arm, "trunk": self.trunk, "elbow": self.elbow, "hip": 6.0, "nod": 12.0, "bow": 6.0}
        cast(script, top)
        (hip_circle if self.circle else back_to_support)(script)
        return script

    def _draw(self, path: Path) -> None:
        script, seed = self._script(), self.seed
        film = shoot(script, self._camera, 1 / self.rate, seed)
        unfinished = path.with_name(f"unfinished-{path.name}")
        encode(unfinished, self._pictures(film, seed), SIZE, Fraction(self.rate), TICKS)
        timing = Timing(Fraction(1, TICKS), TICKS // self.rate)
        said = document(self.name, film, script, timing, SIZE, 0)
        path.with_suffix(".truth.json").write_text(json.dumps(said), "utf-8")
        unfinished.rename(path)

    def _pictures(self, film: Any, seed: int) -> Iterator[Pixels]:
        for frame in range(film.frames):
            chance = np.random.default_rng([seed, frame])
            picture = film.picture(frame).astype(np.float64)
            if self.weather == "crossing":
                _walk_past(picture, 0.15 + 0.75 * frame / film.frames)
            if self.weather == "dark":
                picture = picture * 0.45 + chance.normal(0, 5, picture.shape)
            shown = np.clip(np.round(picture), 0, 255).astype(np.uint8)
            turned = self.turned(frame / self.rate)
            yield cv2.warpPerspective(shown, turned, SIZE, borderMode=cv2.BORDER_REPLICATE)


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
        """Degrees of the line from shoulder to ankle."""
        return float(self.truth["angles"]["shoulder-ankle_deg"][frame])

    def seen(self, frame: int, spot: Any) -> Array:
        """Where a spot of the still camera's picture lies on a frame."""
        lifted = self.film.turned(frame / self.rate) @ np.array([*spot, 1.0])
        return np.asarray(lifted[:2] / lifted[2])


def _walk_past(picture: Array, share: float) -> None:
    """Somebody in a striped shirt at this share of the picture's width."""
    tall, wide, _ = picture.shape
    y, x = np.mgrid[0:tall, 0:wide]
    shirt = (np.abs(x - share * wide) < 45) & (y > 120)
    picture[shirt] = np.array([60.0, 80.0, 120.0]) + 20 * np.sin(y[shirt] / 9.0)[:, None]
    picture[(x - share * wide) ** 2 + (y - 95) ** 2 < 40**2] = [90.0, 70.0, 60.0]


FILMS = (
    CastFilm("low-30", 46.0, 66.0, 0.0, 30, 8000.0, (0.0, 1.0, 0.0)),
    CastFilm("right-30", 40.0, 66.0, 0.0, 30, 8700.0, (35.0, 3.0, 2.0), circle=True),
    CastFilm("left-30", 36.0, 66.0, 0.0, 30, 6000.0, (-30.0, 2.0, -4.0)),
    CastFilm("left-60", 30.0, 66.0, 0.0, 60, 8900.0, (-35.0, 2.0, -3.0)),
    CastFilm("high-60", 12.0, 73.0, 0.0, 60, 6700.0, (20.0, 2.0, 5.0)),
    CastFilm("bent-arms-120", 34.0, 66.0, 25.0, 120, 7800.0, (12.0, 2.0, 1.0)),
    CastFilm("crossing-30", 38.0, 66.0, 0.0, 30, 8900.0, (-20.0, 2.0, 1.0), "crossing"),
    CastFilm("dark-30", 40.0, 66.0, 0.0, 30, 7000.0, (25.0, 4.0, -2.0), "dark"),
    CastFilm("restless-30", 36.0, 66.0, 0.0, 30, 8500.0, (10.0, 1.0, 0.0), "restless"),
)


def sample_shots() -> tuple[Shot, ...]:
    """The sample clips, as they are shipped."""
    still = CastFilm("", 0.0, 0.0, 0.0, 30, 1.0, (0.0, 0.0, 0.0))
    return tuple(
        Shot(ROOT / "sample_clips" / f"{name}.mp4", still) for name in ("square-on", "off-axis-fall")
    )
