"""A report written while the judge goes on working: it is made on a thread of its own and may be stopped."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from PyQt6.QtCore import QObject
from PyQt6.QtWidgets import QWidget

from reviewer import actions
from reviewer.desk.asking import report_folder
from reviewer.desk.bench import Bench
from reviewer.desk.errand import Errand, GoingOn
from reviewer.terms.problems import ReviewerError

if TYPE_CHECKING:
    from reviewer.actions import ReportMade

THREADS = 2
"""That compress stills."""


class Reporting(QObject):
    """Makes one report at a time, from the case as it stands on disk."""

    def __init__(self, window: QWidget, bench: Bench) -> None:
        super().__init__(window)
        self._window, self._bench = window, bench
        self._errand: Errand | None = None

    @property
    def running(self) -> bool:
        """Whether a report is being made."""
        return self._errand is not None

    def ask(self) -> None:
        """Ask for a folder and begin; while a report is being made, stop that."""
        bench, audit = self._bench, self._bench.audit
        if self.running:
            self.stop()
        elif audit is None:
            bench.said.emit(bench.say("No case is open: a report is written of a case."), True)
        elif (folder := report_folder(self._window, bench.say, audit)) is not None:
            self.begin(folder)

    def begin(self, folder: Path) -> None:
        """Make the report of the case on the desk, and write it into a folder once it is made."""
        bench, audit = self._bench, self._bench.audit
        if audit is None or self.running:
            return
        case, day, language = audit.path, date.today().isoformat(), bench.say.language

        def made(going_on: GoingOn) -> ReportMade:
            with actions.open_case(case, author=None) as reader, ThreadPoolExecutor(THREADS) as workers:
                return actions.make_report(
                    reader, today=day, language=language, workers=workers, going_on=going_on
                )

        self._errand = Errand(made)
        self._errand.advanced.connect(self._tell)
        self._errand.done.connect(lambda found: self._keep(folder, found))
        self._errand.failed.connect(self._failed)
        self._errand.start()
        self._tell(0)

    def stop(self) -> None:
        """Make the report no further; nothing of it is written."""
        if self._errand is not None:
            self._errand.stop()
            self._errand = None
            self._bench.said.emit(self._bench.say("The report was stopped; nothing of it is written."), False)

    def _tell(self, stills: int) -> None:
        if self.running:
            said = self._bench.say(
                "Making the report: {count} pictures so far. {key} stops it.",
                count=stills,
                key=self._bench.key("report"),
            )
            self._bench.said.emit(said, False)

    def _keep(self, folder: Path, made: ReportMade) -> None:
        self._end()
        bench = self._bench

        def kept() -> None:
            actions.keep_report(bench.on_desk(), folder, made)

        bench.attempt(kept, bench.say("The report is in {folder}.", folder=folder))

    def _failed(self, error: ReviewerError) -> None:
        self._end()
        self._bench.say_problems(error)

    def _end(self) -> None:
        if self._errand is not None:
            self._errand.wait()
        self._errand = None
