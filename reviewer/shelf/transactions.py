"""Files of what can be derived again: how they are opened, and written wholly or not at all."""

import sqlite3
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path

from sqlite_utils import Database

from reviewer.shelf.errors import refused

WAIT = 10
"""Seconds to wait for another process that is writing to one."""
_HEADER = ("application_id", "user_version", "page_count", "page_size")


@contextmanager
def asked(place: Path) -> Iterator[None]:
    """What SQLite says within, as errors of the shelf."""
    try:
        yield
    except sqlite3.Error as fault:
        raise refused(place, fault) from None


def writing(database: Database) -> AbstractContextManager[None]:
    """One transaction that waits its turn at its beginning, not in the middle."""
    return transaction(database, "IMMEDIATE")


@contextmanager
def transaction(database: Database, kind: str = "DEFERRED") -> Iterator[None]:
    """What is done within sees and leaves one state of the file, whatever others do meanwhile."""
    database.conn.execute(f"BEGIN {kind}")
    try:
        yield
    except BaseException:
        database.conn.rollback()
        raise
    database.conn.commit()


def connected(place: str) -> Database:
    """An open file, or a new one."""
    connection = sqlite3.connect(place, timeout=WAIT, check_same_thread=False)
    try:
        database = Database(connection, execute_plugins=False)
        # It can be made again: a journal that outlives a killed process is enough. What is forgotten is gone.
        for setting in ("journal_mode = DELETE", "synchronous = NORMAL", "secure_delete = ON"):
            database.execute(f"PRAGMA {setting}")
    except BaseException:
        connection.close()
        raise
    return database


def header(database: Database) -> tuple[int, int, int, int]:
    """What a file says of itself: application, version, number and size of its pages; noughts when new."""
    application, version, pages, size = (
        int(database.execute(f"PRAGMA {word}").fetchone()[0]) for word in _HEADER
    )
    return application, version, pages, size
