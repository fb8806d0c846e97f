"""What a report of forty stills costs: page, paper and finding over the plainest way to the same stills.

The plainest way decodes each group of pictures that a still lies in once, from its key frame to the last
still in it, with all threads, and makes each still a JPEG once. Beside it stands what typesetting takes by
itself: typst setting a paper whose page and pictures are ready.
"""

import json
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import av
from av.video.reformatter import ColorRange, Colorspace, VideoReformatter

from reviewer import actions, reports
from tests.benchmarks import plain
from tests.benchmarks.clips import Setting, kind_of, large
from tests.benchmarks.figures import OURS, PLAIN, Figure, cost, each_in_ms, interleaved, timed

STILLS, ROUNDS, MOST = 40, 9, 6_000_000


def figures(setting: Setting, label: str) -> Iterator[Figure]:
    """The whole report over the plainest way to its stills and typesetting; how large its page is."""
    path, rounds = large(setting, label), setting.rounds(ROUNDS)
    frames = _frames(len(plain.ticks(path)))
    case = _case(setting.scratch / "forty.case", path, frames)
    folder = setting.scratch / "report"
    with actions.open_case(case, author=None, recording=path) as audit, ThreadPoolExecutor() as threads:
        actions.write_report(audit, folder)
        finding = json.loads((folder / "report.json").read_bytes())
        assert len(finding["stills"]) == STILLS
        sizes = _sizes(folder)
        group = kind_of(setting, label).group
        seconds = interleaved(
            {
                OURS: lambda _: timed(lambda: actions.write_report(audit, folder, workers=threads)),
                PLAIN: lambda _: timed(lambda: _stills(path, frames, group)),
                "typesetting": lambda _: _typesetting(folder),
            },
            rounds,
        )
    pairs = zip(seconds[PLAIN], seconds["typesetting"], strict=True)
    least = {OURS: seconds[OURS], "both": [sum(pair) for pair in pairs]}
    beside = each_in_ms(seconds, 1) | {name: size / 1e6 for name, size in sizes.items()}
    what = f"report of {len(frames)} stills / (libav, each group once, + typesetting), {label}"
    yield cost(what, least, over="both", at_most=1.3, beside=beside)
    page = sizes["report.html, MB"] / 1e6
    yield Figure(f"page of {len(frames)} stills, {label}", page, "MB", 1, page, page, None, MOST / 1e6)


def _frames(count: int) -> list[int]:
    """Frames spread evenly over the recording, away from its ends."""
    return [(2 * n + 1) * count // (2 * STILLS) for n in range(STILLS)]


def _case(path: Path, recording: Path, frames: list[int]) -> Path:
    """A case with a fault on each frame."""
    with actions.start_case(
        path, author="A", athlete_code="G-40", consent="given", recording=recording
    ) as audit:
        cited = audit.state.recording
        assert cited is not None
        ticks = [audit.time(frame, None).pts for frame in frames]
        elements = [
            {"id": f"e{n}", "kind": "element", "code": "back-hip-circle", "start": tick - 1, "end": tick}
            for n, tick in enumerate(ticks)
        ]
        faults = [
            {
                "id": f"f{n}",
                "kind": "fault",
                "code": "feet",
                "element": f"e{n}",
                "amount": "0.050",
                "at": tick,
            }
            for n, tick in enumerate(ticks)
        ]
        marks = path.with_suffix(".json")
        document = {
            "format": "reviewer.marks/1",
            "rule_book": "demo-bars-2",
            "recording_sha256": cited.sha256,
        }
        document |= {"time_base": str(cited.base), "marks": [*elements, *faults]}
        marks.write_text(json.dumps(document), encoding="utf-8")
        actions.import_marks(audit, marks)
    return path


def _sizes(folder: Path) -> dict[str, float]:
    return {f"{file.name}, MB": file.stat().st_size for file in sorted(folder.iterdir())}


def _stills(path: Path, frames: list[int], group: int) -> None:
    """Each group once, from its key frame to its last still."""
    ticks = plain.ticks(path)
    container, stream = plain.opened(path)
    with container:
        for start in sorted({frame // group * group for frame in frames}):
            wanted = {ticks[frame] for frame in frames if frame // group * group == start}
            container.seek(ticks[start], stream=stream)
            for picture in container.decode(stream):
                if picture.pts in wanted:
                    wanted.discard(picture.pts)
                    _jpeg(picture)
                if not wanted:
                    break


def _jpeg(picture: av.VideoFrame) -> bytes:
    shown = VideoReformatter().reformat(
        picture, format="yuvj444p", dst_colorspace=Colorspace.ITU601, dst_color_range=ColorRange.JPEG
    )
    encoder = av.CodecContext.create("mjpeg", "w")
    assert isinstance(encoder, av.VideoCodecContext)
    encoder.width, encoder.height, encoder.pix_fmt = shown.width, shown.height, "yuvj444p"
    encoder.time_base, encoder.flags = picture.time_base, encoder.flags | 1 << 1
    encoder.global_quality = 31 * 118
    return b"".join(bytes(packet) for packet in [*encoder.encode(shown), *encoder.encode(None)])


def _typesetting(folder: Path) -> float:
    finding = json.loads((folder / "report.json").read_bytes())
    pictures = reports.pictures_in((folder / "report.html").read_text(encoding="utf-8"))
    attached = {name: (folder / name).read_bytes() for name in ("report.json", "case.json")}
    return timed(lambda: reports.paper(finding, pictures, attached))
