"""The page of a meet: what there is of each routine, and from which its case is opened."""

from pathlib import Path

from PyQt6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QLineEdit,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from reviewer import actions
from reviewer.actions import MeetIndexed, MeetRow, Spawned
from reviewer.desk.bench import Bench
from reviewer.desk.buttons import button
from reviewer.desk.choosing import file_to_read, folder_to_read
from reviewer.desk.errand import GoingOn
from reviewer.desk.errandpage import ErrandPage
from reviewer.desk.flowing import Flowing
from reviewer.desk.meets.begin import BeginForm
from reviewer.desk.meets.carrying import CarryingForm
from reviewer.desk.meets.giving import GivingForm
from reviewer.desk.meets.rows import SHOWN, RoutinesModel, chosen_rows
from reviewer.desk.placing import fitting
from reviewer.terms.problems import ReviewerError

PROCESSES = 2
"""That read recordings."""
_PAGE = (1180, 640)
_TOLD = 3
"""Problems that are told in full."""


class MeetPage(ErrandPage):
    """Shows the routines of a meet, opens their cases, reads their recordings, writes the report.

    Attributes:
        folder: where the meet lies.
        shown: which routines are shown; `typed` how their names begin.
        table: the routines.
        foot: how many they are, and what came of the last thing that was done.
    """

    def __init__(self, parent: QWidget, bench: Bench) -> None:
        super().__init__(parent, bench, bench.say("A meet, routine by routine"))
        self._rows: tuple[MeetRow, ...] = ()
        self._spawned: Spawned | None = None
        self._far = (0, 0)
        self.folder, self.typed, self.shown = QLineEdit(), QLineEdit(), QComboBox()
        self.found, self.table = RoutinesModel(bench.say), QTableView()
        self._arrange()
        self.resize(fitting(self, *_PAGE))
        self.folder.setFocus()

    def look(self) -> None:
        """Read the meet of the folder, and show it."""
        try:
            self._rows = actions.meet_rows(self._where())
        except ReviewerError as error:
            self._rows = ()
            self._show()
            self.refuse(error)
            return
        self._show()
        self._tell_state()
        if self.found.rows:
            self.table.setFocus()

    def open_current(self) -> None:
        """Open the case of the row the keyboard is on: that of its auditor once it is home, else its own."""
        row = self._current()
        if row is None:
            return
        case = next((one.case for one in row.doing if one.case is not None), row.case)
        if case is None:
            told = self._bench.say(
                "Routine {name} has no case yet: read the recordings.", name=row.start.name
            )
            self.foot.tell(told, True)
            return
        self._bench.opens.emit(case.resolve())
        audit = self._bench.audit
        if audit is not None and audit.path.resolve() == case.resolve():
            self.hide()  # it lies over the picture; the same key brings it back as it was
            back = self._bench.say("{key} brings the meet back.", key=self._bench.key("meet"))
            told = self._bench.say("Routine {name} of the meet.", name=row.start.name)
            self._bench.said.emit(f"{told} {back}", False)

    def match_current(self) -> None:
        """Say by hand which recording the routine has."""
        row, say = self._current(), self._bench.say
        if row is None:
            return
        title = say("The recording of routine {name}", name=row.start.name)
        chosen = file_to_read(self, title, say("All files (*)"), self.folder.text())
        if chosen is None:
            return
        try:
            actions.match_by_hand(self._where(), row.start.name, (chosen,))
        except ReviewerError as error:
            self.refuse(error)
        else:
            self.look()

    def read_recordings(self) -> None:
        """Read what recordings are new, and make the cases that are not there; Esc stops."""
        folder, author = self._where(), self._bench.author
        spawned = Spawned()

        def read(going_on: GoingOn) -> MeetIndexed:
            def far(what: str, done: int, all_: int) -> bool:
                self._far = (done, all_)
                return going_on()

            with actions.working(PROCESSES, spawned) as workers:
                work = actions.Work(workers, 2 * PROCESSES, 1)
                return actions.index_meet(
                    folder, actions.Indexing(author, "not recorded", work, progress=far)
                )

        self.run(read, self._was_read, self._bench.say("At work … Esc stops."))
        self._spawned, self._far = spawned, (0, 0)

    def write_report(self) -> None:
        """Write the report of the meet into a folder."""
        say, folder = self._bench.say, self._where()
        out = folder_to_read(self, say("Folder for the report of the meet"), str(folder.parent))
        if out is None:
            return

        def written(going_on: GoingOn) -> Path:
            actions.write_meet_report(folder, out, language=say.language, going_on=going_on)
            return out

        self.run(
            written,
            lambda place: self.foot.tell(say("The report is in {folder}.", folder=place), False),
            say("At work … Esc stops."),
        )

    def begin(self) -> None:
        """Begin a meet from a table of starts."""
        form = BeginForm(self, self._bench)
        form.began.connect(self._begun)
        form.show()

    def give_out(self) -> None:
        """Choose routines of the meet, and give them to auditors."""
        form = GivingForm(self, self._bench, self._where())
        form.changed.connect(self.look)
        form.show()

    def carry(self) -> None:
        """Pack tasks for auditors, take bags home, and record consent."""
        self.look()
        if not self._rows:
            return
        auditors = sorted({one.auditor for row in self._rows for one in row.doing})
        form = CarryingForm(self, self._bench, self._where(), auditors)
        form.changed.connect(self.look)
        form.show()

    def stop(self) -> None:
        """Read no further, and write no report."""
        if self._spawned is not None:
            self._spawned.end()  # else the window would wait until recordings in hand are read
        self._spawned = None
        super().stop()

    def progress_words(self, count: int) -> str:
        """How many recordings are read, then how many cases are made."""
        say, (done, all_) = self._bench.say, self._far
        if self._spawned is None:
            return say("At work … Esc stops.")
        return say("Recordings read, then cases made: {done} of {of}. Esc stops.", done=done, of=all_)

    def stopped_words(self) -> str:
        """What is left of it."""
        if self._spawned is None:
            return self._bench.say("The report was stopped; nothing of it is written.")
        return self._bench.say("Stopped. What was read is kept; read them again to go on.")

    def was_stopped(self) -> None:
        """Show what was made by then."""
        self.look()

    def _begun(self, folder: Path) -> None:
        self.folder.setText(str(folder))
        self.look()

    def _where(self) -> Path:
        return Path(self.folder.text().strip()).expanduser()

    def _current(self) -> MeetRow | None:
        row = self.table.currentIndex().row()
        if 0 <= row < len(self.found.rows):
            return self.found.rows[row]
        self.foot.tell(self._bench.say("No routine is chosen."), True)
        return None

    def _was_read(self, found: MeetIndexed) -> None:
        self._spawned = None
        self.look()
        say = self._bench.say
        told = say(
            "Recordings read: {recordings}. Cases made: {cases}.",
            recordings=found.recordings,
            cases=found.cases,
        )
        problems = say.problems(tuple(found.problems[:_TOLD])) if found.problems else ""
        self.foot.tell(f"{told}  {problems}".strip(), bool(problems))

    def _show(self) -> None:
        self.found.put(chosen_rows(self._rows, self.shown.currentData(), self.typed.text()))
        if self.found.rows:
            self.table.setCurrentIndex(self.found.index(0, 0))
        for one in self._of_row:
            one.setEnabled(bool(self.found.rows))

    def _tell_state(self) -> None:
        rows, say = self._rows, self._bench.say
        states = [one.state for row in rows for one in row.doing]
        told = say(
            "Routines: {count}; with a recording: {matched}; chosen: {chosen}; tasks to do: {to_do}, "
            "out: {out}, home: {home}.",
            count=len(rows),
            matched=sum(bool(row.start.recordings) for row in rows),
            chosen=sum(bool(row.chosen) for row in rows),
            to_do=states.count("to do"),
            out=states.count("sent"),
            home=states.count("home"),
        )
        self.foot.tell(told, False)

    def _choose(self) -> None:
        chosen = folder_to_read(self, self._bench.say("Folder of the meet"), self.folder.text())
        if chosen is not None:
            self.folder.setText(str(chosen))
            self.look()

    def _arrange(self) -> None:
        say = self._bench.say
        above, below, column = QHBoxLayout(), Flowing(8), QVBoxLayout(self)
        narrowing = QHBoxLayout()
        folder, typed, shown = (
            QLabel(say("&Folder of the meet")),
            QLabel(say("&Begins with")),
            QLabel(say("&Show")),
        )
        for name, words in SHOWN.items():
            self.shown.addItem(say.word(words), name)
        for label, field in ((folder, self.folder), (typed, self.typed), (shown, self.shown)):
            label.setBuddy(field)
            field.setAccessibleName(label.text().replace("&", ""))
        chooses, looks = button(say("Choose…"), self._choose), button(say("&Look"), self.look)
        rows: tuple[tuple[QHBoxLayout, tuple[QWidget, ...]], ...] = (
            (above, (folder, self.folder, chooses, looks)),
            (narrowing, (shown, self.shown, typed, self.typed)),
        )
        for row, parts in rows:
            for part in parts:
                row.addWidget(part)
        self._of_row = (
            button(say("&Open its case"), self.open_current),
            button(say("Its &recording…"), self.match_current),
        )
        others = (
            button(say("Begin &a meet…"), self.begin),
            button(say("&Choose and give out…"), self.give_out),
            button(say("Ba&gs, consent…"), self.carry),
            button(say("Read the recordings, &make the cases"), self.read_recordings),
            button(say("&Write the report…"), self.write_report),
        )
        for part in (*self._of_row, *others):
            below.add(part)
        self._lay_out_table()
        self.folder.returnPressed.connect(self.look)
        self.typed.textChanged.connect(lambda _: self._show())
        self.shown.currentIndexChanged.connect(lambda _: self._show())
        for layout in (above, narrowing):
            column.addLayout(layout)
        column.addWidget(self.table, 1)
        column.addLayout(below)
        column.addWidget(self.foot)

    def _lay_out_table(self) -> None:
        table = self.table
        table.setModel(self.found)
        table.setAccessibleName(self._bench.say("The routines of the meet"))
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        table.setWordWrap(False)
        table.setTabKeyNavigation(False)
        table.setShowGrid(False)
        table.activated.connect(lambda _: self.open_current())
        if (side := table.verticalHeader()) is not None:
            side.hide()
        if (head := table.horizontalHeader()) is not None:
            head.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
            head.setHighlightSections(False)
