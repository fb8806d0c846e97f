"""Beginning a meet from a table of starts and a folder of recordings."""

from pathlib import Path

from PyQt6.QtCore import pyqtSignal
from PyQt6.QtWidgets import QComboBox, QLineEdit, QWidget

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.buttons import button
from reviewer.desk.choosing import file_to_read, folder_to_read
from reviewer.desk.meets.form import MeetForm, path_in

_OTHERS = (
    "athlete, division, session, panel, start value, judge A, judge B, …, average, neutral, final, "
    "requested, inquiry, short, recording"
)
"""Columns that a table may have, as they are written."""


class BeginForm(MeetForm):
    """Asks for the table, the recordings, the rule book, and the folder to make.

    Attributes:
        table, recordings, folder, called: as typed.
        book: the rule book's id, or the path of one.

    Signals:
        began(object): the folder of the meet that was begun.
    """

    began = pyqtSignal(object)

    def __init__(self, parent: QWidget, bench: Bench) -> None:
        say = bench.say
        lead = say(
            "The table is a CSV file with a column {start}; and as far as they are known {others}. An "
            "athlete is a code; names of people are not kept.",
            start="start",
            others=_OTHERS,
        )
        super().__init__(parent, bench, say("Begin a meet"), lead)
        self.table, self.recordings, self.folder = QLineEdit(), QLineEdit(), QLineEdit()
        self.called, self.book = QLineEdit(), QComboBox()
        self.book.setEditable(True)
        self.book.addItems([one.id for one in actions.shipped_books()])
        self.book.setCurrentText(actions.DEFAULT_BOOK)
        self.ask(say("&Table of starts"), self.table, button(say("Choose…"), self._choose_table))
        self.ask(say("&Recordings, if any"), self.recordings, button(say("Choose…"), self._choose_recordings))
        self.ask(say("Rule &book"), self.book)
        self.ask(say("&What it is called"), self.called)
        self.ask(say("&Folder to make"), self.folder)
        self.offer(say("Be&gin it"), self._begin)
        self.finish()

    def _begin(self) -> str:
        folder, films = path_in(self.folder), self.recordings.text().strip()
        begun = actions.begin_meet(
            path_in(self.table),
            folder,
            rule_book=self.book.currentText().strip(),
            title=self.called.text(),
            recordings=Path(films).expanduser() if films else None,
        )
        self.began.emit(folder)
        say = self.bench.say
        told = say("The meet is begun: {count} routines.", count=len(begun.meet.starts))
        unread = say("Columns that were not read: {names}.", names=", ".join(begun.unread))
        return f"{told} {unread}" if begun.unread else told

    def _choose_table(self) -> None:
        chosen = file_to_read(self, self.bench.say("Table of starts"), "CSV (*.csv *.tsv *.txt)")
        if chosen is not None:
            self.table.setText(str(chosen))
            if not self.folder.text():
                self.folder.setText(str(chosen.with_suffix("")))

    def _choose_recordings(self) -> None:
        chosen = folder_to_read(self, self.bench.say("Recordings, if any"), self.recordings.text())
        if chosen is not None:
            self.recordings.setText(str(chosen))
