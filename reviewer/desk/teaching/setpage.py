"""Clips of several passages that were found, in an order of their own, written from the desk."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PyQt6.QtWidgets import QCheckBox, QComboBox, QFormLayout, QLabel, QLineEdit, QWidget

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.errand import GoingOn
from reviewer.desk.teaching.passagelist import Listed, PassageList
from reviewer.desk.teaching.writing import WritingPage, beside, today

if TYPE_CHECKING:
    from reviewer.actions import Audit, SetBegun, SetPart

_SPEEDS = ("1", "1/2", "1/4", "1/8")


@dataclass(frozen=True, slots=True)
class _Wish:
    """What stood in the fields when writing began."""

    out: Path
    clips: tuple[tuple[Path, str, Mapping[str, Any]], ...]
    said: Mapping[str, Any]
    seconds: Mapping[str, str]


class SetPage(WritingPage):
    """Asks for an order, words, speed and what is shown around; writes a folder of clips or one film.

    The recipe is written beside it first, so that the same can be made again.

    Attributes:
        passages: the clips, in their order.
        caption: words of one's own for the clip the keyboard is on.
        named: what stands above.
        lead, run, still: seconds before and after a passage, and for which its decisive frame stands.
        speed, use: choices.
        drawn, captioned: whether what was measured, and words about the marks, are shown.
    """

    def __init__(self, parent: QWidget, bench: Bench, folder: Path, passages: Sequence[Listed]) -> None:
        say = bench.say
        super().__init__(parent, bench, say("Clips of several passages"), beside(folder / "clips", ""))
        self._parts: list[SetPart] = []
        self._begun: SetBegun | None = None
        self.passages, self.caption = PassageList(say, passages), QLineEdit()
        self.named, self.speed, self.use = QLineEdit(say("Clips")), QComboBox(), QComboBox()
        self.lead, self.run, self.still = QLineEdit("1"), QLineEdit("1"), QLineEdit("2")
        self.drawn = QCheckBox(say("What was measured is drawn over the picture"))
        self.captioned = QCheckBox(say("Words about the mark stand beneath the picture"))
        self._fill()
        self._lay()

    def _fill(self) -> None:
        for speed in _SPEEDS:
            self.speed.addItem(speed, speed)
        self.speed.setCurrentIndex(1)
        for use in actions.CLIP_USES:
            self.use.addItem(self._bench.say.word(use), use)
        self.drawn.setChecked(True)
        self.captioned.setChecked(True)
        self.caption.setPlaceholderText(self._bench.say("those about the mark"))
        self.caption.textEdited.connect(self.passages.say_of_current)
        self.passages.chosen.connect(self.caption.setText)

    def _lay(self) -> None:
        say = self._bench.say
        self.ask(say("Folder or &film"), self.place)
        self.ask(say("&Title"), self.named)
        above = QLabel(say("&Passages"))
        above.setBuddy(self.passages.list)
        self.passages.list.setAccessibleName(above.text().replace("&", ""))
        for row in (above, self.passages.list, self.passages.buttons):
            self._form.addRow(row)
        self.ask(say("Own &words for it"), self.caption)
        self.ask(say("Seconds &before each"), self.lead)
        self.ask(say("Seconds &after each"), self.run)
        self.ask(say("Sp&eed"), self.speed)
        self.ask(say("Seconds its decisive frame is &held"), self.still)
        self.ask(say("F&or"), self.use)
        for box in (self.drawn, self.captioned):
            self._form.addRow(box)
        self.finish(
            say(
                "A folder of clips with a page, or one film where the name ends in .mp4. Its recipe is "
                "written beside it. Covered heads must have been looked through, and consent of every case "
                "must cover the use."
            )
        )

        self.told.setMinimumHeight(2 * self.fontMetrics().lineSpacing())  # what comes of it moves nothing
        self._form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        wide = max(self.minimumWidth(), self.sizeHint().width())
        self.resize(wide, self._form.totalHeightForWidth(wide))

    def read(self) -> None:
        """What stands in the fields; nothing of it is made yet."""
        self._begun, self._parts = None, []
        said = {
            "title": self.named.text().strip() or self._bench.say("Clips"),
            "language": self._bench.say.language,
            "use": str(self.use.currentData()),
            "speed": str(self.speed.currentData()),
            "drawn": self.drawn.isChecked(),
            "captioned": self.captioned.isChecked(),
        }
        seconds = {"lead_in_s": self.lead, "run_out_s": self.run, "freeze_s": self.still}
        typed = {name: line.text().strip().replace(",", ".") or "0" for name, line in seconds.items()}
        out = Path(self.place.text().strip()).expanduser()
        self._wish = _Wish(out, self.passages.clips, said, typed)

    def make(self, going_on: GoingOn) -> SetPart:
        """The next part, from the cases as they stand on disk."""
        if self._begun is None:
            self._begun = actions.begin_set(self._recipe(), self._wish.out, today=today())
        return actions.make_part(self._begun, len(self._parts), going_on)

    def keep(self, made: SetPart) -> str:
        """Put it in place, and after the last one write the page."""
        begun = self._begun
        assert begun is not None  # a part was made of it
        actions.keep_part(begun, made, self._parts, self._opened, today())
        self._parts.append(made)
        if self.more():
            return ""
        found, say = actions.end_set(begun, self._parts), self._bench.say
        told = say("The clips are in {place}. What leaves cannot be called back.", place=begun.out)
        sides = [side for one in found["clips"] for side in one["sides"]]
        if any(not side["covered_heads"] for side in sides):
            told = f"{told} {say('In some of them nobody’s head is covered.')}"
        return told

    def more(self) -> bool:
        """Whether a part is still to be made."""
        return self._begun is not None and len(self._parts) < self._begun.parts

    def discard(self, made: SetPart) -> None:
        """Remove a part that is not in place."""
        made.discard()

    def advanced_words(self, pictures: int) -> str:
        """At which clip it is."""
        say, all_of_it = self._bench.say, len(self._wish.clips)
        if self._wish.out.suffix.lower() == ".mp4" or not all_of_it:
            return super().advanced_words(pictures)
        number = min(len(self._parts) + 1, all_of_it)
        return say(
            "Clip {number} of {count}: {pictures} pictures so far.",
            number=number,
            count=all_of_it,
            pictures=pictures,
        )

    def stopped_words(self) -> str:
        """What is left of it."""
        if not self._parts:
            return super().stopped_words()
        return self._bench.say("Stopped. Clips that are whole stay; written again, it goes on after them.")

    def _recipe(self) -> Path:
        """The recipe, written beside what it makes; one that says the same is left as it is."""
        for name, text in self._wish.seconds.items():
            actions.seconds_of(text, name)
        out, said = self._wish.out, {**self._wish.said, **self._wish.seconds}
        return actions.keep_recipe(out.with_name(f"{out.stem}.recipe.json"), self._wish.clips, said)

    def _opened(self, case: Path) -> AbstractContextManager[Audit]:
        """A case to be written: the one on the desk as it lies there."""
        audit = self._bench.audit
        if audit is not None and audit.path.resolve() == case.resolve():
            return nullcontext(audit)
        return actions.open_case(case, author=self._bench.author)
