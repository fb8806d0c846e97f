"""The sample clips with their heads covered as a judge would, exported, decoded again and held to the truth.

The true region of a head is computed by the scripts that drew the clips: all that face, hair and bun took up
while the shutter was open, also where an arm or a bar stood before it.
"""

import subprocess
import sys
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from reviewer import actions
from reviewer.terms.covers import Cover
from reviewer.terms.exact import Pixels
from reviewer.terms.shapes import Spot

CLIPS = Path(__file__).resolve().parents[2] / "sample_clips"
PLACED = {"square-on": (0, 200, 400, 600, 800), "off-axis-fall": (0, 130)}
"""The frames on which somebody puts a cover: one every five to seven seconds."""
WIDER, UNSTEADY = 1.15, 2.0
"""How much larger than the head a hand draws it, and by how many pixels it misses its middle (no source)."""
SAME = 16
"""Levels of a colour by which coding may change the plain colour of a cover."""

Region = NDArray[np.bool_]


@cache
def _drawn(name: str) -> tuple[Any, Any]:
    """A clip's film, and the solids of the head at an instant; the scripts are run from their own folder."""
    sys.path.insert(0, str(CLIPS))
    try:
        import girl  # type: ignore[import-not-found]
        from render import CLIPS as DRAWN  # type: ignore[import-not-found]

        return DRAWN[name].film(), girl.head
    finally:
        sys.path.remove(str(CLIPS))


def _rims(name: str, frame: int) -> list[NDArray[np.float32]]:
    """Outlines (n, 2) in pixels of each part of the head at each instant of a frame's exposure."""
    film, head = _drawn(name)
    instants = len(next(iter(film.instants.values()))) // film.frames
    turn = np.linspace(0, 2 * np.pi, 40, endpoint=False)
    ring = np.stack([np.cos(turn), np.sin(turn)], axis=1)
    rims = []
    for instant in range(frame * instants, (frame + 1) * instants):
        for solid in head({joint: track[instant] for joint, track in film.instants.items()}):
            radii = np.asarray(solid.radii) * film.camera.K[0, 0] / film.camera.depth(solid.centres)
            at = film.camera.project(solid.centres)
            rims.append((at[:, None] + radii[:, None, None] * ring).reshape(-1, 2).astype(np.float32))
    return rims


def true_region(name: str, frame: int) -> Region:
    """The pixels (height, width) of the picture as displayed that show the head."""
    import cv2

    wide, tall = _drawn(name)[0].camera.size
    found = np.zeros((tall, wide), np.uint8)
    for rim in _rims(name, frame):
        cv2.fillConvexPoly(found, np.round(cv2.convexHull(rim) * 16).astype(np.int32), 1, cv2.LINE_8, 4)
    return found.astype(bool)


def by_hand(name: str, frame: int, seed: int) -> Cover:
    """A cover as an unsteady hand puts it over the head."""
    rims = np.concatenate(_rims(name, frame))
    low, high = rims.min(axis=0), rims.max(axis=0)
    x, y = (low + high) / 2 + np.random.default_rng([seed, frame]).normal(0, UNSTEADY, 2)
    across, down = WIDER * (high - low) / 2
    return Cover(Spot(_px(x), _px(y)), _px(across), _px(down))


def _px(size: float) -> Pixels:
    return Pixels(round(1000 * float(size)))


def covered_case(folder: Path, name: str, seed: int = 1, frames: Sequence[int] = ()) -> Path:
    """A case of a sample clip whose head was covered on some frames, followed and looked through."""
    recording, case = CLIPS / f"{name}.mp4", folder / f"{name}.case"
    with actions.start_case(
        case, author="A", athlete_code="G-12", consent="given", recording=recording
    ) as audit:
        actions.give_consent(audit, ("teaching",), None, "2026-11-26")
        for frame in frames or PLACED[name]:
            actions.place_cover(audit, "a", frame, by_hand(name, frame, seed))
        actions.follow_heads(audit)
        actions.confirm_covers(audit, 0, actions.covers_on(audit).frames - 1)
    return case


def exported(case: Path, out: Path) -> None:
    """The whole recording of a case as a clip for teaching."""
    with actions.open_case(case, author="A") as audit:
        whole = (0, actions.covers_on(audit).frames - 1)
        wish = actions.ClipWish(frames=whole, captioned=False)
        actions.export_clip(audit, wish, out, use="teaching", today=lambda: "2026-11-26")


def shown_again(clip: Path, size: tuple[int, int]) -> Iterator[NDArray[np.uint8]]:
    """Each picture of a clip (height, width, 3), decoded by the ffmpeg program."""
    command = ["ffmpeg", "-v", "error", "-i", str(clip), "-fps_mode", "passthrough"]
    command += ["-f", "rawvideo", "-pix_fmt", "rgb24", "-"]
    with subprocess.Popen(command, stdout=subprocess.PIPE) as process:
        assert process.stdout is not None
        while picture := process.stdout.read(3 * size[0] * size[1]):
            yield np.frombuffer(picture, np.uint8).reshape(size[1], size[0], 3)


def frames_with_a_head(name: str, clip: Path) -> list[int]:
    """Frames of an exported clip on which some pixel of the true head is not of a cover's plain colour."""
    size = _drawn(name)[0].camera.size
    found, number = [], -1
    for number, picture in enumerate(shown_again(clip, size)):
        head = picture[true_region(name, number)].astype(int)
        if len(head) and np.abs(head - np.median(head, axis=0)).max() > SAME:
            found.append(number)
    assert number + 1 == _drawn(name)[0].frames
    return found
