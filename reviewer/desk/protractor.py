"""The protractor as it lies on one frame: points placed one by one, mended by dragging, read live."""

from __future__ import annotations

from dataclasses import replace

from PyQt6.QtCore import QObject, pyqtSignal

from reviewer import actions, measuring
from reviewer.desk.angles import seen_words
from reviewer.desk.bench import Bench
from reviewer.desk.kept import Before, Kept
from reviewer.desk.overlay import overlay, rings
from reviewer.desk.points import APPARATUS, ON_BODY, asked_for, joint_of, named, needed, words_for
from reviewer.desk.setting import Setting, shoulders_open
from reviewer.desk.telling import asking, carried_words, elsewhere_words, told_of, verdict_words
from reviewer.terms.bodylines import FAR, JOINTS
from reviewer.terms.exact import Pixels
from reviewer.terms.marks import Mark
from reviewer.terms.messages import noted
from reviewer.terms.problems import ReviewerError
from reviewer.terms.readings import Clicks, Length, Reading
from reviewer.terms.shapes import Shape, Spot

QUARTER = Pixels(250)


class Protractor(QObject):
    """Holds the points and gives the reading.

    Attributes:
        frame: it lies on, or None.
        setting: what it measures.
        spots: point to where it was placed; a joint's further clicks are numbered, such as ``hip 2``.
        reading: of these, or None.
        trouble: why there is none.
        in_hand: the point placed or dragged last.

    Signals:
        changed(): something is to be drawn or said anew.
        set_anew(): it is set otherwise.
        stood(Clicks): the bars stand as in these clicks on another frame, until it is known where they lie.
    """

    changed = pyqtSignal()
    set_anew = pyqtSignal()
    stood = pyqtSignal(object)

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self._bench = bench
        self.setting = Setting()
        self.frame: int | None = None
        self.spots: dict[str, Spot] = {}
        self.reading: Reading | Length | None = None
        self.trouble = ""
        self.in_hand: str | None = None
        self._skipped: set[str] = set()
        self._again: str | None = None
        self._stands_from: int | None = None
        self._carried = ""
        self._before = Before(bench)
        self._kept: Kept | None = None
        self._usual: Setting | None = None

    @property
    def laid(self) -> bool:
        """Whether it lies on a frame."""
        return self.frame is not None

    @property
    def here(self) -> bool:
        """Whether it lies on the frame that is on the screen."""
        return self._bench.picture is not None and self._bench.picture.frame == self.frame

    @property
    def line(self) -> str:
        """What is measured."""
        return self.setting.line_in(self._bench.book)

    def lay(self) -> None:
        """Lay it on the frame on screen: as it was kept there, else without points."""
        if self._bench.picture is not None:
            self.frame = self._bench.picture.frame
            self._begin()
            kept = self._before.on_frame(self.frame)
            if kept is None:
                self._stand_bars()
            else:
                self._take_up(kept)

    def go_on(self) -> None:
        """Lay it on the frame on screen as well; the bars stay as they stand."""
        if self._bench.picture is not None:
            clicks = self.clicks()
            bars = {name: spot for name, spot in self.spots.items() if name in APPARATUS}
            before, skipped = self.frame, {step for step in self._skipped if step in APPARATUS}
            self.frame = self._bench.picture.frame
            self._begin()
            self.spots, self._skipped, self._stands_from = bars, skipped, before
            self._read()
            if clicks is not None and before != self.frame:
                self.stood.emit(clicks)

    def put_away(self) -> None:
        """Take it off; what was not kept is gone."""
        if self._usual is not None:  # what was kept on a frame is not what is measured on the next one
            self.setting = replace(self.setting, line=self._usual.line, against=self._usual.against)
        self.frame, self._usual = None, None
        self._begin()

    def set_to(self, setting: Setting) -> None:
        """Measure something else, or with other knowledge; points that still belong stay."""
        self.setting = setting
        wanted = set(self._steps())
        self.spots = {name: spot for name, spot in self.spots.items() if joint_of(name) in wanted}
        self._again = None
        self.set_anew.emit()
        self._read()

    def wanted(self) -> str | None:
        """The point asked for next, or None when all are placed or skipped."""
        if self._again is not None:
            return self._again
        done = self.spots.keys() | self._skipped
        return next((step for step in self._steps() if step not in done), None)

    def place(self, spot: Spot) -> None:
        """Place the point asked for."""
        step = self.wanted()
        if self.here and step is not None:
            self.move(step, spot)

    def move(self, step: str, spot: Spot) -> None:
        """Put a point somewhere, first or again; it is the one in hand from then on."""
        self.spots[step], self.in_hand = spot, step
        self._again = None if step == self._again else self._again
        self._read()

    def nudge(self, across: int, down: int) -> None:
        """Move the point in hand by so many quarters of a pixel."""
        spot = self.spots.get(self.in_hand or "")
        if self.here and spot is not None and self.in_hand is not None:
            moved = Spot(spot.x + QUARTER * across, spot.y + QUARTER * down)
            self.move(self.in_hand, moved)

    def once_more(self) -> None:
        """Ask for one more click of the joint in hand: several pool, and show how far clicks scatter."""
        joint = (self.in_hand or "").split(" ")[0]
        if joint not in ON_BODY:
            self._refuse(noted("Place or drag a joint first: it is clicked once more then."))
        elif self.here:
            clicked = sum(name.split(" ")[0] == joint for name in self.spots)
            self._again = f"{joint} {clicked + 1}"
            self.changed.emit()

    def other_side(self) -> None:
        """Ask for the same joint of the other side: legs apart are measured by their middle."""
        joint = (self.in_hand or "").split(" ")[0]
        if joint not in JOINTS:
            self._refuse(noted("Place or drag a joint first: its other side is asked for then."))
        elif self.here and f"{joint}{FAR}" not in self.spots:
            self._again = f"{joint}{FAR}"
            self.changed.emit()

    @property
    def looked_at(self) -> Spot | None:
        """The spot of the point in hand, where the picture on the screen has it."""
        return self.spots.get(self.in_hand or "") if self.here else None

    def skip(self) -> None:
        """Go on without the point asked for, unless what is measured needs it."""
        step = self.wanted()
        if self._again is not None:
            self._again = None
        elif step is not None and step not in self._needed():
            self._skipped.add(step)
        self.changed.emit()

    def take_back(self) -> None:
        """Take the latest point or skip back."""
        self._again = None
        repeated = [name for name in self.spots if name not in self._steps()]
        done = repeated or [step for step in self._steps() if step in self.spots or step in self._skipped]
        if done:
            self.spots.pop(done[-1], None)
            self.in_hand = None
            self._skipped.discard(done[-1])
            self._read()

    def shapes(self) -> tuple[Shape, ...]:
        """What is to be drawn: the whole protractor once there is a reading, rings before.

        Put away, or before a joint is placed, what marks cite of this frame.
        """
        if not self.laid:
            return self._before.shapes()
        if not self.here:
            return ()
        if self.reading is None:
            bare = not self.spots.keys() - set(APPARATUS)
            return (*(self._before.shapes() if bare else ()), *rings(self.spots))
        return overlay(self.reading, self.spots, self.setting.limit_in(self._bench.book), self._bench.say)

    def words(self) -> str:
        """What is asked for, and the reading as it stands."""
        if not self.laid:
            return ""
        if not self.here:
            return elsewhere_words(self.frame, self._bench)
        step, say = self.wanted(), self._bench.say
        optional = step is not None and step not in self._needed()
        point = words_for(step, say) if step else None
        ask = asking(point, optional=optional, key=self._bench.key("point-skip"), say=say)
        kept = self._as_kept()
        if kept is not None:
            ask = say("Kept as {reading}; drag a point to measure anew.", reading=kept.id)
        return " ".join((*self._standing_words(), ask, *self._reading_words()))

    def keep(self) -> bool:
        """Keep the reading in the case; let the cast at this frame, or the chosen fault, cite it."""
        clicks = self.clicks()
        if not self.here:
            self._refuse(
                noted("The protractor lies on frame {frame}: go there to keep it."), frame=self.frame
            )
            return False
        if clicks is None or self.reading is None:
            self._refuse(noted("There is no reading yet: place the points it needs."))
            return False
        if self._is_kept():
            return self._bench.attempt(lambda: None, self._bench.say("It stays as it was kept."))
        return self._bench.attempt(lambda: self._keep(clicks), self._kept_words())

    def clicks(self) -> Clicks | None:
        """What was clicked on its frame; None while a point is missing that is needed."""
        picture = self._bench.picture
        if self.frame is None or picture is None or not set(self._needed()) <= self.spots.keys():
            return None
        joints = sorted({name.split(" ")[0] for name in self.spots} - set(APPARATUS))
        return Clicks(
            frame=self.frame,
            picture=picture.full_size,
            line=self.line,
            body=tuple((joint, self._clicked(joint)) for joint in joints),
            apparatus=tuple((step, self.spots[step]) for step in sorted(APPARATUS) if step in self.spots),
            suspect=self._is_suspect(self.frame),
            height=self.setting.height,
            dimensions=self.setting.bars,
            against=self.setting.against,
            shoulder_open=shoulders_open(self._bench.book),
            blur=self.setting.blur,
            bars_from=self._stands_from if self._stands_from != self.frame else None,
        )

    def cast(self, frame: int | None = None) -> str | None:
        """The cast at a frame, its own where none is named; else the chosen one, unless that is elsewhere.

        What was measured never lands on a cast elsewhere by habit.
        """
        at, facts = self.frame if frame is None else frame, self._bench.facts
        pts = facts.pts[at] if facts is not None and at is not None and at < len(facts.pts) else None
        for mark in (self._bench.element_at(pts), self._bench.chosen_mark()):
            if mark is not None and self._bench.is_cast(mark) and not actions.is_elsewhere(mark, pts):
                return mark.id
        return None

    def _clicked(self, joint: str) -> tuple[Spot, ...]:
        return tuple(spot for name, spot in self.spots.items() if name.split(" ")[0] == joint)

    def _steps(self) -> tuple[str, ...]:
        return asked_for(self.line, self.setting.against)

    def _needed(self) -> tuple[str, ...]:
        return needed(self.line, self.setting.against)

    def _keep(self, clicks: Clicks) -> actions.Change:
        audit, mark = self._bench.open_audit(), self._confirmed_by()
        if isinstance(self.reading, Length):
            return actions.take_length(audit, clicks, recording=self._bench.on_screen)
        if mark is not None:
            return actions.take_and_confirm(audit, clicks, mark.id, self._bench.on_screen)
        actions.take_reading(audit, clicks, recording=self._bench.on_screen)
        return actions.Change(frozenset({"readings"}))

    def _confirmed_by(self) -> Mark | None:
        """The mark whose angle this reading is: of a cast's own line its cast, of a bend the chosen fault."""
        if self.setting.limit_in(self._bench.book) is not None:
            return self._bench.mark(self.cast())
        chosen = self._bench.chosen_mark()
        bend = not self.setting.is_elevation(self._bench.book) and self.setting.line.endswith("-bend")
        return chosen if bend and chosen is not None and chosen.kind == "fault" else None

    def _kept_words(self) -> str:
        mark, say = self._confirmed_by(), self._bench.say
        if mark is None or isinstance(self.reading, Length):
            return say("Kept: {what}.", what=named(self.line, say))
        done = say("Reading kept; it is now the angle of {mark}.", mark=f"{mark.code} {mark.id}")
        return " ".join((done, *seen_words(mark, say)))

    def _refuse(self, why: str, **arguments: object) -> None:
        self._bench.said.emit(self._bench.say(why, **arguments), True)

    def _begin(self) -> None:
        self.spots, self._skipped, self.reading, self.trouble = {}, set(), None, ""
        self._stands_from, self.in_hand, self._again, self._carried = None, None, None, ""
        self._kept = None
        self.changed.emit()

    def _stand_bars(self) -> None:
        """Take over the bars' points of the latest clicks here: a camera on a stand sees them so."""
        clicks = self._before.bars()
        if clicks is None:
            return
        self.spots.update(clicks.apparatus)
        self._stands_from = clicks.frame
        self._skipped.update(step for step in APPARATUS if step not in self.spots)
        self.setting = self.setting.as_in(clicks)
        self.set_anew.emit()
        self.changed.emit()
        if clicks.frame != self.frame:
            self.stood.emit(clicks)

    def _take_up(self, kept: Kept) -> None:
        """Lay it as it was kept on this frame."""
        self._kept, self.spots, self._stands_from = kept, kept.spots, kept.clicks.bars_from
        self._usual = self.setting
        self.setting = self.setting.as_kept(kept.clicks, self._bench.book)
        self._skipped.update(step for step in self._steps() if step not in self.spots)
        self.set_anew.emit()
        self._read()

    def _as_kept(self) -> Reading | None:
        """The kept reading, while nothing of it is moved or set otherwise."""
        kept = self._kept
        if kept is None or kept.spots != self.spots:
            return None
        return kept.reading if self.setting == self.setting.as_kept(kept.clicks, self._bench.book) else None

    def _is_kept(self) -> bool:
        """Whether there is nothing to keep: neither another reading nor a mark that does not cite it yet."""
        mark, kept = self._confirmed_by(), self._as_kept()
        cited = mark.angle.reading if mark is not None and mark.angle is not None else None
        return kept is not None and (mark is None or cited == kept.id)

    def carry(self, found: measuring.Carried) -> None:
        """The bars were looked for from the frame they stand from; points mended by hand since stay."""
        if found.lost_on is not None:
            self.spots = {name: spot for name, spot in self.spots.items() if name not in APPARATUS}
            self._skipped -= set(APPARATUS)
        elif found.turned is not None and not found.stands:
            self.spots |= dict(found.points)
        self._carried = carried_words(found, self._stands_from, self._bench.say)
        self._read()

    def _standing_words(self) -> tuple[str, ...]:
        if self._stands_from is None or self._stands_from == self.frame:
            return ()
        if self._carried:
            return (self._carried,)
        stand = noted("The bars stand as on frame {frame}; drag a point where the camera has moved.")
        return (self._bench.say(stand, frame=self._stands_from),)

    def _is_suspect(self, frame: int) -> bool:
        """Whether what it lies on is damaged; the picture on the screen may be another by now."""
        stretches = self._bench.facts.suspect if self._bench.facts is not None else ()
        return any(first <= frame <= last for first, last in stretches)

    def _read(self) -> None:
        clicks, self.trouble, self.reading = self.clicks(), "", self._as_kept()
        try:
            if clicks is not None and self.reading is None:
                of_length = self.setting.is_length(self._bench.book)
                pts = self._bench.pts
                self.reading = measuring.length(clicks) if of_length else measuring.measure(clicks, pts)
        except ReviewerError as error:
            self.trouble = self._bench.say.problems(error.problems)
        self.changed.emit()

    def _reading_words(self) -> tuple[str, ...]:
        """The reading, what may be done with it; or why there is none."""
        bench, reading = self._bench, self.reading
        if self.trouble or reading is None:
            return (self.trouble,) if self.trouble else ()
        said = told_of(reading, self.line, bench.say)
        limit, book = self.setting.limit_in(bench.book), bench.book
        if limit is None or book is None or isinstance(reading, Length):
            return (f"{said}.", *self._keeping())
        held = verdict_words(reading, limit, book.cast.guard_per_mille, bench.say)
        on = bench.say("{key} follows it to the top.", key=bench.key("follow"))
        return (f"{said}: {held}.", *self._keeping(), on)

    def _keeping(self) -> tuple[str, ...]:
        """That it may be kept, where there is a case to keep it in."""
        audit, key = self._bench.audit, self._bench.key("keep-reading")
        written = audit is not None and audit.author is not None and not self._is_kept()
        return (self._bench.say("{key} keeps it.", key=key),) if written else ()
