"""The SQLite file: tables, format, and reading rows that may have been tampered with."""

import sqlite3
from pathlib import Path

from sqlite_utils import Database

from reviewer.casefile.chain import Event, read_event
from reviewer.casefile.errors import CaseError, refusal

APPLICATION_ID = 0x52563031
FORMAT_VERSION = 1
_SQLITE = b"SQLite format 3\0"
_TABLES = """
CREATE TABLE events (number INTEGER PRIMARY KEY, hash TEXT NOT NULL UNIQUE, body BLOB NOT NULL) STRICT;
CREATE TRIGGER events_are_not_rewritten BEFORE UPDATE ON events
  BEGIN SELECT RAISE(ABORT, 'events are never rewritten'); END;
CREATE TRIGGER events_are_not_removed BEFORE DELETE ON events
  BEGIN SELECT RAISE(ABORT, 'events are never removed'); END;
CREATE TABLE books (sha256 TEXT PRIMARY KEY, text TEXT NOT NULL) STRICT;
CREATE TABLE places (recording_sha256 TEXT PRIMARY KEY, path TEXT NOT NULL) STRICT;
CREATE TABLE texts (sha256 TEXT PRIMARY KEY, text TEXT NOT NULL) STRICT;
"""


def is_case(path: Path) -> bool:
    """Whether a file begins as SQLite files do; a CaseError where there is no file to read."""
    try:
        with path.open("rb") as file:
            return file.read(len(_SQLITE)) == _SQLITE
    except FileNotFoundError:
        raise refusal("no-file", str(path), "There is no such file.", "Check the path.") from None
    except IsADirectoryError:
        raise refusal("a-folder", str(path), "This is a folder.", "Name a file in it.") from None


def make(path: Path) -> Database:
    """A new case file with its tables."""
    database = _connected(path)
    database.conn.executescript(
        f"PRAGMA application_id = {APPLICATION_ID}; PRAGMA user_version = {FORMAT_VERSION};{_TABLES}"
    )
    return database


def open_existing(path: Path, *, write: bool) -> Database:
    """An existing case of a format this version knows; a CaseError naming what else it is."""
    _refuse_no_case(path)
    try:
        database = _connected(path, write=write)
        identity = database.execute("PRAGMA application_id").fetchone()[0]
        version = database.execute("PRAGMA user_version").fetchone()[0]
    except sqlite3.DatabaseError:
        raise damaged(path) from None
    if identity != APPLICATION_ID:
        database.close()
        raise _no_case(path)
    if version > FORMAT_VERSION:
        database.close()
        raise refusal(
            "newer-case",
            str(path),
            f"This case has format {version}; this version reads up to {FORMAT_VERSION}.",
            "Open it with a newer version of reviewer.",
        )
    return database


def read_events(path: Path) -> tuple[Event, ...]:
    """The events of a case file as they are stored, believed or not."""
    database = open_existing(path, write=False)
    try:
        return events_of(database, path)
    finally:
        database.close()


def read_books(path: Path) -> dict[str, str]:
    """The rule-book texts of a case file by the hash they were kept under."""
    database = open_existing(path, write=False)
    try:
        return dict(database.execute("SELECT sha256, text FROM books ORDER BY sha256").fetchall())
    except sqlite3.DatabaseError:
        raise damaged(path) from None
    finally:
        database.close()


def events_of(database: Database, path: Path) -> tuple[Event, ...]:
    """All rows of the chain in their order."""
    try:
        rows = database.execute("SELECT number, hash, body FROM events ORDER BY number").fetchall()
    except sqlite3.DatabaseError:
        raise damaged(path) from None
    return tuple(read_event(number, digest, bytes(body)) for number, digest, body in rows)


def damaged(path: Path) -> CaseError:
    """The error of a case that SQLite cannot read."""
    return refusal(
        "case-damaged", str(path), "This case is cut off or damaged.", "Take a copy that is whole."
    )


def _connected(path: Path, *, write: bool = True) -> Database:
    mode = "rwc" if write else "ro"
    place = f"{path.resolve().as_uri()}?mode={mode}"
    connection = sqlite3.connect(place, uri=True, timeout=5, check_same_thread=False)
    database = Database(connection, execute_plugins=False)
    database.execute("PRAGMA foreign_keys = ON")
    if write:
        # A plain copy must always be a whole document: no side files, everything synced.
        database.execute("PRAGMA journal_mode = DELETE")
        database.execute("PRAGMA synchronous = FULL")
    return database


def _refuse_no_case(path: Path) -> None:
    if not is_case(path):
        raise _no_case(path)


def _no_case(path: Path) -> CaseError:
    return refusal(
        "not-a-case", str(path), "This file is not a case.", "Name a case made with `reviewer start`."
    )
