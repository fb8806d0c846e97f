"""Clips of one invented routine from several seats, made with the ffmpeg command, once a run.

The brightness of a picture says when it was taken: 16 + 70 for each second of the hall's clock.
"""

import subprocess
from pathlib import Path

import pytest

HALL = "color=s=64x36:r=600:d=3,format=gray,geq=lum='16+70*T'"
LOSSLESS = ("-c:v", "ffv1", "-pix_fmt", "yuv420p")
RECIPES = {
    "table.mkv": ("-i", HALL, "-vf", "fps=30", *LOSSLESS),
    "stand.mkv": ("-i", HALL, "-vf", "trim=start=0.5,setpts=PTS-STARTPTS,fps=25", *LOSSLESS),
    "again.mkv": ("-i", HALL, "-vf", "negate,fps=30", *LOSSLESS),
    "single.mkv": ("-i", HALL, "-frames:v", "1", *LOSSLESS),
}


@pytest.fixture(scope="session")
def seats(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The table's camera, one in the stand that began half a second later, another attempt, one picture."""
    folder = tmp_path_factory.mktemp("seats")
    for name, words in RECIPES.items():
        command = ["ffmpeg", "-v", "error", "-nostdin", "-f", "lavfi", *words, name]
        subprocess.run(command, cwd=folder, check=True)
    return folder
