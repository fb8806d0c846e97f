"""A folder of tiny recordings that differ in their bytes alone."""

import subprocess
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

FRAMES = 30
PICTURES = ("-f", "lavfi", "-i", "testsrc2=s=160x90:r=30:d=1", "-pix_fmt", "yuv420p", "-c:v", "libx264")


@cache
def one_film() -> bytes:
    """A recording of `FRAMES` frames."""
    path = Path(mkdtemp(prefix="film-")) / "one.mp4"
    subprocess.run(["ffmpeg", "-v", "error", "-nostdin", *PICTURES, "-g", "10", str(path)], check=True)
    return path.read_bytes()


def film(mark: int) -> bytes:
    """The same pictures in other bytes: a box that players pass over (``free``, ISO/IEC 14496-12, 8.1.2)."""
    return one_film() + (16).to_bytes(4, "big") + b"free" + mark.to_bytes(8, "big")


def draw_films(folder: Path, *names: str) -> Path:
    """A folder with a recording of each name, all different."""
    for mark, name in enumerate(names):
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(film(mark))
    return folder
