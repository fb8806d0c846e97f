"""An open case: append, undo, redo. A change is on disk before its call returns."""

import sqlite3
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, Self

from sqlite_utils import Database

from reviewer.casefile import storage
from reviewer.casefile.chain import EXPORT_FORMAT, Event, export_events, hash_of, make_body, read_event
from reviewer.casefile.checking import breaks_seal, check_chain
from reviewer.casefile.errors import CaseError, refusal, refuse_name
from reviewer.casefile.folding import CaseState, fold, follow, next_redo, next_undo, undoable
from reviewer.casefile.writer import Hold
from reviewer.terms.consents import WITHDRAWN
from reviewer.terms.messages import message, reason

Clock = Callable[[], datetime]


def now() -> datetime:
    """The time in UTC."""
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
        clock: Clock = now,
        books: Mapping[str, str] | None = None,
        texts: Mapping[str, str] | None = None,
    ) -> None:
        self.path, self.author, self.events = path, author, tuple(events)
        self._database, self._hold, self._clock = database, hold, clock
        self._books = None if books is None else dict(books)
        self._texts = None if texts is None else dict(texts)
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
        """Add one event: one commit, synced to disk before this returns; a CaseError leaves all as it was."""
        author = self._writable()[1]
        self._refuse_locked(kind)
        self._refuse_foreign_undo(kind, payload, author)
        self._refuse_sealed(kind, payload)
        parents = [self.events[-1].hash] if self.events else []
        try:
            body = make_body(kind, author, self._clock(), parents, payload)
        except ValueError as fault:
            remedy = message("Mend it, then do it again.")
            raise refusal(
                "bad-event",
                self.path.name,
                message("This cannot be kept: {reason}.", reason=reason(fault)),
                remedy,
            ) from None
        event = read_event(len(self.events) + 1, hash_of(body), body)
        self._write(("INSERT INTO events VALUES (?, ?, ?)", (event.number, event.hash, event.body)))
        self.events = (*self.events, event)
        self.state = follow(self.state, self.events)
        return event

    @contextmanager
    def together(self) -> Iterator[None]:
        """All that is written within is kept, or nothing of it where something fails."""
        database, before = self._writable()[0], (self.events, self.state)
        try:
            with database.atomic():
                yield
        except BaseException:
            self.events, self.state = before
            raise

    def undo(self) -> Event:
        """Undo this author's latest change that can be undone."""
        found = next_undo(self.events, self._writable()[1])
        if found is None:
            raise refusal(
                "nothing-to-undo",
                self.path.name,
                message("You have no change to undo here."),
                message("Go on."),
            )
        return self.append("undone", {"event": found})

    def redo(self) -> Event:
        """Redo what this author undid last."""
        found = next_redo(self.events, self._writable()[1])
        if found is None:
            raise refusal(
                "nothing-to-redo",
                self.path.name,
                message("You have nothing undone to redo."),
                message("Go on."),
            )
        return self.append("redone", {"event": found})

    def keep_book(self, text: str) -> str:
        """Keep a rule book's text; returns its SHA-256."""
        digest = hash_of(text.encode())
        self._write(("INSERT OR IGNORE INTO books VALUES (?, ?)", (digest, text)))
        return digest

    def book(self, digest: str) -> str | None:
        """The text of a kept rule book, or None."""
        return self.books().get(digest)

    def books(self) -> dict[str, str]:
        """Every kept rule book by its SHA-256."""
        return dict(self._books) if self._books is not None else storage.books_of(self._open(), self.path)

    def keep_text(self, text: str) -> str:
        """Keep free text outside the chain; returns its SHA-256, which the chain may hold."""
        self._refuse_locked("text")
        digest = hash_of(text.encode())
        self._write(("INSERT OR IGNORE INTO texts VALUES (?, ?)", (digest, text)))
        return digest

    def text(self, digest: str) -> str | None:
        """Free text that was kept, or None when it was erased."""
        if self._texts is not None:
            return self._texts.get(digest)
        return self._one("SELECT text FROM texts WHERE sha256 = ?", digest)

    def name(self, code: str) -> str | None:
        """The name behind a code as cases of the first version kept it, or None; names lie apart now."""
        return self._one("SELECT name FROM people WHERE code = ?", code)

    def erase_texts(self) -> None:
        """Erase names, free text and file paths for good, bytes and all; the chain stays whole."""
        self._write(*((f"DELETE FROM {table}", ()) for table in storage.ERASABLE))
        self._open().execute("VACUUM")

    def erasable(self) -> dict[str, dict[str, str]]:
        """Names, free text and file paths that were kept outside the chain, by table and key."""
        return storage.erasable_of(self._open(), self.path)

    def remember_place(self, recording_sha256: str, path: Path) -> None:
        """Remember where a recording lies on this machine."""
        self._write(("INSERT OR REPLACE INTO places VALUES (?, ?)", (recording_sha256, str(path))))

    def place(self, recording_sha256: str) -> Path | None:
        """Where a recording was last seen."""
        found = self._one("SELECT path FROM places WHERE recording_sha256 = ?", recording_sha256)
        return Path(found) if found is not None else None

    def export(self) -> dict[str, Any]:
        """The chain and the rule books as ``reviewer.case/1``; no names, texts or paths."""
        return {"format": EXPORT_FORMAT, "events": export_events(self.events), "books": self.books()}

    def _refuse_locked(self, kind: str) -> None:
        if self.state.consent == WITHDRAWN and kind != "consent-changed":
            said = message("Consent to the use of this recording was withdrawn, and that locks the case.")
            remedy = message(
                "Read it or delete it; with consent given anew, record that first: `reviewer consent`."
            )
            raise refusal("consent-withdrawn", self.path.name, said, remedy)

    def _refuse_foreign_undo(self, kind: str, payload: Mapping[str, Any], author: str) -> None:
        if kind not in ("undone", "redone"):
            return
        own = {one.hash for one in undoable(self.events) if one.author == author}
        if payload.get("event") not in own:
            raise refusal(
                "not-undoable",
                self.path.name,
                message("This is no change of yours that can be undone."),
                message("Ask its author, or enter what is right as a new change."),
            )

    def _refuse_sealed(self, kind: str, payload: Mapping[str, Any]) -> None:
        """A sealed sheet stays as it is: other judges were shown theirs against it."""
        if breaks_seal(kind, payload, self.events, self.state.sealed):
            raise refusal(
                "sealed",
                self.path.name,
                message("This sheet is sealed: what its score is made of stays as it is."),
                message("Settle it against the other sheet with `reviewer settle`, or begin a new case."),
            )

    def _write(self, *statements: tuple[str, tuple[Any, ...]]) -> None:
        """One transaction; it owns the commit unless a caller has begun one."""
        database, _ = self._writable()
        try:
            with database.atomic():
                for statement, values in statements:
                    database.execute(statement, values)
        except (sqlite3.Error, UnicodeEncodeError) as fault:
            raise storage.not_written(self.path, fault) from None

    def _one(self, statement: str, *values: str) -> str | None:
        try:
            found = self._open().execute(statement, values).fetchone()
        except sqlite3.Error:
            raise storage.damaged(self.path) from None
        return found[0] if found else None

    def _open(self) -> Database:
        if self._database is None:
            raise refusal(
                "case-closed", self.path.name, message("This case is closed."), message("Open it again.")
            )
        return self._database

    def _writable(self) -> tuple[Database, str]:
        if self.author is None:
            raise refusal(
                "read-only",
                self.path.name,
                message("This case is open to read only."),
                message("Open it to write."),
            )
        return self._open(), self.author


