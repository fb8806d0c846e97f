"""What is typed on the rule-book form, tried out soon after: what would differ, and what is wrong with it."""

from dataclasses import replace

from PyQt6.QtCore import QObject, QTimer

from reviewer.actions.ownbooks import HEAD, OwnBook, Wanted
from reviewer.desk.books.change import PUBLISHED
from reviewer.desk.books.parts import BookParts
from reviewer.terms.problems import Problem, ReviewerError
from reviewer.terms.rulebook import RuleBook

SOON_MS = 150
"""How long after the last key what is typed is tried out."""


class Trying(QObject):
    """Keeps what stands at the right true to what is typed. Nothing is written by it.

    Attributes:
        own: the book that is shown, or None before any could be read.
    """

    def __init__(self, parent: QObject, parts: BookParts) -> None:
        super().__init__(parent)
        self.own: OwnBook | None = None
        self._parts = parts
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(SOON_MS)
        self._timer.timeout.connect(self.now)

    def soon(self) -> None:
        """Try it out when no key follows."""
        self._timer.start()

    def now(self) -> None:
        """Say what differs, with what is typed as if it were kept; and what is wrong with that."""
        self._timer.stop()
        own, wanted, base = self.own, self._parts.clause.wanted(), self._parts.against.base()
        if own is None or base is None:
            return
        would_be: RuleBook | None = None
        problems: tuple[Problem, ...] = ()
        if wanted is not None:
            try:
                would_be = own.try_out(self._dated(wanted))
            except ReviewerError as error:
                problems = error.problems
        self._parts.clause.tell(problems)
        drafted = wanted.clause if wanted is not None and would_be is not None else None
        self._parts.compared.show_comparison(own.against(base, would_be), drafted)

    def _dated(self, wanted: Wanted) -> Wanted:
        """While date and source are not said yet, a value is tried out with those the clause has."""
        now = self._parts.clause.clause
        if now is None or wanted.clause == HEAD:
            return wanted
        source = now.source if wanted.source in ("", PUBLISHED) else wanted.source
        return replace(wanted, since=wanted.since or now.since, source=source)
