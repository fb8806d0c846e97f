"""What lies on the desk: the audit, the recording's facts, the frame on screen, the chosen mark.

Every change goes through one action, which has it on disk before anything on the screen changes.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from PyQt6.QtCore import QObject, pyqtSignal

from reviewer import actions
from reviewer.actions import Keyboard
from reviewer.desk.boundaries import moved
from reviewer.desk.calls import CallError, Word, vocabulary
from reviewer.desk.errors import of_the_system
from reviewer.desk.homes import home_after, offer_words
from reviewer.desk.keys import shown, tip
from reviewer.desk.offering import habits, offered
from reviewer.terms.marks import Mark
from reviewer.terms.messages import Message, message, noted
from reviewer.terms.pictures import Picture, RecordingFacts
from reviewer.terms.problems import Problem, ReviewerError
from reviewer.terms.rulebook import RuleBook
from reviewer.words import Saying

if TYPE_CHECKING:
    from reviewer.actions import Audit, Change

ENGLISH_WORDS = Saying()
ALL = frozenset({"marks", "readings", "sheet", "posted", "case"})


class Bench(QObject):
    """The state that the window's parts share.

    Attributes:
        shorts: the user's short codes, and what each stands for.
        words, habits: what may be typed, and how this case was marked so far.
        seeing: how what is marked now is seen, as a mark says it; None where that is not known.
        without_times: whether calls are typed as a list, without the frame on the screen.
        looking: whether one look at full speed is under way.
        looked: files of the recordings of which one was taken, since the case was begun.
        held: tick on which a call was begun while pictures ran.

    Signals:
        changed(frozenset): kinds of thing that changed, as an action names them.
        chose(): another mark is chosen, or none; it follows whatever an action changed, too.
        wanted(int): a frame of the recording on the screen is to be shown.
        elsewhere(str, int): a frame of another recording of the case is to be shown.
        dressed(): the look or the size of words is another; what is painted by hand is to be painted anew.
        opens(Path): a case is to be laid on the desk.
        said(str, bool): words for the foot of the window, and whether they are of a problem.
    """

    changed = pyqtSignal(object)
    chose = pyqtSignal()
    wanted = pyqtSignal(int)
    elsewhere = pyqtSignal(str, int)
    dressed = pyqtSignal()
    opens = pyqtSignal(object)
    said = pyqtSignal(str, bool)

    def __init__(self, author: str, keyboard: Keyboard | None = None, say: Saying = ENGLISH_WORDS) -> None:
        super().__init__()
        self.author, self.say = author, say
        self.keyboard = keyboard or actions.keyboard()
        self.audit: Audit | None = None
        self.facts: RecordingFacts | None = None
        self.recording: Path | None = None
        self.picture: Picture | None = None
        self.clock: int | None = None
        self.on_screen: str | None = None
        self.chosen: tuple[str, ...] = ()
        self.shorts = actions.short_codes().words
        self.words, self.habits = vocabulary(None, self.shorts, say), habits(())
        self.seeing: str | None = None
        self.without_times = self.looking = False
        self.looked: frozenset[str] = frozenset()
        self.held: int | None = None

    def tip(self, does: str) -> str:
        """What an action does and its first key."""
        return tip(self.keyboard, self.say, does)

    def key(self, does: str) -> str:
        """The first key of an action; empty where it has none."""
        return next(map(shown, self.keyboard.use(does).keys), "")

    @property
    def book(self) -> RuleBook | None:
        """The edition of the case on the desk."""
        return self.audit.book if self.audit else None

    @property
    def marks(self) -> tuple[Mark, ...]:
        """The case's marks in routine order."""
        return self.audit.marks if self.audit else ()

    @property
    def pts(self) -> int | None:
        """Tick of the picture on the screen, where it is of the recording the case cites."""
        return self.picture.time.pts if self.picture else None

    @property
    def call_pts(self) -> int | None:
        """Tick a call gets: of the picture on the screen, while pictures run of the one it was begun on."""
        if self.without_times:
            return None
        return self.pts if self.held is None else self.held

    def offered(self, typed: str) -> tuple[Word, ...]:
        """The words offered for what is typed last."""
        return offered(self.words, self.habits, typed)

    def learn(self) -> None:
        """Read the words of the edition and of the user's short codes again."""
        self.words = vocabulary(self.book, self.shorts, self.say)

    def lay(self, audit: Audit | None) -> None:
        """Put a case on the desk, or none, in place of the one that lies there."""
        if self.audit is not None:
            self.audit.close()
            self.looked = frozenset()
        self.audit, self.chosen = audit, ()
        if audit is None or self.on_screen not in {one.sha256 for one in audit.state.recordings}:
            self.on_screen = None  # what is still on the screen is of the case before
        self.without_times, self.held, self.habits = False, None, habits(self.marks)
        self.learn()
        self.changed.emit(ALL)
        self.chose.emit()

    def close(self) -> None:
        """Let go of the case; nothing is told, since the window goes as well."""
        if self.audit is not None:
            self.audit.close()
            self.audit = None

    def attempt(self, action: Callable[[], Change | None], done: str = "") -> bool:
        """Do something that may be refused; say what came of it, and whether it was done."""
        try:
            change = action()
        except ReviewerError as error:
            self.say_problems(error)
            return False
        except OSError as error:
            self.say_problems(of_the_system(error))
            return False
        if change is not None:
            self._take_in(change)
        self.said.emit(done, False)
        return True

    def say_problems(self, error: ReviewerError) -> None:
        """Put what went wrong at the foot of the window."""
        self.said.emit(self.say.problems(error.problems), True)

    def choose(self, mark_ids: tuple[str, ...], *, show: bool = False) -> None:
        """Choose marks; with ``show``, go to the first one's frame."""
        self.chosen = tuple(mark.id for mark in self.marks if mark.id in mark_ids)
        self.chose.emit()
        if show and self.audit is not None and self.facts is not None:
            shown = actions.frames_shown(self.audit, self.chosen)
            here = [one for one in shown if self.on_screen in (None, one.recording)]
            if here:
                self.wanted.emit(here[0].frame)
            elif shown:
                self.elsewhere.emit(shown[0].recording, shown[0].frame)

    def is_here(self, recording: str | None) -> bool:
        """Whether what names this recording is about the one on the screen."""
        if self.audit is None or self.on_screen is None:
            return recording is None
        return self.audit.own_name(recording) == self.audit.own_name(self.on_screen)

    def tick_here(self, recording: str | None, pts: int | None) -> int | None:
        """A recording's tick in the time of the one on the screen; None where the two are not joined."""
        if pts is None or self.audit is None or self.on_screen is None or self.is_here(recording):
            return pts
        own = self.audit.cited(recording).sha256
        try:
            frame = actions.counterpart(
                self.audit, self.audit.frame_at(pts, recording), of=own, on=self.on_screen
            )
        except ReviewerError:
            return None
        return None if frame is None or self.facts is None else self.facts.pts[frame]

    def moment_here(self, mark: Mark) -> int | None:
        """The tick a mark is shown at, in the time of the recording on the screen."""
        return self.tick_here(mark.recording, mark.moment())

    def chosen_mark(self) -> Mark | None:
        """The one mark that is chosen."""
        return self.mark(self.chosen[0]) if len(self.chosen) == 1 else None

    def mark(self, mark_id: str | None) -> Mark | None:
        """A mark by id."""
        return next((mark for mark in self.marks if mark.id == mark_id), None)

    def name_of(self, mark: Mark) -> str:
        """What the edition calls what is marked; its code where it does not."""
        own = self.book.named(mark.kind, mark.code) if self.book is not None else None
        return own.name if own is not None else mark.code

    def neighbour(self, step: int, *, elements: bool = False) -> None:
        """Choose the mark, or with ``elements`` the element, before (-1) or after (1) the chosen one."""
        ids = [mark.id for mark in self.marks if mark.kind == "element" or not elements]
        if not ids:
            return
        chosen = self.mark(self.chosen[0]) if self.chosen else None
        near = [one for one in (chosen.id, chosen.element) if one in ids] if chosen is not None else []
        at = 0 if step > 0 else len(ids) - 1
        if near:
            at = max(0, min(len(ids) - 1, ids.index(near[0]) + step))
        self.choose((ids[at],), show=True)

    def passage(self) -> tuple[int, int] | None:
        """First and last frame of the chosen element, or the chosen fault's; up to the next one's start."""
        chosen = self.chosen_mark()
        element = self.mark(chosen.element) or chosen if chosen is not None else None
        start = self.moment_here(element) if element is not None else None
        if element is None or start is None or self.facts is None:
            return None
        elements = [self.moment_here(mark) for mark in self.marks if mark.kind == "element"]
        after = [tick for tick in elements if tick is not None and tick > start]
        ends = [tick for tick in (self.tick_here(element.recording, element.end), *after) if tick is not None]
        last = self.facts.frame_at(ends[0]) if ends else len(self.facts.pts) - 1
        return self.facts.frame_at(start), last

    def element_here(self) -> Mark | None:
        """The element of a fault called now: one that covers its frame, else the last begun or the chosen."""
        return self.element_at(self.call_pts)

    def element_at(self, pts: int | None) -> Mark | None:
        """The same at a tick of the recording on the screen."""
        chosen = self.chosen_mark()
        elements = [mark for mark in self.marks if mark.kind == "element"]
        if pts is None or not any(self.moment_here(mark) is not None for mark in elements):
            own = self.mark(chosen.element) or chosen if chosen is not None else None
            return own if own and own.kind == "element" else (elements[-1] if elements else None)
        begun = [m for m in elements if (start := self.moment_here(m)) is not None and start <= pts]
        ends = [self.tick_here(m.recording, m.end) for m in begun]
        covering = [m for m, end in zip(begun, ends, strict=True) if end is not None and pts <= end]
        found = covering or begun
        return found[-1] if found else None

    def is_cast(self, mark: Mark | None) -> bool:
        """Whether an angle may be said of this mark."""
        if mark is None or mark.kind != "element" or self.book is None:
            return False
        own = self.book.element_of.get(mark.code)
        return own is not None and own.angle != "none"

    def on_desk(self) -> Audit:
        """The case that lies on the desk; refused where none does."""
        if self.audit is None:
            remedy = message(
                "Start one with {start}, or open one with {open}.",
                start=self.key("start"),
                open=self.key("open"),
            )
            raise CallError(Problem("no-case", "desk", message("No case is open."), remedy))
        return self.audit

    def open_audit(self) -> Audit:
        """The case that lies on the desk, to write in; refused where none does or it is read only."""
        if self.on_desk().author is None:
            where = self.on_desk().path.name
            said, remedy = (
                message("The case is open to read only."),
                message("Open it under your own code."),
            )
            raise CallError(Problem("read-only", where, said, remedy))
        return self.on_desk()

    def change(self, mark: Mark) -> bool:
        """Put a changed mark on disk."""
        mark = self.seen_anew(mark)
        was = self.mark(mark.id)
        slowed = was is not None and was.seen != mark.seen == "slowed"
        said = self.say("{mark} is seen slowed down from now on.", mark=mark.id) if slowed else ""
        return self.attempt(lambda: actions.change_mark(self.open_audit(), mark), said)

    def seeing_now(self) -> str | None:
        """How a mark made now was seen; not said of one without a picture."""
        return None if self.call_pts is None else self.seeing

    def seen_anew(self, mark: Mark) -> Mark:
        """The changed mark; what is said of an element after the look at full speed is seen slowed down.

        What was called of a cast in the look stays beside what is said of it afterwards.
        """
        was = self.mark(mark.id)
        if was is None or (was.angle, was.conditions) == (mark.angle, mark.conditions):
            return mark
        called = was.angle is not None and was.angle.at_full_speed is not None
        after = self.seeing == "slowed" and was.seen == mark.seen == "full-speed"
        if not called and not after:
            return mark
        later = was.found_later(mark.angle)
        seen = later.seen if was.conditions == mark.conditions else "slowed"
        return replace(mark, angle=later.angle, seen=seen)

    def bound(self, which: str) -> bool:
        """Set the chosen element's ``start`` or ``end`` to the frame on screen."""
        chosen = self.chosen_mark()
        element = self.mark(chosen.element) or chosen if chosen is not None else None
        said = noted("{mark} starts here.") if which == "start" else noted("{mark} ends here.")
        done = self.say(said, mark=_named(element))
        bound = self.attempt(lambda: actions.change_mark(self.open_audit(), self.bounded(which)), done)
        offer = offer_words(self, self.mark(element.id)) if bound and element is not None else ""
        if offer:
            self.said.emit(f"{done} {offer}", False)
        return bound

    def withdraw(self) -> bool:
        """Take the chosen mark back."""
        mark = self.chosen_mark()
        return self.attempt(
            lambda: actions.withdraw_mark(self.open_audit(), self.must_be_chosen().id),
            self.say(
                "Withdrawn: {mark}; undo brings it back.", mark=f"{mark.code} {mark.id}" if mark else ""
            ),
        )

    def bounded(self, which: str) -> Mark:
        """The chosen element, or the chosen fault's, with its ``start`` or ``end`` at the frame on screen."""
        mark, pts = self.must_be_chosen(), self.pts
        mark = self.mark(mark.element) or mark
        if mark.kind != "element" or pts is None:
            raise _refused(
                "bounds",
                message("Only an element on a recording has a start and an end."),
                message("Choose an element."),
            )
        return self.moved(mark, which, pts)

    def moved(self, mark: Mark, which: str, tick: int) -> Mark:
        """A mark with its ``start``, ``end`` or ``at`` at a tick of the recording on the screen."""
        if not self.is_here(mark.recording):
            remedy = message("Show that one ({key}) to change it.", key=self.key("other-recording"))
            raise _refused(mark.code, message("It was marked on another recording."), remedy)
        changed = moved(mark, which, tick, self.say)
        return replace(changed, element=home_after(self, mark, changed)) if mark.kind == "fault" else changed

    def must_be_chosen(self) -> Mark:
        """The chosen mark; refused where there is none."""
        mark = self.chosen_mark()
        if mark is None:
            remedy = message("Choose one on the strip, or with Up and Down.")
            raise _refused("mark", message("No mark is chosen."), remedy)
        return mark

    def _take_in(self, change: Change) -> None:
        """Choose the mark that was changed; a fault stays chosen when its element was."""
        chosen = self.chosen_mark()
        if change.mark is not None and (chosen is None or chosen.element != change.mark):
            self.chosen = (change.mark,) if self.mark(change.mark) else ()
        else:
            self.chosen = tuple(one for one in self.chosen if self.mark(one))
        self.habits = habits(self.marks)
        if "case" in change.what:
            self.learn()
        self.changed.emit(change.what)
        self.chose.emit()


def _named(mark: Mark | None) -> str:
    return f"{mark.code} {mark.id}" if mark is not None else ""


def _refused(where: str, said: Message, remedy: Message) -> CallError:
    return CallError(Problem("refused", where, said, remedy))
