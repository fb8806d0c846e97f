"""Bags of tasks to auditors and home again, and the consent without which none goes out."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

from PyQt6.QtCore import pyqtSignal
from PyQt6.QtWidgets import QCheckBox, QComboBox, QLineEdit, QWidget

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.buttons import button
from reviewer.desk.choosing import folder_to_read
from reviewer.desk.meets.form import MeetForm, Search, Telling, path_in
from reviewer.terms.consents import INQUIRY


class CarryingForm(MeetForm):
    """Records consent, packs an auditor's tasks, and takes a bag home.

    Attributes:
        by, until: whose consent it is, and its last day.
        auditor, out, recordings: whose tasks are packed into which folder, with recordings or without.
        back: the bag that came home.

    Signals:
        changed(): the meet is another one now.
    """

    changed = pyqtSignal()

    def __init__(self, parent: QWidget, bench: Bench, meet: Path, auditors: Sequence[str]) -> None:
        say = bench.say
        lead = say(
            "A bag holds a case for each task of an auditor, with its recordings and the rule book; no name, "
            "no words, no path. Consent must cover the inquiry, and recordings go whole."
        )
        super().__init__(parent, bench, say("Bags to auditors and home"), lead)
        self._meet = meet
        self.by, self.auditor, self.recordings = QComboBox(), QComboBox(), QCheckBox()
        self.until, self.out, self.back = QLineEdit(), QLineEdit(), QLineEdit()
        self.auditor.addItems(auditors)
        self._fill()
        self.heading(say("Consent, once it was asked for"))
        self.ask(say("&Given by"), self.by)
        self.ask(say("&Until (empty: without an end)"), self.until)
        self.offer_long(say("&Record it for every routine"), self._consent)
        self.heading(say("To an auditor"))
        self.ask(say("&Auditor"), self.auditor)
        self.ask(say("With re&cordings"), self.recordings)
        self.ask(say("&New folder for the bag"), self.out)
        self.offer_long(say("&Pack it"), self._pack)
        self.heading(say("From an auditor"))
        self.ask(say("&Bag that came back"), self.back, button(say("Choose…"), self._choose))
        self.offer_long(say("Take it &home"), self._take)
        self.finish()

    def _fill(self) -> None:
        say = self.bench.say
        for words, by in ((say("not said"), None), *((say.word(one), one) for one in actions.WHOSE)):
            self.by.addItem(words, by)
        self.recordings.setChecked(True)
        self.until.setPlaceholderText("2027-06-30")

    def _consent(self) -> tuple[Search, Telling]:
        given = actions.Given((INQUIRY,), self.until.text().strip() or None, self.by.currentData())
        meet, author = self._meet, self.bench.author
        return (
            lambda _: actions.give_meet_consent(meet, given, author=author, today=_today()),
            self._tell_consent,
        )

    def _tell_consent(self, found: dict[str, Any]) -> str:
        self.changed.emit()
        say = self.bench.say
        told = [
            say(
                "Consent recorded: {given}; there already: {there}.",
                given=len(found["given"]),
                there=len(found["there"]),
            )
        ]
        if found["withdrawn"]:
            told.append(say("Withdrawn, and left so: {names}.", names=", ".join(found["withdrawn"])))
        if found["no_case"]:
            told.append(say("Without a case yet: {names}.", names=", ".join(found["no_case"])))
        return "\n".join(told)

    def _pack(self) -> tuple[Search, Telling]:
        meet, auditor, out = self._meet, self.auditor.currentText(), path_in(self.out)
        films = self.recordings.isChecked()
        return (
            lambda _: actions.send(meet, auditor, out, today=_today(), recordings=films),
            self._tell_packed,
        )

    def _tell_packed(self, found: dict[str, Any]) -> str:
        self.changed.emit()
        return self.bench.say(
            "Packed in {folder}: tasks {tasks}, recordings {recordings}.",
            folder=path_in(self.out),
            tasks=len(found["tasks"]),
            recordings=found["recordings"],
        )

    def _take(self) -> tuple[Search, Telling]:
        meet, bag, author = self._meet, path_in(self.back), self.bench.author
        return lambda _: actions.receive(meet, bag, author=author), self._tell_taken

    def _tell_taken(self, found: Any) -> str:
        self.changed.emit()
        say, cases = self.bench.say, found.document["cases"]
        told = say(
            "From auditor {auditor}: {names}.",
            auditor=found.document["auditor"],
            names=", ".join(one["start"] for one in cases) or say("nothing"),
        )
        return "\n".join((told, *(say.problem(one) for one in found.refused)))

    def _choose(self) -> None:
        chosen = folder_to_read(self, self.bench.say("The bag"), self.back.text())
        if chosen is not None:
            self.back.setText(str(chosen))


def _today() -> str:
    return date.today().isoformat()
