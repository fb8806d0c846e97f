"""Writing the coach's page of the case on the desk."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import TYPE_CHECKING

from PyQt6.QtWidgets import QCheckBox, QWidget

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.errand import GoingOn
from reviewer.desk.teaching.writing import WritingPage, beside, today

if TYPE_CHECKING:
    from reviewer.actions import CoachMade

_THREADS = 2
"""That compress stills."""


class CoachPage(WritingPage):
    """Asks for a folder, and whether clips shall lie beside the page."""

    def __init__(self, parent: QWidget, bench: Bench) -> None:
        say, case = bench.say, bench.on_desk().path
        super().__init__(parent, bench, say("A page for the coach"), beside(case, ".coach"))
        self.clips = QCheckBox(say("With a clip of each thing that cost something"))
        self.clips.setChecked(True)
        self.ask(say("&Folder"), self.place)
        self.ask("", self.clips)
        self.clips.setAccessibleName(self.clips.text())
        self.finish(
            say(
                "It says what the routine cost: first what comes back for certain, then what may. It names "
                "no judge. Consent must cover the use “coach”."
            )
        )

    def read(self) -> None:
        """Which case, where to, in which language."""
        self._case, self._folder = self._bench.on_desk().path, Path(self.place.text().strip()).expanduser()
        self._language, self._with = self._bench.say.language, self.clips.isChecked()

    def make(self, going_on: GoingOn) -> CoachMade:
        """Everything but the writing, from the case as it stands on disk."""
        with actions.open_case(self._case, author=None) as reader, ThreadPoolExecutor(_THREADS) as workers:
            return actions.make_coach_page(
                reader,
                self._folder,
                today(),
                self._language,
                workers,
                with_clips=self._with,
                going_on=going_on,
            )

    def keep(self, made: CoachMade) -> str:
        """Write it."""
        actions.keep_coach_page(self._bench.on_desk(), made, today())
        return self._bench.say("The page is in {folder}.", folder=made.folder)

    def discard(self, made: CoachMade) -> None:
        """Remove clips that were made."""
        made.discard()
