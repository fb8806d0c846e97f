"""Heads covered at the desk: clicked on a frame, sized, followed, looked through and confirmed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from PyQt6.QtCore import QObject

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.coverpage import CoverPage
from reviewer.desk.errand import Errand
from reviewer.desk.evidence import EvidenceView
from reviewer.desk.gauging import Gauging
from reviewer.desk.viewing import Viewing
from reviewer.terms.covers import Cover, Placed, Stretch
from reviewer.terms.exact import Pixels
from reviewer.terms.messages import noted
from reviewer.terms.problems import ReviewerError
from reviewer.terms.shapes import Spot

STEP, SHARE, LEAST = 1.12, 16, 4
"""What a step of size multiplies by; the first cover's part of the shorter side; the least half size."""
BLINK = 0.25
"""Seconds of pictures left out while playing that still count as looked through."""
_LETTERS = "abcdefghijklmnopqrstuvwxyz"


class Covering(QObject):
    """Lets covers be placed on the picture, and hides what they hide while it does.

    Attributes:
        laid: whether it is on.
        head: the letter of the head that a click covers.
        page: what it says and can do, to be put beneath the picture.
    """

    def __init__(self, bench: Bench, viewing: Viewing, gauging: Gauging, evidence: EvidenceView) -> None:
        super().__init__()
        self._bench, self._viewing, self._gauging, self._evidence = bench, viewing, gauging, evidence
        self.laid, self.head = False, "a"
        self._size: tuple[int, int] | None = None
        self._seen: set[int] = set()
        self._covered: actions.Covered | None = None
        self._follower: Errand | None = None
        self._looked = 0
        self.page = CoverPage(bench, self.doings())
        bench.changed.connect(self._refresh)
        viewing.opened.connect(self.put_away)
        viewing.shown.connect(self.follow_picture)
        gauging.changed.connect(self._give_way)
        evidence.clicked.connect(self.place)
        evidence.sized.connect(self.resize)

    def doings(self) -> dict[str, Callable[[], object]]:
        """What can be done with covers, by the names of the key table."""
        return {
            "cover-heads": self.lay_or_put_away,
            "cover-larger": lambda: self.resize(1),
            "cover-smaller": lambda: self.resize(-1),
            "cover-next-head": self.next_head,
            "cover-gone": self.gone,
            "cover-remove": self.remove,
            "cover-follow": self.follow,
            "cover-lost": self.next_lost,
            "cover-confirm": self.confirm,
            "cover-back": self._back,
        }

    def lay_or_put_away(self) -> None:
        """Begin to cover heads, or end it."""
        if self.laid:
            self.put_away()
        elif self._bench.audit is None or self._bench.picture is None:
            said = noted("Heads are covered in a case: open one with its recording, or start one.")
            self._bench.said.emit(self._bench.say(said), True)
        else:
            self._gauging.put_away()
            self.laid, self._seen, self.head = True, set(), "a"
            self._refresh(frozenset({"covers"}))

    def put_away(self) -> None:
        """End it: the picture is shown as it is."""
        self._stop()
        self.laid, self._covered = False, None
        self.page.setVisible(False)
        self._evidence.cover(())

    def follow_picture(self) -> None:
        """The picture on the screen is another: what is hidden of it; it counts as looked at."""
        picture = self._bench.picture
        if self._covered is not None and picture is not None:
            self._evidence.cover(self._covered.shown(picture.frame))
            self._seen.add(picture.frame)
            self._tell()

    def _give_way(self) -> None:
        """Clicks belong to the protractor while that lies on the picture."""
        if self.laid and self._gauging.protractor.laid:
            self.put_away()

    def place(self, spot: Spot) -> None:
        """Put the cover over the head in hand here."""
        picture = self._bench.picture
        if not self.laid or picture is None:
            return
        size = self._size or (min(picture.full_size) * 1000 // SHARE,) * 2
        self._put(Cover(spot, *(Pixels(one) for one in size)))

    def resize(self, step: int) -> None:
        """Make the cover placed on this frame larger (1) or smaller (-1)."""
        own = self._own()
        if not self.laid:
            return
        if own is None or own.cover is None:
            self._say(noted("Click the middle of the head first."))
            return
        across, down = (
            Pixels(max(1000 * LEAST, round(one.thousandths * STEP**step)))
            for one in (own.cover.across, own.cover.down)
        )
        self._put(replace(own.cover, across=across, down=down))

    def next_head(self) -> None:
        """Take the next head in hand: after the last one a new one, then the first again."""
        known = self._covered.heads.letters if self._covered is not None else ()
        fresh = next(one for one in (*_LETTERS, "aa") if one not in known)
        heads = (*known, fresh)
        at = heads.index(self.head) if self.head in heads else -1
        self.head, self._size = heads[(at + 1) % len(heads)], None
        self._tell()

    def gone(self) -> None:
        """The head in hand is out of the picture from this frame on."""
        self._put(None)

    def remove(self) -> None:
        """Take away what was said of the head in hand on this frame."""
        bench, frame = self._bench, self._frame()
        bench.attempt(
            lambda: actions.remove_cover(bench.open_audit(), self.head, frame, bench.on_screen),
            bench.say("Taken away."),
        )

    def follow(self) -> None:
        """Follow what was placed, off the window's thread."""
        bench, covered = self._bench, self._covered
        if covered is None or bench.recording is None or self._follower is not None:
            return
        heads, path = [covered.heads.of(head) for head in covered.unfollowed], bench.recording
        if not heads:
            self._say(noted("Nothing was placed or taken away since the heads were followed."))
            return
        self._looked = 0
        self._follower = Errand(lambda going_on: actions.follow_apart(path, heads, going_on))
        self._follower.advanced.connect(self._advanced)
        self._follower.done.connect(self._found)
        self._follower.failed.connect(self._failed)
        self._follower.start()
        self._tell()

    def next_lost(self) -> None:
        """Show the middle of the next stretch where a head was lost."""
        lost, here = (self._covered.lost if self._covered is not None else ()), self._frame()
        later = [one for one in lost if one[0] > here] or list(lost)
        if later:
            self._viewing.seek((later[0][0] + later[0][1]) // 2)
        else:
            self._say(noted("No head is lost."))

    def confirm(self) -> None:
        """Keep that every stretch seen since the covers changed was looked through."""
        bench, seen = self._bench, self.seen()
        if not seen:
            self._say(noted("Look through it first: play it, or step."))
            return

        def kept() -> Any:
            for first, last in seen:
                change = actions.confirm_covers(bench.open_audit(), first, last, bench.on_screen)
            return change

        told = ", ".join(f"{first}–{last}" for first, last in seen)
        if bench.attempt(kept, bench.say("Looked through: frames {frames}.", frames=told)):
            self._tell()

    def seen(self) -> tuple[Stretch, ...]:
        """Stretches on the screen since the covers changed, with what playing left out in a blink."""
        facts, found = self._bench.facts, list[Stretch]()
        for frame in sorted(self._seen) if facts is not None else ():
            assert facts is not None
            base = facts.time_base
            since = (facts.pts[frame] - facts.pts[found[-1][1]]) * base.numerator if found else 0
            if found and since <= BLINK * base.denominator:
                found[-1] = found[-1][0], frame
            else:
                found.append((frame, frame))
        return tuple(found)

    def _put(self, cover: Cover | None) -> None:
        bench, frame = self._bench, self._frame()
        if not self.laid:
            return
        done = bench.attempt(
            lambda: actions.place_cover(bench.open_audit(), self.head, frame, cover, bench.on_screen)
        )
        if done and cover is not None:
            self._size = cover.across.thousandths, cover.down.thousandths

    def _own(self) -> Placed | None:
        covered = self._covered
        return covered.heads.placed.get((self.head, self._frame())) if covered is not None else None

    def _frame(self) -> int:
        return self._bench.picture.frame if self._bench.picture else 0

    def _refresh(self, what: frozenset[str]) -> None:
        if not self.laid or what.isdisjoint({"covers", "case"}):
            return
        if self._bench.audit is None:
            self.put_away()
            return
        before, self._covered = self._covered, actions.covers_on(self._bench.audit, self._bench.on_screen)
        if before is not None and before.trails != self._covered.trails:
            self._seen = {self._frame()}
        self.follow_picture()

    def _tell(self) -> None:
        if self._covered is None:
            return
        self.page.setVisible(self.laid)
        here = self._own() is not None
        self.page.tell(self._covered, self.head, here=here, looked=self._looked if self._follower else None)

    def _say(self, why: str) -> None:
        self._bench.said.emit(self._bench.say(why), True)

    def _back(self) -> None:
        if self._follower is not None:
            self._stop()
            self._tell()
        else:
            self.put_away()

    def _stop(self) -> None:
        if self._follower is not None:
            self._follower.stop()
        self._follower = None

    def _advanced(self, looked: int) -> None:
        if self.sender() is self._follower and looked % 10 == 0:
            self._looked = looked
            self._tell()

    def _found(self, found: Any) -> None:
        if self._follower is None or self.sender() is not self._follower or self._covered is None:
            return
        self._follower.wait()
        self._follower = None
        bench, recording = self._bench, self._covered.recording
        bench.attempt(
            lambda: actions.keep_followed_heads(bench.open_audit(), recording, found),
            bench.say("Followed. Look through it, then confirm."),
        )

    def _failed(self, error: ReviewerError) -> None:
        if self.sender() is self._follower:
            self._stop()
            self._tell()
            self._bench.say_problems(error)
