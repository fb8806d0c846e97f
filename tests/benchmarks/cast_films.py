"""Films of single casts, drawn for the benchmarks by the scripts of the sample clips, with their truth.

Thirty, sixty and 120 frames a second, from both sides and tilted; one with somebody walking past, one in low
light, one from a camera in a restless hand. `EFFECTS` are one cast from one seat, each with what drawn films
usually lack, beside `plain` without any of it. Drawn once into a folder, in a few minutes; by hand with::

    python -m tests.benchmarks.cast_films FOLDER [NAME ...]
"""

import sys
from pathlib import Path
from typing import Any

from tests.benchmarks.casts_drawn import CastFilm, Effects, Shot
from tests.benchmarks.clips import ROOT

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


FREE, HIDDEN = (-20.0, 2.0, 2.0), (20.0, 2.0, 2.0)
"""Seats from which nothing stands before the ankle at the top, and from which an upright does."""


def _effect(
    name: str, weather: str = "", view: tuple[float, float, float] = FREE, elbow: float = 0.0, **what: Any
) -> CastFilm:
    """The one cast from the one seat, with something that is different."""
    return CastFilm(name, 36.0, 66.0, elbow, 30, 7500.0, view, weather, effects=Effects(**what))


UPRIGHT = (720, 1280)
EFFECTS = (
    _effect("plain"),
    _effect("behind-an-upright", view=HIDDEN),
    _effect("distorted", radial=-0.05),
    _effect("upright", size=UPRIGHT),
    _effect("uneven", uneven=True),
    _effect("dark-and-crossing", "dark crossing returning"),
    _effect("rail-that-bends", sag=50.0),
    _effect("arms-bent", elbow=40.0),
    _effect("legs-scissored", scissored=12.0),
    _effect("legs-straddled", straddled=8.0),
    _effect("hair-and-cloth", loose=True),
    _effect("row-by-row", readout=0.02),
    _effect("coarse", crf=40),
    _effect("phone", size=UPRIGHT, uneven=True, readout=0.02, crf=34),
)


def sample_shots() -> tuple[Shot, ...]:
    """The sample clips, as they are shipped."""
    still = CastFilm("", 0.0, 0.0, 0.0, 30, 1.0, (0.0, 0.0, 0.0))
    return tuple(
        Shot(ROOT / "sample_clips" / f"{name}.mp4", still) for name in ("square-on", "off-axis-fall")
    )


def main(folder: str, *names: str) -> None:
    """Draw films, all or those named, into a folder."""
    Path(folder).mkdir(parents=True, exist_ok=True)
    for film in (*FILMS, *EFFECTS):
        if not names or film.name in names:
            print(film.shot(Path(folder)).path, flush=True)


if __name__ == "__main__":
    main(*sys.argv[1:])
