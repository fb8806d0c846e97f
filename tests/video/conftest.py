"""Small clips made with the ffmpeg command, once a run."""

import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

MOVING = ("-f", "lavfi", "-i", "testsrc2=s=160x90:r=30:d=3", "-pix_fmt", "yuv420p")
OPEN_GOP = "open-gop=1:keyint=24:min-keyint=24:bframes=3:scenecut=0"
RECIPES: dict[str, tuple[str, ...]] = {
    "long.mp4": (*MOVING, "-c:v", "libx264", "-g", "60", "-bf", "3"),
    "open.mp4": (*MOVING, "-c:v", "libx264", "-x264-params", OPEN_GOP),
    "edit.mp4": ("-ss", "1.1", "-i", "long.mp4", "-c", "copy"),
    "open-edit.mp4": ("-ss", "1.1", "-i", "open.mp4", "-c", "copy"),
    "open.ts": ("-i", "open.mp4", "-c", "copy"),
    "varying.mkv": (
        *MOVING, "-vf", "select='not(mod(n,5))+not(mod(n,3))'", "-fps_mode", "vfr",
        "-c:v", "libx264", "-g", "20",
    ),
    "hidden.webm": (
        *MOVING, "-c:v", "libvpx", "-auto-alt-ref", "1", "-lag-in-frames", "16", "-g", "25", "-cpu-used", "8",
    ),
    "untimed.avi": ("-i", "long.mp4", "-c", "copy"),
    "refresh.mp4": (*MOVING, "-c:v", "libx264", "-x264-params", "intra-refresh=1:keyint=20"),
    "deep.mp4": (
        *MOVING, "-pix_fmt", "yuv420p10le", "-c:v", "libx265", "-x265-params", "keyint=15:log-level=none",
    ),
    "turned.mp4": ("-i", "long.mp4", "-c", "copy", "-metadata:s:v", "rotate=270"),
    "wide-pixels.mp4": (*MOVING, "-frames:v", "3", "-vf", "setsar=4/3", "-c:v", "libx264"),
    "sound.m4a": ("-f", "lavfi", "-i", "sine=d=0.2", "-c:a", "aac"),
}  # fmt: skip


@pytest.fixture(scope="session")
def clip(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """Asks for a clip by name; it is made at its first use, after the one it is cut from."""
    folder = tmp_path_factory.mktemp("clips")

    def made(name: str) -> Path:
        path = folder / name
        if not path.exists():
            for source in set(RECIPES[name]) & set(RECIPES):
                made(source)
            command = ["ffmpeg", "-v", "error", "-nostdin", *RECIPES[name], name]
            subprocess.run(command, cwd=folder, check=True)
        return path

    return made
