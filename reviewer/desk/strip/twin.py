"""The table where the strip was: told anew as the case and the picture change, only while it is shown."""

from PyQt6.QtWidgets import QVBoxLayout, QWidget

from reviewer.desk.bench import Bench
from reviewer.desk.gauging import Gauging
from reviewer.desk.strip.table import RoutineTable
from reviewer.desk.strip.told import Telling, Told
from reviewer.desk.viewing import Viewing

WIDE, SHARE = 30, 0.4
"""Width of the table in heights of a line, and the share of the window it takes at most."""


class Twin(QWidget):
    """Holds the table.

    Attributes:
        table: the rows.
        shown: whether it stands in the strip's place.
    """

    def __init__(self, bench: Bench, viewing: Viewing, gauging: Gauging) -> None:
        super().__init__()
        self._bench, self.shown = bench, False
        self._telling = Telling(bench, gauging.protractor, gauging.followed)
        self.table = RoutineTable(bench.say)
        column = QVBoxLayout(self)
        column.setContentsMargins(4, 4, 4, 4)
        column.addWidget(self.table)
        self.table.reached.connect(self._reached)
        self.table.doubleClicked.connect(self.show_row)
        bench.changed.connect(self.refresh)
        bench.dressed.connect(self._fit)
        bench.chose.connect(lambda: self.table.follow(bench.chosen) if self.shown else None)
        gauging.changed.connect(self.refresh)
        viewing.opened.connect(self.refresh)
        viewing.damaged.connect(self.refresh)
        self.hide()

    def put(self, shown: bool) -> None:
        """Show it, or put it away."""
        self.shown = shown
        self._fit()
        self.setVisible(shown)
        self.refresh()

    def refresh(self) -> None:
        """Tell everything again."""
        if self.shown:
            self.table.put(self._telling.rows(), self._bench.chosen)

    def show_row(self) -> None:
        """Show the frame of the current row, and choose its mark."""
        row, facts, say = self.table.current(), self._bench.facts, self._bench.say
        if row is not None and row.mark is not None:
            self._bench.choose((row.mark,), show=True)
        elif row is not None and row.tick is not None and facts is not None:
            self._bench.wanted.emit(facts.frame_at(row.tick))
        else:
            self._bench.said.emit(say("No frame belongs to this row."), False)

    def _reached(self, row: Told) -> None:
        """The mark of the row is chosen, so that the keys of the strip mean it; of another row, none."""
        self._bench.choose(() if row.mark is None else (row.mark,))

    def _fit(self) -> None:
        self.table.dress()
        window = self.window()
        most = int(SHARE * window.width()) if window is not None else 0
        self.setMinimumWidth(min(WIDE * self.fontMetrics().height(), most) if self.shown else 0)
