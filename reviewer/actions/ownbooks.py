"""A rule-book file under the pen: changed step by step, each step on disk at once and taken back at will."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from reviewer import rules
from reviewer.actions.books import Checked, check_book
from reviewer.rules import amending, arranging, comparing, outlining
from reviewer.rules.asking import (
    CHOICE,
    CODES,
    DAY,
    MEASURE,
    QUANTITIES,
    QUANTITY,
    TEXTS,
    Form,
)
from reviewer.rules.comparing import Comparison
from reviewer.rules.outlining import HEAD, Field, Outlined
from reviewer.rules.splicing import Written
from reviewer.terms.messages import Translate, as_written
from reviewer.terms.problems import Problem
from reviewer.terms.rulebook import SOURCE_KINDS, RuleBook

__all__ = [
    "CHOICE",
    "CODES",
    "DAY",
    "HEAD",
    "MEASURE",
    "QUANTITIES",
    "QUANTITY",
    "SOURCE_KINDS",
    "TEXTS",
    "Field",
    "Form",
    "Outlined",
    "OwnBook",
    "Wanted",
]


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a clause, or with `HEAD` the head, shall say, from a date and by a source.

    ``changes``: field to its new text or list, empty text to take the field out.
    """

    clause: str
    changes: Mapping[str, Written]
    since: str = ""
    source: str = ""


class OwnBook:
    """A rule-book file while it is changed. The file is the state; here is what it held before.

    Attributes:
        path: the file.
        shipped: whether it travels with the program and is never changed.
        book: the checked book, or None while the file is not sound.
        opened: the book as it was when the file was opened, or None where it was not sound.
        outlined: its head and clauses, also of a file that is not sound.
        checked: its problems, and which examples come out otherwise than written.
    """

    def __init__(self, name: str, translate: Translate = as_written) -> None:
        self._translate = translate
        self.path = rules.find(name)
        self.shipped = self.path.resolve() in {one.resolve() for one in rules.shipped()}
        self._before: list[str] = []
        self._after: list[str] = []
        self._take_in(rules.read_text(self.path))
        self.opened = self.book

    @property
    def id(self) -> str:
        """The edition's id, or the file's name while it is not sound."""
        return self.book.id if self.book else self.path.name

    @property
    def steps(self) -> int:
        """How many changes can be taken back."""
        return len(self._before)

    def words_of(self, clause: str) -> tuple[str, ...]:
        """What a clause says in sentences; nothing for the head or while the file is not sound."""
        return self._sentences.get(clause, ())

    @property
    def problems(self) -> tuple[Problem, ...]:
        """All that a check found: what is wrong with the file, else what comes out otherwise than written."""
        return (*self.checked.problems, *self.checked.differing)

    def clause_at(self, problem: Problem) -> Outlined | None:
        """The clause, or the head, that a problem of the file stands in."""
        line = problem.where.rpartition(":")[2]
        at = int(line) if line.isdigit() else 0
        return next((one for one in self.outlined if one.lines[0] <= at <= one.lines[1]), None)

    def try_out(self, wanted: Wanted) -> RuleBook | None:
        """The book as it would be, None where not sound yet; RuleBookError where the change is refused."""
        return self._change(wanted, keep=False)

    def keep(self, wanted: Wanted) -> None:
        """Let the file say it, if the book is sound with it or has fewer problems than before."""
        self._step(lambda: self._change(wanted, keep=True))

    def repeat(self, clause: str, id: str) -> None:
        """Add a clause like one that is there, under an id of its own."""
        self._step(lambda: amending.repeat_clause(self.path, clause, id))

    def take_away(self, clause: str) -> None:
        """Take a clause out."""
        self._step(lambda: amending.take_away_clause(self.path, clause))

    def undo(self) -> bool:
        """Take the last change back; False where none is left."""
        return self._swap(self._before, self._after)

    def redo(self) -> bool:
        """Make the change again that was taken back last; False where none was."""
        return self._swap(self._after, self._before)

    def read_again(self) -> bool:
        """Take in what somebody else wrote to the file; whether anybody did. It can be taken back as well."""
        text = rules.read_text(self.path)
        if text == self._text:
            return False
        self._remember(text)
        return True

    def against(self, before: RuleBook, after: RuleBook | None = None) -> Comparison | None:
        """What changed from another edition to this one, or to what it would be; None while not sound."""
        now = after or self.book
        return comparing.compare(before, now) if now else None

    def _change(self, wanted: Wanted, *, keep: bool) -> RuleBook | None:
        said = {"since": wanted.since, "source": wanted.source}
        if self.book is None:
            if wanted.clause == HEAD:
                amending.mend_head(self.path, wanted.changes, keep=keep)
            else:
                amending.mend_clause(self.path, wanted.clause, wanted.changes, keep=keep, **said)
            return None
        if wanted.clause == HEAD:
            return amending.amend_head(self.path, wanted.changes, keep=keep).after
        return amending.amend_clause(self.path, wanted.clause, wanted.changes, keep=keep, **said).after

    def _step(self, change: Callable[[], object]) -> None:
        self.read_again()
        change()
        self._remember(rules.read_text(self.path))

    def _remember(self, text: str) -> None:
        self._before.append(self._text)
        self._after.clear()
        self._take_in(text)

    def _swap(self, source: list[str], target: list[str]) -> bool:
        if not source:
            return False
        amending.put_back(self.path, source[-1], instead_of=self._text)
        target.append(self._text)
        self._take_in(source.pop())
        return True

    def _take_in(self, text: str) -> None:
        self._text = text
        self.outlined = outlining.outline(text, str(self.path))
        self.checked: Checked = check_book(str(self.path))
        self.book: RuleBook | None = None
        self._sentences: dict[str, tuple[str, ...]] = {}
        if not self.checked.problems:
            self.book = rules.parse(text, str(self.path))
            self._sentences = arranging.sentences(self.book, self._translate)
