"""What the protractor measures and what is known beforehand, in small controls beneath the picture."""

from collections.abc import Callable
from dataclasses import replace

from PyQt6.QtCore import QSize, pyqtSignal
from PyQt6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QLineEdit, QSizePolicy, QVBoxLayout, QWidget

from reviewer.desk.bench import Bench
from reviewer.desk.flowing import Flowing
from reviewer.desk.points import NAMES, REFERENCES, named
from reviewer.desk.setting import SPANS_MS, Setting
from reviewer.terms.callwords import with_point
from reviewer.terms.exact import Millimetres, Pixels, Thousandths
from reviewer.terms.messages import noted
from reviewer.terms.readings import RAILS, SPREADS

_RAILS = {"low": noted("low rail"), "high": noted("high rail")}
_SPREADS = {
    "inner-diagonal": noted("inner, diagonal"),
    "inner-level": noted("inner, level"),
    "centre-diagonal": noted("centre, diagonal"),
    "centre-level": noted("centre, level"),
}
_HEIGHT, _SPREAD, _BLUR = noted("Height"), noted("Spread"), noted("Blur")

TALLEST, WIDEST, SMEARED = 2500, 3000, 200
"""Greatest height of an athlete and spread of the rails in mm, and smear in px, that may be typed."""


class SettingRow(QWidget):
    """Shows a setting, and says when the judge sets it otherwise.

    Signals:
        chosen(Setting): as it is set now.
        refused(str): what was typed cannot be.
        left(): a number was typed; back to the picture.
    """

    chosen = pyqtSignal(object)
    refused = pyqtSignal(str)
    left = pyqtSignal()

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self._bench, self._setting = bench, Setting()
        self._lines: list[str] = []
        self.line, self.against, self.rail = (
            _box(bench.say("Measured")),
            _box(bench.say("Against")),
            _box(bench.say("Rail")),
        )
        self.kind, self.span = (
            _box(bench.say("How the spread was measured")),
            _box(bench.say("Followed for")),
        )
        self.stature, self.spread, self.blur = (
            _number(bench.say("Height of the athlete, mm")),
            _number(bench.say("Spread of the rails, mm")),
            _number(bench.say("Blur of the limbs, px")),
        )
        self._fill()
        self._arrange()
        self._connect()

    def show_setting(self, setting: Setting) -> None:
        """Show this setting, whatever was typed."""
        self._setting = setting
        book = self._bench.book
        own = Setting().line_in(book)
        self._lines = ["", *(line for line in NAMES if line != own)]
        self.line.clear()
        self.line.addItems([named(line, self._bench.say) for line in (own, *self._lines[1:])])
        self.line.setCurrentIndex(self._lines.index(setting.line) if setting.line in self._lines else 0)
        self.against.setCurrentIndex(list(REFERENCES).index(setting.against))
        self.against.setEnabled(setting.is_of_a_line(book))
        self.rail.setCurrentIndex(RAILS.index(setting.bars.working_rail))
        self.kind.setCurrentIndex(SPREADS.index(setting.bars.spread_kind))
        self.span.setCurrentIndex(SPANS_MS.index(setting.span_ms))
        self.span.setEnabled(setting.is_elevation(book))
        for field, size in (
            (self.stature, setting.height),
            (self.spread, setting.bars.spread),
            (self.blur, setting.blur),
        ):
            field.setText("" if size is None else _short(size))

    def next_line(self) -> None:
        """Measure the next thing of the list, the first after the last."""
        self.line.setCurrentIndex((self.line.currentIndex() + 1) % self.line.count())
        self._measure(self.line.currentIndex())

    def _fill(self) -> None:
        say = self._bench.say
        self.against.addItems([say.word(words) for words in REFERENCES.values()])
        self.rail.addItems([say.word(_RAILS[rail]) for rail in RAILS])
        self.kind.addItems([say.word(_SPREADS[kind]) for kind in SPREADS])
        self.span.addItems([say("followed ± {span} ms", span=span) for span in SPANS_MS])

    def _arrange(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(3)
        word = self._bench.say.word
        height, spread, blur = (word(one) for one in (_HEIGHT, _SPREAD, _BLUR))
        measured, known = Flowing(), Flowing()
        for box in (self.line, self.against, self.span):
            measured.add(box)
        knowing: tuple[QWidget, ...] = (
            _together(height, self.stature, "mm"),
            _together(spread, self.spread, "mm"),
            self.kind,
            self.rail,
            _together(blur, self.blur, "px"),
        )
        for control in knowing:
            known.add(control)
        column.addLayout(measured)
        column.addLayout(known)

    def _connect(self) -> None:
        self.line.activated.connect(self._measure)
        self.against.activated.connect(lambda at: self._say(against=list(REFERENCES)[at]))
        self.rail.activated.connect(lambda at: self._bars(working_rail=RAILS[at]))
        self.kind.activated.connect(lambda at: self._bars(spread_kind=SPREADS[at]))
        self.span.activated.connect(lambda at: self._say(span_ms=SPANS_MS[at]))
        self._number_changes(self.stature, TALLEST, Millimetres, lambda size: self._say(height=size))
        self._number_changes(self.spread, WIDEST, Millimetres, lambda size: self._bars(spread=size))
        self._number_changes(self.blur, SMEARED, Pixels, lambda size: self._say(blur=size))

    def _number_changes(
        self, field: QLineEdit, most: int, kind: type[Thousandths], said: Callable[[Thousandths | None], None]
    ) -> None:
        def typed() -> None:
            try:
                size = kind.parse(with_point(field.text())) if field.text().strip() else None
            except ValueError:
                size = kind(-1)
            if size is not None and not kind(0) < size <= kind(most * 1000):
                asked = noted("{what}: type a number up to {most}, or nothing.")
                self.refused.emit(self._bench.say(asked, what=field.accessibleName(), most=most))
                self.show_setting(self._setting)
            else:
                said(size)

        field.editingFinished.connect(typed)
        field.returnPressed.connect(self.left)

    def _measure(self, at: int) -> None:
        self._take(self._setting.measuring(self._lines[at]))

    def _say(self, **what: object) -> None:
        self._take(replace(self._setting, **what))  # type: ignore[arg-type]

    def _bars(self, **what: object) -> None:
        self._take(replace(self._setting, bars=replace(self._setting.bars, **what)))  # type: ignore[arg-type]

    def _take(self, setting: Setting) -> None:
        if setting != self._setting:
            self._setting = setting
            self.chosen.emit(setting)


class _Number(QLineEdit):
    """As wide as a number of four places, at every size of words."""

    def sizeHint(self) -> QSize:
        """Room for the number and the frame."""
        return QSize(self.fontMetrics().horizontalAdvance("00000") + 16, super().sizeHint().height())


def _together(words: str, field: QLineEdit, unit: str) -> QWidget:
    """What stays in one line: a number with its words."""
    group = QWidget()
    row, label = QHBoxLayout(group), QLabel(words)
    label.setBuddy(field)
    row.setContentsMargins(0, 0, 12, 0)  # a unit stays apart from the words of the next number
    row.setSpacing(4)
    for part in (label, field, QLabel(unit)):
        row.addWidget(part)
    return group


def _box(name: str) -> QComboBox:
    box = QComboBox()
    box.setAccessibleName(name)
    box.setToolTip(name)
    box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
    return box


def _number(name: str) -> QLineEdit:
    field = _Number()
    field.setAccessibleName(name)
    field.setToolTip(name)
    field.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
    return field


def _short(size: Thousandths) -> str:
    return str(size).rstrip("0").rstrip(".")
