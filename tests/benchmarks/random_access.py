"""One frame anywhere, nothing near it decoded before."""

import random
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from functools import partial
from pathlib import Path

from av.video.frame import VideoFrame

from reviewer.video import Recording, open_recording
from tests.benchmarks import opencv, plain
from tests.benchmarks.clips import Setting, large
from tests.benchmarks.figures import OPENCV, OURS, PLAIN, Figure, cost, each_in_ms, interleaved, timed

ROUNDS, EACH = 8, 5
THREADS = {f"{PLAIN}, threads {kind}": kind for kind in ("AUTO", "NONE")}
Access = Callable[[int], float]


def figures(setting: Setting, label: str) -> Iterator[Figure]:
    """Our time as part of that of a seek and decoding forward to the frame's time.

    Within a round the frames come from the last to the first, so that none lies ahead of where decoding
    stands. Nothing is asked where a plain loop arrived elsewhere: it is no yardstick then.
    """
    path = large(setting, label)
    chance, frames, rounds = random.Random(label), range(len(plain.ticks(path))), setting.rounds(ROUNDS)
    orders = [sorted(chance.sample(frames, EACH), reverse=True) for _ in range(rounds)]
    astray: list[int] = []
    with ExitStack() as open_files:
        accesses = _accesses(path, open_files, astray)
        turns = {name: partial(_in_turn, access, orders) for name, access in accesses.items()}
        seconds = interleaved(turns, rounds)
    arrived = 100 - 100 * len(astray) / (len(THREADS) * rounds * EACH)
    beside = {**each_in_ms(seconds, EACH), f"{PLAIN} arrived, %": arrived}
    for name, kind in THREADS.items():
        what = f"random access cold / (seek + decode forward, threads {kind}), {label}"
        yield cost(what, seconds, over=name, at_most=None if astray else 1.10, beside=beside)


def _in_turn(access: Access, orders: list[list[int]], turn: int) -> float:
    return sum(map(access, orders[turn]))


def _accesses(path: Path, open_files: ExitStack, astray: list[int]) -> dict[str, Access]:
    """Every contestant's way to a frame by number: seconds it took."""
    recording, capture = open_files.enter_context(open_recording(path)), opencv.opened(path)
    open_files.callback(capture.release)
    accesses: dict[str, Access] = {OURS: partial(_ours, recording)}
    for name, kind in THREADS.items():
        source = plain.opened(path, kind)
        open_files.enter_context(source[0])
        accesses[name] = _plainly(source, plain.ticks(path), plain.aims(path), astray)
    accesses[OPENCV] = lambda frame: timed(lambda: opencv.decoded(capture, frame))
    return accesses


def _ours(recording: Recording, frame: int) -> float:
    recording._kept.clear()  # there is no public way to let go of pictures and keep the file open
    return timed(lambda: sum(1 for _ in recording.read(frame, frame)))


def _plainly(
    source: plain.Opened, ticks: tuple[int, ...], aims: tuple[int, ...], astray: list[int]
) -> Access:
    def access(frame: int) -> float:
        found: list[VideoFrame | None] = []
        seconds = timed(lambda: found.append(plain.sought(source, ticks[frame], aims[frame])))
        if found[0] is None or found[0].pts != ticks[frame]:
            astray.append(frame)
        return seconds

    return access
