"""Cases into the index, and out of it again."""

from collections.abc import Iterable

from sqlite_utils import Database

from reviewer.shelf.rows import CaseRows, Row

_CASE = "path, changed, size, sha256, state, problem, day, edition, division"
_SUBJECT = "kind, code, name, on_code, on_name, clauses, words"
_RECORDING = "in_case, sha256, number, time_base"
_PASSAGE = 19
"""Columns of a passage."""


def keep(database: Database, cases: Iterable[CaseRows]) -> None:
    """Take cases in, each in place of what was known of it; the caller owns the transaction."""
    known: dict[Row, int] = {}
    for rows in cases:
        _forget(database, rows.case[0])
        number = _inserted(database, "cases", _CASE, rows.case)
        for row in rows.subjects:
            if row not in known:
                known[row] = _subject(database, row)
        subjects = [known[row] for row in rows.subjects]
        recordings = [
            _inserted(database, "recordings", _RECORDING, (number, *row)) for row in rows.recordings
        ]
        passages = (
            (number, subjects[subject], None if recording is None else recordings[recording], *said)
            for subject, recording, *said in rows.passages
        )
        database.conn.executemany(f"INSERT INTO passages VALUES ({_marks(_PASSAGE)})", passages)


def forget(database: Database, paths: Iterable[str]) -> None:
    """Take cases out, and what nothing is about any more; the caller owns the transaction."""
    for path in paths:
        _forget(database, path)
    unused = "SELECT id, words FROM subjects WHERE id NOT IN (SELECT subject FROM passages)"
    gone = "INSERT INTO subject_words (subject_words, rowid, words) VALUES ('delete', ?, ?)"
    for number, words in database.execute(unused).fetchall():
        database.execute(gone, (number, words))
        database.execute("DELETE FROM subjects WHERE id = ?", (number,))
    database.execute("DELETE FROM films WHERE sha256 NOT IN (SELECT sha256 FROM recordings)")


def _forget(database: Database, path: str) -> None:
    found = database.execute("SELECT id FROM cases WHERE path = ?", (path,)).fetchone()
    if found:
        for table, column in (("passages", "case_id"), ("recordings", "in_case"), ("cases", "id")):
            database.execute(f"DELETE FROM {table} WHERE {column} = ?", found)


def _subject(database: Database, row: Row) -> int:
    same = " AND ".join(f"{column} = ?" for column in _SUBJECT.split(", "))
    found = database.execute(f"SELECT id FROM subjects WHERE {same}", row).fetchone()
    if found:
        return int(found[0])
    number = _inserted(database, "subjects", _SUBJECT, row)
    database.execute("INSERT INTO subject_words (rowid, words) VALUES (?, ?)", (number, row[-1]))
    return number


def _inserted(database: Database, table: str, columns: str, row: Row) -> int:
    statement = f"INSERT INTO {table} ({columns}) VALUES ({_marks(len(row))})"
    return database.execute(statement, row).lastrowid or 0


def _marks(number: int) -> str:
    return ", ".join("?" * number)
