"""Several recordings of one start: which is on the screen, which is beside it, and the instant they share."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress

from PyQt6.QtCore import QObject
from PyQt6.QtWidgets import QWidget

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.beside import Beside
from reviewer.desk.recordings import RecordingsPage
from reviewer.desk.viewing import Viewing
from reviewer.terms.messages import noted
from reviewer.terms.problems import ReviewerError

RECORDINGS = "*.mp4 *.mov *.m4v *.mkv *.avi *.mts *.ts *.webm"
BESIDE_SHARE = 4
"""The picture beside has the memory of the one on the screen, divided by this."""


class Seats(QObject):
    """Puts the case's recordings on the screen and beside it, and joins them.

    Attributes:
        beside: the picture beside.
    """

    def __init__(self, window: QWidget, bench: Bench, viewing: Viewing, memory: int) -> None:
        super().__init__(window)
        self._window, self._bench, self._viewing = window, bench, viewing
        self.beside = Beside(bench, memory // BESIDE_SHARE)
        self.beside.failed.connect(bench.say_problems)

    def doings(self) -> dict[str, Callable[[], object]]:
        """What can be done here, by the names of the key table."""
        return {
            "other-recording": lambda: self._with_another(self._change_over),
            "beside": self._beside,
            "beside-next": lambda: self.beside.step(1),
            "beside-previous": lambda: self.beside.step(-1),
            "join": self._join,
            "recordings": self._page,
        }

    def show_recording(self, recording: str | None, frame: int = 0) -> None:
        """Put one of the case's recordings on the screen, at a frame; where it was not found, none."""
        audit = self._bench.audit
        self._bench.on_screen = recording
        path = audit.recording_paths.get(recording) if audit and recording else None
        self._viewing.load(path, frame=frame)
        if self.beside.recording == recording:
            self.beside.put_away()

    def _change_over(self, recording: str) -> None:
        """Put another recording on the screen, at the same instant where the two are joined."""
        audit, here, picture = self._bench.audit, self._bench.on_screen, self._bench.picture
        frame = None
        if audit is not None and here is not None and picture is not None:
            with suppress(ReviewerError):
                frame = actions.counterpart(audit, picture.frame, of=here, on=recording)
        self.show_recording(recording, frame or 0)

    def _with_another(self, doing: Callable[[str], None]) -> None:
        """Do something with the next recording of the case that is found on this computer."""
        audit, here = self._bench.audit, self._bench.on_screen
        known = [one.sha256 for one in audit.state.recordings] if audit else []
        at = known.index(here) if here in known else 0
        others = [one for one in known[at + 1 :] + known[:at] if audit and one in audit.recording_paths]
        if others:
            doing(others[0])
        else:
            why = noted("The case has no other recording here: add one on its page of recordings.")
            self._refuse(why)

    def _beside(self) -> None:
        audit = self._bench.audit
        if self.beside.recording is not None or audit is None:
            self.beside.put_away()
        else:
            self._with_another(lambda one: self.beside.open(one, audit.recording_paths[one]))

    def _join(self) -> None:
        picture, here, other = self._bench.picture, self._bench.on_screen, self.beside.recording
        if picture is None or here is None or other is None:
            first = noted("Show another recording of the routine beside first: {key}.")
            self._refuse(first, key=self._bench.key("beside"))
            return

        def joined() -> actions.Change:
            audit = self._bench.open_audit()
            return actions.join_recordings(audit, here, picture.frame, other, self.beside.frame)

        self._bench.attempt(joined, self._bench.say("The two recordings are joined at this instant."))

    def _page(self) -> None:
        if self._bench.audit is None:
            self._refuse(noted("No case is open: start one first, or open one."))
            return
        kinds = self._bench.say("Recordings ({kinds});;All files (*)", kinds=RECORDINGS)
        page = RecordingsPage(self._window, self._bench, kinds)
        page.wanted.connect(self.show_recording)
        page.show()

    def _refuse(self, why: str, **arguments: object) -> None:
        self._bench.said.emit(self._bench.say(why, **arguments), True)
