"""A still takes no more bytes than it may, and no coarser step than that needs."""

from collections.abc import Callable
from pathlib import Path

import cv2
import numpy as np
import pytest

from reviewer.terms.pictures import Picture
from reviewer.video import jpeg, open_recording

Clip = Callable[[str], Path]


@pytest.fixture
def picture(clip: Clip) -> Picture:
    with open_recording(clip("long.mp4")) as recording:
        return recording.evidence(40)


def apart(picture: Picture, data: bytes) -> float:
    """Mean distance of a JPEG's pixels from the picture's, in steps of 255; read by OpenCV."""
    width, height = picture.size
    shown = np.frombuffer(picture.bgra, np.uint8).reshape(height, width, 4)[..., :3].astype(int)
    read = cv2.imdecode(np.frombuffer(data, np.uint8), cv2.IMREAD_COLOR)
    assert read is not None
    return float(np.abs(shown - read.astype(int)).mean())


@pytest.mark.parametrize("share", [90, 60, 40, 30])
def test_it_fits_where_any_step_does(picture: Picture, share: int) -> None:
    finest = jpeg(picture)
    most = len(finest) * share // 100
    found = jpeg(picture, most)
    assert len(found) <= most
    assert apart(picture, finest) < apart(picture, found)


def test_with_room_enough_it_is_the_finest(picture: Picture) -> None:
    assert jpeg(picture, 10_000_000) == jpeg(picture)


def test_with_no_room_it_is_the_coarsest_and_still_a_picture(picture: Picture) -> None:
    assert len(jpeg(picture, 1)) < len(jpeg(picture)) // 2
    assert apart(picture, jpeg(picture, 1)) < 32


def test_the_same_picture_gives_the_same_bytes(picture: Picture) -> None:
    assert jpeg(picture, 3000) == jpeg(picture, 3000)
