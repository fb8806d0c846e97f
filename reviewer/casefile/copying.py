"""A case written anew: the chain and the rule books, and beside them only what is asked for."""

import sqlite3
from collections.abc import Mapping, Sequence
from pathlib import Path

from reviewer.casefile import storage
from reviewer.casefile.chain import Event
from reviewer.casefile.errors import refusal
from reviewer.terms.messages import message


def write_copy(
    path: Path,
    events: Sequence[Event],
    books: Mapping[str, str],
    erasable: Mapping[str, Mapping[str, str]] | None = None,
) -> None:
    """A new case file of these events, byte for byte; the same events and books give the same file.

    Names, free text and file paths stay behind, unless they are given by table. An existing file is never
    overwritten, and nothing half written is left.
    """
    if path.exists():
        raise refusal(
            "case-exists",
            str(path),
            message("There is a file of this name already."),
            message("Choose another name."),
        )
    database = storage.connect_new(path)
    try:
        with database.atomic():
            storage.lay_out(database)
            for event in events:
                database.execute(
                    "INSERT INTO events VALUES (?, ?, ?)", (event.number, event.hash, event.body)
                )
            for table, kept in {"books": books, **(erasable or {})}.items():
                for digest in sorted(kept):
                    database.execute(f"INSERT INTO {table} VALUES (?, ?)", (digest, kept[digest]))
    except BaseException as fault:
        database.close()
        path.unlink(missing_ok=True)
        if isinstance(fault, sqlite3.Error):
            raise storage.not_written(path, fault) from None
        raise
    database.close()
