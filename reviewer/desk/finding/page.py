"""The page on which passages are looked for among many cases, and from which each is opened at its frame."""

from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path

from PyQt6.QtCore import QSize, Qt
from PyQt6.QtGui import QImage
from PyQt6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from reviewer import actions
from reviewer.actions import ShelfAnswer
from reviewer.desk.bench import Bench
from reviewer.desk.buttons import button
from reviewer.desk.errand import GoingOn
from reviewer.desk.errandpage import ErrandPage
from reviewer.desk.finding.fields import Fields
from reviewer.desk.finding.opening import listed_of, open_hit
from reviewer.desk.finding.pictures import Pictures
from reviewer.desk.finding.rows import PICTURE, FoundModel
from reviewer.desk.flowing import Flowing, Scrolled
from reviewer.terms.messages import noted
from reviewer.terms.problems import Problem, ReviewerError
from reviewer.terms.shelving import Wanted

SHOWN = 50
"""Passages on one page of the results."""
TOLD = 3
"""Problems that are told in full."""
_WIDE, _HIGH, _ROWS = 7.0, 4.0, 3
"""A small picture, in heights of a line of words; and rows that are in sight at least."""
_PAGE, _SHARE = (72, 42), 0.95
"""The page in heights of a line of words, and its largest share of the screen."""


