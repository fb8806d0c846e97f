"""The SQLite file: tables, format, and reading rows that may have been tampered with."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlite_utils import Database

from reviewer.casefile.chain import Event, read_event
from reviewer.casefile.errors import CaseError, refusal
from reviewer.terms.messages import message, reason

APPLICATION_ID = 0x52563031
"""The four bytes ``RV01`` in the file's header."""
FORMAT_VERSION = 1
_SQLITE = b"SQLite format 3\0"
_TABLES = (
    "CREATE TABLE events (number INTEGER PRIMARY KEY, hash TEXT NOT NULL UNIQUE, body BLOB NOT NULL) STRICT",
    "CREATE TRIGGER events_are_not_rewritten BEFORE UPDATE ON events"
    " BEGIN SELECT RAISE(ABORT, 'events are never rewritten'); END",
    "CREATE TRIGGER events_are_not_removed BEFORE DELETE ON events"
    " BEGIN SELECT RAISE(ABORT, 'events are never removed'); END",
    "CREATE TABLE books (sha256 TEXT PRIMARY KEY, text TEXT NOT NULL) STRICT",
    "CREATE TABLE texts (sha256 TEXT PRIMARY KEY, text TEXT NOT NULL) STRICT",
    "CREATE TABLE places (recording_sha256 TEXT PRIMARY KEY, path TEXT NOT NULL) STRICT",
    "CREATE TABLE people (code TEXT PRIMARY KEY, name TEXT NOT NULL) STRICT",
    f"PRAGMA application_id = {APPLICATION_ID}",
    f"PRAGMA user_version = {FORMAT_VERSION}",
)
ERASABLE = ("texts", "places", "people")


def is_case(path: Path) -> bool:
    """Whether a file begins as SQLite files do; a CaseError where there is no file to read."""
    try:
        with path.open("rb") as file:
            return file.read(len(_SQLITE)) == _SQLITE
    except FileNotFoundError:
        raise refusal(
            "no-file", str(path), message("There is no such file."), message("Check the path.")
        ) from None
    except IsADirectoryError:
        raise refusal(
            "a-folder", str(path), message("This is a folder."), message("Name a file in it.")
        ) from None
    except OSError as fault:
        raise _unreadable(path, fault) from None


def connect_new(path: Path) -> Database:
    """A connection to a file that is not there yet, or is empty."""
    try:
        return _connected(path, "rwc", write=True)
    except sqlite3.Error as fault:
        raise not_written(path, fault) from None


def lay_out(database: Database) -> None:
    """The tables of a new case; the caller owns the transaction."""
    for statement in _TABLES:
        database.execute(statement)


def open_existing(path: Path, *, write: bool) -> Database:
    """An existing case of a format this version knows; a CaseError naming what else it is."""
    if not is_case(path):
        raise _no_case(path)
    # A reader too opens to write, where it may: SQLite then mends what a killed writer left half done.
    database = _attempt(path, "rw", write) or _attempt(path, "ro", write)
    if database is None:
        raise damaged(path)
    try:
        _refuse_foreign(database, path)
    except CaseError:
        database.close()
        raise
    return database


def _attempt(path: Path, mode: str, write: bool) -> Database | None:
    try:
        return _connected(path, mode, write=write)
    except sqlite3.Error:
        return None


def _refuse_foreign(database: Database, path: Path) -> None:
    try:
        identity = database.execute("PRAGMA application_id").fetchone()[0]
        version = database.execute("PRAGMA user_version").fetchone()[0]
    except sqlite3.Error:
        raise damaged(path) from None
    if identity != APPLICATION_ID:
        raise _no_case(path)
    if not 1 <= version <= FORMAT_VERSION:
        raise refusal(
            "newer-case",
            str(path),
            message(
                "This case has format {version}; this version reads up to {format_version}.",
                version=version,
                format_version=FORMAT_VERSION,
            ),
            message("Open it with a newer version of reviewer."),
        )


