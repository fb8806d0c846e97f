"""The line beneath the picture: which frame is on the screen and when, and the buttons that change it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import QComboBox, QPushButton, QVBoxLayout, QWidget

from reviewer import measuring
from reviewer.desk.bench import Bench
from reviewer.desk.falls import Falls
from reviewer.desk.flowing import Flowing
from reviewer.desk.pace import SPEEDS
from reviewer.desk.runningwords import RunningWords
from reviewer.desk.saidlabel import SaidLabel
from reviewer.desk.viewing import Viewing
from reviewer.terms.messages import noted
from reviewer.terms.pictures import Picture, RecordingFacts
from reviewer.terms.timecodes import TimeCodes
from reviewer.words import Saying


class FrameLine(QWidget):
    """Says the frame's number, its time and its time code, always those of the picture on the screen.

    Attributes:
        label: says them.
        clock: what time runs, on a line of its own so that nothing beside it moves while it does.
    """

    def __init__(
        self, bench: Bench, viewing: Viewing, doings: Mapping[str, Callable[[], object]], falls: Falls
    ) -> None:
        super().__init__()
        self._falls = falls
        self._bench, self._viewing = bench, viewing
        self._codes: TimeCodes | None = None
        self._frame = RunningWords(bench.say("Frame on screen"), bench.say("No recording"))
        self._clock = RunningWords(bench.say("Time that runs"))
        self.label, self.clock = self._frame.label, self._clock.label
        self._progress = SaidLabel()
        self._play, self._speed = QPushButton(bench.say("Play")), QComboBox()
        self.stop_survey = QPushButton(bench.say("Make no more"))
        self._arrange(doings)
        bench.changed.connect(lambda _: self.show_picture(bench.picture) if bench.picture else None)
        viewing.opened.connect(self._opened)
        viewing.played.connect(self._played)
        viewing.paced.connect(lambda: self._speed.setCurrentIndex(SPEEDS.index(viewing.speed)))
        viewing.surveying.connect(self._surveying)
        viewing.surveyed.connect(lambda: self._show_progress(""))
        self._speed.activated.connect(lambda at: viewing.pace(at - SPEEDS.index(viewing.speed)))
        self.stop_survey.clicked.connect(self._no_more)

    def show_picture(self, picture: Picture) -> None:
        """Say which picture is on the screen."""
        facts = self._bench.facts
        if facts is None or self._codes is None:
            return
        self._frame.say(self._words(facts, self._codes, picture.frame))
        running = "   ".join(self._clocks(facts, picture.frame))
        self._clock.say(running)
        self._clock.setVisible(bool(running))

    def _words(self, facts: RecordingFacts, codes: TimeCodes, frame: int) -> str:
        say, code = self._bench.say, codes.label(frame)
        number = say("Frame {frame} of {last}", frame=frame, last=len(facts.pts) - 1)
        seconds = say.word(f"{facts.time(frame).seconds()} s")
        return "   ".join((number, seconds, say("{code} nominal", code=code) if code.nominal else str(code)))

    def _clocks(self, facts: RecordingFacts, frame: int) -> Iterator[str]:
        if running := self._falls.running():
            yield running
        if self._bench.clock is not None:
            yield clock_words(facts, self._bench.clock, frame, self._bench.say)

    def _opened(self) -> None:
        facts = self._bench.facts
        self._codes = TimeCodes.of(facts) if facts else None
        if facts is not None and self._codes is not None:
            self._frame.foresee(self._words(facts, self._codes, len(facts.pts) - 1))
        self._show_progress("")

    def _played(self, playing: bool) -> None:
        self._play.setText(self._bench.say("Stop") if playing else self._bench.say("Play"))

    def _surveying(self, done: int, total: int) -> None:
        part = 100 * done // max(1, total)
        self._show_progress(self._bench.say("Making small pictures: {part} %", part=part))

    def _no_more(self) -> None:
        self._viewing.stop_survey()
        self._show_progress("")

    def _show_progress(self, words: str) -> None:
        self._progress.setText(words)
        self._progress.setVisible(bool(words))
        self.stop_survey.setVisible(bool(words))

    def _arrange(self, doings: Mapping[str, Callable[[], object]]) -> None:
        say = self._bench.say
        self._clock.hide()
        self._progress.setAccessibleName(say("Background work"))
        column, row, work = QVBoxLayout(self), Flowing(), Flowing()
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        row.add(self._frame, takes_room=True)
        for button, does in (
            (QPushButton(say("◂ Frame")), "previous"),
            (self._play, "play"),
            (QPushButton(say("Frame ▸")), "next"),
        ):
            row.add(_wired(button, self._bench.tip(does), doings[does]))
        row.add(self._speeds())
        protractor = QPushButton(say("Protractor"))
        row.add(_wired(protractor, self._bench.tip("protractor"), doings["protractor"]))
        work.add(self._progress)
        work.add(self.stop_survey)
        self.stop_survey.setToolTip(say("Small pictures made so far are used until the recording is closed"))
        self._show_progress("")
        column.addWidget(self._clock)
        column.addLayout(row)
        column.addLayout(work)

    def _speeds(self) -> QComboBox:
        for speed in SPEEDS:
            self._speed.addItem(f"{speed}×")
        self._speed.setCurrentIndex(SPEEDS.index(self._viewing.speed))
        bench = self._bench
        slower, faster = bench.key("slower"), bench.key("faster")
        told = noted("Speed of playing (slower: {slower} faster: {faster}). There is no sound.")
        self._speed.setAccessibleName(bench.say("Speed of playing"))
        self._speed.setToolTip(bench.say(told, slower=slower, faster=faster))
        self._speed.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        return self._speed


def clock_words(facts: RecordingFacts, start: int, here: int, say: Saying) -> str:
    """How long it is from one frame to another, with the interval of 95 %."""
    try:
        found = measuring.duration(facts, start, here)
    except measuring.MeasuringError:
        return say("no times to count from")
    half = max(found.value - found.interval[0], found.interval[1] - found.value)
    counted = f"{found.value / 1e6:.3f} s ± {half / 1e6:.3f} s (95 %)"
    return say("{time} since frame {frame}", time=counted, frame=start)


def _wired(button: QPushButton, tip: str, does: Callable[[], object]) -> QPushButton:
    button.setToolTip(tip)
    button.setAccessibleName(tip)
    button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
    button.clicked.connect(lambda: does())
    return button
