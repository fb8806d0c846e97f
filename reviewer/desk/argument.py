"""The score sheet: the argument. The final score, how sure it is, and every line it rests on."""

from PyQt6.QtCore import QEvent, QPoint, pyqtSignal
from PyQt6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.calls import CallError
from reviewer.desk.flowing import Flowing, Scrolled
from reviewer.desk.ledger import Row
from reviewer.desk.postedfield import PostedField
from reviewer.desk.posting import posted_words, reachable_words
from reviewer.desk.reachscale import ReachScale
from reviewer.desk.sheetrows import SheetRows
from reviewer.desk.sheettable import SheetTable
from reviewer.desk.whatif import WhatIf
from reviewer.terms.callwords import with_point
from reviewer.terms.exact import Points
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem
from reviewer.terms.sheets import ScoreSheet


class ArgumentView(QWidget):
    """The sheet of the case on the desk.

    Attributes:
        rows: what the table shows, line by line.
        what_if: what is supposed beside it.

    Signals:
        picked(tuple): ids of the marks behind a line that was activated.
        left(): back to the picture.
    """

    picked = pyqtSignal(object)
    left = pyqtSignal()

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self._bench, self._telling, self.what_if = bench, SheetRows(bench), WhatIf(bench)
        self.final, self.named = QLabel(), QLabel()
        self.otherwise, self.supposed, self.reachable, self.against = _wrapped(4)
        self.scale, self.posted, self.table = ReachScale(), PostedField(bench), SheetTable(bench)
        self.offer, self.leave = QPushButton(), QPushButton()
        self.setAccessibleName(bench.say("Score sheet"))
        self._dress()
        self._arrange()
        self.table.asked.connect(lambda does: self._doings[does]())
        self.posted.entered.connect(self._enter_posted)
        self.posted.left.connect(self.left)
        self.offer.clicked.connect(self._offer)
        self.leave.clicked.connect(self._back)
        self.what_if.changed.connect(self.refresh)
        self._doings = {"line-frame": self._pick, "otherwise": self._offer, "leave-sheet": self._back}
        self.refresh()

    @property
    def rows(self) -> tuple[Row, ...]:
        """What the table shows."""
        return self.table.sheet.rows

    def refresh(self) -> None:
        """Read the sheet again; it is derived from the marks each time."""
        audit, say = self._bench.audit, self._bench.say
        sheet, other = audit.sheet if audit else None, self.what_if.sheet()
        self.table.put(self._telling.rows(sheet, other), supposing=other is not None)
        self._say_score(sheet, other)
        posted = audit.posted if audit else None
        self.scale.show_sheet(sheet, posted, say)
        panel = actions.as_panel(audit, posted) if audit else None
        self.against.setText(posted_words(sheet, posted, say, panel) if sheet else "")
        self.posted.setEnabled(audit is not None and audit.author is not None)
        self.posted.keep(say.word(str(posted)) if posted is not None else "")
        self.highlight()

    def highlight(self) -> None:
        """Show which lines rest on the chosen marks."""
        self.table.light(self._bench.chosen)

    def read(self) -> None:
        """Put the keyboard on the lines, on the one that is lit or else the first."""
        if self.table.currentIndex().row() < 0 and self.rows:
            self.table.setCurrentIndex(self.table.sheet.index(min(self.table.sheet.lit, default=0), 0))
        self.table.setFocus()
        self._around.ensureWidgetVisible(self.table)

    def changeEvent(self, event: QEvent | None) -> None:
        """The field of the posted score grows with the words."""
        super().changeEvent(event)
        if event is not None and event.type() == QEvent.Type.FontChange:
            self._fit()

    def _say_score(self, sheet: ScoreSheet | None, other: ScoreSheet | None) -> None:
        say = self._bench.say
        self.final.setText(say.word(str(sheet.final_score)) if sheet else "—")
        self.final.setAccessibleDescription(say("Final score {score}", score=self.final.text()))
        self.named.setText(self._named(sheet))
        self.otherwise.setText(say("if so {score}", score=other.final_score) if other else "")
        self.otherwise.setVisible(other is not None)
        asked = say("The score stands here once a case is open.")
        self.reachable.setText(reachable_words(sheet, say) if sheet else asked)
        self.supposed.setText(self.what_if.words(self._telling.whereabouts))
        self.supposed.setVisible(bool(self.supposed.text()))
        self.leave.setVisible(other is not None)
        self.offer.setEnabled(sheet is not None)

    def _named(self, sheet: ScoreSheet | None) -> str:
        """What the number is a score of."""
        say, audit = self._bench.say, self._bench.audit
        if audit is not None and actions.open_lines(audit):
            return say("Score of the lines settled so far")
        left_out = sheet is not None and bool(sheet.problems)
        return say("Final score of the marks that could be scored") if left_out else say("Final score")

    def _dress(self) -> None:
        say = self._bench.say
        self.final.setObjectName("final")
        self.final.setAccessibleName(say("Final score"))
        self.otherwise.setObjectName("heading")
        self.posted.setPlaceholderText(say("none yet"))
        self.posted.setAccessibleName(say("Posted score"))
        self.offer.setText(say("What if…"))
        self.offer.setToolTip(self._bench.tip("otherwise"))
        self.leave.setText(say("Leave it"))
        self.leave.setToolTip(self._bench.tip("leave-sheet"))
        self._fit()

    def _fit(self) -> None:
        words = ("10.0000", self.posted.placeholderText())
        widest = max(map(self.posted.fontMetrics().horizontalAdvance, words))
        self.posted.setFixedWidth(widest + 16)

    def _arrange(self) -> None:
        label = QLabel(self._bench.say("Posted"))
        label.setBuddy(self.posted)
        above, beside, beneath = Flowing(), QHBoxLayout(), Flowing()
        self.named.setObjectName("quiet")
        self.named.setWordWrap(True)
        above.add(self.final)
        above.add(self.named, takes_room=True)
        above.add(self.otherwise)
        beside.addWidget(self.supposed, 1)
        beside.addWidget(self.leave)
        beneath.add(label)
        beneath.add(self.posted)
        beneath.add(self.offer)
        beneath.add(self.against, takes_room=True)
        parts = QWidget()
        self._around = Scrolled(parts)
        whole, column = QVBoxLayout(self), QVBoxLayout(parts)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self._around)
        column.setContentsMargins(8, 6, 8, 6)
        column.setSpacing(3)
        column.addLayout(above)
        column.addLayout(beside)
        column.addWidget(self.scale)
        column.addWidget(self.reachable)
        column.addLayout(beneath)
        column.addWidget(self.table, 1)

    def _pick(self) -> None:
        row = self.table.current()
        if row is not None and row.marks:
            self.picked.emit(row.marks)
        elif row is not None:
            self._bench.said.emit(self._bench.say("No mark is behind this line."), False)

    def _offer(self) -> None:
        """Offer what else might be so in the current line, at its place."""
        row = self.table.current()
        menu = self.what_if.offered(row, self._telling.whereabouts, self) if row is not None else None
        if menu is None:
            said = self._bench.say("Choose a line with a mark, or a clause that leaves a reading open.")
            self._bench.said.emit(said, False)
            return
        place, port = self.table.visualRect(self.table.currentIndex()), self.table.viewport()
        if port is not None:
            menu.popup(port.mapToGlobal(place.bottomLeft() + QPoint(8, 0)))

    def _back(self) -> None:
        """Leave what is supposed, or where nothing is, the sheet."""
        if self.what_if.supposed:
            self.what_if.leave()
        else:
            self.left.emit()

    def _enter_posted(self, typed: str) -> None:
        self._bench.attempt(
            lambda: actions.enter_posted(self._bench.open_audit(), _score(typed, self._bench)),
            self._bench.say("The posted score is kept."),
        )


def _wrapped(number: int) -> list[QLabel]:
    """Labels whose words go on in the next line."""
    labels = [QLabel() for _ in range(number)]
    for label in labels:
        label.setWordWrap(True)
    return labels


def _score(typed: str, bench: Bench) -> Points:
    try:
        return Points.parse(with_point(typed))
    except ValueError:
        said = message("{typed} is no score.", typed=repr(typed))
        where, remedy = "posted score", message("Type it such as 8.900.")
        raise CallError(Problem("unreadable-score", where, said, remedy)) from None