@contextmanager
def opened_to_read(path: Path) -> Iterator[Database]:
    """A case's database for as long as it is read."""
    database = open_existing(path, write=False)
    try:
        yield database
    finally:
        database.close()


def read_events(path: Path) -> tuple[Event, ...]:
    """The events of a case file as they are stored, believed or not."""
    with opened_to_read(path) as database:
        return events_of(database, path)


def read_books(path: Path) -> dict[str, str]:
    """The rule-book texts of a case file by the hash they were kept under."""
    with opened_to_read(path) as database:
        return books_of(database, path)


def events_of(database: Database, path: Path) -> tuple[Event, ...]:
    """All rows of the chain in their order; what they hold is not believed."""
    rows = _rows(database, path, "SELECT number, CAST(hash AS BLOB), body FROM events ORDER BY number")
    return tuple(
        read_event(_whole(number), _bytes(digest).decode("utf-8", "replace"), _bytes(body))
        for number, digest, body in rows
    )


def books_of(database: Database, path: Path) -> dict[str, str]:
    """Every kept rule book by the hash it was kept under."""
    rows = _rows(database, path, "SELECT CAST(sha256 AS BLOB), CAST(text AS BLOB) FROM books ORDER BY sha256")
    return {
        _bytes(digest).decode("utf-8", "replace"): _bytes(text).decode("utf-8", "replace")
        for digest, text in rows
    }


def erasable_of(database: Database, path: Path) -> dict[str, dict[str, str]]:
    """Names, free text and file paths that were kept, by table and key."""
    return {
        table: {str(key): str(kept) for key, kept in _rows(database, path, f"SELECT * FROM {table}")}
        for table in ERASABLE
    }


def damaged(path: Path) -> CaseError:
    """The error of a case that SQLite cannot read."""
    return refusal(
        "case-damaged",
        str(path),
        message("This case is cut off or damaged."),
        message("Take a copy that is whole."),
    )


def not_written(path: Path, fault: Exception) -> CaseError:
    """The error of a change that did not reach the disk."""
    return refusal(
        "not-written",
        str(path),
        message(
            "The change could not be written, and the case is as it was before: {reason}.",
            reason=reason(fault),
        ),
        message("See that the disk has room and that you may write here, then do it again."),
    )


def _rows(database: Database, path: Path, statement: str) -> list[tuple[Any, ...]]:
    try:
        found: list[tuple[Any, ...]] = database.execute(statement).fetchall()
    except sqlite3.Error:
        raise damaged(path) from None
    return found


def _bytes(said: Any) -> bytes:
    return said if isinstance(said, bytes) else str(said).encode("utf-8", "surrogatepass")


def _whole(said: Any) -> int:
    return said if isinstance(said, int) else 0


def _connected(path: Path, mode: str, *, write: bool) -> Database:
    place = f"{path.resolve().as_uri()}?mode={mode}"
    connection = sqlite3.connect(place, uri=True, timeout=5, check_same_thread=False)
    try:
        database = Database(connection, execute_plugins=False)
        database.execute("PRAGMA foreign_keys = ON")
        # A plain copy must always be a whole document: no side files, everything synced.
        wanted = ("journal_mode = DELETE", "synchronous = FULL", "secure_delete = ON")
        for setting in wanted if write else ("query_only = ON",):
            database.execute(f"PRAGMA {setting}")
        pages, size = (database.execute(f"PRAGMA {of}").fetchone()[0] for of in ("page_count", "page_size"))
        if path.stat().st_size < pages * size:  # SQLite itself does not mind when part of a page is gone
            raise sqlite3.DatabaseError("cut off")
    except BaseException:
        connection.close()
        raise
    return database


def _no_case(path: Path) -> CaseError:
    return refusal(
        "not-a-case",
        str(path),
        message("This file is not a case."),
        message("Name a case made with `reviewer start`."),
    )


def _unreadable(path: Path, fault: OSError) -> CaseError:
    return refusal(
        "cannot-read",
        str(path),
        message("This file cannot be read: {reason}.", reason=reason(fault)),
        message("See that you may read it."),
    )
