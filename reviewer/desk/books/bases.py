"""What a rule book can be compared with on the form."""

from reviewer.actions import Audit
from reviewer.actions.books import shipped_books
from reviewer.actions.ownbooks import OwnBook
from reviewer.desk.books.lines import Choice
from reviewer.terms.rulebook import RuleBook
from reviewer.words import Saying


class Bases(Choice):
    """The editions to compare with; first what the book was copied from, or how it was when opened."""

    def __init__(self, say: Saying) -> None:
        super().__init__()
        self._say = say
        self._books: list[RuleBook] = []
        self.setAccessibleName(say("Compared with"))

    def base(self) -> RuleBook | None:
        """The edition that is chosen."""
        at = self.currentIndex()
        return self._books[at] if 0 <= at < len(self._books) else None

    def offer(self, own: OwnBook, copied: RuleBook | None, audit: Audit | None) -> None:
        """Offer what this book can be compared with."""
        say = self._say
        found = [] if copied is None else [(say("{id}, copied from", id=copied.id), copied)]
        if own.opened is not None:
            found.append((say("As when opened"), own.opened))
        if audit is not None:
            found.append((say("{id}, the case’s edition", id=audit.book.id), audit.book))
        found += [(one.id, one) for one in shipped_books()]
        self._books = [book for _, book in found]
        self.clear()
        self.addItems([name for name, _ in found])
