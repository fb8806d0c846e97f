"""The protractor at work: its points, what it is set to, the followed cast and its curve."""

from __future__ import annotations

from collections.abc import Callable

from PyQt6.QtCore import QObject, Qt, pyqtSignal
from PyQt6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from reviewer import actions, measuring
from reviewer.desk.bench import Bench
from reviewer.desk.curve import CurveView
from reviewer.desk.errand import Errand
from reviewer.desk.flowing import Yielding
from reviewer.desk.followed import Followed
from reviewer.desk.protractor import Protractor
from reviewer.desk.saidlabel import SaidLabel
from reviewer.desk.setting import Setting
from reviewer.desk.settingrow import SettingRow
from reviewer.desk.viewing import Viewing
from reviewer.terms.readings import Clicks
from reviewer.terms.shapes import Shape, Spot


class Gauging(QObject):
    """Holds the parts together.

    Attributes:
        protractor: as it lies on a frame.
        followed: what was followed from it.
        page: what it says and is set to, to be put beneath the picture.
        curve: of the followed angle, to be put beneath that.

    Signals:
        changed(): something is to be drawn anew.
        ended(): a reading was kept and the protractor is away.
        left(): the keyboard goes back to the picture.
    """

    changed = pyqtSignal()
    ended = pyqtSignal()
    left = pyqtSignal()

    def __init__(self, bench: Bench, viewing: Viewing) -> None:
        super().__init__()
        self._bench, self._viewing = bench, viewing
        self.protractor = Protractor(bench)
        self.followed = Followed(bench, self.protractor)
        self._carrier: Errand | None = None
        self.page, self.curve = QWidget(), CurveView(bench.say)
        self._said, self._row = SaidLabel(), SettingRow(bench)
        self._around = Yielding(self._row)
        self._keeps = QPushButton(bench.say("Keep it"))
        self._arrange()
        self.protractor.changed.connect(self._show)
        self.protractor.set_anew.connect(lambda: self._row.show_setting(self.protractor.setting))
        self.followed.changed.connect(self._show)
        self.protractor.stood.connect(self._carry)
        self._row.chosen.connect(self._set)
        self._row.left.connect(self.left)
        self._row.refused.connect(lambda why: bench.said.emit(why, True))
        self.curve.sought.connect(viewing.seek)

    def lay_or_put_away(self) -> None:
        """Lay the protractor on the frame on the screen, or put it away."""
        if self.protractor.laid:
            self.put_away()
        elif self._bench.picture is None:
            why = self._bench.say("The protractor needs a picture: open a recording first.")
            self._bench.said.emit(why, True)
        elif not self._viewing.is_held():
            self._viewing.stop()
            self._row.show_setting(self.protractor.setting)
            self.protractor.lay()
            self._viewing.examine()

    def put_away(self) -> None:
        """Take everything off the picture."""
        self._look_no_further()
        self.followed.put_away()
        self.protractor.put_away()

    def _words(self) -> str:
        return self.followed.words() or self.protractor.words()

    def _carry(self, clicks: Clicks) -> None:
        """Look where the bars of earlier clicks lie on the frame on the screen."""
        self._look_no_further()
        frame, path = self.protractor.frame, self._bench.recording
        if frame is not None and path is not None and clicks.apparatus:
            self._carrier = Errand(lambda going_on: actions.carry_bars(path, clicks, frame, going_on))
            self._carrier.done.connect(lambda found: self._carried(frame, found))
            self._carrier.failed.connect(self._bench.say_problems)
            self._carrier.start()

    def _carried(self, frame: int, found: measuring.Carried) -> None:
        if self._carrier is not None and frame == self.protractor.frame:
            self._carrier.wait()
            self.protractor.carry(found)

    def _look_no_further(self) -> None:
        if self._carrier is not None:
            self._carrier.stop()
        self._carrier = None

    def doings(self) -> dict[str, Callable[[], object]]:
        """What can be done while the protractor is laid, by the names of the key table."""
        return {
            "point-skip": self.protractor.skip,
            "point-back": self.protractor.take_back,
            "keep-reading": self._keep,
            "back": self._back,
            "point-once-more": self.protractor.once_more,
            "point-other-side": self.protractor.other_side,
            "measure-next": self._row.next_line,
            "another-frame": self.followed.another_frame,
            "follow": self.followed.begin,
        }

    def shapes(self) -> tuple[Shape, ...]:
        """What is drawn over the picture: the track where there is one, else the protractor."""
        return self.protractor.shapes() if self.followed.track is None else self.followed.shapes()

    def points(self) -> tuple[tuple[str, Spot], ...]:
        """Points that may be dragged."""
        shown = self.protractor.here and self.followed.track is None
        return tuple(self.protractor.spots.items()) if shown else ()

    def follow_picture(self) -> None:
        """The picture on the screen is another."""
        self.curve.show_here(self._bench.pts)
        self._said.setText(self._words())

    def _keep(self) -> None:
        kept = self.protractor.keep if self.followed.track is None else self.followed.keep
        if kept():
            self.put_away()
            self.ended.emit()

    def _back(self) -> None:
        """Back from the track to the reading, and from the reading to the bare picture."""
        if not self.followed.put_away(forget=False):
            self.put_away()
        elif self.protractor.frame is not None:
            self._viewing.seek(self.protractor.frame)

    def _set(self, setting: Setting) -> None:
        self.followed.set_to(setting)
        self.protractor.set_to(setting)

    def _show(self) -> None:
        track = self.followed.track
        self.page.setVisible(self.protractor.laid)
        self._said.setText(self._words())
        self._keeps.setEnabled(track is not None or self.protractor.reading is not None)
        self.curve.setVisible(track is not None)
        self._around.setVisible(track is None)  # what it is set to can be changed before it is followed
        if track is not None and self._bench.facts is not None:
            limit = self.protractor.setting.limit_in(self._bench.book)
            self.curve.show_track(track, limit, self._bench.facts.time_base)
        self.changed.emit()

    def _arrange(self) -> None:
        self._said.setWordWrap(True)
        self._said.setAccessibleName(self._bench.say("Protractor"))
        self._said.setMinimumHeight(2 * self._said.fontMetrics().lineSpacing())  # the picture stays put
        self._keeps.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self._keeps.setToolTip(self._bench.tip("keep-reading"))
        self._keeps.clicked.connect(lambda: self._keep())
        column, above = QVBoxLayout(self.page), QHBoxLayout()
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(3)
        above.addWidget(self._said, 1)
        above.addWidget(self._keeps)
        column.addLayout(above)
        column.addWidget(self._around)
        self.page.hide()
        self.curve.hide()
