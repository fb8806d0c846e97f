"""The protractor as it lies on one frame: points placed one by one, mended by dragging, read live."""

from PyQt6.QtCore import QObject, pyqtSignal

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.calls import tenths
from reviewer.drawing import protractor as protractor_shapes
from reviewer.measuring import FEWEST, measure, verdict
from reviewer.terms.exact import Pixels
from reviewer.terms.problems import ReviewerError
from reviewer.terms.readings import JOINTS, LINES, Clicks, Reading, Requirement
from reviewer.terms.shapes import Ring, Shape, Spot

SIDES = {"near": "nearer", "far": "farther"}
APPARATUS = tuple(
    f"{rail}-{what}-{side}"
    for side in ("near", "far")
    for rail in ("low", "high")
    for what in ("rail", "foot")
)
"""Points of the bars, those of the nearer side first."""
STEPS = (*JOINTS, *APPARATUS)
ASKED = {
    "hand": "the hand on the rail",
    "shoulder": "the shoulder",
    "hip": "the hip",
    "ankle": "the ankle",
    "rail": "the end of the {rail} rail on the {side} side, the middle of its end",
    "foot": "the foot of the {rail} rail's upright on the {side} side, where it meets the mat",
}
RING = Pixels(7000)
QUARTER = Pixels(250)


