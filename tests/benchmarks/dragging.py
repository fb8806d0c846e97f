"""Dragging along the routine strip after the background pass: the small picture of each place at once."""

from collections.abc import Iterator
from functools import partial
from time import perf_counter

from PyQt6.QtCore import QEvent, QPointF, Qt
from PyQt6.QtGui import QMouseEvent
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication

from tests.benchmarks.clips import Setting, large
from tests.benchmarks.figures import Figure
from tests.benchmarks.latencies import answered, without_a_desk
from tests.benchmarks.watching import A_PICTURE, Desk, desk, rest

MOVES, A_SECOND, LIMIT, PLAINLY, ACROSS = 150, 60, 1.0, 3, 20.0


def figures(setting: Setting, label: str) -> Iterator[Figure]:
    """Mouse move delivered to paint returned of the frame at that place, small or full."""
    path = large(setting, label)
    moves = setting.rounds(MOVES)
    with desk(setting) as bench:
        bench.open(path)
        taken = _dragged(bench, moves)
        small = sum(not paint.full for paint in bench.paints) / max(1, len(bench.paints))
        frames = bench.frames
    spread = [frames * place // (PLAINLY + 1) for place in range(1, PLAINLY + 1)]
    beside = {"small pictures, %": 100 * small, **without_a_desk(path, spread)}
    what = f"drag along the strip, input → paint, {label}"
    yield answered(what, taken, 1000 * LIMIT, beside, A_PICTURE if label == "2160p60" else None)


def _dragged(bench: Desk, moves: int) -> list[float | None]:
    """Down the lane and up again, as a judge does who looks for something."""
    strip, wanted = bench.window.strip, [0]
    strip.sought.connect(lambda frame: wanted.__setitem__(0, frame))
    top, bottom = _ends(bench)
    QTest.mousePress(strip, Qt.MouseButton.LeftButton, pos=QPointF(ACROSS, top).toPoint())
    QTest.qWait(300)
    bench.paints.clear()
    taken = []
    for move in range(1, moves + 1):
        due = perf_counter() + 1 / A_SECOND
        down = 1 - abs(2 * move / moves - 1)
        event = _move(bench, top + (bottom - top) * down)
        taken.append(
            bench.latency(
                partial(QApplication.sendEvent, strip, event),
                lambda paint: paint.frame == wanted[0],
                LIMIT,
            )
        )
        rest(due)
    QTest.mouseRelease(strip, Qt.MouseButton.LeftButton)
    return taken


def _ends(bench: Desk) -> tuple[float, float]:
    facts = bench.window.bench.facts
    assert facts is not None
    return bench.window.strip.y_of(facts.pts[0]), bench.window.strip.y_of(facts.pts[-1])


def _move(bench: Desk, y: float) -> QMouseEvent:
    strip, place = bench.window.strip, QPointF(ACROSS, y)
    held, none = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    return QMouseEvent(QEvent.Type.MouseMove, place, strip.mapToGlobal(place), held, held, none)
