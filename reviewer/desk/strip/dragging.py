"""A boundary or a moment moved with the mouse or by a frame: the picture follows, and one event is kept."""

from collections.abc import Callable

from PyQt6.QtCore import QObject, pyqtSignal

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.boundaries import with_tick
from reviewer.desk.homes import home_words, offer_words
from reviewer.desk.strip.grips import Grip
from reviewer.terms.marks import Mark
from reviewer.terms.messages import noted

WORDS = {
    "start": noted("{code} starts at frame {frame}, {seconds} s."),
    "end": noted("{code} ends at frame {frame}, {seconds} s."),
    "at": noted("{code} is at frame {frame}, {seconds} s."),
}


class Dragging(QObject):
    """What is being moved, and which boundary of the chosen mark keys move.

    Attributes:
        grip: what is taken hold of, or None.
        shown: the mark as it would be, while it is being moved.
        boundary: mark and tick that was taken hold of last, or None.

    Signals:
        moved(): the mark as it would be is another.
    """

    moved = pyqtSignal()

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.grip: Grip | None = None
        self.shown: Mark | None = None
        self.boundary: tuple[str, str] | None = None
        self._bench, self._before = bench, 0

    def doings(self) -> dict[str, Callable[[], object]]:
        """What can be done here, by the names of the key table."""
        return {
            "boundary-back": lambda: self._nudge(-1),
            "boundary-on": lambda: self._nudge(1),
            "other-boundary": self._other,
        }

    def which(self) -> tuple[str, str] | None:
        """The chosen mark and the tick of it that keys move; None where no one mark is chosen."""
        mark = self._bench.chosen_mark()
        if mark is None:
            return None
        if self.boundary is not None and self.boundary[0] == mark.id:
            return self.boundary
        return mark.id, "start" if mark.kind == "element" or mark.at is None else "at"

    def take(self, grip: Grip) -> None:
        """Take hold; nothing has moved yet."""
        self.grip, self.shown = grip, None

    def begin(self) -> bool:
        """Whether what is held may be moved; else why not is said, and it is let go."""
        grip, picture = self.grip, self._bench.picture
        if grip is None or not self._bench.attempt(lambda: self._may_move(grip.mark)):
            self.grip = None
            return False
        self._before, self.boundary = picture.frame if picture else 0, (grip.mark, grip.which)
        self._bench.choose((grip.mark,))
        return True

    def move(self, frame: int) -> None:
        """Let what is held lie at a frame, on the screen only."""
        bench, grip = self._bench, self.grip
        mark = bench.mark(grip.mark) if grip is not None else None
        if grip is None or mark is None or bench.facts is None:
            return
        shown = with_tick(mark, grip.which, bench.facts.pts[frame])
        if shown == self.shown:
            return
        self.shown = shown
        bench.said.emit(f"{self._words(mark, grip.which, frame)} {bench.say('Esc gives it up.')}", False)
        self.moved.emit()
        bench.wanted.emit(frame)

    def let_go(self) -> None:
        """Keep what was moved as one event; where it is refused, all is as it was."""
        bench, grip, shown = self._bench, self.grip, self.shown
        self.grip = self.shown = None
        mark = bench.mark(grip.mark) if grip is not None else None
        if grip is None or mark is None:
            return
        if shown is None:
            bench.choose((grip.mark,))
            self.boundary = (grip.mark, grip.which)
            self._show(grip.tick)
        elif shown != mark:
            self._keep(mark, grip.which, getattr(shown, grip.which))
        self.moved.emit()

    def give_up(self) -> None:
        """Let go of it where it was, and go back to the picture that was on the screen."""
        self.grip = self.shown = None
        self._bench.said.emit(self._bench.say("Nothing was moved."), False)
        self.moved.emit()
        self._bench.wanted.emit(self._before)

    def _keep(self, mark: Mark, which: str, tick: int) -> bool:
        bench, facts = self._bench, self._bench.facts
        words = self._words(mark, which, facts.frame_at(tick)) if facts else ""
        self.boundary = (mark.id, which)
        kept = bench.attempt(
            lambda: actions.change_mark(bench.open_audit(), bench.moved(mark, which, tick)), words
        )
        more = home_words(bench, mark) or offer_words(bench, bench.mark(mark.id)) if kept else ""
        if more:
            bench.said.emit(f"{words} {more}", False)
        return kept

    def _may_move(self, mark_id: str) -> None:
        bench = self._bench
        bench.open_audit()
        if (mark := bench.mark(mark_id)) is not None and self.grip is not None:
            bench.moved(mark, self.grip.which, getattr(mark, self.grip.which))

    def _nudge(self, step: int) -> None:
        bench, facts, which = self._bench, self._bench.facts, self.which()
        mark = bench.mark(which[0]) if which else None
        tick = getattr(mark, which[1]) if mark is not None and which is not None else None
        if mark is None or which is None or facts is None or tick is None:
            bench.said.emit(bench.say("Choose a mark with a time first: a frame is added to it."), True)
            return
        frame = max(0, min(len(facts.pts) - 1, facts.frame_at(tick) + step))
        if self._keep(mark, which[1], facts.pts[frame]):
            bench.wanted.emit(frame)

    def _other(self) -> None:
        bench, which = self._bench, self.which()
        mark = bench.mark(which[0]) if which else None
        if mark is None or which is None or mark.kind != "element" or mark.start is None or mark.end is None:
            bench.said.emit(bench.say("Choose an element with a start and an end first."), True)
            return
        other = "end" if which[1] == "start" else "start"
        self.boundary = (mark.id, other)
        tick = bench.tick_here(mark.recording, getattr(mark, other))
        if tick is not None and bench.facts is not None:
            self._show(tick)
            bench.said.emit(self._words(mark, other, bench.facts.frame_at(tick)), False)
        self.moved.emit()

    def _show(self, tick: int) -> None:
        if self._bench.facts is not None:
            self._bench.wanted.emit(self._bench.facts.frame_at(tick))

    def _words(self, mark: Mark, which: str, frame: int) -> str:
        facts = self._bench.facts
        seconds = facts.time(frame).seconds() if facts is not None else ""
        return self._bench.say(WORDS[which], code=mark.code, frame=frame, seconds=seconds)
