"""What an inquiry is filed with: the marks it is about, as they are chosen, and the posted start value."""

from __future__ import annotations

from PyQt6.QtWidgets import QCheckBox, QHBoxLayout, QLabel, QWidget

from reviewer import actions
from reviewer.desk.answering import place_of
from reviewer.desk.bench import Bench
from reviewer.desk.calls import CallError
from reviewer.desk.postedfield import PostedField
from reviewer.terms.callwords import with_point
from reviewer.terms.exact import Points
from reviewer.terms.messages import message, noted
from reviewer.terms.posted import PostedSheet
from reviewer.terms.problems import Problem

_NONE = noted("No mark is chosen on the strip: it is about the whole routine.")


class AboutMarks(QWidget):
    """The marks chosen on the strip by name and frame, and a tick to leave them out."""

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self._bench = bench
        self.tick, self.named = QCheckBox(bench.say("About the marks chosen on the strip")), QLabel()
        self.tick.setChecked(True)
        self.named.setWordWrap(True)
        across = QHBoxLayout(self)
        across.setContentsMargins(0, 0, 0, 0)
        across.addWidget(self.tick)
        across.addWidget(self.named, 1)
        bench.chose.connect(self.refresh)
        bench.changed.connect(self.refresh)
        self.refresh()

    def refresh(self, _: object = None) -> None:
        """Name the marks that are chosen now."""
        bench = self._bench
        marks = [mark for mark in map(bench.mark, bench.chosen) if mark is not None]
        self.tick.setEnabled(bool(marks))
        named = "; ".join(f"{mark.code} {place_of(bench, mark)}" for mark in marks)
        self.named.setText(named or bench.say(_NONE))
        self.tick.setAccessibleDescription(self.named.text())

    def ids(self) -> tuple[str, ...]:
        """Ids of the marks the inquiry is about."""
        return self._bench.chosen if self.tick.isChecked() else ()


class PostedStart(PostedField):
    """The start value that the panel posted, kept in the case as soon as it is left."""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.setPlaceholderText(bench.say.word("9.500"))
        self.entered.connect(self._enter_start)
        bench.changed.connect(self.refresh)
        self.refresh()

    def refresh(self, _: object = None) -> None:
        """Show what is kept."""
        start = self._bench.audit.posted_start if self._bench.audit is not None else None
        self.keep("" if start is None else self._bench.say.word(str(start)))

    def _enter_start(self, typed: str) -> None:
        if typed:
            done = self._bench.say("The posted start value is kept.")
            self._bench.attempt(lambda: self._entered(typed), done)

    def _entered(self, typed: str) -> actions.Change:
        try:
            start = Points.parse(with_point(typed))
        except ValueError:
            said, remedy = (
                message("{typed} is no score.", typed=repr(typed)),
                message("Type it such as 9.500."),
            )
            raise CallError(Problem("no-score", "posted start value", said, remedy)) from None
        return actions.enter_posted_sheet(self._bench.open_audit(), PostedSheet(start_value=start))
