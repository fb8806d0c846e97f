"""The first picture at once, and the desk in its place; what is loaded before that."""

import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from PyQt6.QtGui import QImage
from PyQt6.QtWidgets import QApplication

from reviewer.desk import application as running
from reviewer.desk.firstlook import FirstLook, first_look
from reviewer.desk.window import DeskWindow
from reviewer.video import glimpse, open_recording
from tests.desk.conftest import SQUARE_ON, until

sys.path.insert(0, str(Path(__file__).parents[1] / "video"))

from clip_recipes import make


def loaded_by(statement: str) -> set[str]:
    """The modules a fresh interpreter has after a statement."""
    told = f"{statement}; import sys; print(' '.join(sys.modules))"
    done = subprocess.run(
        [sys.executable, "-c", told], capture_output=True, text=True, check=True, env=dict(os.environ)
    )
    return set(done.stdout.split())


def test_the_first_picture_is_the_first_of_the_recording() -> None:
    """Libav's own conversion may round otherwise than ours: by a few steps of 255 in a channel."""
    seen = glimpse(SQUARE_ON)
    assert seen is not None
    with open_recording(SQUARE_ON) as recording:
        picture = recording.picture(0)
        exact = np.frombuffer(picture.bgra, np.uint8).reshape(*picture.size[::-1], 4)
    rows = np.frombuffer(seen.bgra, np.uint8).reshape(seen.height, seen.stride)
    found = rows[:, : 4 * seen.width].reshape(seen.height, seen.width, 4)
    assert (seen.width, seen.height) == picture.size
    assert np.abs(found[..., :3].astype(int) - exact[..., :3].astype(int)).max() <= 6


@pytest.mark.parametrize(
    "recipe", ["turned-90.mp4", "turned-in-stream.ts", "interlaced-h264.ts", "wide-pixels.mp4", "hlg.mov"]
)
def test_what_is_not_shown_as_stored_has_no_glimpse(recipe: str, tmp_path: Path) -> None:
    assert glimpse(make(recipe, tmp_path)) is None


def test_a_file_that_is_no_recording_has_none(tmp_path: Path) -> None:
    path = tmp_path / "notes.txt"
    path.write_text("not a film", encoding="utf-8")
    assert glimpse(path) is None
    assert first_look([str(path)]) is None


def test_the_desk_takes_the_place_of_the_first_look(window: DeskWindow, application: QApplication) -> None:
    seen = first_look(["--recording", str(SQUARE_ON)])
    assert isinstance(seen, FirstLook)
    assert seen.isVisible()
    assert seen.grab().toImage().format() != QImage.Format.Format_Invalid
    window.viewing.shown.connect(lambda _: running.take_over())
    window.open_recording(SQUARE_ON)
    until(lambda: window.bench.picture is not None and not seen.isVisible())


def test_nothing_slow_is_loaded_before_the_first_picture() -> None:
    """Measured here: numpy takes as long as the bare window, scipy and cv2 several times as long."""
    loaded = loaded_by("import reviewer.__main__, reviewer.desk.firstlook")
    slow = {"numpy", "scipy", "cv2", "sqlite_utils", "yaml", "jinja2", "jsonschema", "click", "hashlib"}
    assert slow & loaded == set()


def test_the_window_needs_no_rule_book_reader_and_no_case_to_be_built() -> None:
    loaded = loaded_by("import reviewer.desk.application")
    slow = {"scipy", "cv2", "sqlite_utils", "yaml", "jinja2", "jsonschema", "typst", "reviewer.actions.audit"}
    assert slow & loaded == set()
