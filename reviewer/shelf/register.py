"""The register of a meet's recordings: what was read of each, kept one by one, and which cases were made.

It lies in the folder of the meet. It can be made again from the recordings, which takes as long as it took.
"""

import json
from collections.abc import Collection, Iterable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from sqlite_utils import Database

from reviewer.shelf.errors import damaged
from reviewer.shelf.searching import problem_from
from reviewer.shelf.transactions import asked, connected, header, writing
from reviewer.terms.indexed import Indexed
from reviewer.terms.problems import Problem
from reviewer.terms.shelving import Stamp

REGISTER = "recordings.register"
"""The register's name in the folder of a meet."""
_APPLICATION_ID, _VERSION = 0x52565247, 1
"""The four bytes ``RVRG`` in the file's header, and the version of the tables."""
_TABLES = (
    "CREATE TABLE recordings (path TEXT PRIMARY KEY, changed INTEGER NOT NULL, size INTEGER NOT NULL,"
    " sha256 TEXT NOT NULL, frames INTEGER NOT NULL, cited TEXT NOT NULL, pictures INTEGER NOT NULL,"
    " problem TEXT) STRICT",
    "CREATE INDEX same ON recordings (sha256)",
    "CREATE TABLE cases (start TEXT PRIMARY KEY, cited TEXT NOT NULL) STRICT, WITHOUT ROWID",
    f"PRAGMA application_id = {_APPLICATION_ID}",
    f"PRAGMA user_version = {_VERSION}",
)


class Register:
    """An open register; each call is one transaction, on disk when it returns."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def stamps(self, *, pictures: bool = False) -> Mapping[str, Stamp]:
        """What each recording's file was when it was read; with ``pictures`` only those that need none.

        One that cannot be cited needs no pictures.
        """
        which = " WHERE pictures OR cited = '{}'" if pictures else ""
        rows = self._database.execute(f"SELECT path, changed, size FROM recordings{which}")
        return {path: Stamp(changed, size) for path, changed, size in rows}

    def keep(self, path: str, stamp: Stamp, found: Indexed) -> None:
        """Keep what was read of a recording, in place of what was known."""
        problem = None if found.problem is None else json.dumps(found.problem.to_json(), ensure_ascii=False)
        cited = json.dumps(dict(found.cited), separators=(",", ":"))
        row = (path, *stamp, found.sha256, found.frames, cited, found.pictures, problem)
        with writing(self._database):
            self._database.execute("INSERT OR REPLACE INTO recordings VALUES (?, ?, ?, ?, ?, ?, ?, ?)", row)

    def forget(self, paths: Iterable[str]) -> None:
        """Know nothing of these recordings any more."""
        with writing(self._database):
            self._database.conn.executemany(
                "DELETE FROM recordings WHERE path = ?", ((path,) for path in paths)
            )

    def recording(self, path: str) -> Indexed | None:
        """What was read of a recording, or None."""
        columns = "sha256, cited, pictures, problem"
        found = self._database.execute(f"SELECT {columns} FROM recordings WHERE path = ?", (path,)).fetchone()
        if found is None:
            return None
        sha256, cited, pictures, problem = found
        return Indexed(sha256, json.loads(cited), bool(pictures), problem_from(problem) if problem else None)

    def same(self) -> tuple[tuple[str, ...], ...]:
        """Paths of recordings that have the same bytes."""
        rows = self._database.execute(
            "SELECT sha256, path FROM recordings WHERE sha256 IN (SELECT sha256 FROM recordings"
            " WHERE sha256 <> '' GROUP BY sha256 HAVING count(*) > 1) ORDER BY path"
        )
        found: dict[str, list[str]] = {}
        for sha256, path in rows:
            found.setdefault(sha256, []).append(path)
        return tuple(map(tuple, found.values()))

    def pictured(self) -> Iterator[str]:
        """Fingerprints of the recordings whose small pictures were made, each once."""
        rows = self._database.execute("SELECT DISTINCT sha256 FROM recordings WHERE pictures")
        return (sha256 for (sha256,) in rows)

    def frames(self) -> int:
        """Frames of all recordings together."""
        return int(self._database.execute("SELECT coalesce(sum(frames), 0) FROM recordings").fetchone()[0])

    def problems(self) -> Iterator[tuple[str, Problem]]:
        """What is wrong with recordings, by path."""
        rows = "SELECT path, problem FROM recordings WHERE problem IS NOT NULL ORDER BY path"
        for path, problem in self._database.execute(rows).fetchall():
            yield path, problem_from(problem)

    def cases(self) -> Mapping[str, Collection[str]]:
        """The routines whose case was made, each with the fingerprints of recordings that it was given."""
        rows = self._database.execute("SELECT start, cited FROM cases")
        return {start: frozenset(cited.split()) for start, cited in rows}

    def keep_case(self, start: str, cited: Iterable[str]) -> None:
        """Keep that a routine's case is made and cites these recordings."""
        with writing(self._database):
            row = (start, " ".join(sorted(cited)))
            self._database.execute("INSERT OR REPLACE INTO cases VALUES (?, ?)", row)


def has_register(folder: Path) -> bool:
    """Whether a meet has a register."""
    return (folder / REGISTER).is_file()


@contextmanager
def open_register(folder: Path) -> Iterator[Register]:
    """The register of a meet, laid out where there is none; a ShelfError where it cannot be used."""
    place = folder / REGISTER
    with asked(place):
        database = connected(str(place))
        try:
            _make_sure(database, place)
            yield Register(database)
        finally:
            database.close()


def _make_sure(database: Database, place: Path) -> None:
    application, version, pages, size = header(database)
    if (application, version, pages) == (0, 0, 0):
        with writing(database):
            if header(database)[0] == 0:  # another process may have been first
                for statement in _TABLES:
                    database.execute(statement)
    elif (application, version) != (_APPLICATION_ID, _VERSION) or place.stat().st_size < pages * size:
        raise damaged(place)
