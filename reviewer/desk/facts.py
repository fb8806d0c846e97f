"""Facts of an exercise as a tick-list: springboard, mats, what the coach did. Most of them have no time."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial

from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import QCheckBox, QDialog, QLabel, QScrollArea, QVBoxLayout, QWidget

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.flowing import Flowing
from reviewer.desk.placing import fitting, put_anew
from reviewer.desk.saidlabel import SaidLabel
from reviewer.terms.marks import Mark
from reviewer.terms.messages import noted


class TickGrid(QWidget):
    """Things that are so or not, each to be ticked.

    ``ticks`` are code, name and whether it is so; ``turned`` is told code and whether it is so now.
    """

    def __init__(
        self, heading: str, ticks: Iterable[tuple[str, str, bool]], turned: Callable[[str, bool], object]
    ) -> None:
        super().__init__()
        self.setAccessibleName(heading)
        column, boxes, title = QVBoxLayout(self), Flowing(even=True), QLabel(heading)
        column.setContentsMargins(0, 0, 0, 0)
        title.setObjectName("heading")
        column.addWidget(title)
        column.addLayout(boxes)
        column.addStretch(1)
        for code, name, so in ticks:
            box = QCheckBox(name)
            box.setToolTip(code)
            box.setChecked(so)
            box.clicked.connect(lambda on, code=code: turned(code, on))
            boxes.add(box)


def facts_grid(bench: Bench, *, here: bool) -> TickGrid | None:
    """The edition's facts; with ``here`` what is ticked is so at the frame on the screen."""
    book = bench.book
    if book is None:
        return None

    def turned(code: str, on: bool) -> None:
        said = noted("Marked: {fact}.") if on else noted("Taken back: {fact}.")
        doing = partial(_place, bench, code, here=here) if on else partial(_take_back, bench, code)
        bench.attempt(doing, bench.say(said, fact=book.fact(code).name))

    ticks = [(one.code, one.name, bool(_placed(bench, one.code))) for one in book.facts]
    return TickGrid(bench.say("Of the exercise"), ticks, turned)


class FactsPage(QDialog):
    """The tick-list beside the window; it follows the case."""

    def __init__(self, parent: QWidget, bench: Bench) -> None:
        super().__init__(parent)
        self._bench = bench
        self.setWindowTitle(bench.say("Facts of the exercise"))
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._room = QScrollArea()
        self._room.setWidgetResizable(True)
        self._room.setAccessibleName(self.windowTitle())
        column = QVBoxLayout(self)
        column.addWidget(self._room)
        self._told = SaidLabel(bench.say("Each tick is kept at once. Esc closes this page."))
        self._told.setWordWrap(True)
        column.addWidget(self._told)
        bench.said.connect(self._tell)
        bench.changed.connect(self._refresh)
        self.resize(fitting(self, 700, 340))
        self._refresh()

    def _tell(self, words: str, _: bool) -> None:
        """Say here what came of a tick."""
        if words and self.isActiveWindow():
            self._told.setText(f"{words} {self._bench.say('Esc closes this page.')}")

    def _refresh(self) -> None:
        grid = facts_grid(self._bench, here=False) or QWidget()
        grid.setEnabled(self._bench.audit is not None and self._bench.audit.author is not None)
        put_anew(self._room, grid)


def _placed(bench: Bench, code: str) -> list[Mark]:
    return [one for one in bench.marks if one.kind == "fact" and one.code == code]


def _place(bench: Bench, code: str, *, here: bool) -> actions.Change:
    at = bench.pts if here else None
    where = bench.on_screen if at is not None else None
    return actions.place_mark(bench.open_audit(), kind="fact", code=code, at=at, recording=where)


def _take_back(bench: Bench, code: str) -> actions.Change:
    return actions.withdraw_mark(bench.open_audit(), _placed(bench, code)[-1].id)
