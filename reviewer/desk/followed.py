"""A followed cast as it lies on the desk: the track, what is drawn of it on a frame, and keeping its top."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

from PyQt6.QtCore import QObject, pyqtSignal

from reviewer import actions, drawing, measuring
from reviewer.desk.angles import seen_words
from reviewer.desk.bench import Bench
from reviewer.desk.errand import Errand
from reviewer.desk.protractor import Protractor
from reviewer.desk.setting import Setting
from reviewer.desk.telling import held_words
from reviewer.terms.exact import Degrees, Pixels
from reviewer.terms.intervals import degrees_told
from reviewer.terms.messages import noted
from reviewer.terms.problems import ReviewerError
from reviewer.terms.readings import Clicks
from reviewer.terms.shapes import Shape, Spot


class Followed(QObject):
    """Follows what the protractor has clicked, on every frame it was laid on.

    Attributes:
        track: ``reviewer.track/1``, or None.

    Signals:
        changed(): there is another track, or none any more, or it has come further.
    """

    changed = pyqtSignal()

    def __init__(self, bench: Bench, protractor: Protractor) -> None:
        super().__init__()
        self._bench, self._protractor = bench, protractor
        self.track: Mapping[str, Any] | None = None
        self._clicked: dict[int, Clicks] = {}
        self._followed: tuple[tuple[Clicks, ...], int] = ((), 0)
        self._follower: Errand | None = None
        self._seen = 0

    def another_frame(self) -> None:
        """Keep what is clicked in mind, and lay the protractor on the frame on the screen as well."""
        self.put_away(forget=False)
        clicks = self._protractor.clicks()
        if clicks is None:
            self._tell(noted("Place the points this frame needs first."))
        elif not self._protractor.here:
            self._clicked[clicks.frame] = clicks
            self._protractor.go_on()
        else:
            self._tell(noted("Step to another frame first, then press {key}."))

    def begin(self) -> None:
        """Follow from every frame that was clicked."""
        clicks, path = self._protractor.clicks(), self._bench.recording
        if clicks is None or path is None or not self._protractor.setting.is_elevation(self._bench.book):
            self._tell(noted("Only a body line with its points placed can be followed."))
            return
        self.put_away(forget=False)
        self._clicked[clicks.frame] = clicks
        self._run(path, [self._clicked[frame] for frame in sorted(self._clicked)])

    def set_to(self, setting: Setting) -> None:
        """Measure the frames clicked before as well with other knowledge; another line takes other clicks."""
        self.put_away(forget=False)
        line = setting.line_in(self._bench.book)
        if any(clicks.line != line for clicks in self._clicked.values()):
            self._clicked = {}
            let_go = self._bench.say("The other frames were clicked for another line; they are let go.")
            self._bench.said.emit(let_go, False)
        self._clicked = {
            frame: replace(
                clicks,
                against=setting.against,
                height=setting.height,
                dimensions=setting.bars,
                blur=setting.blur,
            )
            for frame, clicks in self._clicked.items()
        }

    def put_away(self, *, forget: bool = True) -> bool:
        """Follow no further and show no track; whether there was anything."""
        had = self.track is not None or self._follower is not None
        if self._follower is not None:
            self._follower.stop()
        self._follower, self.track, self._seen = None, None, 0
        if forget:
            self._clicked = {}
        self.changed.emit()
        return had

    def shapes(self) -> tuple[Shape, ...]:
        """The joints and the line on the frame on the screen, where they were followed so far."""
        frame = self._here()
        if frame is None:
            return ()
        picture = self._bench.picture
        assert picture is not None
        return drawing.followed(frame, self._through(), picture.full_size, self._bench.say)

    def joints(self) -> Mapping[str, Spot]:
        """The joints on the frame on the screen by name, where they were followed so far."""
        frame = self._here()
        points = frame["points"] if frame is not None and frame["state"] == "good" else {}
        return {name: Spot(Pixels.parse(x), Pixels.parse(y)) for name, (x, y) in points.items()}

    def words(self) -> str:
        """How far it has come, or what was found, what was lost and why."""
        say = self._bench.say
        if self._follower is not None:
            stop = self._bench.key("back")
            return say("Following: {count} frames looked at. {key} stops it.", count=self._seen, key=stop)
        if self.track is None:
            return ""
        lost = [
            say("Lost on frames {first} to {last}: {why}.", first=first, last=last, why=say.word(one["why"]))
            for one in self.track["lost"]
            for first, last in [one["frames"]]
        ]
        found = self.track.get("camera", {}).get("said", "")
        camera = [say("Camera {found}.", found=say.retold(found))] if found else []
        return " ".join((self._top_words(), *lost, *camera))

    def keep(self) -> bool:
        """Make the top the angle of the cast at this frame, and keep the track as evidence."""
        track = self.track
        if track is None:
            return False
        top = track["top"]
        cast = self._protractor.cast(top["frame"]) if top is not None else None
        clicked, span = self._followed

        def kept() -> actions.Change:
            audit = self._bench.open_audit()
            return actions.keep_followed(audit, clicked, span, track, self._bench.on_screen, cast)

        mark, done = self._bench.mark(cast), self._bench.say("The track is kept.")
        if mark is not None:
            named = f"{mark.code} {mark.id}"
            done = self._bench.say("Kept; the top is the angle of {mark}.", mark=named)
            done = " ".join((done, *seen_words(mark, self._bench.say)))
        return self._bench.attempt(kept, done)

    def _tell(self, why: str) -> None:
        """Why nothing is done."""
        self._bench.said.emit(self._bench.say(why, key=self._bench.key("another-frame")), True)

    def _run(self, path: Path, clicked: list[Clicks]) -> None:
        self._followed = (tuple(clicked), self._protractor.setting.span_ms)
        self._follower = Errand(lambda going_on: actions.follow_on(path, *self._followed, going_on))
        self._follower.advanced.connect(self._advanced)
        self._follower.done.connect(self._found)
        self._follower.failed.connect(self._failed)
        self._follower.start()
        self.changed.emit()

    def _advanced(self, seen: int) -> None:
        if self.sender() is not self._follower:
            return
        self._seen = seen
        if seen % 5 == 0:
            self.changed.emit()

    def _found(self, track: Mapping[str, Any]) -> None:
        if self._follower is None or self.sender() is not self._follower:
            return  # stopped while it was ending
        self._follower.wait()
        self._follower, self.track = None, track
        self.changed.emit()
        if track["top"] is not None:
            self._bench.wanted.emit(track["top"]["frame"])

    def _failed(self, error: ReviewerError) -> None:
        if self.sender() is not self._follower:
            return
        self.put_away(forget=False)
        self._bench.say_problems(error)

    def _here(self) -> Mapping[str, Any] | None:
        picture = self._bench.picture
        if self.track is None or picture is None:
            return None
        return next((one for one in self.track["frames"] if one["frame"] == picture.frame), None)

    def _through(self) -> str:
        return str(self.track.get("through") or self.track["line"]) if self.track else ""

    def _top_words(self) -> str:
        assert self.track is not None
        top, bench, say = self.track["top"], self._bench, self._bench.say
        more, keep, back = (bench.key(does) for does in ("another-frame", "keep-reading", "back"))
        if top is None:
            why = say.retold(self.track["why_no_top"])
            return say("No top: {why}. Click nearer to it, or on more frames ({key}).", why=why, key=more)
        time, low, high = (_thousandths(one) for one in (top["time_s"], *top["interval_s"]))
        found = say(
            "Top at {time} s (95 %: {low} to {high} s), nearest frame {frame}: {angle}; camera {check}",
            time=time,
            low=low,
            high=high,
            frame=top["frame"],
            angle=degrees_told(top),
            check=say.retold(self.track["calibration"]["check"]),
        )
        asked = noted(
            "Look at it, then {keep} keeps it; {more} adds clicks on another frame; {back} goes back."
        )
        return f"{found}{self._held(top)}. {say(asked, keep=keep, more=more, back=back)}"

    def _held(self, top: Mapping[str, Any]) -> str:
        """The verdict, where a limit belongs to what is measured."""
        book = self._bench.book
        limit = self._protractor.setting.limit_in(book)
        if limit is None or book is None:
            return ""
        value, doubt = Degrees.parse(top["value_deg"]), Degrees.parse(top["u_deg"])
        held = measuring.verdict(value, doubt, limit, book.cast.guard_per_mille)
        return f": {held_words(self._bench.say, held.word, limit)}"


def _thousandths(seconds: str) -> str:
    """Seconds with three places."""
    return f"{Decimal(seconds):.3f}"
