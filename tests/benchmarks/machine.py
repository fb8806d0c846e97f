"""What the figures were taken on: without it they mean nothing."""

import os
import platform
import subprocess
from importlib.metadata import version
from pathlib import Path

import av

PACKAGES = ("av", "numpy", "opencv-python", "PyQt6")


def described() -> dict[str, str]:
    """Processor, cores, load, versions and the commit, each in words."""
    said = {
        "processor": _processor(),
        "cores": str(os.cpu_count()),
        "load at the start": " ".join(f"{load:.2f}" for load in os.getloadavg()),
        "system": platform.platform(),
        "Python": platform.python_version(),
        "libav": av.ffmpeg_version_info,
        "ffmpeg command": _first_line("ffmpeg", "-version"),
        "commit": _first_line("git", "describe", "--always", "--dirty"),
    }
    return said | {name: version(name) for name in PACKAGES}


def _processor() -> str:
    listed = Path("/proc/cpuinfo")
    lines = listed.read_text().splitlines() if listed.exists() else []
    named = (line.split(":", 1)[1].strip() for line in lines if line.startswith("model name"))
    return next(named, platform.processor() or "unknown")


def _first_line(*command: str) -> str:
    try:
        said = subprocess.run(command, capture_output=True, text=True, check=False).stdout
    except OSError:
        return "unknown"
    return (said.splitlines() or ["unknown"])[0]
