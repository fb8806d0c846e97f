"""What an audit still lacks, step by step; it stands where nothing is chosen, and may be ignored."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from PyQt6.QtWidgets import QGridLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.buttons import button
from reviewer.terms.messages import noted

if TYPE_CHECKING:
    from reviewer.actions import Step

DONE, MISSING, OPTIONAL = ("✓", noted("done")), ("○", noted("missing")), ("·", noted("not needed"))
"""What is seen before a step, and what is heard."""


class Guide(QWidget):
    """The steps as they stand now; a step's button does it, or chooses the marks it is about."""

    def __init__(self, bench: Bench, doings: Mapping[str, Callable[[], object]]) -> None:
        super().__init__()
        self._bench, self._doings = bench, doings
        self.setAccessibleName(bench.say("What is still missing"))
        column, grid = QVBoxLayout(self), QGridLayout()
        column.setContentsMargins(0, 0, 0, 0)
        heading = QLabel(bench.say("What is still missing"))
        heading.setObjectName("heading")
        column.addWidget(heading)
        for at, step in enumerate(actions.missing(bench.audit, recording=bench.facts is not None)):
            self._add(grid, at, step)
        grid.setColumnStretch(1, 1)
        column.addLayout(grid)
        hide = QLabel(bench.say("{key} hides this.", key=bench.key("guide")))
        hide.setObjectName("quiet")
        column.addWidget(hide)

    def _add(self, grid: QGridLayout, at: int, step: Step) -> None:
        words = QLabel(self._bench.say.message(step.says))
        words.setWordWrap(True)
        if step.done or not step.needed:
            words.setObjectName("quiet")
        shown, heard = DONE if step.done else MISSING if step.needed else OPTIONAL
        sign = QLabel(shown)
        sign.setAccessibleName(self._bench.say.word(heard))
        grid.addWidget(sign, at, 0)
        grid.addWidget(words, at, 1)
        if step.marks and not step.done:
            marks = step.marks
            show = _button(self._bench.say("Show"), words, lambda: self._bench.choose(marks[:1], show=True))
            grid.addWidget(show, at, 2)
        elif step.does in self._doings:
            key = self._bench.key(step.does)
            grid.addWidget(_button(key or self._bench.say("Do it"), words, self._doings[step.does]), at, 2)


def _button(text: str, words: QLabel, does: Callable[[], object]) -> QPushButton:
    made = button(text, does, words.text())
    made.setAccessibleName(f"{text}: {words.text()}")
    return made
