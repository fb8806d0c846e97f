"""A fall at the desk: when she stands, how long there is, when she goes on, what was so of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from PyQt6.QtCore import QObject
from PyQt6.QtWidgets import QLabel, QVBoxLayout, QWidget

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.buttons import button
from reviewer.desk.calls import CallError
from reviewer.desk.facts import TickGrid, facts_grid
from reviewer.desk.flowing import Flowing
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem
from reviewer.terms.provisions import Withheld
from reviewer.terms.times import FrameTime

if TYPE_CHECKING:
    from reviewer.actions import FallClock

MICRO = 1_000_000
FELL = "fell-before-completion"
"""Why credit is withheld: one of the closed list of reasons."""


class Falls(QObject):
    """What can be said of a fall: of the chosen one, or else the last one marked before this frame."""

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self._bench = bench

    def doings(self) -> dict[str, Callable[[], object]]:
        """What can be done here, by the names of the key table."""
        return {"stands": self.stands, "goes-on": self.goes_on, "last-in-time": self.show_last_in_time}

    def stands(self) -> bool:
        """She stands on her feet at the frame on the screen."""
        say = self._bench.say
        return self._bench.attempt(
            lambda: self._timed(actions.stands), say("She stands here; the time to go on runs.")
        )

    def goes_on(self) -> bool:
        """She goes on at the frame on the screen."""
        return self._bench.attempt(lambda: self._timed(actions.goes_on), self._bench.say("She goes on here."))

    def show_last_in_time(self) -> None:
        """Put the last frame that was in time on the screen."""
        bench = self._bench
        fall = self.fall()
        clock = self.clock(fall) if fall is not None else None
        if clock is not None and clock.on_feet is not None and clock.last is None:
            said = bench.say("The recording ends before the {limit} are over.", limit=clock.limit.within)
            bench.said.emit(said, True)
            return
        if clock is None or clock.last is None:
            bench.said.emit(bench.say("Say first when she stands on her feet."), True)
            return
        bench.wanted.emit(clock.last)
        bench.said.emit(bench.say("The last frame of the {limit}.", limit=clock.limit.within), False)

    def fall(self) -> Mark | None:
        """The fall that is meant: the chosen one, else the last one that does not lie after this frame."""
        bench = self._bench
        audit, chosen = bench.audit, bench.chosen_mark()
        if audit is None:
            return None
        if chosen is not None and actions.limit_after(audit, chosen) is not None:
            return chosen
        return actions.latest_fall(audit, [mark for mark in bench.marks if self._by_now(mark)])

    def clock(self, fall: Mark) -> FallClock | None:
        """How a fall marked on the recording on the screen stands against its time."""
        audit, facts = self._bench.audit, self._bench.facts
        if audit is None or facts is None or not self._bench.is_here(fall.recording):
            return None
        return actions.fall_clock(audit, fall, facts)

    def running(self) -> str:
        """What the clock of a fall says at the frame on the screen; empty where none runs."""
        fall, facts, picture = self.fall(), self._bench.facts, self._bench.picture
        clock = self.clock(fall) if fall is not None else None
        if clock is None or clock.on_feet is None or clock.goes_on is not None or not facts or not picture:
            return ""
        since = FrameTime(picture.time.pts - facts.pts[clock.on_feet], facts.time_base)
        if since.pts < 0:
            return ""
        return self._bench.say(
            "On her feet {seconds} s of {limit}", seconds=since.seconds(), limit=clock.limit.within
        )

    def _by_now(self, mark: Mark) -> bool:
        moment = self._bench.moment_here(mark)
        return moment is None or self._bench.pts is None or moment <= self._bench.pts

    def _timed(self, saying: Callable[..., actions.Change]) -> actions.Change:
        bench, fall = self._bench, self.fall()
        if fall is None or bench.facts is None or bench.pts is None or not bench.is_here(fall.recording):
            said = message("No fall is marked on this recording before this frame.")
            raise CallError(Problem("no-fall", "clock", said, message("Mark the fall first.")))
        return saying(bench.open_audit(), fall, bench.pts, bench.facts)


class FallRows(QWidget):
    """What was said of one fall, each part to be changed where it stands."""

    def __init__(self, bench: Bench, falls: Falls, fall: Mark) -> None:
        super().__init__()
        self._bench, self._falls, self._fall = bench, falls, fall
        say = bench.say
        self.setAccessibleName(say("The fall"))
        column, row = QVBoxLayout(self), Flowing()
        column.setContentsMargins(0, 0, 0, 0)
        told = QLabel(self._told())
        told.setWordWrap(True)
        column.addWidget(told)
        for words, does, doing in (
            (say("She stands here"), "stands", falls.stands),
            (say("She goes on here"), "goes-on", falls.goes_on),
            (say("Last in time"), "last-in-time", falls.show_last_in_time),
        ):
            row.add(button(words, doing, bench.tip(does)))
        column.addLayout(row)
        for grid in (self._conditions(), facts_grid(bench, here=True)):
            if grid is not None:
                column.addWidget(grid)

    def _told(self) -> str:
        """The state of the fall in words."""
        clock, say = self._falls.clock(self._fall), self._bench.say
        if clock is None:
            return say("Put the recording of this fall on the screen to time it.")
        if clock.on_feet is None:
            return say("Say when she stands on her feet: then {limit} run.", limit=clock.limit.within)
        stands = say("She stands at frame {frame}.", frame=clock.on_feet)
        if clock.took is None:
            limit = clock.limit.within
            if clock.last is None:
                return f"{stands} {say('The recording ends before the {limit} are over.', limit=limit)}"
            last = say("In time up to frame {frame} ({limit}).", frame=clock.last, limit=limit)
            return f"{stands} {last}"
        took = say(
            "She goes on at frame {frame}, after {seconds} s of {limit}: {verdict}.",
            frame=clock.goes_on,
            seconds=f"{clock.took.value / MICRO:.2f}",
            limit=clock.limit.within,
            verdict=say.word(clock.verdict),
        )
        return f"{stands} {took}"

    def _conditions(self) -> TickGrid | None:
        """What was so of the element she fell from."""
        bench, element = self._bench, self._bench.mark(self._fall.element)
        if element is None or bench.book is None:
            return None

        def turned(code: str, on: bool) -> None:
            others = tuple(one for one in element.conditions if one != code)
            bench.change(replace(element, conditions=(*others, code) if on else others))

        first = {one.value for one in bench.book.all(Withheld) if one.reason == FELL}  # in sight
        conditions = sorted(bench.book.conditions, key=lambda one: one.code not in first)
        ticks = [(one.code, one.name, one.code in element.conditions) for one in conditions]
        return TickGrid(bench.say("Of the {element}", element=element.code), ticks, turned)
