"""Every frame decoded once, in order, without converting any."""

from collections.abc import Iterator
from pathlib import Path

from reviewer.video import open_recording
from reviewer.video.container import SWIFT
from reviewer.video.reading import FROM_START
from tests.benchmarks import opencv, plain
from tests.benchmarks.clips import Setting, large
from tests.benchmarks.figures import OPENCV, OURS, PLAIN, Figure, frames_a_second, interleaved, speed, timed

ROUNDS = 7


def figures(setting: Setting, label: str) -> Iterator[Figure]:
    """Our speed as part of the plain loop's, opening left out: the whole file in one run, as the search for
    errors, the hashes and the small pictures read it; and reading ahead, which keeps what its memory allows.
    """
    path = large(setting, label)
    for what, work, reach in (("decode", _ours, 0.95), ("decode, pictures kept", _kept, None)):
        contestants = {OURS: work, PLAIN: plainly, OPENCV: _opencvs}
        turns = {name: lambda _, work=work: work(path) for name, work in contestants.items()}
        seconds = interleaved(turns, setting.rounds(ROUNDS))
        beside = frames_a_second(seconds, len(plain.ticks(path)))
        yield speed(f"sequential {what} / plain libav, {label}", seconds, at_least=reach, beside=beside)


def plainly(path: Path) -> float:
    """Seconds of a plain loop over all frames, by several threads."""
    source = plain.opened(path)
    with source[0]:
        return timed(lambda: plain.decode(source))


def _ours(path: Path) -> float:
    with open_recording(path) as recording:
        reader = recording.reader(SWIFT)
        try:
            return timed(lambda: sum(1 for _ in reader.run_from(FROM_START)))
        finally:
            reader.close()


def _kept(path: Path) -> float:
    with open_recording(path) as recording:
        last = len(recording.facts.pts) - 1
        return timed(lambda: sum(1 for _ in recording.read(0, last)))


def _opencvs(path: Path) -> float:
    capture = opencv.opened(path)
    try:
        return timed(lambda: opencv.decode(capture))
    finally:
        capture.release()
