"""OpenCV's reader, driven as its documentation shows: open, set the frame number, read.

Its import points Qt at plug-ins of its own; that is undone at once, for the window in the same process.
"""

import os
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

os.environ.setdefault("OPENCV_FFMPEG_LOGLEVEL", "-8")
_BEFORE = {name: os.environ.get(name) for name in ("QT_QPA_PLATFORM_PLUGIN_PATH", "QT_QPA_FONTDIR")}

import cv2  # noqa: E402

for _name, _value in _BEFORE.items():
    os.environ.pop(_name, None)
    if _value is not None:
        os.environ[_name] = _value

Rows = NDArray[np.uint8]


def opened(path: Path) -> cv2.VideoCapture:
    """The file; pictures are left as stored, not turned."""
    capture = cv2.VideoCapture(str(path), cv2.CAP_FFMPEG)
    capture.set(cv2.CAP_PROP_ORIENTATION_AUTO, 0)
    return capture


def decode(capture: cv2.VideoCapture) -> int:
    """Decode all that is left without converting it; how many frames."""
    count = 0
    while capture.grab():
        count += 1
    return count


def sought(capture: cv2.VideoCapture, frame: int) -> Rows | None:
    """The picture it gives for a frame number: rows × columns × (blue, green, red); None for none."""
    capture.set(cv2.CAP_PROP_POS_FRAMES, frame)
    done, rows = capture.read()
    return np.asarray(rows, np.uint8) if done else None


def decoded(capture: cv2.VideoCapture, frame: int) -> bool:
    """Seek to a frame number and decode, without converting."""
    capture.set(cv2.CAP_PROP_POS_FRAMES, frame)
    return capture.grab()
