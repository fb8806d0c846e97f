"""The strip with its scroll bar, its keys, and what is remembered of it."""

import json
from collections.abc import Callable
from math import isfinite

from PyQt6.QtCore import Qt, pyqtSignal
from PyQt6.QtWidgets import QHBoxLayout, QScrollBar, QWidget

from reviewer.desk.bench import Bench
from reviewer.desk.gauging import Gauging
from reviewer.desk.strip.smalls import SmallPictures
from reviewer.desk.strip.twin import Twin
from reviewer.desk.strip.widget import RoutineStrip
from reviewer.desk.viewing import Viewing
from reviewer.terms.parsing import parsed

STEP = 1.5
"""Factor of one press of a key."""


class StripPane(QWidget):
    """Places the strip beside its scroll bar, or its twin in their stead.

    Attributes:
        strip: the strip.
        smalls: the small pictures along it.
        twin: the same as a table.

    Signals:
        left(): the keyboard is to go back to the picture.
    """

    left = pyqtSignal()

    def __init__(self, bench: Bench, viewing: Viewing, gauging: Gauging) -> None:
        super().__init__()
        self._bench, self.smalls = bench, SmallPictures(viewing.small)
        self.strip = RoutineStrip(bench, self.smalls)
        self.twin = Twin(bench, viewing, gauging)
        self._bar = QScrollBar(Qt.Orientation.Vertical)
        self._bar.setAccessibleName(bench.say("Part of the routine"))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self.strip, 1)
        row.addWidget(self._bar)
        row.addWidget(self.twin, 1)
        self.strip.scaled.connect(self._set_bar)
        self._bar.valueChanged.connect(self._scrolled)
        viewing.surveying.connect(lambda *_: self.smalls.look_again())
        viewing.surveyed.connect(self.smalls.look_again)
        self._set_bar()

    def doings(self) -> dict[str, Callable[[], object]]:
        """What can be done here, by the names of the key table."""
        strip = self.strip
        return {
            "strip-closer": lambda: strip.closer(STEP),
            "strip-farther": lambda: strip.closer(1 / STEP),
            "strip-whole": lambda: strip.look_at(1.0, 0.0),
            "strip-follows": self._follow,
            "strip-pictures": self._picture,
            "strip-show": self._show,
            "as-table": self._turn,
            "strip-back": self._back,
            **strip.dragging.doings(),
        }

    def leave(self) -> None:
        """Let go of the recording."""
        self.smalls.leave()

    def kept(self) -> str:
        """What is worth remembering, as text."""
        strip = self.strip
        return json.dumps([strip.wished, strip.part, strip.follows, strip.pictured, self.twin.shown])

    def put_back(self, text: str) -> None:
        """Show as much as was remembered; text of anything else changes nothing."""
        try:
            zoom, part, follows, pictured, *more = parsed(text)
            zoom, part = float(zoom), float(part)
        except (ValueError, TypeError):
            return
        if isfinite(zoom) and isfinite(part):
            self.strip.follows, self.strip.pictured = bool(follows), bool(pictured)
            self.strip.wished, self.strip.part = max(1.0, zoom), max(0.0, min(1.0, part))
            self.strip.refresh()
            self._put(bool(more and more[0]))

    def _show(self) -> None:
        if self.twin.shown:
            self.twin.show_row()
        else:
            self._bench.choose(self._bench.chosen, show=True)

    def _turn(self) -> None:
        """The table in place of the strip with the keyboard on it, or the strip again."""
        heard = self.twin.table.hasFocus()
        self._put(not self.twin.shown)
        if self.twin.shown or heard:
            (self.twin.table if self.twin.shown else self.strip).setFocus()

    def _put(self, table: bool) -> None:
        self.strip.setVisible(not table)
        self._bar.setVisible(not table and self.strip.zoom > 1)
        self.twin.put(table)

    def _back(self) -> None:
        if not self.strip.give_up():
            self.left.emit()

    def _set_bar(self) -> None:
        scale = self.strip.scale
        self._bar.blockSignals(True)
        self._bar.setRange(0, round(scale.whole - scale.tall))
        self._bar.setPageStep(round(scale.tall))
        self._bar.setSingleStep(max(1, round(scale.tall / 20)))
        self._bar.setValue(round(scale.beyond))
        self._bar.blockSignals(False)
        self._bar.setVisible(self.strip.zoom > 1 and not self.twin.shown)

    def _scrolled(self, beyond: int) -> None:
        self.strip.look_at(self.strip.zoom, beyond / self.strip.scale.whole)

    def _follow(self) -> None:
        strip, say = self.strip, self._bench.say
        strip.follows = not strip.follows
        strip.update_here()
        said = say("The strip follows the picture.") if strip.follows else say("The strip stays where it is.")
        self._bench.said.emit(said, False)

    def _picture(self) -> None:
        strip, say = self.strip, self._bench.say
        strip.pictured = not strip.pictured
        strip.refresh()
        on, off = say("Small pictures are shown on the strip."), say("No small pictures on the strip.")
        self._bench.said.emit(on if strip.pictured else off, False)
