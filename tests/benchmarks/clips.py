"""The recordings measured: large ones made here, small ones of every format by the recipes of the tests."""

import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "sample_clips" / "square-on.mp4"

sys.path.insert(0, str(ROOT / "tests" / "video"))

from clip_recipes import RECIPES  # noqa: E402

CHOSEN = (
    "h264-long.mp4",
    "h264-open.mp4",
    "h264-open.ts",
    "h264-long.mkv",
    "h264-untimed.avi",
    "h264-refresh.mp4",
    "h264-cut.mp4",
    "h264-delay.mov",
    "h264-late.ts",
    "h264-camcorder.mts",
    "front-lost.ts",
    "hevc-open.mp4",
    "hevc-ten-bit.mp4",
    "vp9.webm",
    "av1.mp4",
    "mjpeg.avi",
    "mpeg2.ts",
    "mpeg4-packed.avi",
    "prores.mov",
    "interlaced-h264.ts",
    "interlaced-mpeg2.ts",
    "varying.mp4",
    "varying.mkv",
    "turned-90.mp4",
    "twice-h264.mkv",
    "hlg.mov",
)
"""The formats of a usual run; ``--every-format`` takes all of the recipes."""

EVERY = tuple(name for name, recipe in RECIPES.items() if recipe.readable)


@dataclass(frozen=True, slots=True)
class Setting:
    """Where and how a row is measured.

    Attributes:
        folder: where recordings lie; may be kept from run to run.
        scratch: a folder that is empty at first and removed afterwards.
        quick: fewer rounds on shorter recordings, to see that all works; the figures mean little.
    """

    folder: Path
    scratch: Path
    quick: bool

    def rounds(self, full: int) -> int:
        """How many rounds to measure where a full run has this many."""
        return max(2, full // 6) if self.quick else full


@dataclass(frozen=True, slots=True)
class Large:
    """A large recording: H.264 with B-frames, 60 frames a second, nothing but its first frame every ``group``
    frames decodes on its own; grain lies over it, so that no picture is cheap.
    """

    size: tuple[int, int]
    bits: str
    seconds: int
    group: int

    def name(self, label: str) -> str:
        """Name of its file."""
        return f"{label}-{self.seconds}s-{self.group}.mp4"


FULL = {"1080p60": Large((1920, 1080), "12M", 12, 250), "2160p60": Large((3840, 2160), "40M", 8, 250)}
QUICK = {"1080p60": Large((1920, 1080), "12M", 2, 50), "2160p60": Large((3840, 2160), "40M", 1, 25)}


def large(setting: Setting, label: str) -> Path:
    """A large recording by its label; ``-ts`` behind it asks for the same pictures in MPEG-TS.

    ``subprocess.CalledProcessError`` where it cannot be made.
    """
    of, _, transport = label.partition("-")
    kind = kind_of(setting, of)
    path = setting.folder / kind.name(of)
    if not path.exists():
        _make(path, kind)
    stream = path.with_suffix(".ts")
    if transport and not stream.exists():
        _run(stream, "-i", str(path), "-map", "0:v", "-c", "copy")
    return stream if transport else path


def kind_of(setting: Setting, label: str) -> Large:
    """What the recording of a label is."""
    return (QUICK if setting.quick else FULL)[label.partition("-")[0]]


def _make(path: Path, kind: Large) -> None:
    width, height = kind.size
    pictures = f"scale={width}:{height},fps=60,noise=alls=12:allf=t"
    coded = ("-c:v", "libx264", "-preset", "veryfast", "-b:v", kind.bits, "-bf", "3", "-pix_fmt", "yuv420p")
    groups = ("-g", str(kind.group), "-keyint_min", str(kind.group), "-sc_threshold", "0")
    source = ("-stream_loop", "2", "-i", str(SOURCE), "-t", str(kind.seconds), "-an")
    _run(path, *source, "-vf", pictures, *coded, *groups)


def _run(path: Path, *arguments: str) -> None:
    unfinished = path.with_name(f"unfinished-{path.name}")
    command = ["ffmpeg", "-v", "error", "-nostdin", "-y", *arguments, str(unfinished)]
    subprocess.run(command, check=True, capture_output=True)
    unfinished.rename(path)
