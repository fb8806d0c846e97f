"""Small recordings made with the ffmpeg command, once a run."""

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from clip_recipes import RECIPES, make

MOVING = ("-f", "lavfi", "-i", "testsrc2=s=160x90:r=30:d=3", "-pix_fmt", "yuv420p")
OPEN_GOP = "open-gop=1:keyint=24:min-keyint=24:bframes=3:scenecut=0"
COLOURED: dict[str, tuple[str, ...]] = {
    "long.mp4": (*MOVING, "-c:v", "libx264", "-g", "60", "-bf", "3"),
    "open.mp4": (*MOVING, "-c:v", "libx264", "-x264-params", OPEN_GOP),
    "deep.mp4": (
        *MOVING, "-pix_fmt", "yuv420p10le", "-c:v", "libx265", "-x265-params", "keyint=15:log-level=none",
    ),
    "turned.mp4": ("-i", "long.mp4", "-c", "copy", "-metadata:s:v", "rotate=270"),
    "sound.m4a": ("-f", "lavfi", "-i", "sine=d=0.2", "-c:a", "aac"),
}  # fmt: skip
"""90 pictures each, of many colours and without a number; the table of formats is in `clip_recipes`."""


@pytest.fixture(scope="session")
def clip(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """Asks for a recording by name; it is made at its first use, after the one it is cut from.

    A format that this machine's ffmpeg cannot write skips the test and says so.
    """
    folder = tmp_path_factory.mktemp("clips")

    def coloured(name: str) -> Path:
        path = folder / name
        if not path.exists():
            for source in set(COLOURED[name]) & set(COLOURED):
                coloured(source)
            command = ["ffmpeg", "-v", "error", "-nostdin", *COLOURED[name], name]
            subprocess.run(command, cwd=folder, check=True)
        return path

    def made(name: str) -> Path:
        if name in COLOURED:
            return coloured(name)
        try:
            return make(name, folder)
        except subprocess.CalledProcessError as fault:
            last = fault.stderr.decode(errors="replace").strip().splitlines()[-1:]
            pytest.skip(f"untested: {RECIPES[name].what}: {' '.join(last)}")

    return made
