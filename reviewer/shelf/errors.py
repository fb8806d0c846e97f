"""What can go wrong with the index; the cases are as they were in any event."""

import sqlite3
from pathlib import Path

from reviewer.terms.messages import message
from reviewer.terms.problems import Problem, ReviewerError


class ShelfError(ReviewerError):
    """The index cannot be used."""


class DamagedShelfError(ShelfError):
    """The index is damaged or of another version: it can be made anew."""


class UnkeptShelfError(ShelfError):
    """The index cannot be written here: it can be made for now alone."""


_BUSY = (
    message("Another process is writing to the index of this folder."),
    message("Wait for it, then search again."),
)
_DAMAGED = (message("The index of this folder is damaged."), message("Remove this file; it is made anew."))
_UNKEPT = (
    message("The index of this folder cannot be written."),
    message("See that the disk has room and that you may write here."),
)
_OF_THE_PLACE = (
    sqlite3.SQLITE_CANTOPEN,
    sqlite3.SQLITE_FULL,
    sqlite3.SQLITE_IOERR,
    sqlite3.SQLITE_PERM,
    sqlite3.SQLITE_READONLY,
)


def refused(place: Path, fault: sqlite3.Error) -> ShelfError | sqlite3.Error:
    """The error for what SQLite said of the index; what it says of the question itself stays as it is."""
    code = getattr(fault, "sqlite_errorcode", sqlite3.SQLITE_CORRUPT) & 0xFF
    if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return ShelfError(Problem("shelf-busy", str(place), *_BUSY))
    if code in _OF_THE_PLACE:
        return UnkeptShelfError(Problem("shelf-unkept", str(place), *_UNKEPT))
    return fault if code == sqlite3.SQLITE_ERROR else damaged(place)


def damaged(place: Path) -> DamagedShelfError:
    """The error for an index that is no good."""
    return DamagedShelfError(Problem("shelf-damaged", str(place), *_DAMAGED))