class Protractor(QObject):
    """Holds the points and gives the reading.

    Signals:
        changed(): something is to be drawn or said anew.
    """

    changed = pyqtSignal()

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self._bench = bench
        self.frame: int | None = None
        self.spots: dict[str, Spot] = {}
        self.reading: Reading | None = None
        self.trouble = ""
        self._skipped: set[str] = set()
        self._stands_from: int | None = None
        self.in_hand: str | None = None

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
        """The body line the edition asks for."""
        return self._bench.book.cast.line if self._bench.book else LINES[0]

    def lay(self) -> None:
        """Lay it on the frame on screen, without points."""
        if self._bench.picture is not None:
            self.frame = self._bench.picture.frame
            self._begin()
            self._stand_bars()

    def put_away(self) -> None:
        """Take it off; what was not kept is gone."""
        self.frame = None
        self._begin()

    def wanted(self) -> str | None:
        """The point asked for next, or None when all are placed or skipped."""
        return next((step for step in STEPS if step not in self.spots and step not in self._skipped), None)

    def place(self, spot: Spot) -> None:
        """Place the point asked for."""
        step = self.wanted()
        if self.here and step is not None:
            self.move(step, spot)

    def move(self, step: str, spot: Spot) -> None:
        """Put a point somewhere, first or again; it is the one in hand from then on."""
        self.spots[step], self.in_hand = spot, step
        self._read()

    def nudge(self, across: int, down: int) -> None:
        """Move the point in hand by so many quarters of a pixel."""
        spot = self.spots.get(self.in_hand or "")
        if self.here and spot is not None and self.in_hand is not None:
            moved = Spot(spot.x + QUARTER * across, spot.y + QUARTER * down)
            self.move(self.in_hand, moved)

    @property
    def looked_at(self) -> Spot | None:
        """The spot of the point in hand, where the picture on the screen has it."""
        return self.spots.get(self.in_hand or "") if self.here else None

    def skip(self) -> None:
        """Go on without the point asked for, unless the line needs it."""
        step = self.wanted()
        if step is not None and step not in self.line.split("-"):
            self._skipped.add(step)
            self.changed.emit()

    def take_back(self) -> None:
        """Take the latest point or skip back."""
        done = [step for step in STEPS if step in self.spots or step in self._skipped]
        if done:
            self.spots.pop(done[-1], None)
            self._skipped.discard(done[-1])
            self._read()

    def shapes(self) -> tuple[Shape, ...]:
        """What is to be drawn: the whole protractor once there is a reading, rings before.

        Put away, the readings that a cast of this frame's recording cites.
        """
        if not self.laid:
            return self._cited()
        if not self.here:
            return ()
        if self.reading is None:
            return tuple(Ring(spot, RING, "joint") for spot in self.spots.values())
        drawn = protractor_shapes(self.reading, self._requirement())
        lone = [self.spots[step] for step in APPARATUS if step in self.spots]
        return (*drawn, *(Ring(spot, RING, "upright") for spot in lone))

    def words(self) -> str:
        """What is asked for, and the reading as it stands."""
        if not self.laid:
            return ""
        if not self.here:
            return f"The protractor lies on frame {self.frame}. Esc puts it away."
        step = self.wanted()
        needed = step in self.line.split("-")
        ask = (
            f"Click {_asked(step)}{'' if needed else ', or skip with Space'}. "
            if step
            else "All points are placed. "
        )
        return self._standing_words() + ask + (self.trouble or self._reading_words())

    def keep(self) -> bool:
        """Keep the reading in the case and let the cast at this frame cite it."""
        clicks = self._clicks()
        if clicks is None or self.reading is None:
            self._bench.said.emit("There is no reading yet: place the points the line needs.", True)
            return False
        return self._bench.attempt(lambda: self._kept(clicks), self._kept_words())

    def _cited(self) -> tuple[Shape, ...]:
        audit, cited = self._bench.audit, {mark.angle.reading for mark in self._bench.marks if mark.angle}
        kept = [one for one in audit.readings if one.id in cited] if audit else []
        here = [one for one in kept if one.pts is not None and one.pts == self._bench.pts]
        return tuple(shape for one in here for shape in protractor_shapes(one, self._requirement()))

    def _kept(self, clicks: Clicks) -> actions.Change:
        audit, cast = self._bench.open_audit(), self._cast()
        if cast is not None:
            return actions.take_and_confirm(audit, clicks, cast, self._bench.on_screen)
        actions.take_reading(audit, clicks, recording=self._bench.on_screen)
        return actions.Change(frozenset({"readings"}))

    def _cast(self) -> str | None:
        """The cast at this frame, else the chosen one: a reading never lands on a cast elsewhere by habit."""
        for mark in (self._bench.element_here(), self._bench.chosen_mark()):
            if mark is not None and self._bench.is_cast(mark):
                return mark.id
        return None

    def _kept_words(self) -> str:
        cast = self._bench.mark(self._cast())
        return (
            "Reading kept."
            if cast is None
            else f"Reading kept; it is now the angle of {cast.code} {cast.id}."
        )

    def _begin(self) -> None:
        self.spots, self._skipped, self.reading, self.trouble = {}, set(), None, ""
        self._stands_from, self.in_hand = None, None
        self.changed.emit()

    def _clicks(self) -> Clicks | None:
        picture = self._bench.picture
        if self.frame is None or picture is None or not set(self.line.split("-")) <= self.spots.keys():
            return None
        bars = [(step, self.spots[step]) for step in sorted(APPARATUS) if step in self.spots]
        return Clicks(
            frame=self.frame,
            picture=picture.full_size,
            line=self.line,
            body=tuple((joint, (self.spots[joint],)) for joint in sorted(JOINTS) if joint in self.spots),
            apparatus=tuple(bars),
            suspect=self._is_suspect(self.frame),
        )

    def _stand_bars(self) -> None:
        """Take over the bars' points of the latest reading here: a camera on a stand sees them so."""
        audit = self._bench.audit
        for one in reversed(audit.readings if audit is not None else ()):
            if audit is not None and self._is_here(audit, one) and len(one.clicks.apparatus) >= FEWEST:
                self.spots.update(one.clicks.apparatus)
                self._stands_from = one.clicks.frame
                self._skipped.update(step for step in APPARATUS if step not in self.spots)
                self.changed.emit()
                return

    def _is_here(self, audit: actions.Audit, one: Reading) -> bool:
        return audit.own_name(audit.reading_on(one.id)) == audit.own_name(self._bench.on_screen)

    def _standing_words(self) -> str:
        if self._stands_from is None or self._stands_from == self.frame:
            return ""
        return f"The bars stand as on frame {self._stands_from}; drag a point where the camera has moved. "

    def _is_suspect(self, frame: int) -> bool:
        """Whether what it lies on is damaged; the picture on the screen may be another by now."""
        stretches = self._bench.facts.suspect if self._bench.facts is not None else ()
        return any(first <= frame <= last for first, last in stretches)

    def _read(self) -> None:
        clicks, self.trouble, self.reading = self._clicks(), "", None
        try:
            self.reading = measure(clicks, self._bench.pts) if clicks else None
        except ReviewerError as error:
            self.trouble = "  ".join(str(problem) for problem in error.problems)
        self.changed.emit()

    def _requirement(self) -> Requirement | None:
        book = self._bench.book
        return Requirement(book.cast.at_least, book.cast.tolerance.below) if book else None

    def _reading_words(self) -> str:
        if self.reading is None:
            return ""
        value, spread = tenths(self.reading.value), tenths(self.reading.uncertainty)
        said = f"{self.line}: {value}°, standard uncertainty {spread}° ({self.reading.calibration.check})"
        requirement, book = self._requirement(), self._bench.book
        if requirement is None or book is None:
            return said
        held = verdict(self.reading.value, self.reading.uncertainty, requirement, book.cast.guard_per_mille)
        return f"{said}: {held.word} (at least {tenths(requirement.at_least)}°). Enter keeps it."


def _asked(step: str) -> str:
    """The words for a point to be clicked."""
    if step in JOINTS:
        return ASKED[step]
    rail, what, side = step.split("-")
    return ASKED[what].format(rail=rail, side=SIDES[side])
