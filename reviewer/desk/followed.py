"""A followed cast as it lies on the desk: the track, what is drawn of it on a frame, and keeping its top."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from PyQt6.QtCore import QObject, pyqtSignal

from reviewer import actions, drawing
from reviewer.desk.bench import Bench
from reviewer.desk.calls import tenths
from reviewer.desk.follower import Follower
from reviewer.desk.protractor import Protractor
from reviewer.terms.exact import Degrees
from reviewer.terms.problems import ReviewerError
from reviewer.terms.readings import Clicks
from reviewer.terms.shapes import Shape


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
        self._follower: Follower | None = None
        self._seen = 0

    def another_frame(self) -> None:
        """Keep what is clicked in mind, and lay the protractor on the frame on the screen as well."""
        clicks = self._protractor.clicks()
        if clicks is None:
            self._bench.said.emit("Place the points this frame needs first.", True)
        elif not self._protractor.here:
            self._clicked[clicks.frame] = clicks
            self._protractor.go_on()
        else:
            self._bench.said.emit("Step to another frame first, then press N.", True)

    def begin(self) -> None:
        """Follow from every frame that was clicked."""
        clicks, path = self._protractor.clicks(), self._bench.recording
        if clicks is None or path is None or not self._protractor.setting.is_elevation(self._bench.book):
            self._bench.said.emit("Only a body line with its points placed can be followed.", True)
            return
        self.put_away(forget=False)
        self._clicked[clicks.frame] = clicks
        self._run(path, [self._clicked[frame] for frame in sorted(self._clicked)])

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
        return drawing.followed(frame, self._through(), picture.full_size)

    def words(self) -> str:
        """How far it has come, or what was found, what was lost and why."""
        if self._follower is not None:
            return f"Following: {self._seen} frames looked at. Esc stops it."
        if self.track is None:
            return ""
        lost = "".join(
            f" Lost on frames {first} to {last}: {one['why']}."
            for one in self.track["lost"]
            for first, last in [one["frames"]]
        )
        camera = self.track.get("camera", {}).get("said", "")
        return f"{self._top_words()}{lost}{f' Camera {camera}.' if camera else ''}"

    def keep(self) -> bool:
        """Make the top the angle of the cast at this frame, and keep the track as evidence."""
        track, cast = self.track, self._protractor.cast()
        if track is None:
            return False
        clicked = tuple(self._clicked[frame] for frame in sorted(self._clicked))
        span = self._protractor.setting.span_ms

        def kept() -> actions.Change:
            audit = self._bench.open_audit()
            return actions.keep_followed(audit, clicked, span, track, self._bench.on_screen, cast)

        mark = self._bench.mark(cast)
        done = f"Kept; the top is the angle of {mark.code} {mark.id}." if mark else "The track is kept."
        return self._bench.attempt(kept, done)

    def _run(self, path: Path, clicked: list[Clicks]) -> None:
        self._follower = Follower(path, clicked, self._protractor.setting.span_ms)
        self._follower.advanced.connect(self._advanced)
        self._follower.followed.connect(self._found)
        self._follower.failed.connect(self._failed)
        self._follower.start()
        self.changed.emit()

    def _advanced(self, seen: int) -> None:
        self._seen = seen
        if seen % 5 == 0:
            self.changed.emit()

    def _found(self, track: Mapping[str, Any]) -> None:
        if self._follower is not None:
            self._follower.wait()
        self._follower, self.track = None, track
        self.changed.emit()
        if track["top"] is not None:
            self._bench.wanted.emit(track["top"]["frame"])

    def _failed(self, error: ReviewerError) -> None:
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
        top = self.track["top"]
        if top is None:
            return f"No top: {self.track['why_no_top']}. Click nearer to it, or on more frames (N)."
        low, high = top["interval_s"]
        return (
            f"Top at {top['time_s']} s (95 %: {low} to {high} s), nearest frame {top['frame']}: "
            f"{_degrees(top['value_deg'])}°, standard uncertainty {_degrees(top['u_deg'])}°. "
            "Look at it, then Enter keeps it; N adds clicks on another frame; Esc goes back."
        )


def _degrees(text: str) -> str:
    return tenths(Degrees.parse(text))
