"""The picture beside: another recording of the same routine, at the same instant once the two are joined."""

from decimal import Decimal
from pathlib import Path

from PyQt6.QtCore import Qt, pyqtSignal
from PyQt6.QtWidgets import QVBoxLayout, QWidget

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.evidence import EvidenceView
from reviewer.desk.projector import Projector
from reviewer.desk.saidlabel import SaidLabel
from reviewer.terms.intervals import seconds_told
from reviewer.terms.messages import noted
from reviewer.terms.pictures import Picture, RecordingFacts
from reviewer.terms.problems import ReviewerError


class Beside(QWidget):
    """Shows one more recording of the case; it follows the picture on the screen where the two are joined.

    Attributes:
        recording: SHA-256 of the recording it shows, or None while it is put away.
        frame: the frame it shows, or has asked for.

    Signals:
        failed(ReviewerError): the recording cannot be shown.
    """

    failed = pyqtSignal(object)

    def __init__(self, bench: Bench, memory: int) -> None:
        super().__init__()
        self.recording: str | None = None
        self.frame = 0
        self._bench, self._memory = bench, memory
        self._facts: RecordingFacts | None = None
        self._projector: Projector | None = None
        self.evidence, self.label = EvidenceView(bench.say), SaidLabel()
        self.evidence.setAccessibleName(bench.say("Picture beside"))
        self.evidence.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.label.setAccessibleName(bench.say("Frame beside"))
        self.label.setWordWrap(True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.evidence, 1)
        column.addWidget(self.label)
        self.hide()

    def open(self, recording: str, path: Path) -> None:
        """Show a recording, from its first frame or from the instant on the screen."""
        self.put_away()
        self.recording, self.frame = recording, 0
        self._projector = Projector(self._memory, None)
        self._projector.opened.connect(self._opened)
        self._projector.shown.connect(self._shown)
        self._projector.failed.connect(self.failed)
        self._projector.start()
        self._projector.open(path)
        self.show()

    def put_away(self) -> None:
        """Show no other recording."""
        if self._projector is not None:
            self._projector.leave()
        self._projector = self._facts = self.recording = None
        self.hide()

    def follow(self) -> None:
        """Go to the instant of the picture on the screen, where the two are joined."""
        frame = self._counterpart()
        if frame is not None:
            self._ask(frame)
        elif self._facts is not None:
            self._describe()

    def step(self, frames: int) -> None:
        """Step this picture alone, to find the instant that the other shows."""
        if self._facts is not None:
            self._ask(max(0, min(len(self._facts.pts) - 1, self.frame + frames)))

    def _opened(self, facts: RecordingFacts) -> None:
        self._facts = facts
        self._ask(self._counterpart() or 0)

    def _ask(self, frame: int) -> None:
        if self._projector is not None:
            step = -1 if frame < self.frame else 1
            self.frame = frame
            self._projector.show_frame(frame, step)

    def _shown(self, picture: Picture) -> None:
        if self._projector is not None:
            self._projector.taken()
        if self.recording is not None and picture.frame == self.frame:
            self.evidence.put(picture)
            self._describe()

    def _counterpart(self) -> int | None:
        audit, picture, here = self._bench.audit, self._bench.picture, self._bench.on_screen
        if audit is None or picture is None or here is None or self.recording is None or self._facts is None:
            return None
        try:
            return actions.counterpart(audit, picture.frame, of=here, on=self.recording)
        except ReviewerError:
            return None

    def _describe(self) -> None:
        audit, here = self._bench.audit, self._bench.on_screen
        if audit is None or here is None or self.recording is None or self._facts is None:
            return
        seconds = self._facts.time(self.frame).seconds()
        found = actions.offset(audit, here, self.recording)
        where = self._bench.say(
            "Recording {number}   Frame {frame}   {seconds} s",
            number=audit.number_of(self.recording),
            frame=self.frame,
            seconds=seconds,
        )
        self.label.setText(f"{where}   {self._joint(found)}")

    def _joint(self, found: tuple[int, int] | None) -> str:
        if found is None:
            apart = noted(
                "Not joined: find the same instant in both ({on} steps this one), then press {join}."
            )
            on, join = self._bench.key("beside-next"), self._bench.key("join")
            return self._bench.say(apart, on=on, join=join)
        apart = seconds_told(*(str(Decimal(one).scaleb(-6)) for one in found))
        return f"{self._bench.say.word(apart)}{self._remark()}"

    def _remark(self) -> str:
        at, say = self._counterpart(), self._bench.say
        if at is None:
            return f"   {say('It does not show this instant.')}"
        apart = say("Stepped apart; {key} joins here instead.", key=self._bench.key("join"))
        return "" if at == self.frame else f"   {apart}"
