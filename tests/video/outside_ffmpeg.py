"""What the stock ffmpeg and ffprobe commands say of a file: the outside truth of the tests of recordings."""

import json
import subprocess
from functools import cache
from pathlib import Path


@cache
def framehash(path: Path, *before: str) -> tuple[str, ...]:
    """SHA-256 of every native picture, rotation off, in the order the command gives them."""
    command = ["ffmpeg", "-v", "quiet", *before, "-noautorotate", "-i", str(path), "-map", "0:v:0"]
    command += ["-fps_mode", "passthrough", "-f", "framehash", "-hash", "sha256", "-"]
    said = subprocess.run(command, capture_output=True, text=True, check=False).stdout
    return tuple(line.split(",")[-1].strip() for line in said.splitlines() if not line.startswith("#"))


@cache
def probed_pts(path: Path) -> tuple[int | None, ...]:
    """The pts of every decoded frame; None where the file gives it none."""
    return tuple(frame.get("pts") for frame in _probed(path, "frame=pts")["frames"])


@cache
def probed_packets(path: Path) -> tuple[dict[str, object], ...]:
    """Every packet of the first video stream, in file order."""
    return tuple(_probed(path, "packet=pts,dts,flags,pos")["packets"])


def _probed(path: Path, entries: str) -> dict[str, list[dict]]:
    command = ["ffprobe", "-v", "quiet", "-select_streams", "v:0", "-show_entries", entries, "-of", "json"]
    said = subprocess.run([*command, str(path)], capture_output=True, text=True, check=True).stdout
    return json.loads(said)
