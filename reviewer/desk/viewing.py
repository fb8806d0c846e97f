"""Which frame is asked for and which is on the screen: seeking, stepping, playing."""

from dataclasses import replace
from pathlib import Path

from PyQt6.QtCore import QObject, pyqtSignal

from reviewer.desk.bench import Bench
from reviewer.desk.pace import FULL_SPEED, SPEEDS, Looked, Passage
from reviewer.desk.projector import Projector
from reviewer.terms.messages import noted
from reviewer.terms.pictures import Picture, RecordingFacts
from reviewer.terms.problems import ReviewerError
from reviewer.video import SmallStore

HELD = noted("This is one look at full speed: it runs to its end as on the day. {key} breaks it off.")


class Viewing(QObject):
    """Asks the projector for pictures and lays what comes on the bench.

    What is ready is shown at once; else a small picture stands in until the full one is decoded.

    Attributes:
        playing: whether pictures follow each other by themselves.
        speed: how fast they do, as part of the recording's own speed.
        looking: the first frame of the one look at full speed that is under way; None where none is.
        studied: the last frame that was seen standing, slowed or backwards since the recording was opened.

    Signals:
        opened(): a recording is open.
        shown(Picture): another picture is on the bench.
        played(bool): playing began or ended.
        paced(): the speed is another.
        looked(Looked): a look at full speed has ended.
        surveying(int, int): frames done and frames in all of the background pass.
        surveyed(): the background pass has seen every frame.
        damaged(): more of the recording is known to be damaged.
    """

    opened = pyqtSignal()
    shown = pyqtSignal(object)
    played = pyqtSignal(bool)
    paced = pyqtSignal()
    looked = pyqtSignal(object)
    surveying = pyqtSignal(int, int)
    surveyed = pyqtSignal()
    damaged = pyqtSignal()

    def __init__(self, bench: Bench, memory: int, store: SmallStore | None) -> None:
        super().__init__()
        self.playing, self.speed = False, FULL_SPEED
        self.looking: int | None = None
        self.studied: int | None = None
        self._bench = bench
        self._aim: int | None = None
        self._first, self._left = 0, False
        self._passage: Passage | None = None
        self._projector = Projector(memory, store)
        self._projector.opened.connect(self._opened)
        self._projector.shown.connect(self._shown)
        self._projector.ended.connect(self._ended)
        self._projector.failed.connect(self._failed)
        self._projector.surveying.connect(self.surveying)
        self._projector.surveyed.connect(self._surveyed)
        self._projector.start()

    def load(self, path: Path | None, stream: int = 0, frame: int = 0) -> None:
        """Take the recording off the bench and open another, where there is one, at a frame."""
        self._play(False)
        self._look_from(None)
        self.studied = None
        self._first, self._bench.clock = frame, None
        self._bench.facts, self._bench.recording, self._bench.picture, self._aim = None, path, None, None
        if path is not None:
            self._projector.open(path, stream)

    def leave(self) -> None:
        """End the thread that decodes; what it has sent and is still under way is let go."""
        self._left = True
        self._projector.leave()

    def stop_survey(self) -> None:
        """Make no more small pictures of this recording."""
        self._projector.stop_survey()

    def small(self, frame: int) -> Picture | None:
        """The small picture of a frame where there is one; from any thread, without decoding."""
        return self._projector.small(frame)

    def seek(self, frame: int) -> None:
        """Show a frame of the recording; outside it, the nearest."""
        if self._bench.facts is not None and not self.is_held():
            self._bench.held = None
            self.studied = max(self.studied or 0, min(self._last(), frame))
            self._seek(frame)

    def _seek(self, frame: int) -> None:
        self._play(False)
        frame, before = max(0, min(self._last(), frame)), self._here()
        step = -1 if frame < before else 1
        ready = self._projector.recording.at_hand(frame) if self._projector.recording else None
        if ready is not None:
            self._aim = None
            self._projector.read_on(frame, step)
        else:
            self._aim = frame
            ready = self._projector.small(frame)
            self._projector.show_frame(frame, step, settle=ready is not None)
        if ready is not None:
            self._lay(ready)

    def examine(self) -> None:
        """Search what the picture on the screen rests on for errors, before something is measured on it."""
        if self._bench.picture is not None:
            self._aim = self._bench.picture.frame
            self._projector.examine(self._aim)

    def seek_last(self) -> None:
        """Show the last frame."""
        self.seek(self._last())

    def step(self, frames: int) -> None:
        """Frames on (or back, negative) from the one asked for last, or else from the one on screen."""
        if self._bench.picture is not None:
            self.seek(self._here() + frames)

    def play_or_stop(self, step: int = 1) -> None:
        """Play from the frame on screen, from the far end when it is the last that way; or stop."""
        if self.playing:
            self.stop()  # refused while a look is under way
        elif self._bench.picture is not None and not self.is_held():
            passage = Passage(self._here(), 0, self._last(), self.speed, step)
            at_end = passage.first == passage.end
            self._begin(replace(passage, first=passage.beginning) if at_end else passage)

    def play_over(self, low: int, high: int) -> None:
        """Play from one frame to another, over and over."""
        if self._bench.facts is not None and not self.is_held():
            self._begin(Passage(low, low, min(high, self._last()), self.speed, again=True))

    def stop(self) -> None:
        """Stop playing; the picture on screen stays."""
        if self.playing and not self.is_held():
            self._play(False)
            self._projector.halt()

    def pace(self, step: int) -> None:
        """One speed faster (1) or slower (-1), also while playing."""
        at = max(0, min(len(SPEEDS) - 1, SPEEDS.index(self.speed) + step))
        self.speed = self.speed if self.is_held() else SPEEDS[at]
        self.paced.emit()
        if self.playing and self._passage is not None and self.looking is None:
            passage = self._passage
            here = max(passage.low, min(passage.high, self._here()))
            self._begin(replace(passage, first=here, speed=self.speed))

    def look(self, frame: int) -> None:
        """Play from a frame to the end at full speed, without a pause."""
        if self._bench.facts is not None and not self.is_held():
            self._begin(Passage(frame, frame, self._last(), FULL_SPEED, punctual=True))
            self._look_from(frame)

    def break_off(self) -> None:
        """End the look before its end."""
        if self.looking is not None:
            self._projector.halt()

    def is_held(self) -> bool:
        """Whether a look is under way, in which nothing else may be shown; it says so."""
        if self.looking is not None:
            self._bench.said.emit(self._bench.say(HELD, key=self._bench.key("look-once")), True)
        return self.looking is not None

    def _begin(self, passage: Passage) -> None:
        self._aim, self._passage = None, passage
        self._play(True)
        self._projector.play(passage)

    def _here(self) -> int:
        if self._aim is not None:
            return self._aim
        return self._bench.picture.frame if self._bench.picture else 0

    def _last(self) -> int:
        return len(self._bench.facts.pts) - 1 if self._bench.facts else 0

    def _play(self, playing: bool) -> None:
        self.playing = playing
        self.played.emit(playing)

    def _opened(self, facts: RecordingFacts) -> None:
        if self._left:
            return
        self._bench.facts = facts
        self.opened.emit()
        self._seek(max(0, min(self._last(), self._first)))

    def _shown(self, picture: Picture) -> None:
        self._projector.taken()
        if self._bench.facts is None or self._left:
            return
        if not self.playing:
            if picture.frame != self._here():
                return  # overtaken by a later wish
            self._aim = None
        elif self._passage is not None and (self._passage.speed < FULL_SPEED or self._passage.step < 0):
            self.studied = max(self.studied or 0, picture.frame)
        self._lay(picture)

    def _lay(self, picture: Picture) -> None:
        self._bench.picture = picture
        self._look_for_damage()
        self.shown.emit(picture)

    def _look_for_damage(self) -> None:
        recording, known = self._projector.recording, self._bench.facts
        if recording is not None and known is not None and recording.facts.suspect != known.suspect:
            self._bench.facts = recording.facts
            self.damaged.emit()

    def _ended(self, passage: Passage, why: str) -> None:
        if self._left or passage is not self._passage:
            return  # another one has taken its place
        self._play(False)
        if self.looking is not None:
            self._look_over(why)
        elif why:
            self._bench.said.emit(self._bench.say.word(why), False)
        if self._bench.picture is not None and self._bench.picture.stands_for is not None:
            self._seek(self._bench.picture.frame)

    def _look_from(self, frame: int | None) -> None:
        self.looking, self._bench.looking = frame, frame is not None

    def _look_over(self, why: str) -> None:
        first, kept = self.looking or 0, self._projector.punctuality
        last = self._bench.picture.frame if self._bench.picture else first
        self._look_from(None)
        self._bench.looked |= {str(self._bench.recording)}
        self.looked.emit(Looked(first, last, last == self._last(), kept.late, kept.shown, why))

    def _surveyed(self) -> None:
        recording = self._projector.recording
        if self._left or recording is None or self._bench.facts is None:
            return
        self._look_for_damage()
        self.surveyed.emit()

    def _failed(self, error: ReviewerError) -> None:
        if self._left:
            return
        if self._bench.facts is None:
            self._bench.recording = None
        self._aim = None
        self._bench.say_problems(error)
