"""The background pass: the file's fingerprint, and a small picture of every frame, written to disk."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from tempfile import mkdtemp

from reviewer.video import SmallStore, Survey, open_recording
from tests.benchmarks import opencv
from tests.benchmarks.clips import Setting, large
from tests.benchmarks.figures import OPENCV, OURS, PLAIN, Figure, cost, interleaved, timed
from tests.benchmarks.sequential import plainly

ROUNDS, DISK = 5, 1 << 32


def figures(setting: Setting, label: str) -> Iterator[Figure]:
    """Its time over that of a plain loop over all frames; OpenCV's loop decodes only, too."""
    path = large(setting, label)
    turns = {
        OURS: lambda _: _ours(path, setting.scratch),
        PLAIN: lambda _: plainly(path),
        OPENCV: lambda _: timed(lambda: opencv.decode(opencv.opened(path))),
    }
    seconds = interleaved(turns, setting.rounds(ROUNDS))
    beside = {f"{name}, s": sorted(taken)[len(taken) // 2] for name, taken in seconds.items()}
    yield cost(f"background pass / plain decode, {label}", seconds, at_most=1.3, beside=beside)


def _ours(path: Path, scratch: Path) -> float:
    store = SmallStore(Path(mkdtemp(dir=scratch)), DISK)
    with open_recording(path) as recording, ThreadPoolExecutor(1) as beside:
        survey = Survey(recording, store)
        seconds = timed(lambda: survey.run(lambda done, total: True, beside))
        assert survey.complete
        survey.close()
    return seconds
