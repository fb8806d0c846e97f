"""From when a change of a clause holds and what it rests on: asked for with each change."""

from PyQt6.QtCore import pyqtSignal
from PyQt6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from reviewer.actions.ownbooks import SOURCE_KINDS, Outlined
from reviewer.desk.books.lines import Choice, Line
from reviewer.desk.buttons import button
from reviewer.desk.flowing import Flowing
from reviewer.words import Saying

PUBLISHED = SOURCE_KINDS[0]


class ChangeRows(QWidget):
    """Date and source of a change. What was said for the last change kept stands there for the next.

    Attributes:
        touched: whether the judge typed or chose here since the clause was shown.

    Signals:
        edited(): date or source is another.
        entered(): Return was pressed in a line.
    """

    edited = pyqtSignal()
    entered = pyqtSignal()

    def __init__(self, say: Saying) -> None:
        super().__init__()
        self._say, self._last = say, ("", "")
        self._now = ("", "")
        self.touched = False
        self.since, self.kind, self.place = Line(), Choice(), Line()
        self._as_now = button(say("As the &clause says now"), self.as_now)
        self.wrong = QLabel()
        self._arrange()

    def show_for(self, clause: Outlined) -> None:
        """Ask for the next change, of this clause."""
        self._now = (clause.since, clause.source)
        self._put(*self._last)
        self.touched = False
        self.tell("")

    def said(self) -> tuple[str, str]:
        """Date and source as they stand here, empty where nothing was said."""
        kind = SOURCE_KINDS[self.kind.currentIndex() - 1] if self.kind.currentIndex() > 0 else ""
        place = self.place.text().strip()
        source = f"{kind}: {place}" if kind == PUBLISHED and place else kind
        return self.since.text().strip(), source

    def lead_to_missing(self) -> str:
        """Give the keyboard to what is not said yet; in words what that is, or nothing."""
        since, source = self.said()
        if not since:
            self.since.setFocus()
            return self._say("A change is kept with its day: type from when it holds, YYYY-MM-DD.")
        if not source:
            self.kind.setFocus()
            return self._say("A change is kept with its source: choose what it rests on.")
        if source == PUBLISHED:
            self.place.setFocus()
            return self._say("Name the document it is published in, and the place there.")
        return ""

    def stops(self) -> tuple[QWidget, ...]:
        """Where the keyboard stops, in order."""
        return self.since, self.kind, self.place, self._as_now

    def keep(self) -> None:
        """Say the same for the next change."""
        self._last = self.said()

    def tell(self, words: str) -> None:
        """Say what is wrong here, or with no words that nothing is."""
        self.wrong.setText(words)
        self.wrong.setVisible(bool(words))
        self.since.setAccessibleDescription(words)

    def as_now(self) -> None:
        """Take date and source that the clause has now."""
        self._put(*self._now)
        self._edited()

    def _put(self, since: str, source: str) -> None:
        kind, _, place = (part.strip() for part in source.partition(":"))
        self.since.setText(since)
        self.kind.setCurrentIndex(SOURCE_KINDS.index(kind) + 1 if kind in SOURCE_KINDS else 0)
        self.place.setText(place)
        self.place.setCursorPosition(0)
        self.place.setEnabled(kind == PUBLISHED)

    def _edited(self) -> None:
        self.touched = True
        self.place.setEnabled(self.kind.currentIndex() == 1)
        self.edited.emit()

    def _arrange(self) -> None:
        say = self._say
        self.kind.addItems([say("choose"), say("published"), *(say.word(one) for one in SOURCE_KINDS[1:])])
        self.kind.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.since.setPlaceholderText(say("YYYY-MM-DD"))
        self.place.setPlaceholderText(say("document and place in it"))
        self.since.setFixedWidth(self.since.fontMetrics().horizontalAdvance("0000-00-00") + 20)
        self.wrong.setObjectName("wrong")
        self.wrong.setWordWrap(True)
        heading = QLabel(say("This change"))
        heading.setObjectName("heading")
        above, beneath, column = Flowing(), Flowing(), QVBoxLayout(self)
        above.add(heading)
        above.add(self._as_now)
        for words, edit in ((say("Holds &from"), self.since), (say("&Rests on"), self.kind)):
            edit.setAccessibleName(words.replace("&", ""))
            beneath.add(_named(words, edit))
        beneath.add(self.place, takes_room=True)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(above)
        column.addLayout(beneath)
        column.addWidget(self.wrong)
        self.place.setAccessibleName(say("Document and place"))
        self.since.textEdited.connect(lambda _: self._edited())
        self.place.textEdited.connect(lambda _: self._edited())
        self.since.returnPressed.connect(self.entered)
        self.place.returnPressed.connect(self.entered)
        self.kind.entered.connect(self.entered)
        self.kind.activated.connect(lambda _: self._edited())


def _named(words: str, edit: QWidget) -> QWidget:
    """A line or a choice that stays with its name."""
    both, label = QWidget(), QLabel(words)
    row = QHBoxLayout(both)
    row.setContentsMargins(0, 0, 0, 0)
    label.setBuddy(edit)
    row.addWidget(label)
    row.addWidget(edit)
    return both
