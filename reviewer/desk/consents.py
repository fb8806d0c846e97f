"""What the family allows the recording to be used for: recorded at the desk, and withdrawn."""

from datetime import date

from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialog,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.buttons import button


class ConsentPage(QDialog):
    """Says what consent covers today; what is recorded here cannot be undone, and the page says so."""

    def __init__(self, parent: QWidget, bench: Bench) -> None:
        super().__init__(parent)
        self._bench = bench
        say = bench.say
        self.setWindowTitle(say("Consent to the use of this recording"))
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.stands, self.until, self.by = QLabel(), QLineEdit(), QComboBox()
        self.uses = {use: QCheckBox(say.word(use)) for use in actions.USES}
        self._arrange()
        bench.changed.connect(self._refresh)
        self._refresh()

    def _arrange(self) -> None:
        say = self._bench.say
        column, row = QVBoxLayout(self), QHBoxLayout()
        self.stands.setWordWrap(True)
        self.until.setPlaceholderText("2027-06-30")
        self.until.setAccessibleName(say("Last day it holds, such as 2027-06-30; empty without an end"))
        for word, by in ((say("not said"), None), *((say.word(one), one) for one in actions.WHOSE)):
            self.by.addItem(word, by)
        whose = QLabel(say("&By whom (a parent or guardian for her, or the athlete herself)"))
        whose.setBuddy(self.by)
        whose.setWordWrap(True)
        until = QLabel(say("&Until (empty: without an end)"))
        until.setBuddy(self.until)
        told = QLabel(say("What is recorded here cannot be undone; the last word counts."))
        told.setObjectName("quiet")
        told.setWordWrap(True)
        for widget in (
            self.stands,
            QLabel(say("It was given for")),
            *self.uses.values(),
            until,
            self.until,
            whose,
            self.by,
            told,
        ):
            column.addWidget(widget)
        for words, does in (
            (say("Record it"), self._record),
            (say("It was withdrawn: lock the case"), self._withdraw),
        ):
            row.addWidget(button(words, does))
        column.addLayout(row)

    def _refresh(self) -> None:
        audit, say = self._bench.audit, self._bench.say
        if audit is None:
            return
        found = actions.consent_document(audit, _today())
        covers = ", ".join(say.word(use) for use in found["uses"]) or say("no use")
        until = say(", until {day}", day=found["until"]) if found["until"] else ""
        stands = say.word(found["consent"])
        self.stands.setText(
            say(
                "Consent: {stands}{until}. Today it covers: {covers}.",
                stands=stands,
                until=until,
                covers=covers,
            )
        )
        self.by.setCurrentIndex(self.by.findData(found["by"]))
        for use, box in self.uses.items():
            box.setChecked(use in found["uses"])

    def _record(self) -> None:
        bench = self._bench
        uses = [use for use, box in self.uses.items() if box.isChecked()]
        until = self.until.text().strip() or None
        bench.attempt(
            lambda: actions.give_consent(bench.open_audit(), uses, until, _today(), self.by.currentData()),
            bench.say("Recorded."),
        )

    def _withdraw(self) -> None:
        bench = self._bench
        bench.attempt(
            lambda: actions.withdraw_consent(bench.open_audit()),
            bench.say("Consent was withdrawn: the case takes no more marks, and nothing leaves it."),
        )


def _today() -> str:
    return date.today().isoformat()
