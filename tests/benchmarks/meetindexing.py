"""How quickly the recordings of a meet are read, and what a case costs in small meets and in large ones.

Copies of one recording that differ in their bytes (a box that players pass over) are read by two spawned
processes: fingerprint, ticks, small pictures, all kept as the command line does. In turns with it two spawned
processes of bare loops over libav do the same (`same_work`), or no more than hash and decode every frame
(`decode_alone`), which small pictures come on top of.
"""

import subprocess
import sys
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, ProcessPoolExecutor, ThreadPoolExecutor
from fractions import Fraction
from hashlib import sha256
from multiprocessing import get_context
from pathlib import Path
from shutil import rmtree
from statistics import median
from tempfile import mkdtemp
from unittest.mock import patch

from av.codec.context import CodecContext
from av.video.codeccontext import VideoCodecContext
from av.video.reformatter import Interpolation, VideoReformatter

from reviewer import actions
from reviewer.actions import meetindexing
from reviewer.actions.meetfilms import read_recordings
from reviewer.actions.meetrecordings import recordings_below
from reviewer.shelf import open_register
from reviewer.video import SmallStore
from tests.benchmarks.clips import SOURCE, Setting
from tests.benchmarks.figures import OURS, Figure, interleaved, ratios, timed
from tests.benchmarks.plain import decode, opened

PROCESSES, ROUNDS, COPIES, SECONDS = 2, 3, 8, 30
SMALL = (480, 270)
FEW, MANY = 50, 400
MEETS = (100, 1000, 10_000)
SAME, DECODED = "bare loops of the same work", "bare loops that hash and decode"


def figures(setting: Setting, _: str) -> Iterator[Figure]:
    """Speed beside bare loops; memory among few and many; a stop and the rest; cases."""
    yield from _speed(setting)
    yield from _memory(setting)
    yield _resumed(setting)
    yield from _cases(setting)


def _speed(setting: Setting) -> Iterator[Figure]:
    films = _copies(setting.scratch / "films", _routine(setting), 2 if setting.quick else COPIES)
    paths = sorted(films.iterdir())
    with _pool() as workers:
        turns = {
            OURS: lambda _: timed(lambda: _read(films, workers, setting)),
            SAME: lambda _: timed(lambda: list(workers.map(same_work, paths))),
            DECODED: lambda _: timed(lambda: list(workers.map(decode_alone, paths))),
        }
        for turn in turns.values():
            turn(0)  # processes started and warm
        seconds = interleaved(turns, setting.rounds(ROUNDS))
        without = timed(lambda: _read(films, workers, setting, pictures=False))
    beside = {f"{name}, s": median(taken) for name, taken in seconds.items()}
    beside["ours without pictures, s"] = without
    beside["recordings"], beside["frames of each"] = len(paths), decode(opened(paths[0]))
    for other in (SAME, DECODED):
        found = ratios(seconds, other, OURS)
        what = f"recordings read by two processes / {other}"
        yield Figure(what, median(found), "x", len(found), min(found), max(found), 0.9, None, beside)


def _read(films: Path, workers: Executor, setting: Setting, *, pictures: bool = True) -> int:
    """Every recording of a folder, into an empty register and an empty store; how many."""
    meet = Path(mkdtemp(dir=setting.scratch))
    store = SmallStore(meet / "small", 1 << 34) if pictures else None
    work = actions.Work(workers, 2 * PROCESSES, 1)
    with open_register(meet) as register:
        done = sum(1 for _ in read_recordings(films, recordings_below(films), register, store, work))
        assert not list(register.problems())
    rmtree(meet)
    return done


def decode_alone(path: Path) -> int:
    """Hash the bytes and decode every frame, by one thread."""
    _hash(path)
    source = opened(path, "NONE")
    with source[0]:
        return decode(source)


def same_work(path: Path) -> int:
    """The same, and a small picture of every frame as a JPEG, written to a file."""
    _hash(path)
    container, stream = opened(path, "NONE")
    made, scaler, encoder = path.with_suffix(".pictures"), VideoReformatter(), _encoder()
    with container, made.open("wb", buffering=0) as out:
        for number, frame in enumerate(container.decode(stream)):
            small = scaler.reformat(
                frame, *SMALL, format="yuvj420p", interpolation=Interpolation.AREA, threads=1
            )
            small.pts, small.time_base = number, encoder.time_base
            for packet in encoder.encode(small):
                out.write(packet)
    made.unlink()
    return number


def _encoder() -> VideoCodecContext:
    encoder = CodecContext.create("mjpeg", "w")
    assert isinstance(encoder, VideoCodecContext)
    encoder.width, encoder.height, encoder.pix_fmt = *SMALL, "yuvj420p"
    encoder.time_base, encoder.thread_count = Fraction(1, 25), 1
    encoder.flags |= 1 << 1  # a quality that stays, as ours: quantiser 5 in libavcodec's unit
    encoder.global_quality = 5 * 118
    return encoder


def _hash(path: Path) -> None:
    digest = sha256()
    with path.open("rb") as file:
        while chunk := file.read(1 << 20):
            digest.update(chunk)


