"""Choosing which routines are audited, and giving them to auditors."""

from pathlib import Path
from typing import Any

from PyQt6.QtCore import pyqtSignal
from PyQt6.QtWidgets import QCheckBox, QComboBox, QLineEdit, QSpinBox, QWidget

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.meets.form import MeetForm
from reviewer.terms.meets import GROUPS, TRIGGERS
from reviewer.terms.messages import noted

_MOST = 100_000
_BY = {"division": noted("division"), "session": noted("session"), "panel": noted("panel")}
_REASONS = {
    "spread": noted("judges too far apart"),
    "start-value": noted("another start value posted than requested"),
    "inquiry": noted("inquiry filed"),
    "short": noted("short exercise"),
    "contradiction": noted("posted figures contradict each other"),
    "outside": noted("a final score that cannot be given"),
}


class GivingForm(MeetForm):
    """Draws by lot or chooses for a reason, then gives what is chosen to auditors.

    Attributes:
        number, seed, by: of the lots.
        reason: for which routines are chosen.
        auditors, double, blind: how they are given.

    Signals:
        changed(): the meet is another one now.
    """

    changed = pyqtSignal()

    def __init__(self, parent: QWidget, bench: Bench, meet: Path) -> None:
        say = bench.say
        lead = say(
            "Only a sample by lot speaks for the whole meet. Choose the seed before anybody looks: with the "
            "same one anybody draws the same routines, and a larger number adds to them."
        )
        super().__init__(parent, bench, say("Choose routines and give them out"), lead)
        self._meet = meet
        self.number, self.double, self.blind = QSpinBox(), QSpinBox(), QCheckBox()
        self.seed, self.auditors, self.by, self.reason = QLineEdit(), QLineEdit(), QComboBox(), QComboBox()
        self._fill()
        self.heading(say("By lot"))
        self.ask(say("&How many"), self.number)
        self.ask(say("&Seed"), self.seed)
        self.ask(say("In &proportion by"), self.by)
        self.offer(say("&Draw them"), self._draw)
        self.heading(say("For a reason"))
        self.ask(say("&Reason"), self.reason)
        self.offer(say("&Choose them"), self._for_a_reason)
        self.heading(say("To auditors"))
        self.ask(say("&Auditors’ letters, such as K, L, M"), self.auditors)
        self.ask(say("Given &twice, to two who work blind"), self.double)
        self.ask(say("All of them b&lind"), self.blind)
        self.offer(say("&Give them out"), self._give)
        self.finish()

    def _fill(self) -> None:
        say = self.bench.say
        for box in (self.number, self.double):
            box.setButtonSymbols(QSpinBox.ButtonSymbols.NoButtons)
        self.number.setRange(1, _MOST)
        self.number.setValue(min(_MOST, 30))
        self.double.setRange(0, _MOST)
        self.by.addItem(say("nothing"), None)
        for name in GROUPS:
            self.by.addItem(say.word(_BY[name]), name)
        self.reason.addItem(say("any of them"), "all")
        for name in TRIGGERS:
            self.reason.addItem(say.word(_REASONS.get(name, name)), name)

    def _draw(self) -> str:
        seed, say = self.seed.text().strip(), self.bench.say
        if not seed:
            return say("Type a seed: words or digits chosen before anybody looks.")
        by = self.by.currentData()
        return self._chosen(actions.choose_by_lot(self._meet, self.number.value(), seed, by, say.word))

    def _for_a_reason(self) -> str:
        reason = self.reason.currentData()
        return self._chosen(actions.choose_by_trigger(self._meet, (reason,), self.bench.say.word))

    def _chosen(self, found: dict[str, Any]) -> str:
        self.changed.emit()
        told = self.bench.say(
            "Chosen: {count} of {of}, {new} of them new.",
            count=len(found["starts"]),
            of=found["of"],
            new=len(found["new"]),
        )
        return "\n".join((told, *found["remarks"]))

    def _give(self) -> str:
        names = tuple(filter(None, (one.strip() for one in self.auditors.text().split(","))))
        wish = actions.Wish(names, double=self.double.value(), blind=self.blind.isChecked())
        found = actions.assign(self._meet, wish)
        self.changed.emit()
        say = self.bench.say
        return say(
            "Given out: {count} tasks, by lots of the seed {seed}.",
            count=len(found["tasks"]),
            seed=found["seed"],
        )
