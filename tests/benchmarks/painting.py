"""From a frame that is decoded to its picture on the screen, conversion and painting together."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TypeVar

import numpy as np
from av.video.frame import VideoFrame
from av.video.reformatter import Interpolation, VideoReformatter
from numpy.typing import NDArray
from PyQt6 import sip
from PyQt6.QtCore import QPointF, QRectF, QSize, QSizeF, Qt
from PyQt6.QtGui import QImage, QPainter, QPaintEvent
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QWidget

from reviewer.desk.evidence import EvidenceView
from reviewer.video import open_recording
from reviewer.video.colour import converter
from reviewer.video.orientation import Orientation
from tests.benchmarks import opencv, plain
from tests.benchmarks.clips import Setting, large
from tests.benchmarks.figures import OPENCV, OURS, Figure, cost, each_in_ms, interleaved, timed
from tests.benchmarks.watching import LateError, desk

ROUNDS, EACH, BEFORE, TARGET = 15, 10, 24, 1.5
USUAL, ACCURATE, EXACT = "libav's usual conversion", "libav's accurate conversion", "our conversion, bare"
FLAGS = Interpolation.BILINEAR | Interpolation.ACCURATE_RND | Interpolation.FULL_CHR_H_INT
KEPT = Qt.AspectRatioMode.KeepAspectRatio
RGB32, BGR888 = QImage.Format.Format_RGB32, QImage.Format.Format_BGR888

Kind = TypeVar("Kind", bound=QWidget)


def figures(setting: Setting, label: str) -> Iterator[Figure]:
    """`Recording.picture`, `EvidenceView.put` and repaint over converting and ``drawImage``, same size."""
    path = large(setting, label)
    with desk(setting) as bench:
        size = bench.window.evidence.size()
        view, bare = _shown(EvidenceView(), size), _shown(Bare(), size)
        with plain.opened(path)[0] as container:
            frames = [frame for _, frame in zip(range(EACH), container.decode(video=0), strict=False)]
            turns = {
                OURS: lambda _: _ours(path, view),
                **_bare_turns(frames, bare),
                OPENCV: lambda _: _opencvs(path, bare),
            }
            seconds = interleaved(turns, setting.rounds(ROUNDS))
    for over in (USUAL, EXACT):
        what = f"decoded frame → painted / ({over} + drawImage), {label}"
        yield cost(what, seconds, over=over, at_most=TARGET, beside=each_in_ms(seconds, EACH))


@dataclass(frozen=True, slots=True)
class Converted:
    """Rows of blue, green and red in memory, and what that memory belongs to."""

    address: int
    size: tuple[int, int]
    line: int
    owner: object

    def image(self, kind: QImage.Format) -> QImage:
        """The same memory as Qt's image."""
        return QImage(sip.voidptr(self.address), self.size[0], self.size[1], self.line, kind)


class Bare(QWidget):
    """A widget that does nothing but draw one image, whole, in its middle."""

    image = QImage()

    def paintEvent(self, event: QPaintEvent | None) -> None:  # noqa: N802
        """Draw it, smoothly, as the desk does."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        room = QRectF(QPointF(), QSizeF(self.image.size()).scaled(QSizeF(self.size()), KEPT))
        room.moveCenter(QRectF(self.rect()).center())
        painter.drawImage(room, self.image)

    def seconds(self, conversion: Callable[[], Converted], kind: QImage.Format = RGB32) -> float:
        """How long converting and painting takes."""

        def work() -> None:
            converted = conversion()
            self.image = converted.image(kind)
            self.repaint()
            self.image = QImage()  # its memory goes with what was converted

        return timed(work)


def _ours(path: Path, view: EvidenceView) -> float:
    """The frames wait decoded in the recording's memory. So many are shown before that the memory of shown
    pictures is full, as it is after the first second of work: from then on it is used again.
    """
    with open_recording(path) as recording:
        for _ in recording.read(0, EACH + BEFORE):
            pass
        for number in range(EACH, EACH + BEFORE):
            view.put(recording.picture(number))
            view.repaint()

        def work(number: int) -> None:
            view.put(recording.picture(number))
            view.repaint()

        return sum(timed(partial(work, number)) for number in range(EACH))


def _bare_turns(frames: list[VideoFrame], bare: Bare) -> dict[str, Callable[[int], float]]:
    usual, accurate = VideoReformatter(), VideoReformatter()
    exact = converter((frames[0].width, frames[0].height), Orientation())
    conversions: dict[str, Callable[[VideoFrame], Converted]] = {
        USUAL: lambda frame: _of_frame(usual.reformat(frame, format="bgra")),
        ACCURATE: lambda frame: _of_frame(accurate.reformat(frame, format="bgra", interpolation=FLAGS)),
        EXACT: lambda frame: _of_rows(exact.pixels(frame)),
    }

    def turn(convert: Callable[[VideoFrame], Converted], _: int) -> float:
        return sum(bare.seconds(partial(convert, frame)) for frame in frames)

    return {name: partial(turn, convert) for name, convert in conversions.items()}


def _opencvs(path: Path, bare: Bare) -> float:
    """Grabbing decodes and is left out; retrieving converts, to three bytes a pixel."""
    capture, seconds = opencv.opened(path), 0.0
    for _ in range(EACH):
        capture.grab()
        seconds += bare.seconds(lambda: _of_rows(np.asarray(capture.retrieve()[1], np.uint8)), BGR888)
    capture.release()
    return seconds


def _of_frame(frame: VideoFrame) -> Converted:
    plane = frame.planes[0]
    return Converted(plane.buffer_ptr, (frame.width, frame.height), plane.line_size, frame)


def _of_rows(rows: NDArray[np.uint8]) -> Converted:
    height, width = rows.shape[:2]
    return Converted(rows.ctypes.data, (width, height), rows.strides[0], rows)


def _shown(widget: Kind, size: QSize) -> Kind:
    widget.resize(size)
    widget.show()
    if not QTest.qWaitForWindowExposed(widget):
        raise LateError("a window did not appear")
    return widget
