"""How many of the frames asked for at random are the right ones, format by format.

Ours are compared with FFmpeg's framehash, byte for byte. Of OpenCV's seek by frame number and of a plain
libav seek by time only the number drawn into the picture is looked at, which forgives them wrong colours.
"""

import random
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from reviewer.video import VideoError, open_recording
from tests.benchmarks import opencv, plain
from tests.benchmarks.clips import Setting
from tests.benchmarks.figures import Figure

# These lie on the path that the clips above have laid.
from clip_recipes import RECIPES, make  # isort: skip
from numbered_pictures import number_in  # isort: skip
from outside_ffmpeg import framehash, probed_pts  # isort: skip

ACCESSES = 200


def figures(setting: Setting, name: str) -> Iterator[Figure]:
    """The share of exact frames of one format."""
    path, recipe = make(name, setting.folder), RECIPES[name]
    truth = framehash(path)[recipe.unfounded :]
    order = random.Random(name).choices(range(len(truth)), k=setting.rounds(ACCESSES))
    numbers = recipe.numbers or _rising(path, len(truth))
    ours = _ours(path, truth, order)
    times = probed_pts(path)[recipe.unfounded :]
    beside = {"frames": float(len(truth)), **_others(path, numbers, times, order)}
    yield Figure(f"exact frames: {recipe.what}", ours, "%", len(order), ours, ours, 100.0, None, beside)


def _rising(path: Path, count: int) -> tuple[int, ...]:
    container, stream = plain.opened(path, "NONE")
    with container:
        first = number_in(plain.rows_of(next(container.decode(stream))))
    return tuple(range(first, first + count))


def _ours(path: Path, truth: tuple[str, ...], order: list[int]) -> float:
    """With no memory to keep pictures in, so that every access decodes."""
    right = 0
    with open_recording(path, memory=1) as recording:
        for frame in order:
            try:
                right += recording.picture_hash(frame) == truth[frame]
            except VideoError:
                continue
    return 100 * right / len(order)


def _others(
    path: Path, numbers: tuple[int, ...], times: tuple[int | None, ...], order: list[int]
) -> dict[str, float]:
    capture, source = opencv.opened(path), plain.opened(path, "NONE")

    def by_time(frame: int) -> NDArray[np.uint8] | None:
        pts = times[frame]
        found = plain.sought(source, pts) if pts is not None else None
        return plain.rows_of(found) if found is not None else None

    with source[0]:
        shares = {
            "OpenCV's seek, %": _share(lambda frame: opencv.sought(capture, frame), numbers, order),
            "plain libav's seek, %": _share(by_time, numbers, order),
        }
    capture.release()
    return shares


def _share(
    picture: Callable[[int], NDArray[np.uint8] | None], numbers: tuple[int, ...], order: list[int]
) -> float:
    return 100 * sum(_carries(picture(frame), numbers[frame]) for frame in order) / len(order)


def _carries(rows: NDArray[np.uint8] | None, number: int) -> bool:
    try:
        return rows is not None and number_in(rows) == number
    except AssertionError:  # no number can be read in it
        return False
