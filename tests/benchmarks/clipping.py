"""A clip of a whole recording with something drawn over each picture, over the shortest loop that makes one.

The plain loop decodes with all threads, lays the same pixels over each picture with libavfilter and encodes
with the same settings; it neither looks for errors nor converts colours the one pinned way.
"""

from collections.abc import Iterator
from fractions import Fraction
from io import BytesIO
from pathlib import Path

import av
from av.filter import Graph
from av.video.frame import PictureType

from reviewer import drawing
from reviewer.terms.clips import Laid, Scene, Sheet
from reviewer.terms.exact import Pixels
from reviewer.terms.shapes import Label, Ring, Segment, Shape, Spot
from reviewer.video import open_recording, write_clip
from reviewer.video.clipping import CODING
from tests.benchmarks import plain
from tests.benchmarks.clips import Setting, large
from tests.benchmarks.figures import OURS, PLAIN, Figure, cost, each_in_ms, interleaved, timed

ROUNDS = 3


def figures(setting: Setting, label: str) -> Iterator[Figure]:
    """Ours over the plain loop, decoding, drawing and encoding included."""
    path, out = large(setting, label), setting.scratch / "clip.mp4"
    with open_recording(path) as recording:
        size, count = recording.facts.displayed, len(recording.facts.pts)
    corners = tuple(
        Ring(Spot(Pixels(1000 * x), Pixels(1000 * y)), Pixels(9), "joint") for x, y in ((0, 0), size)
    )
    drawn, _ = drawing.overlay((*_shapes(), *corners), size, size)
    contestants = {
        OURS: lambda _: timed(lambda: _ours(path, out, drawn)),
        PLAIN: lambda _: timed(lambda: plainly(path, out, drawn)),
    }
    seconds = interleaved(contestants, setting.rounds(ROUNDS))
    what = f"clip drawn over / plain libav decode, draw, encode, {label}"
    yield cost(what, seconds, at_most=1.2, beside=each_in_ms(seconds, count))


def _shapes() -> tuple[Shape, ...]:
    first, second = (Spot(Pixels(1000 * x), Pixels(1000 * y)) for x, y in ((600, 400), (1100, 700)))
    ring = Ring(first, Pixels(12_000), "joint")
    return Segment(first, second, "body-line"), ring, Label(first, "−43.2° ± 1.2° (95 %)", "number")


def _ours(path: Path, out: Path, drawn: bytes) -> None:
    with open_recording(path) as recording:
        pts, size = recording.facts.pts, recording.facts.displayed
        lasting = [
            after - before for before, after in zip(pts, [*pts[1:], 2 * pts[-1] - pts[-2]], strict=True)
        ]
        sheets = (Sheet(drawn, (0, 0)),)
        scenes = (
            Scene((Laid(picture, (), (0, 0), size),), sheets, lasting[picture.frame])
            for picture in recording.cut(0, len(pts) - 1)
        )
        write_clip(out, scenes, size, recording.facts.time_base.denominator, lambda: True)


def plainly(path: Path, out: Path, drawn: bytes) -> None:
    """Decode, lay pixels over, encode; nothing else."""
    container, stream = plain.opened(path)
    base = stream.time_base or Fraction(1)
    graph, size = Graph(), f"video_size={stream.width}x{stream.height}"
    below = graph.add("buffer", f"{size}:pix_fmt={stream.pix_fmt}:time_base={base}")
    above = graph.add("buffer", f"{size}:pix_fmt=yuva420p:time_base={base}")
    over, sink = graph.add("overlay", "format=yuv420"), graph.add("buffersink")
    below.link_to(over, 0, 0)
    above.link_to(over, 0, 1)
    over.link_to(sink)
    graph.configure()
    with av.open(BytesIO(drawn), format="png_pipe") as file:
        layer = next(file.decode(video=0)).reformat(format="yuva420p")
    layer.pts, layer.time_base = 0, base
    above.push(layer)
    above.push(None)
    with container, av.open(str(out), "w") as made:
        coded = made.add_stream("libx264", rate=60, options=CODING)
        coded.width, coded.height, coded.pix_fmt = stream.width, stream.height, "yuv420p"
        coded.codec_context.time_base = base
        for frame in container.decode(stream):
            below.push(frame)
            shown = sink.pull()
            shown.pict_type = PictureType.NONE
            made.mux(coded.encode(shown))
        made.mux(coded.encode(None))
