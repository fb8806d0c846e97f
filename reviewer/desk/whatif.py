"""What is supposed at the desk: other amounts, verdicts, readings, absences. Nothing of it is on disk."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from PyQt6.QtCore import QObject, pyqtSignal
from PyQt6.QtGui import QAction
from PyQt6.QtWidgets import QMenu, QWidget

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.ledger import Place, Row
from reviewer.terms.problems import ReviewerError
from reviewer.terms.sheets import ScoreSheet

if TYPE_CHECKING:
    from reviewer.actions import Alternative

_MOST_MARKS = 12
"""Marks of one line that are offered one by one."""


class WhatIf(QObject):
    """Holds one supposed thing a mark or clause, and offers what else there is.

    Attributes:
        supposed: what is, by the id of its mark or clause.

    Signals:
        changed(): something else is supposed, or nothing any more.
    """

    changed = pyqtSignal()

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self._bench = bench
        self.supposed: dict[str, Alternative] = {}
        self._refused = ""

    def suppose(self, one: Alternative) -> None:
        """Suppose this, in place of anything else about the same mark or clause."""
        self._refused = ""
        self.supposed[one.of] = one
        self.changed.emit()

    def take_back(self, of: str) -> None:
        """Suppose nothing of this mark or clause any more."""
        self.supposed.pop(of, None)
        self.changed.emit()

    def leave(self) -> None:
        """Suppose nothing any more."""
        self.supposed.clear()
        self._refused = ""
        self.changed.emit()

    def sheet(self) -> ScoreSheet | None:
        """The sheet as it would be; None where nothing is supposed, or what was cannot be any more."""
        audit = self._bench.audit
        if not self.supposed or audit is None:
            self.supposed.clear()
            return None
        try:
            return actions.supposed_sheet(audit, actions.together(self.supposed.values()))
        except ReviewerError as error:
            self.supposed.clear()
            why = self._bench.say.problems(error.problems)
            self._refused = self._bench.say("What was supposed cannot be any more. {why}", why=why)
            return None

    def words(self, whereabouts: Callable[[str], Place]) -> str:
        """What is supposed, in one piece, or why it cannot be any more; empty where nothing was."""
        say = self._bench.say
        parts = [f"{whereabouts(of).whole}: {say.message(one.why)}" for of, one in self.supposed.items()]
        return (
            say("What if: {parts} Nothing of it is kept.", parts=" ".join(parts)) if parts else self._refused
        )

    def offered(self, row: Row, whereabouts: Callable[[str], Place], parent: QWidget) -> QMenu | None:
        """A menu of what else might be so in a line; None where there is nothing."""
        audit, menu = self._bench.audit, QMenu(parent)
        if audit is None:
            return None
        if row.clause:
            self._offer_reading(menu, row.clause)
        for mark in row.marks[:_MOST_MARKS]:
            into = menu if len(row.marks) == 1 else QMenu(whereabouts(mark).whole, menu)
            self._offer(into, mark, actions.alternatives(audit, mark))
            if into is not menu and not into.isEmpty():
                menu.addMenu(into)
        return None if menu.isEmpty() else menu

    def _offer(self, menu: QMenu, of: str, some: Iterable[Alternative]) -> None:
        say, now = self._bench.say, self.supposed.get(of)
        alternatives = tuple(some)
        for one in alternatives:
            action = _checked(menu, say.message(one.why), one == now)
            action.triggered.connect(lambda _=False, one=one: self.suppose(one))
        if alternatives:
            as_it_is = _checked(menu, say("As it is marked"), now is None)
            as_it_is.triggered.connect(lambda: self.take_back(of))

    def _offer_reading(self, menu: QMenu, clause: str) -> None:
        bench, audit = self._bench, self._bench.on_desk()
        one = actions.other_reading(audit, clause)
        self._offer(menu, clause, (one,))
        menu.addSeparator()
        keep = QAction(bench.say("Read it so from here on, kept in the case"), menu)
        keep.setEnabled(audit.author is not None)
        keep.triggered.connect(lambda: self._choose(clause, one.supposed.readings[clause]))
        menu.addAction(keep)

    def _choose(self, clause: str, reading: str) -> None:
        """Keep a reading: one event of the case, which undo takes back."""
        self.supposed.pop(clause, None)
        bench = self._bench
        bench.attempt(
            lambda: actions.choose_interpretation(bench.open_audit(), clause, reading),
            bench.say("The clause {clause} is read the other way; undo takes that back.", clause=clause),
        )


def _checked(menu: QMenu, words: str, on: bool) -> QAction:
    action = QAction(words, menu)
    action.setCheckable(True)
    action.setChecked(on)
    menu.addAction(action)
    return action
