"""One look at full speed, as on the day; and how what is marked then and afterwards was seen."""

from collections.abc import Callable

from PyQt6.QtCore import QObject, pyqtSignal

from reviewer.desk.bench import Bench
from reviewer.desk.pace import Looked
from reviewer.desk.viewing import Viewing
from reviewer.terms.messages import noted
from reviewer.terms.pictures import RecordingFacts

FULL, SLOWED = "full-speed", "slowed"
LATE = 0.25
"""Seconds a picture may come late in a look that counts as one without a pause."""
_BEGUN = noted(
    "One look at full speed, without sound: type what you see. It runs to its end without a pause."
)
_STUDIED = noted(
    "This recording was looked at slowed before: calls of this look do not say how they were seen. "
    "Type full-speed where you stand by it."
)


class Look(QObject):
    """Plays the recording once and tells the bench how what is marked is seen.

    Marks made in the look are seen at full speed, those made after it slowed down. Where the recording was
    studied before, a look says nothing of that: what is known already is not seen for the first time.

    Signals:
        began(): a look has begun.
        changed(): one has begun or ended, or how marks are seen has changed.
    """

    began = pyqtSignal()
    changed = pyqtSignal()

    def __init__(self, bench: Bench, viewing: Viewing) -> None:
        super().__init__()
        self._bench, self._viewing = bench, viewing
        self._fresh = True
        self._before: frozenset[str] = frozenset()
        bench.changed.connect(self._weigh)
        viewing.opened.connect(self._weigh)
        viewing.looked.connect(self._over)

    def doings(self) -> dict[str, Callable[[], object]]:
        """What can be done here, by the names of the key table."""
        return {"look-once": lambda: self._begin(0), "look-once-here": self._begin_here}

    def _begin_here(self) -> None:
        self._begin(self._bench.picture.frame if self._bench.picture else 0)

    def _begin(self, frame: int) -> None:
        bench = self._bench
        if self._viewing.looking is not None:
            self._viewing.break_off()
        elif bench.facts is None or bench.picture is None:
            bench.said.emit(bench.say("A look needs a recording: open one first."), True)
        else:
            self._fresh = not self._studied(frame, bench.facts)
            self._before = frozenset(mark.id for mark in bench.marks)
            bench.without_times = False
            self._viewing.look(frame)
            bench.said.emit(bench.say.word(_BEGUN if self._fresh else _STUDIED), False)
            self._weigh()
            self.began.emit()

    def _studied(self, first: int, facts: RecordingFacts) -> bool:
        """Whether more than the first second of what is to be looked at was seen otherwise before."""
        base = facts.time_base
        second = facts.frame_at(facts.pts[first] + base.denominator // base.numerator)
        seen = self._viewing.studied
        timed = (mark for mark in self._bench.marks if self._bench.moment_here(mark) is not None)
        return (seen is not None and seen > second) or any(mark.seen != FULL for mark in timed)

    def _over(self, looked: Looked) -> None:
        bench, frames = self._bench, looked.last - looked.first + 1
        calls = sum(1 for mark in bench.marks if mark.id not in self._before)
        said = [
            bench.say("The look is over. Calls: {calls}.", calls=calls)
            if looked.whole
            else bench.say(
                "The look was broken off at frame {frame}. Calls: {calls}.", frame=looked.last, calls=calls
            ),
            bench.say("Marks made from now on are seen slowed down."),
            bench.say(
                "Pictures shown: {shown} of {frames}; the latest came {late} s late.",
                shown=looked.shown,
                frames=frames,
                late=f"{looked.late:.2f}",
            ),
        ]
        late = looked.late > LATE
        if late:
            said.append(
                bench.say(
                    "That was no look without a pause: let the small pictures be made first, then look again."
                )
            )
        self._weigh()
        bench.said.emit(" ".join((*said, looked.why)).strip(), late)

    def _weigh(self) -> None:
        """Tell the bench how what is marked now is seen."""
        taken = str(self._bench.recording) in self._bench.looked
        known = taken or any(mark.seen is not None for mark in self._bench.marks)
        after = SLOWED if known else None
        during = FULL if self._fresh else None
        self._bench.seeing = after if self._viewing.looking is None else during
        self.changed.emit()
