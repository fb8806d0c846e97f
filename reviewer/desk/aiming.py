"""The protractor's points by keys alone: put down where one is looking, then moved until they lie right."""

from collections.abc import Callable
from functools import partial

from PyQt6.QtCore import QPointF

from reviewer.desk.bench import Bench
from reviewer.desk.evidence import EvidenceView
from reviewer.desk.protractor import Protractor

PIXEL, FAR = 4, 40
"""Quarters of a pixel that a step and a far step move a point."""
WAYS = {"left": (-1, 0), "right": (1, 0), "up": (0, -1), "down": (0, 1)}


class Aiming:
    """Puts points down and moves the one in hand."""

    def __init__(self, bench: Bench, protractor: Protractor, evidence: EvidenceView) -> None:
        self._bench, self._protractor, self._evidence = bench, protractor, evidence

    def doings(self) -> dict[str, Callable[[], object]]:
        """What can be done while the protractor is laid, by the names of the key table."""
        nudge = self._protractor.nudge
        near = {f"nudge-{way}": partial(nudge, x, y) for way, (x, y) in WAYS.items()}
        step = {f"step-{way}": partial(nudge, PIXEL * x, PIXEL * y) for way, (x, y) in WAYS.items()}
        far = {f"move-{way}": partial(nudge, FAR * x, FAR * y) for way, (x, y) in WAYS.items()}
        return {"point-here": self._put, **near, **step, **far}

    def _put(self) -> None:
        """The point asked for: beside the one put down last, the first in the middle of what is seen."""
        if self._protractor.wanted() is None:
            self._bench.said.emit(self._bench.say("All points are placed."), False)
            return
        view, last = self._evidence, self._protractor.looked_at
        middle = QPointF(view.width() / 2, view.height() / 2)
        self._protractor.place(last or view.spot_under(middle))
