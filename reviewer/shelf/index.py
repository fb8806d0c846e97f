"""The index as a file beside the cases: opened, made anew where it is damaged or of another version, removed.

It lies in the folder of the cases, not in a cache elsewhere: it goes where they go, is deleted with them, and
nothing of them is left on a machine that they were taken away from.
"""

from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from pathlib import Path
from typing import TypeVar

from sqlite_utils import Database

from reviewer.shelf import keeping, searching
from reviewer.shelf.errors import DamagedShelfError, UnkeptShelfError, damaged
from reviewer.shelf.layout import APPLICATION_ID, TABLES, VERSION
from reviewer.shelf.rows import CaseRows
from reviewer.shelf.transactions import asked, connected, header, transaction, writing
from reviewer.terms.problems import Problem
from reviewer.terms.shelving import Found, Stamp, Subject, Wanted

FILE = ".shelf-of-cases"
"""The index's name in the folder of the cases."""
_MEMORY = ":memory:"
_Answer = TypeVar("_Answer")


class Shelf:
    """An open index; whatever it does is done wholly or not at all.

    Attributes:
        kept: whether it is a file; where the folder cannot be written to it lasts only for now.
    """

    def __init__(self, database: Database, place: Path, *, kept: bool) -> None:
        self._database, self._place, self.kept = database, place, kept

    def known(self) -> Mapping[str, tuple[Stamp, str]]:
        """The stamp and the fingerprint of each case that is indexed, by its path."""
        rows = self._database.execute("SELECT path, changed, size, sha256 FROM cases")
        return {path: (Stamp(changed, size), sha256) for path, changed, size, sha256 in rows}

    def keep(self, cases: Iterable[CaseRows]) -> None:
        """Take these cases in, each in place of what was known of it."""
        with writing(self._database):
            keeping.keep(self._database, cases)

    def restamp(self, stamps: Mapping[str, Stamp]) -> None:
        """These files have other stamps and the same bytes."""
        rows = [(one.changed, one.size, path) for path, one in stamps.items()]
        with writing(self._database):
            self._database.conn.executemany("UPDATE cases SET changed = ?, size = ? WHERE path = ?", rows)

    def forget(self, paths: Iterable[str]) -> None:
        """Know nothing of these cases any more, nor of what none is about; their bytes are overwritten."""
        with writing(self._database):
            keeping.forget(self._database, paths)

    def search(self, wanted: Wanted, limit: int, skip: int = 0) -> Found:
        """At most ``limit`` of the passages that fit, after the first ``skip``."""
        with transaction(self._database):
            return searching.search(self._database, wanted, limit, skip)

    def locked(self) -> int:
        """How many cases consent was withdrawn for."""
        return searching.locked(self._database)

    def problems(self) -> tuple[Problem, ...]:
        """Why some cases cannot be read."""
        return searching.problems(self._database)

    def subjects(self) -> tuple[Subject, ...]:
        """All that the passages are about."""
        return searching.subjects(self._database)

    def film(self, place: str) -> str | None:
        """The fingerprint that was kept for a place, or None; see `keep_film`."""
        found = self._database.execute("SELECT sha256 FROM films WHERE place = ?", (place,)).fetchone()
        return found[0] if found else None

    def keep_film(self, place: str, sha256: str) -> None:
        """Keep the fingerprint of a recording; ``place`` is a word for path and stamp, not the path."""
        with writing(self._database):
            self._database.execute("INSERT OR REPLACE INTO films VALUES (?, ?)", (place, sha256))


def on_shelf(folder: Path, program: str, doing: Callable[[Shelf], _Answer]) -> _Answer:
    """Do something with the index of a folder, and answer what came of it.

    One that is damaged, or that another version of the program made, is made anew, and one that cannot be
    written lasts for now: ``doing`` then begins again. ShelfError where another process keeps writing.
    """
    place = folder / FILE
    try:
        try:
            return _done(place, program, doing)
        except DamagedShelfError:
            remove_shelf(folder)
            return _done(place, program, doing)
    except UnkeptShelfError:
        return _done(place, program, doing, kept=False)


def has_shelf(folder: Path) -> bool:
    """Whether a folder has an index."""
    return (folder / FILE).is_file()


def remove_shelf(folder: Path) -> None:
    """Remove the index of a folder; nothing where there is none, or where it cannot be removed."""
    for end in ("", "-journal"):
        with suppress(OSError):
            (folder / f"{FILE}{end}").unlink(missing_ok=True)


def _done(place: Path, program: str, doing: Callable[[Shelf], _Answer], *, kept: bool = True) -> _Answer:
    with asked(place):
        database = _connected(str(place) if kept else _MEMORY)
        try:
            _make_sure(database, place, program, kept=kept)
            return doing(Shelf(database, place, kept=kept))
        finally:
            database.close()


def _connected(place: str) -> Database:
    database = connected(place)
    database.conn.create_function("folded", 1, str.casefold, deterministic=True)
    database.conn.create_function("clause_among", 2, searching.clause_among, deterministic=True)
    return database


def _make_sure(database: Database, place: Path, program: str, *, kept: bool) -> None:
    """Lay out a new index; a DamagedShelfError for one that is no good, or of another version."""
    with transaction(database):
        application, version, pages, size = header(database)
    if (application, version, pages) == (0, 0, 0):
        with writing(database):
            if header(database)[0] == 0:  # another process may have been first
                for statement in TABLES:
                    database.execute(statement)
                database.execute("INSERT INTO made VALUES (?)", (program,))
        return
    whole = not kept or place.stat().st_size >= pages * size
    if (application, version, whole) != (APPLICATION_ID, VERSION, True):
        raise damaged(place)
    if database.execute("SELECT program FROM made").fetchone() != (program,):
        raise damaged(place)
