"""An open case: append, undo, redo. A change is on disk before its call returns."""

from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path
from typing import Any, Self

from sqlite_utils import Database

from reviewer.casefile import storage
from reviewer.casefile.chain import Event, check_chain, export_events, make_body, read_event
from reviewer.casefile.errors import CaseError, refusal
from reviewer.casefile.folding import CaseState, fold, next_redo, next_undo
from reviewer.casefile.writer import Hold

Clock = Callable[[], datetime]


def _now() -> datetime:
    return datetime.now(UTC)


class Case:
    """A case, open to write (with an author and a hold) or to read.

    Attributes:
        path: the file.
        author: who writes, or None.
        events: the chain, as stored.
        state: what it comes to.
    """

    def __init__(
        self,
        path: Path,
        author: str | None,
        database: Database | None,
        events: Sequence[Event],
        hold: Hold | None = None,
        clock: Clock = _now,
        books: Mapping[str, str] | None = None,
    ) -> None:
        self.path, self.author, self.events = path, author, tuple(events)
        self._database, self._hold, self._clock = database, hold, clock
        self._books = dict(books or {})
        self.state: CaseState = fold(self.events)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the file, and of the right to write."""
        if self._database is not None:
            self._database.close()
            self._database = None
        if self._hold is not None:
            self._hold.release()
            self._hold = None

    def append(self, kind: str, payload: Mapping[str, Any]) -> Event:
        """Add one event: one commit, synced to disk before this returns."""
        database, author = self._writable()
        parents = [self.events[-1].hash] if self.events else []
        body = make_body(kind, author, self._clock(), parents, payload)
        event = read_event(len(self.events) + 1, sha256(body).hexdigest(), body)
        fold((*self.events, event))  # an event that cannot be read back is never written
        with database.atomic():
            database.execute("INSERT INTO events VALUES (?, ?, ?)", (event.number, event.hash, event.body))
        self.events = (*self.events, event)
        self.state = fold(self.events)
        return event

    def undo(self) -> Event:
        """Undo this author's latest change that can be undone."""
        found = next_undo(self.events, self._writable()[1])
        if found is None:
            raise refusal("nothing-to-undo", self.path.name, "You have no change to undo here.", "Go on.")
        return self.append("undone", {"event": found})

    def redo(self) -> Event:
        """Redo what this author undid last."""
        found = next_redo(self.events, self._writable()[1])
        if found is None:
            raise refusal("nothing-to-redo", self.path.name, "You have nothing undone to redo.", "Go on.")
        return self.append("redone", {"event": found})

    def keep_book(self, text: str) -> str:
        """Keep a rule book's text; returns its SHA-256."""
        digest = sha256(text.encode()).hexdigest()
        self._insert("INSERT OR IGNORE INTO books VALUES (?, ?)", digest, text)
        return digest

    def book(self, digest: str) -> str | None:
        """The text of a kept rule book."""
        if self._database is None:
            return self._books.get(digest)
        return self._one("SELECT text FROM books WHERE sha256 = ?", digest)

    def books(self) -> dict[str, str]:
        """Every kept rule book by its SHA-256."""
        return dict(self._open().execute("SELECT sha256, text FROM books ORDER BY sha256").fetchall())

    def keep_text(self, text: str) -> str:
        """Keep free text outside the chain; returns its SHA-256, which the chain may hold."""
        digest = sha256(text.encode()).hexdigest()
        self._insert("INSERT OR IGNORE INTO texts VALUES (?, ?)", digest, text)
        return digest

    def text(self, digest: str) -> str | None:
        """Free text that was kept, or None when it was erased."""
        return self._one("SELECT text FROM texts WHERE sha256 = ?", digest)

    def erase_texts(self) -> None:
        """Erase free text and file paths for good; the chain stays whole."""
        database, _ = self._writable()
        with database.atomic():
            database.execute("DELETE FROM texts")
            database.execute("DELETE FROM places")
        database.execute("VACUUM")

    def remember_place(self, recording_sha256: str, path: Path) -> None:
        """Remember where a recording lies on this machine."""
        self._insert("INSERT OR REPLACE INTO places VALUES (?, ?)", recording_sha256, str(path))

    def place(self, recording_sha256: str) -> Path | None:
        """Where a recording was last seen."""
        found = self._one("SELECT path FROM places WHERE recording_sha256 = ?", recording_sha256)
        return Path(found) if found is not None else None

    def export(self) -> dict[str, Any]:
        """The chain and the rule books as ``reviewer.case/1``; no names, texts or paths."""
        return {"format": "reviewer.case/1", "events": export_events(self.events), "books": self.books()}

    def _insert(self, statement: str, *values: str) -> None:
        database, _ = self._writable()
        with database.atomic():
            database.execute(statement, values)

    def _one(self, statement: str, *values: str) -> str | None:
        found = self._open().execute(statement, values).fetchone()
        return found[0] if found else None

    def _open(self) -> Database:
        if self._database is None:
            raise refusal("case-closed", self.path.name, "This case is closed.", "Open it again.")
        return self._database

    def _writable(self) -> tuple[Database, str]:
        if self.author is None:
            raise refusal("read-only", self.path.name, "This case is open to read only.", "Open it to write.")
        return self._open(), self.author


def create_case(path: Path, author: str, athlete_code: str, consent: str, clock: Clock = _now) -> Case:
    """Begin a new case file; an existing file is never overwritten."""
    if path.exists():
        raise refusal(
            "case-exists", str(path), "There is a file of this name already.", "Choose another name."
        )
    if not path.parent.is_dir():
        raise refusal("no-folder", str(path.parent), "There is no such folder.", "Make it first.")
    hold = Hold(path, author)
    case = Case(path, author, storage.make(path), (), hold, clock)
    case.append("case-opened", {"athlete_code": athlete_code, "consent": consent})
    return case


def open_case(path: Path, author: str | None, clock: Clock = _now) -> Case:
    """Open a case to write as ``author``, or to read with None; a chain that does not hold is refused."""
    database = storage.open_existing(path, write=author is not None)
    hold: Hold | None = None
    try:
        hold = Hold(path, author) if author is not None else None
        events = storage.events_of(database, path)
        problems = check_chain(events)
        if problems:
            raise CaseError(problems)
        return Case(path, author, database, events, hold, clock)
    except BaseException:
        database.close()
        if hold is not None:
            hold.release()
        raise


def case_in_memory(events: Sequence[Event], books: Mapping[str, str], path: Path) -> Case:
    """A case to read only, from events that were checked; ``path`` only names it."""
    return Case(path, None, None, events, books=books)
