"""The window: evidence, routine, argument, side by side in the order a finding is read.

What is seen stands left, what was done in the middle, what it costs right; what a judge says of it is typed
beneath the picture.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PyQt6.QtCore import Qt
from PyQt6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent
from PyQt6.QtWidgets import (
    QMainWindow,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from reviewer import actions
from reviewer.desk.aiming import Aiming
from reviewer.desk.argument import ArgumentView
from reviewer.desk.aside import Aside
from reviewer.desk.asking import file_to_open, window_title
from reviewer.desk.attaching import attach
from reviewer.desk.bench import ENGLISH_WORDS, Bench
from reviewer.desk.chosen import ChosenPanel
from reviewer.desk.commanding import Commanding, Doing
from reviewer.desk.covering import Covering
from reviewer.desk.dressing import Dressing, keep_wish
from reviewer.desk.entry import EntryLine, OfferedWords
from reviewer.desk.evidence import EvidenceView
from reviewer.desk.falls import Falls
from reviewer.desk.flowing import Beneath
from reviewer.desk.footline import FootLine
from reviewer.desk.frameline import FrameLine
from reviewer.desk.gauging import Gauging
from reviewer.desk.keys import CASE
from reviewer.desk.placing import dropped, split
from reviewer.desk.remembering import Remembering
from reviewer.desk.reporting import Reporting
from reviewer.desk.saying import say
from reviewer.desk.seats import Seats
from reviewer.desk.showing import Showing
from reviewer.desk.starting import Beginning, StartForm
from reviewer.desk.stepping import redone, undone
from reviewer.desk.strip import StripPane
from reviewer.desk.viewing import Viewing
from reviewer.desk.ways import Ways
from reviewer.terms.messages import noted
from reviewer.terms.pictures import Picture
from reviewer.video import MEMORY, SmallStore
from reviewer.words import Saying

if TYPE_CHECKING:
    from reviewer.actions import Audit, Change

CASE_SUFFIX = ".case"


class DeskWindow(QMainWindow):
    """The whole desk; made of parts that share one bench.

    Attributes:
        bench: what lies on the desk.
        viewing: which picture is on the screen.
        line: what is said of it.
        protractor: as it lies on a frame.
    """

    def __init__(
        self,
        author: str,
        memory: int = MEMORY,
        store: SmallStore | None = None,
        *,
        say: Saying = ENGLISH_WORDS,
        look: tuple[str, int] = ("as the system", 100),
        guided: bool = True,
    ) -> None:
        super().__init__()
        self.bench = Bench(author, say=say)
        self.viewing = Viewing(self.bench, memory, store)
        self.remembering = Remembering(self, self.bench, self.viewing)
        self.gauging = Gauging(self.bench, self.viewing)
        self.protractor = self.gauging.protractor
        self._typing_before = False
        self.evidence, self.seats = EvidenceView(say), Seats(self, self.bench, self.viewing, memory)
        self.covering = Covering(self.bench, self.viewing, self.gauging, self.evidence)
        self.routine = StripPane(self.bench, self.viewing, self.gauging)
        self.strip = self.routine.strip
        self.argument = ArgumentView(self.bench)
        self.offered = OfferedWords(say)
        self.entry = EntryLine(self.bench, self.offered)
        self.ways = Ways(self.bench, self.viewing)
        self.falls = Falls(self.bench)
        self.chosen = ChosenPanel(self.bench, self.falls)
        self.foot = FootLine(say)
        self.dressing, self.aside = Dressing(self, self.bench, *look), Aside(self, self.bench)
        self.reporting = Reporting(self, self.bench)
        self._doings = self._what_can_be_done()
        self.chosen.doings, self.chosen.guided = self._doings, guided
        self.chosen.refresh()
        self.line = FrameLine(self.bench, self.viewing, self._doings, self.falls)
        self._arrange()
        self.remembering.also("strip", self.routine)
        parts = (("strip", self.strip), ("strip", self.routine.twin.table))
        lying = {"protractor": lambda: self.protractor.laid, "covers": lambda: self.covering.laid}
        self.commanding = Commanding(self, self.evidence, self._doings, lying, self.bench.say, parts)
        self.aside.commanding = self.commanding
        menus = self.commanding.put_in_menus(self.bench.keyboard)
        self.remembering.offer_in(menus[CASE], self.open_path)
        self.commanding.bind(self.bench.keyboard)
        self._connect()

    def open_path(self, path: Path) -> None:
        """Open a case, or a recording without one."""
        if path.suffix.lower() == CASE_SUFFIX:
            self.open_case(path, None)
        else:
            self.open_recording(path)

    def open_recording(self, path: Path) -> None:
        """Open a recording; a case that lies on the desk is closed first."""
        if self.bench.audit is not None:
            self.bench.lay(None)
        self.gauging.put_away()
        self.seats.beside.put_away()
        self.bench.on_screen = None
        self.viewing.load(path)

    def open_case(self, path: Path, recording: Path | None) -> None:
        """Open a case to write under the author's code, with its recording where it can be found.

        A case that somebody else is writing to is opened to read only.
        """

        def opened(author: str | None) -> None:
            audit = actions.open_case(path, author=author, recording=recording)
            self.gauging.put_away()
            self.seats.beside.put_away()
            left = self.remembering.left_at(path)
            self.bench.lay(audit)
            known = {one.sha256 for one in audit.state.recordings}
            if left is not None and left.recording in known:
                self.seats.show_recording(left.recording, left.frame)
            else:
                self.seats.show_recording(actions.counting_recording(audit))

        say, name = self.bench.say, path.name
        done = say("Case {case} is open.", case=name)
        if not self.bench.attempt(lambda: opened(self.bench.author), done):
            reason = self.foot.text()
            if not self.bench.attempt(lambda: opened(None)):
                return
            self.foot.tell(say("Case {case} is open to read only. {why}", case=name, why=reason), True)
        elif self.bench.recording is None:
            alone = noted("Case {case} is open without its recording: none was found beside it.")
            self.foot.tell(say(alone, case=name), False)

    def start_case(self, beginning: Beginning) -> bool:
        """Start a case on the recording that is open; whether it was started."""
        done = self.bench.attempt(lambda: self._start(beginning))
        if done:
            self._started(beginning)
        return done

    def _start(self, beginning: Beginning) -> None:
        audit = actions.start_case(
            beginning.path,
            author=beginning.author,
            athlete_code=beginning.athlete_code,
            consent=beginning.consent,
            rule_book=beginning.rule_book,
            recording=self.bench.recording,
        )
        self.bench.on_screen = actions.counting_recording(audit)
        self.bench.lay(audit)
        self.bench.author = beginning.author

    def _started(self, beginning: Beginning) -> None:
        kept = noted("{case} is started; every mark is kept at once.")
        self.foot.tell(self.bench.say(kept, case=beginning.path.name), False)
        self.entry.setFocus()

    def _opened(self) -> None:
        self.strip.refresh()
        self.argument.refresh()
        self.chosen.refresh()
        self.evidence.setFocus()
        if self.bench.audit is None and self.bench.recording is not None:
            name, key = self.bench.recording.name, self.bench.key("start")
            said = noted("{recording} is open. {key} starts a case on it.")
            self.foot.tell(self.bench.say(said, recording=name, key=key), False)

    def _paint_anew(self) -> None:
        for part in (self.strip, self.argument, self.chosen):
            part.refresh()
        self.update()

    def _show(self, picture: Picture) -> None:
        self.evidence.put(picture)
        self.line.show_picture(picture)
        self.seats.beside.follow()
        self.strip.update_here()
        self.gauging.follow_picture()
        self._draw()

    def _draw(self) -> None:
        here = self.protractor.here and self.gauging.followed.track is None
        near = self.protractor.looked_at if here else None
        self.evidence.draw(self.gauging.shapes(), self.gauging.points(), near)
        self.stack.setVisible(self.gauging.followed.track is None)
        self.evidence.setCursor(Qt.CursorShape.CrossCursor if here else Qt.CursorShape.ArrowCursor)

    def _spoken(self, typed: str) -> None:
        if say(self.bench, typed):
            self.entry.clear_all()

    def _changed(self, what: frozenset[str]) -> None:
        if "recordings" in what:
            self.seats.beside.follow()
        if what & {"sheet", "marks", "posted", "case"}:
            self.argument.refresh()
        if "case" in what:
            self._name_window()
        self._draw()

    def _chose(self) -> None:
        self.strip.refresh()
        self.argument.highlight()
        self.chosen.refresh()

    def _what_can_be_done(self) -> dict[str, Doing]:
        """Name of every action of the key table, and what does it."""
        bench = self.bench
        return {
            "open": self._ask_open,
            "start": self._ask_start,
            "demo": self._demo,
            "report": self.reporting.ask,
            "leave": self.close,
            "element-before": lambda: bench.neighbour(-1, elements=True),
            "element-after": lambda: bench.neighbour(1, elements=True),
            "type": self.entry.setFocus,
            "mark-before": lambda: bench.neighbour(-1),
            "mark-after": lambda: bench.neighbour(1),
            "starts": lambda: bench.bound("start"),
            "ends": lambda: bench.bound("end"),
            "withdraw": bench.withdraw,
            "attach": lambda: attach(bench),
            "undo": lambda: self._step(actions.undo, undone),
            "redo": lambda: self._step(actions.redo, redone),
            "protractor": self._protractor,
            **Showing(bench, self.viewing, self.evidence).doings(),
            **self.aside.doings(),
            **self.seats.doings(),
            "posted": self.argument.posted.setFocus,
            "read-sheet": self.argument.read,
            "guide": self._guide,
            **self.gauging.doings(),
            **self.covering.doings(),
            **Aiming(bench, self.protractor, self.evidence).doings(),
            **self.routine.doings(),
            **self.falls.doings(),
            **self.dressing.doings(),
            **self.ways.doings(),
        }

    def _step(self, taking: Callable[[Audit], Change], told: Callable[[Audit, Saying], str]) -> None:
        """Undo or redo, and say what that was."""
        bench = self.bench
        if bench.attempt(lambda: taking(bench.open_audit())):
            bench.said.emit(told(bench.open_audit(), bench.say), False)

    def _demo(self) -> None:
        """Lay a fresh copy of the demo case on the desk; the judge's own cases are not touched."""
        self.bench.attempt(lambda: self.open_case(actions.fresh_demo(), None))

    def _protractor(self) -> None:
        self._typing_before = self.entry.hasFocus()
        self.gauging.lay_or_put_away()
        self.evidence.setFocus()

    def _reading_kept(self) -> None:
        if self._typing_before:
            self.entry.setFocus()

    def _ask_open(self) -> None:
        path = file_to_open(self, self.bench.say)
        if path is not None:
            self.open_path(path)

    def _ask_start(self) -> None:
        bench = self.bench
        form = StartForm(self, bench.say, recording=bench.recording, author=bench.author, starts=self._start)
        form.accepted.connect(lambda: self._started(form.beginning()))
        form.open()

    def _guide(self) -> None:
        """Say what is still missing while nothing is chosen, or say it no more."""
        self.chosen.guided = not self.chosen.guided
        self.bench.choose(())
        word = "on" if self.chosen.guided else "off"
        self.bench.attempt(lambda: keep_wish("guide", word))

    def _arrange(self) -> None:
        parts = ((self._left(), 5), (self.routine, 0), (self.argument, 2))
        across = split(Qt.Orientation.Horizontal, parts)
        across.setSizes([620, 270, 390])
        across.setObjectName("across")
        whole = QWidget()
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(across, 1)
        column.addWidget(self.foot)
        self.setCentralWidget(whole)
        self.setAcceptDrops(True)
        self.setMinimumSize(800, 500)
        self.resize(1280, 800)
        self._name_window()

    def _left(self) -> QSplitter:
        say, key = self.bench.say, self.bench.key("open")
        self.evidence.invitation = say("Open a recording or a case: {key}", key=key)
        self.stack = QStackedWidget()
        self.stack.addWidget(self.chosen)
        self.stack.addWidget(self.offered)
        below = Beneath()
        parts = (self.line, self.gauging.page, self.covering.page, self.gauging.curve)
        for part in (*parts, self.ways.line, self.entry):
            below.column.addWidget(part, 1 if part is self.gauging.curve else 0)
        below.column.addWidget(self.stack, 1)
        self.stack.setMinimumHeight(1)  # it scrolls, and gives way to what cannot
        pictures = split(Qt.Orientation.Horizontal, ((self.evidence, 1), (self.seats.beside, 1)))
        left = split(Qt.Orientation.Vertical, ((pictures, 1), (below, 0)))
        left.setSizes([480, 240])
        left.setObjectName("left")
        return left

    def _connect(self) -> None:
        bench, view, entry = self.bench, self.viewing, self.entry
        bench.changed.connect(self._changed)
        bench.chose.connect(self._chose)
        bench.wanted.connect(view.seek)
        bench.elsewhere.connect(self.seats.show_recording)
        bench.opens.connect(self.open_path)
        bench.said.connect(self.foot.tell)
        view.shown.connect(lambda _: self.foot.pass_on())
        bench.dressed.connect(self._paint_anew)
        view.opened.connect(self._opened)
        view.shown.connect(self._show)
        view.damaged.connect(self.strip.refresh)
        self.gauging.changed.connect(self._draw)
        self.gauging.ended.connect(self._reading_kept)
        self.evidence.clicked.connect(self.protractor.place)
        self.evidence.dragged.connect(self.protractor.move)
        self.strip.sought.connect(view.seek)
        self.strip.picked.connect(lambda mark_id: bench.choose((mark_id,), show=True))
        self.argument.picked.connect(lambda marks: bench.choose(marks, show=True))
        entry.spoken.connect(self._spoken)
        entry.stepped.connect(view.step)
        entry.begun.connect(self.ways.hold)
        self.ways.typing.connect(entry.setFocus)
        entry.bounded.connect(bench.bound)
        for part in (self.gauging, self.routine, self.argument, entry):
            part.left.connect(self.evidence.setFocus)
        self.offered.offers.connect(lambda some: self.stack.setCurrentIndex(1 if some else 0))

    def _name_window(self) -> None:
        self.setWindowTitle(window_title(self.bench.audit, self.bench.say))

    def dragEnterEvent(self, event: QDragEnterEvent | None) -> None:
        """A file of this computer may be dropped anywhere on the window."""
        if event is not None and dropped(event) is not None:
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent | None) -> None:
        """Open the file that was dropped."""
        path = dropped(event) if event is not None else None
        if path is not None:
            self.open_path(path)

    def closeEvent(self, event: QCloseEvent | None) -> None:
        """Let go of the recording and the case."""
        self.evidence.setFocus()  # what is being typed in a field is entered
        self.remembering.keep_window()
        self.reporting.stop()
        self.routine.leave()
        self.gauging.put_away()
        self.viewing.leave()
        self.seats.beside.put_away()
        self.covering.put_away()
        self.bench.close()
        super().closeEvent(event)
