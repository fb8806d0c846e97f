"""A still takes no more bytes than it may, and no coarser step than that needs."""

from collections.abc import Callable
from pathlib import Path

import cv2
import numpy as np
import pytest

from reviewer.terms.pictures import Picture
from reviewer.terms.times import FrameTime, TimeBase
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


@pytest.mark.parametrize("share", [90, 60, 40])
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


def test_a_large_picture_is_halved_before_it_is_spoilt() -> None:
    """Noise has the most bytes that a picture can have; the mean of four is what halving gives."""
    noise = np.random.default_rng(1).integers(0, 256, (720, 1280, 4), np.uint8)
    time = FrameTime(0, TimeBase(1, 30))
    picture = Picture((1280, 720), noise.reshape(-1).data, 0, time, "bt709", suspect=False)
    found = jpeg(picture, 150_000)
    read = cv2.imdecode(np.frombuffer(found, np.uint8), cv2.IMREAD_COLOR)
    assert read is not None
    assert read.shape == (360, 640, 3)
    means = noise.reshape(360, 2, 640, 2, 4).mean((1, 3))[..., :3]
    assert np.corrcoef(means.ravel(), read.ravel())[0, 1] > 0.7  # every other pixel gives 0.5


def test_the_same_picture_gives_the_same_bytes(picture: Picture) -> None:
    assert jpeg(picture, 3000) == jpeg(picture, 3000)