def create_case(path: Path, author: str, athlete_code: str, consent: str, clock: Clock = now) -> Case:
    """Begin a new case file with its first event; an existing file is never overwritten.

    Where consent was withdrawn none is begun.
    """
    if consent == WITHDRAWN:
        said = message("Consent to the use of this recording was withdrawn, so no case is begun on it.")
        raise refusal(
            "consent-withdrawn", path.name, said, message("Delete the recording where that was asked.")
        )
    refuse_name(author)
    if not path.parent.is_dir():
        raise refusal(
            "no-folder", str(path.parent), message("There is no such folder."), message("Make it first.")
        )
    if path.exists():
        raise refusal(
            "case-exists",
            str(path),
            message("There is a file of this name already."),
            message("Choose another name."),
        )
    hold = Hold(path, author)
    try:
        database = storage.connect_new(path)
    except BaseException:
        hold.release()
        raise
    case = Case(path, author, database, (), hold, clock)
    try:
        with database.atomic():  # tables and first event together: never a case without its opening
            storage.lay_out(database)
            case.append("case-opened", {"athlete_code": athlete_code, "consent": consent})
    except BaseException as fault:
        case.close()
        path.unlink(missing_ok=True)
        if isinstance(fault, sqlite3.Error):
            raise storage.not_written(path, fault) from None
        raise
    return case


def open_case(path: Path, author: str | None, clock: Clock = now) -> Case:
    """Open a case to write as ``author``, or to read with None; a chain that does not hold is refused."""
    hold: Hold | None = None
    if author is not None:
        refuse_name(author)
    database = storage.open_existing(path, write=author is not None)
    try:
        hold = Hold(path, author) if author is not None else None
        events = storage.events_of(database, path)
        problems = check_chain(events, form=False)
        if problems:
            raise CaseError(replace(one, where=f"{path}: {one.where}") for one in problems)
        return Case(path, author, database, events, hold, clock)
    except BaseException:
        database.close()
        if hold is not None:
            hold.release()
        raise


def case_in_memory(
    events: Sequence[Event], books: Mapping[str, str], path: Path, texts: Iterable[str] = ()
) -> Case:
    """A case to read only, from events that were checked; ``path`` only names it.

    ``texts`` are the free texts that came with it; a chain believes none of another fingerprint.
    """
    known = {hash_of(text.encode()): text for text in texts}
    return Case(path, None, None, events, books=books, texts=known)
