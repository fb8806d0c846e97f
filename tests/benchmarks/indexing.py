"""What opening costs: the list of all frames, by reading every packet once."""

from collections.abc import Iterator
from pathlib import Path

import av

from reviewer.video import open_recording
from reviewer.video.indexing import index_of
from tests.benchmarks import opencv, plain
from tests.benchmarks.clips import Setting, large
from tests.benchmarks.figures import OPENCV, OURS, PLAIN, Figure, cost, each_in_ms, interleaved, timed

ROUNDS = 31


def figures(setting: Setting, label: str) -> Iterator[Figure]:
    """The index on an open file over a bare reading of its packets; then opening as a whole, for knowledge.

    OpenCV makes no index: beside it stands what its opening takes.
    """
    path, rounds = large(setting, label), setting.rounds(ROUNDS)
    path.read_bytes()  # from the disk once, so that nobody has to wait for it
    bare = interleaved({OURS: lambda _: _index(path), PLAIN: lambda _: _demux(path)}, rounds)
    yield cost(f"index / bare demux, {label}", bare, at_most=1.5, beside=each_in_ms(bare, 1))
    whole = interleaved(
        {
            OURS: lambda _: timed(lambda: open_recording(path).close()),
            PLAIN: lambda _: timed(lambda: _opened_and_demuxed(path)),
            OPENCV: lambda _: timed(lambda: opencv.opened(path).release()),
        },
        rounds,
    )
    what = f"opening a recording / (open + demux), {label}"
    yield cost(what, whole, at_most=None, beside=each_in_ms(whole, 1))


def _index(path: Path) -> float:
    source = plain.opened(path)
    with source[0]:
        return timed(lambda: index_of(*source))


def _demux(path: Path) -> float:
    source = plain.opened(path)
    with source[0]:
        return timed(lambda: plain.demux(source))


def _opened_and_demuxed(path: Path) -> None:
    with av.open(str(path)) as container:
        plain.demux((container, container.streams.video[0]))
