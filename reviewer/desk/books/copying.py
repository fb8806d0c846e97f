"""The line that copies a rule book: under which id, into which file."""

from pathlib import Path

from PyQt6.QtCore import pyqtSignal
from PyQt6.QtWidgets import QLabel, QVBoxLayout, QWidget

from reviewer.actions.books import copy_book
from reviewer.desk.bench import Bench
from reviewer.desk.books.lines import Line
from reviewer.desk.buttons import button
from reviewer.desk.flowing import Flowing


class CopyLine(QWidget):
    """Offers a copy of the book that is shown. The file follows the id until it is named otherwise.

    Signals:
        made(str): the copy is in this file.
    """

    made = pyqtSignal(str)

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self._bench, self._of, self._named = bench, "", False
        self.why, self.id, self.file = QLabel(), Line(), Line()
        self._arrange()

    def offer(self, of: str, id: str, why: str) -> None:
        """Offer a copy of the book in a file or of an id, with words why."""
        self._of, self._named = of, False
        self.why.setText(why)
        self.id.setText(f"{id}-own")
        self._follow()

    def make(self) -> None:
        """Write the copy; what is amiss is said and nothing is written."""
        path = Path(self.file.text().strip()).expanduser()
        say = self._bench.say

        def copied() -> None:
            copy_book(self._of, path, id=self.id.text().strip())

        said = say("The copy is in {file}. Each change you keep is in it at once.", file=path.name)
        if self._bench.attempt(copied, said):
            self.made.emit(str(path))

    def _follow(self) -> None:
        if not self._named:
            audit = self._bench.audit
            folder = audit.path.parent if audit is not None else Path.home()
            self.file.setText(str(folder / f"{self.id.text().strip()}.yaml"))

    def _name(self) -> None:
        self._named = True

    def _arrange(self) -> None:
        say, row, column = self._bench.say, Flowing(), QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        self.why.setWordWrap(True)
        column.addWidget(self.why)
        column.addLayout(row)
        for words, edit in ((say("Id of the co&py"), self.id), (say("&Its file"), self.file)):
            label = QLabel(words)
            label.setBuddy(edit)
            edit.setAccessibleName(words.replace("&", ""))
            edit.returnPressed.connect(self.make)
            row.add(label)
            row.add(edit, takes_room=edit is self.file)
        row.add(button(say("&Make the copy"), self.make))
        self.id.textEdited.connect(lambda _: self._follow())
        self.file.textEdited.connect(lambda _: self._name())
