"""Writing a clip of the chosen mark, or of frames around the one on the screen."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

from PyQt6.QtWidgets import QCheckBox, QComboBox, QFormLayout, QLineEdit, QWidget

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.errand import GoingOn
from reviewer.desk.teaching.writing import WritingPage, beside, today
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem

if TYPE_CHECKING:
    from reviewer.actions import ClipMade, ClipWish
    from reviewer.terms.marks import Mark

_AROUND = 30
"""Frames before and after the one on the screen that are offered where no mark is chosen."""
_SPEEDS = ("1", "1/2", "1/4", "1/8")


class ClipPage(WritingPage):
    """Asks for a file, what is shown, how fast, and whether the decisive frame stands still.

    Attributes:
        begin, end: seconds around the chosen mark, or else the first and the last frame.
        speed, use: choices.
        still: seconds that the decisive frame stands still.
        drawn, captioned: whether what was measured, and words about the mark, are shown.
    """

    def __init__(self, parent: QWidget, bench: Bench) -> None:
        self._mark: Mark | None = bench.chosen_mark()
        self._on = bench.on_screen
        name = f"-{self._mark.id}.mp4" if self._mark is not None else ".mp4"
        super().__init__(parent, bench, bench.say("A clip"), beside(bench.on_desk().path, name))
        self.begin, self.end, self.still = QLineEdit(), QLineEdit(), QLineEdit("2")
        self.speed, self.use = QComboBox(), QComboBox()
        self.drawn = QCheckBox(bench.say("What was measured is drawn over the picture"))
        self.captioned = QCheckBox(bench.say("Words about the mark stand beneath the picture"))
        self._fill()
        self._lay()

    def _fill(self) -> None:
        say, picture = self._bench.say, self._bench.picture
        self._seen = frame = picture.frame if picture is not None else 0
        last = len(self._bench.facts.pts) - 1 if self._bench.facts is not None else 0
        span = "1", "1"
        if self._mark is None:
            span = str(max(0, frame - _AROUND)), str(min(last, frame + _AROUND))
        self.begin.setText(span[0])
        self.end.setText(span[1])
        for speed in _SPEEDS:
            self.speed.addItem(speed, speed)
        for use in actions.CLIP_USES:
            self.use.addItem(say.word(use), use)
        self.drawn.setChecked(True)
        self.captioned.setChecked(self._mark is not None)
        self.captioned.setEnabled(self._mark is not None)

    def _lay(self) -> None:
        say, marked = self._bench.say, self._mark is not None
        self.ask(say("&File"), self.place)
        self.ask(say("Seconds &before it") if marked else say("Fi&rst frame"), self.begin)
        self.ask(say("Seconds &after it") if marked else say("&Last frame"), self.end)
        self.ask(say("&Speed"), self.speed)
        stands = say("Seconds its decisive frame is &held")
        here = say("Seconds this frame is &held")
        self.ask(stands if marked else here, self.still)
        self.ask(say("F&or"), self.use)
        for box in (self.drawn, self.captioned):
            self._form.addRow(box)
        what = say("The frames named.")
        if self._mark is not None:
            what = say("The chosen mark {name}.", name=self._mark.id)
        minded = say("Covered heads must have been looked through, and consent must cover the use.")
        self.finish(f"{what} {minded}")
        self._form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        wide = max(self.minimumWidth(), self.sizeHint().width())
        self.resize(wide, self._form.totalHeightForWidth(wide))

    def read(self) -> None:
        """Which case and file, and what is wished for as it was typed."""
        self._case, self._file = self._bench.on_desk().path, Path(self.place.text().strip()).expanduser()
        self._span = self.begin.text().strip(), self.end.text().strip()
        self._stands, self._speed = self.still.text().strip() or "0", str(self.speed.currentData())
        self._use = str(self.use.currentData())
        self._shown = self.drawn.isChecked(), self.captioned.isChecked()

    def make(self, going_on: GoingOn) -> ClipMade:
        """All but putting it in place, from the case as it stands on disk."""
        wish = self._wish()
        with actions.open_case(self._case, author=None) as reader:
            return actions.make_clip(
                reader, wish, self._file, use=self._use, today=today(), going_on=going_on
            )

    def discard(self, made: ClipMade) -> None:
        """Remove what lies beside its place."""
        made.discard()

    def keep(self, made: ClipMade) -> str:
        """Put it in place."""
        found = actions.keep_clip(self._bench.on_desk(), made, today())
        say = self._bench.say
        told = say("The clip is {file}. What leaves cannot be called back.", file=self._file)
        if any(not side["covered_heads"] for side in found["sides"]):
            told = f"{told} {say('Nobody’s head is covered in it.')}"
        return told

    def _wish(self) -> ClipWish:
        drawn, captioned = self._shown
        wish = actions.ClipWish(
            speed=actions.speed_of(self._speed, "speed"),
            freeze_for=_seconds(self._stands),
            drawn=drawn,
            captioned=captioned,
            language=self._bench.say.language,
        )
        begin, end = self._span
        if self._mark is not None:
            return replace(wish, mark=self._mark.id, lead_in=_seconds(begin), run_out=_seconds(end))
        first, last = _frame(begin), _frame(end)
        still = self._seen if first <= self._seen <= last else None
        return replace(wish, frames=(first, last), freeze=still, recording=self._on)


def _seconds(text: str) -> Fraction:
    return actions.seconds_of(text.replace(",", "."), "seconds")


def _frame(text: str) -> int:
    if not (text.isascii() and text.isdigit()):
        said = message("{text} is no number of a frame.", text=repr(text))
        raise DocumentError(Problem("no-frame", "frame", said, message("Write a whole number, such as 120.")))
    return int(text)
