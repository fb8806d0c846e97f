"""From milliseconds of single answers to a figure, and what the same would take without a desk."""

from collections.abc import Sequence
from functools import partial
from pathlib import Path
from statistics import median

from av.video.reformatter import VideoReformatter

from tests.benchmarks import opencv, plain
from tests.benchmarks.figures import OPENCV, PLAIN, Figure, percentile, timed


def answered(
    what: str,
    taken: Sequence[float | None],
    limit: float,
    beside: dict[str, float],
    at_most: float | None = None,
) -> Figure:
    """The 95th percentile; an answer that never came counts as ``limit`` milliseconds, and is told."""
    found = [limit if one is None else one for one in taken]
    told = {
        "p50, ms": percentile(found, 0.5),
        "most, ms": max(found),
        "never came": float(sum(one is None for one in taken)),
        **beside,
    }
    p95 = percentile(found, 0.95)
    return Figure(f"{what}: p95", p95, "ms", len(found), min(found), max(found), None, at_most, told)


def without_a_desk(path: Path, frames: Sequence[int]) -> dict[str, float]:
    """Median milliseconds of seeking, decoding forward and converting, for libav and for OpenCV."""
    source, capture, ticks = plain.opened(path), opencv.opened(path), plain.ticks(path)
    scaler = VideoReformatter()
    with source[0]:
        plainly = [timed(partial(plain.converted, source, ticks[frame], scaler)) for frame in frames]
    opencvs = [timed(partial(opencv.sought, capture, frame)) for frame in frames]
    capture.release()
    return {
        f"{PLAIN} without a window, p50 ms": 1000 * median(plainly),
        f"{OPENCV} without a window, p50 ms": 1000 * median(opencvs),
    }
