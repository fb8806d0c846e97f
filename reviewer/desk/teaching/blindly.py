"""An exercise at the desk: the routine judged blind, then held against the case it was judged from."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from html import escape
from pathlib import Path
from typing import Any

from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import QDialog, QFormLayout, QLabel, QLineEdit, QWidget

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.buttons import button
from reviewer.desk.errors import of_the_system
from reviewer.desk.pages import Page, written
from reviewer.desk.saidlabel import SaidLabel
from reviewer.desk.teaching.writing import beside
from reviewer.terms.messages import noted
from reviewer.terms.problems import ReviewerError
from reviewer.words import Saying

_HOW = {
    "soft": noted("softer than all judges"),
    "hard": noted("harder than all judges"),
    "within": noted("within what the judges took"),
}


class BlindPage(QDialog):
    """Begins a sheet without marks on the same recording; on such a sheet, seals it and shows the key.

    Attributes:
        file: the sheet to begin, or the case that holds the key.
        letter: who judges; where a sheet is begun.
        told: what was refused.
    """

    def __init__(self, parent: QWidget, bench: Bench) -> None:
        super().__init__(parent)
        self._bench = bench
        self._window = parent
        self.setWindowTitle(bench.say("Judge this routine blind"))
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.file, self.letter, self.told = QLineEdit(), QLineEdit("B"), SaidLabel()
        self.told.setWordWrap(True)
        audit = bench.on_desk()
        self._form = QFormLayout(self)
        if audit.state.second_of is None:
            self._ask_to_begin(audit.path)
        else:
            self._ask_for_key(audit.path)
        self._form.addRow(self.told)
        self.setMinimumWidth(self.fontMetrics().averageCharWidth() * 70)

    def _ask_to_begin(self, case: Path) -> None:
        say = self._bench.say
        self._lead(
            say(
                "A sheet of its own is begun on this recording, without a mark and without a score. Judge it "
                "as on the day ({look} looks once at full speed), then open this page again to see the key.",
                look=self._bench.key("look-once"),
            )
        )
        self.file.setText(str(beside(case, "-blind.case")))
        self._field(say("&Sheet"), self.file)
        self._field(say("Your &code"), self.letter)
        self._form.addRow(button(say("Begin"), self._begin))

    def _ask_for_key(self, case: Path) -> None:
        say = self._bench.say
        self._lead(
            say(
                "Your sheet is sealed first: its marks stay as they are from then on. That cannot be undone. "
                "Then it is shown beside the case it was judged from."
            )
        )
        others = sorted(one for one in case.parent.glob("*.case") if one != case)
        self.file.setText(str(others[0]) if len(others) == 1 else "")
        self._field(say("Case with the &key"), self.file)
        self._form.addRow(button(say("Seal my sheet and show the key"), self._show_key))

    def _lead(self, words: str) -> None:
        label = QLabel(words)
        label.setWordWrap(True)
        self._form.addRow(label)

    def _field(self, words: str, field: QWidget) -> None:
        label = QLabel(words)
        label.setBuddy(field)
        field.setAccessibleName(words.replace("&", ""))
        self._form.addRow(label, field)

    def _refuse(self, error: ReviewerError | OSError) -> None:
        told = of_the_system(error) if isinstance(error, OSError) else error
        self.told.setText(self._bench.say.problems(told.problems))

    def _named(self) -> Path:
        return Path(self.file.text().strip()).expanduser()

    def _begin(self) -> None:
        path = self._named()
        try:
            actions.begin_second(self._bench.on_desk().path, path, self.letter.text().strip()).close()
        except (ReviewerError, OSError) as error:
            self._refuse(error)
            return
        self.close()
        self._bench.author = self.letter.text().strip()
        self._bench.opens.emit(path)

    def _show_key(self) -> None:
        own, say = self._bench.on_desk(), self._bench.say
        try:
            with actions.open_case(self._named(), author=None) as first:
                if own.state.second_of == first.case.events[0].hash and own.state.sealed is None:
                    self._bench.attempt(lambda: actions.seal(self._bench.open_audit()))
                found = actions.beside_key(own, first, say)
        except (ReviewerError, OSError) as error:
            self._refuse(error)
            return
        self.close()
        page = Page(self._window, say("Your calls beside the key"), written(told(found, say)))
        page.show()
        page.activateWindow()


def told(found: Mapping[str, Any], say: Saying) -> str:
    """``reviewer.exercise/1`` as words and tables."""
    rows = [(say("Value parts"), str(found["value_parts"]["called"]), str(found["value_parts"]["key"]))]
    met = {True: say("met"), False: say("missing"), None: "–"}
    rows += [(one["name"], met[one["called"]], met[one["key"]]) for one in found["requirements"]]
    rows.append((say("Execution"), say.word(found["execution"]["called"]), _range(found["execution"], say)))
    kinds = [(one["name"], say.word(one["called"]), _range(one, say)) for one in found["kinds"]]
    heads = (say("Your call"), say("Key"))
    return "".join(
        (
            _table((say("What"), *heads), rows),
            f"<h3>{escape(say('Deductions by kind'))}</h3>",
            _table((say("Fault"), *heads), kinds),
            f"<h3>{escape(say('Why'))}</h3>",
            "".join(f"<p>{escape(one)}</p>" for one in _reasons(found, say)),
        )
    )


def _range(one: Mapping[str, Any], say: Saying) -> str:
    least, most = say.word(one["least"]), say.word(one["most"])
    size = least if least == most else say("{least} to {most}", least=one["least"], most=one["most"])
    return f"{size}, {say.word(_HOW[one['how']])}"


def _reasons(found: Mapping[str, Any], say: Saying) -> Iterator[str]:
    yield from (one["why"] for one in found["not_credited"])
    for place, judge in enumerate(found["judges"], start=1):
        for one in judge["taken"]:
            why = f"{one['element']}: {one['why']}" if one["element"] else one["why"]
            yield say(
                "Judge {judge} took {points}: {why} {says}",
                judge=place,
                points=one["amount"],
                why=why,
                says=one["says"],
            )


def _table(heads: tuple[str, ...], rows: list[tuple[str, str, str]]) -> str:
    head = "".join(f"<th align='left'>{escape(one)}</th>" for one in heads)
    lines = ("".join(f"<td>{escape(cell)}</td>" for cell in row) for row in rows)
    body = "".join(f"<tr>{line}</tr>" for line in lines)
    return f"<table cellpadding='4'><tr>{head}</tr>{body}</table>"
