"""What was measured before on the recording on the screen: taken up again, and drawn over its frame."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from reviewer import drawing, measuring
from reviewer.desk.bench import Bench
from reviewer.terms.readings import Clicks, Reading, Requirement
from reviewer.terms.shapes import Shape, Spot


@dataclass(frozen=True, slots=True)
class Kept:
    """Clicks of one frame that a case keeps.

    Attributes:
        id: of the reading or the track they are part of.
        clicks: as they were made.
        reading: that was found from them; None where they were followed.
    """

    id: str
    clicks: Clicks
    reading: Reading | None

    @property
    def spots(self) -> dict[str, Spot]:
        """Point to where it was clicked; a joint's further clicks are numbered, such as ``hip 2``."""
        body = {
            joint if number == 1 else f"{joint} {number}": spot
            for joint, spots in self.clicks.body
            for number, spot in enumerate(spots, 1)
        }
        return {**body, **dict(self.clicks.apparatus)}


class Before:
    """Reads the case's readings and tracks once for each change of the case."""

    def __init__(self, bench: Bench) -> None:
        self._bench = bench
        self._readings: tuple[Reading, ...] | None = None
        self._tracks: tuple[measuring.KeptTrack, ...] = ()
        bench.changed.connect(self._forget)

    def on_frame(self, frame: int | None) -> Kept | None:
        """What was clicked on a frame: what the chosen mark cites, else the latest."""
        found = [one for one in self._newest_first() if one.clicks.frame == frame]
        chosen = self._bench.chosen_mark()
        cited = chosen.angle.reading if chosen is not None and chosen.angle is not None else None
        return next((one for one in found if one.id == cited), found[0] if found else None)

    def bars(self) -> Clicks | None:
        """The latest clicks with enough of the bars to solve for the camera."""
        return next(
            (one.clicks for one in self._newest_first() if len(one.clicks.apparatus) >= measuring.FEWEST),
            None,
        )

    def shapes(self) -> tuple[Shape, ...]:
        """The readings on the frame on the screen that marks cite, and the tops of followed casts."""
        cited = {mark.angle.reading for mark in self._bench.marks if mark.angle}
        return (*self._of_readings(cited), *self._of_tops(cited))

    def _of_readings(self, cited: set[str | None]) -> Iterator[Shape]:
        bench = self._bench
        for one in self._known()[0]:
            if one.id in cited and one.pts is not None and one.pts == bench.pts and self._is_here(one.id):
                yield from drawing.protractor(one, self._limit_of(one), measuring.dial(one.clicks), bench.say)

    def _of_tops(self, cited: set[str | None]) -> Iterator[Shape]:
        bench = self._bench
        for one in self._known()[1]:
            document = one.document
            top = document["top"]
            if one.id not in cited or top is None or top["pts"] != bench.pts or not self._is_here(one.id):
                continue
            frame = next(f for f in document["frames"] if f["frame"] == top["frame"])
            line = str(document.get("through") or document["line"])
            yield from drawing.followed(frame, line, one.clicks[0].picture, bench.say)

    def _newest_first(self) -> Iterator[Kept]:
        readings, tracks = self._known()
        found = [Kept(one.id, one.clicks, one) for one in readings]
        found += [Kept(one.id, clicks, None) for one in tracks for clicks in one.clicks]
        here = (one for one in found if self._is_here(one.id))
        yield from sorted(here, key=_number, reverse=True)

    def _known(self) -> tuple[tuple[Reading, ...], tuple[measuring.KeptTrack, ...]]:
        audit = self._bench.audit
        if self._readings is None:
            self._readings = audit.readings if audit is not None else ()
            self._tracks = audit.tracks if audit is not None else ()
        return self._readings, self._tracks

    def _forget(self, _: object) -> None:
        self._readings = None

    def _is_here(self, evidence: str) -> bool:
        audit = self._bench.audit
        return audit is not None and self._bench.is_here(audit.reading_on(evidence))

    def _limit_of(self, reading: Reading) -> Requirement | None:
        book = self._bench.book
        own = book is not None and reading.clicks.line == book.cast.line
        return book.cast.requirement if book is not None and own else None


def _number(one: Kept) -> int:
    """How late it was kept: ids count up."""
    found = re.search(r"\d+$", one.id)
    return int(found[0]) if found else 0
