"""Draw the two sample clips and write the truth about them.

A girl who does not exist, in a club league that does not exist, on uneven bars of the published measures:

- `square-on.mp4`: a whole routine, from a camera square on to the plane of motion.
- `off-axis-fall.mp4`: a short cast and a fall, askew and a little crooked, upright as a phone films.

Beside each stands `<name>.truth.json` (`reviewer.truth/1`, see `truth.py`): times, joints in space and in
the picture, angles, camera, apparatus, elements and staged faults. The same seed draws the same pictures.
Both take about three minutes:

    python sample_clips/render.py [-o FOLDER] [--only NAME]
"""

import argparse
import json
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import numpy as np
from camera import Camera, aim
from encoding import encode, turn_clockwise
from filming import Film, shoot
from routines import short_cast_and_fall, whole_routine
from script import Script
from solids import Pixels
from truth import Timing, document

HERE = Path(__file__).resolve().parent
TICKS = 30_000  # a second


@dataclass(frozen=True)
class Clip:
    """What is filmed, how, and how it is kept; `rotation` is the clockwise turn that shows it upright."""

    script: Callable[[], Script]
    camera: Camera
    rate: Fraction
    rotation: int
    seed: int

    def film(self) -> Film:
        """Motion and hall, ready to draw."""
        return shoot(self.script(), self.camera, float(1 / self.rate), self.seed)


CLIPS = {
    "square-on": Clip(
        whole_routine, aim((1280, 720), 2050.0, (1000.0, 0.0, 1600.0), 10_000.0), Fraction(30), 0, 20240511
    ),
    "off-axis-fall": Clip(
        short_cast_and_fall,
        aim((720, 1280), 1480.0, (420.0, 0.0, 1450.0), 6_600.0, yaw=25.0, pitch=2.0, roll=3.0),
        Fraction(30_000, 1001), 90, 20240512,
    ),
}  # fmt: skip


def coded(picture: Pixels, rotation: int) -> Pixels:
    """The displayed picture as it lies in the file."""
    return np.rot90(picture, rotation // 90)


def render(name: str, folder: Path) -> None:
    """Write `<name>.mp4` and `<name>.truth.json` into `folder`."""
    clip = CLIPS[name]
    film, path = clip.film(), folder / f"{name}.mp4"
    height, width = coded(film.empty, clip.rotation).shape[:2]
    encode(path, _pictures(name, film, clip.rotation), (width, height), clip.rate, TICKS)
    if clip.rotation:
        turn_clockwise(path, height)
    timing = Timing(Fraction(1, TICKS), int(TICKS / clip.rate))
    facts = document(name, film, clip.script(), timing, (width, height), clip.rotation)
    (folder / f"{name}.truth.json").write_text(
        json.dumps(facts, separators=(",", ":")) + "\n", encoding="utf-8"
    )


def _pictures(name: str, film: Film, rotation: int) -> Iterator[Pixels]:
    for frame in range(film.frames):
        if frame % 100 == 0:
            print(f"{name}: {frame} of {film.frames}", flush=True)
        yield coded(film.picture(frame), rotation)


def main(arguments: Sequence[str] | None = None) -> None:
    """Read the command line and render."""
    summary = (__doc__ or "").partition("\n")[0]
    parser = argparse.ArgumentParser(description=summary)
    parser.add_argument("-o", "--output", type=Path, default=HERE, metavar="FOLDER", help="where to write")
    parser.add_argument(
        "--only", choices=sorted(CLIPS), metavar="NAME", help="one clip: " + ", ".join(sorted(CLIPS))
    )
    chosen = parser.parse_args(arguments)
    chosen.output.mkdir(parents=True, exist_ok=True)
    for name in [chosen.only] if chosen.only else CLIPS:
        render(name, chosen.output)


if __name__ == "__main__":
    main()