def _memory(setting: Setting) -> Iterator[Figure]:
    """Greatest resident memory of the giving process and of the largest worker, by a new program each."""
    film = _tiny(setting)
    few, many = (FEW // 5, MANY // 20) if setting.quick else (FEW, MANY)
    sizes: dict[int, tuple[float, float]] = {}
    for number in (few, many):
        films = _copies(setting.scratch / f"memory-{number}", film, number)
        code = "from tests.benchmarks.meetindexing import measure; measure()"
        command = [sys.executable, "-c", code, str(films), str(setting.scratch)]
        said = subprocess.run(command, check=True, capture_output=True, text=True).stdout.split()
        sizes[number] = float(said[-2]), float(said[-1])
    for place, who in enumerate(("the process that gives the work", "the largest worker")):
        found = sizes[many][place] / sizes[few][place]
        beside = {f"{number} recordings, MiB": one[place] for number, one in sizes.items()}
        what = f"memory of {who}, {many} recordings / {few}"
        yield Figure(what, found, "x", 1, found, found, None, 1.1, beside)


def measure() -> None:
    """Read the folder that is named; print the greatest memory of this process and of its children, MiB."""
    from resource import RUSAGE_CHILDREN, RUSAGE_SELF, getrusage

    films, scratch = map(Path, sys.argv[1:])
    with _pool() as workers:
        _read(films, workers, Setting(scratch, scratch, quick=False))
    print(*(getrusage(who).ru_maxrss / 1024 for who in (RUSAGE_SELF, RUSAGE_CHILDREN)))


def _resumed(setting: Setting) -> Figure:
    """Recordings read by a run that is stopped half-way and by the one after it: none twice."""
    number = 10 if setting.quick else FEW
    films = _copies(setting.scratch / "stopped", _tiny(setting), number)
    meet = _meet(setting.scratch / "stopped-meet", number, films)
    store = SmallStore(setting.scratch / "small", 1 << 34)
    with _pool() as workers, patch.object(meetindexing, "_store", lambda: store):
        first = _index(meet, workers, lambda what, done, all_: done < number // 2)
        rest = _index(meet, workers)
    twice = first.recordings + rest.recordings - number
    beside = {"read before the stop": first.recordings, "read after it": rest.recordings}
    return Figure("recordings read twice after a stop", twice, "", 1, twice, twice, None, 0, beside)


def _cases(setting: Setting) -> Iterator[Figure]:
    """A meet begun, and its cases made, without recordings: milliseconds a routine."""
    meets = MEETS[:1] if setting.quick else MEETS
    each: dict[int, float] = {}
    for number in meets:
        table = _table(setting.scratch / f"{number}.csv", number)
        folder = setting.scratch / f"meet-{number}"
        begun = timed(lambda: actions.begin_meet(table, folder, rule_book="demo-bars-2"))  # noqa: B023
        with ThreadPoolExecutor(1) as workers:
            made = timed(lambda: _index(folder, workers))  # noqa: B023
            again = timed(lambda: _index(folder, workers))  # noqa: B023
        each[number] = 1000 * (begun + made) / number
        told = {"begun, s": begun, "cases made, s": made, "indexed again, s": again}
        what = f"a routine of {number}, from table to case"
        yield Figure(what, each[number], "ms", 1, each[number], each[number], None, 50, told)
        rmtree(folder)


def _index(
    meet: Path, workers: Executor, progress: Callable[[str, int, int], bool] = lambda *_: True
) -> actions.MeetIndexed:
    work = actions.Work(workers, 2 * PROCESSES, 1)
    return actions.index_meet(meet, actions.Indexing("A", "not recorded", work, progress=progress))


def _meet(folder: Path, number: int, films: Path) -> Path:
    actions.begin_meet(
        _table(folder.with_suffix(".csv"), number), folder, rule_book="demo-bars-2", recordings=films
    )
    return folder


def _table(path: Path, number: int) -> Path:
    rows = "".join(f"{one},G-{one},9.5,8.5,8.6,8.55,8.55\n" for one in range(number))
    path.write_text(f"start,athlete,start value,judge A,judge B,average,final\n{rows}", encoding="utf-8")
    return path


def _pool() -> ProcessPoolExecutor:
    return ProcessPoolExecutor(PROCESSES, get_context("spawn"))


def _copies(folder: Path, film: Path, number: int) -> Path:
    """The recording so often, each in other bytes: a ``free`` box behind it (ISO/IEC 14496-12, 8.1.2)."""
    folder.mkdir()
    data = film.read_bytes()
    for one in range(number):
        box = (16).to_bytes(4, "big") + b"free" + one.to_bytes(8, "big")
        (folder / f"{one}.mp4").write_bytes(data + box)
    return folder


def _routine(setting: Setting) -> Path:
    """A routine as a camera records it: 1080p, 60 frames a second, 12 megabits, grain over drawn pictures."""
    seconds = 2 if setting.quick else SECONDS
    pictures = "scale=1920:1080,fps=60,noise=alls=12:allf=t"
    return _drawn(setting.folder / f"routine-{seconds}s.mp4", pictures, seconds, "-b:v", "12M", "-bf", "3")


def _tiny(setting: Setting) -> Path:
    return _drawn(setting.folder / "tiny.mp4", "scale=320:180,fps=30", 2)


def _drawn(path: Path, pictures: str, seconds: int, *coding: str) -> Path:
    if not path.exists():
        unfinished = path.with_name(f"unfinished-{path.name}")
        source = ("-stream_loop", "9", "-i", str(SOURCE), "-t", str(seconds), "-an", "-vf", pictures)
        coded = ("-c:v", "libx264", "-preset", "veryfast", "-pix_fmt", "yuv420p", "-g", "250", *coding)
        command = ["ffmpeg", "-v", "error", "-nostdin", "-y", *source, *coded, str(unfinished)]
        subprocess.run(command, check=True, capture_output=True)
        unfinished.replace(path)
    return path