class FindPage(ErrandPage):
    """Looks for passages, shows them with small pictures, and opens the case of one at its frame.

    Attributes:
        fields: what is looked for.
        table: what was found.
        foot: how much that is, and what must be known of the cases.
    """

    def __init__(self, parent: QWidget, bench: Bench) -> None:
        super().__init__(parent, bench, bench.say("Find passages in many cases"))
        self.fields = Fields(bench.say, bench.audit.path.parent if bench.audit is not None else None)
        self.found, self.table = FoundModel(bench.say), QTableView()
        self._pictures = Pictures(self)
        self._wanted, self._skip = Wanted(), 0
        self._answer: ShelfAnswer | None = None
        self._arrange()
        self.fields.asked.connect(self.search)
        self.table.activated.connect(lambda _: self.open_current())
        self._pictures.came.connect(self._picture_came)
        self._take_room()
        self.fields.lines["words"].setFocus()

    def search(self) -> None:
        """Look for what stands in the fields, from the first passage on."""
        try:
            self._wanted = self.fields.wanted()
        except ReviewerError as error:
            self.refuse(error)
            return
        self._look(0)

    def open_current(self) -> None:
        """Open the case of the row the keyboard is on at its frame."""
        row, answer = self.table.currentIndex().row(), self._answer
        if answer is None or not 0 <= row < len(self.found.rows):
            self.foot.tell(self._bench.say("No passage is chosen."), True)
            return
        if open_hit(self._bench, answer.folder, self.found.rows[row]):
            self.hide()  # it lies over the picture; the same key brings it back as it was
            parent = self.parentWidget()
            if parent is not None:
                parent.activateWindow()

    def make_clips(self) -> None:
        """Ask how clips are made of the rows chosen, or of all that are shown where one is."""
        model, answer = self.table.selectionModel(), self._answer
        rows = [] if model is None else sorted(one.row() for one in model.selectedRows())
        hits = [self.found.rows[row] for row in rows] if len(rows) > 1 else list(self.found.rows)
        timed = [one for one in hits if one.passage.stretch is not None]
        if answer is None or not timed:
            self.foot.tell(self._bench.say("None of them has a time on a recording."), True)
            return
        from reviewer.desk.teaching.setpage import SetPage

        listed = [listed_of(answer.folder, one, self._bench.say) for one in timed]
        page = SetPage(self, self._bench, answer.folder.resolve(), listed)
        page.show()
        page.activateWindow()

    def stop(self) -> None:
        """Look no further."""
        super().stop()
        self._pictures.leave()

    def progress_words(self, count: int) -> str:
        """How many cases were read."""
        return self._bench.say("Reading cases: {count}. Esc stops.", count=count)

    def stopped_words(self) -> str:
        """What was read stays read."""
        return self._bench.say("Stopped. What was read is kept; find again to go on.")

    def _look(self, skip: int) -> None:
        folder, wanted, self._skip = self.fields.where(), self._wanted, skip

        def searched(going_on: GoingOn) -> ShelfAnswer:
            with ProcessPoolExecutor(mp_context=get_context("spawn")) as workers:
                return actions.search_shelf(
                    folder, wanted, limit=SHOWN, skip=skip, progress=lambda *_: going_on(), workers=workers
                )

        self.run(searched, self._show, self._bench.say("Looking …"))

    def _show(self, answer: ShelfAnswer) -> None:
        self._answer = answer
        self.found.put(answer.found.hits)
        self.foot.tell("  ".join(_told(answer, self._skip, self._bench)), bool(answer.problems))
        self.earlier.setEnabled(self._skip > 0)
        self.later.setEnabled(self._skip + len(answer.found.hits) < answer.found.total)
        self.opens.setEnabled(bool(answer.found.hits))
        self.clips.setEnabled(bool(answer.found.hits))
        if answer.found.hits:
            self.table.setCurrentIndex(self.found.index(0, PICTURE + 1))
            self.table.setFocus()
        self._want_pictures(answer)

    def _want_pictures(self, answer: ShelfAnswer) -> None:
        frames: dict[Path, list[tuple[int, int]]] = {}
        for row, hit in enumerate(answer.found.hits):
            stretch = hit.passage.stretch
            lies = answer.recordings.get((hit.case.path, stretch.recording)) if stretch else None
            if stretch is not None and lies is not None and lies.path is not None:
                frames.setdefault(lies.path, []).append((row, stretch.deciding.frame))
            else:
                state = lies.state if lies is not None else ""
                self.found.put_picture(row, None, self._bench.say.word(_LACKS.get(state, _NO_TIME)))
        self._pictures.want(frames, self.table.iconSize())

    def _picture_came(self, row: int, image: QImage | None) -> None:
        lack = "" if image is not None else self._bench.say("cannot be shown")
        self.found.put_picture(row, image, lack)

    def _arrange(self) -> None:
        say = self._bench.say
        finds, clears = button(say("&Find"), self.search), button(say("Clear the fields"), self.fields.clear)
        self.opens = button(say("&Open at this frame"), self.open_current)
        self.earlier = button(say("Earlier ones"), lambda: self._look(max(0, self._skip - SHOWN)))
        self.later = button(say("Further ones"), lambda: self._look(self._skip + SHOWN))
        above, below = Flowing(8), Flowing(8)
        for part in (finds, clears):
            above.add(part)
        self.clips = button(say("&Clips of them…"), self.make_clips, tip=say(_WHICH))
        for part in (self.opens, self.clips, self.earlier, self.later):
            part.setEnabled(False)
            below.add(part)
        self._lay_out_table()
        self.foot.setTextFormat(Qt.TextFormat.PlainText)
        inner, whole = QWidget(), QVBoxLayout(self)
        column = QVBoxLayout(inner)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.fields)
        column.addLayout(above)
        column.addWidget(self.table, 1)
        column.addLayout(below)
        whole.addWidget(Scrolled(inner), 1)
        whole.addWidget(self.foot)

    def _take_room(self) -> None:
        """As large as the words ask for, and no larger than the screen."""
        size, screen = QSize(_PAGE[0], _PAGE[1]) * self.fontMetrics().height(), self.screen()
        self.resize(size if screen is None else size.boundedTo(screen.availableSize() * _SHARE))

    def _lay_out_table(self) -> None:
        table, line = self.table, self.fontMetrics().height()
        table.setModel(self.found)
        table.setAccessibleName(self._bench.say("Passages found"))
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        table.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        table.setTabKeyNavigation(False)
        table.setShowGrid(False)
        table.setMinimumHeight(round((_ROWS * (_HIGH + 0.5) + 3) * line))
        table.setIconSize(QSize(round(_WIDE * line), round(_HIGH * line)))
        if (side := table.verticalHeader()) is not None:
            side.hide()
            side.setDefaultSectionSize(round((_HIGH + 0.5) * line))
        if (head := table.horizontalHeader()) is not None:
            head.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
            head.setSectionResizeMode(PICTURE, QHeaderView.ResizeMode.Fixed)
            head.resizeSection(PICTURE, round((_WIDE + 1) * line))
            head.setHighlightSections(False)


_WHICH = noted("Of the rows chosen with Shift or Ctrl, else of all that are shown")
_NO_TIME = noted("no time")
_LACKS = {"missing": noted("recording not found"), "changed": noted("another file in its place")}


def _told(answer: ShelfAnswer, skip: int, bench: Bench) -> Iterator[str]:
    """How much was found, and what must be known of the cases."""
    say, found = bench.say, answer.found
    yield say("Passages: {total}. Cases they stand in: {cases}.", total=found.total, cases=found.cases)
    if found.hits:
        yield say("Shown: {first} to {last}.", first=skip + 1, last=skip + len(found.hits))
    if answer.locked:
        yield say("Cases locked, since consent was withdrawn: {count}.", count=answer.locked)
    yield from _problems(answer.problems, bench)


def _problems(problems: tuple[Problem, ...], bench: Bench) -> Iterator[str]:
    if problems:
        yield bench.say.problems(problems[:TOLD])
    if len(problems) > TOLD:
        yield bench.say("And {count} more.", count=len(problems) - TOLD)
