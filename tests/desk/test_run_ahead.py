"""Pictures made ready before their time: one that was driven out of memory meanwhile is made again."""

import time
from collections.abc import Iterator
from threading import Condition
from types import SimpleNamespace
from typing import Any, cast

from reviewer.desk.pace import Passage
from reviewer.desk.runahead import RunAhead
from reviewer.video import Recording


class Narrow:
    """A recording whose memory holds one picture: going before the first frame drives that one out, once."""

    facts = SimpleNamespace(missing=())

    def __init__(self) -> None:
        self.held: set[int] = set()
        self.went_before = 0

    def at_hand(self, frame: int) -> Any:
        return frame if frame in self.held else None

    def make_shown(self, frames: tuple[int, ...]) -> Iterator[None]:
        self.held = set(frames)
        yield

    def run_before(self, frame: int, step: int) -> Iterator[None]:
        self.went_before += 1
        if self.went_before == 1:
            self.held = {frame + step}
        yield


def test_a_picture_that_was_driven_out_before_it_was_taken_is_made_again() -> None:
    recording, bell = Narrow(), Condition()
    with RunAhead(cast(Recording, recording), Passage(0, 0, 9), bell) as ahead:
        end = time.monotonic() + 5
        while not recording.went_before and time.monotonic() < end:
            time.sleep(0.01)
        time.sleep(0.05)
        ahead.ask(0)
        with bell:
            assert bell.wait_for(lambda: ahead.has(0), timeout=5), "playing would stand still for good"
