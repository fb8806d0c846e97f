"""The shelf kept current: what changed is read again, what is gone goes, what was deleted is forgotten."""

import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import Executor
from contextlib import suppress
from dataclasses import dataclass
from functools import partial
from itertools import chain, islice
from pathlib import Path
from typing import TypeVar

from reviewer import __version__
from reviewer.actions.audit import AuditError
from reviewer.actions.shelving import fingerprint_of, shelved_case
from reviewer.shelf import CaseRows, Shelf, ShelfError, has_shelf, on_shelf, remove_shelf, rows_of
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem
from reviewer.terms.shelving import Stamp

SUFFIX = ".case"
TOGETHER = 100
"""Cases that are read and kept in one go: what was read before a stop is not read again."""
MANY = 400
"""Cases to read from which on other processes are worth their start."""

Progress = Callable[[int, int], bool]
"""Told cases read and cases to read; False stops."""
_Answer = TypeVar("_Answer")


@dataclass(frozen=True, slots=True)
class Kept:
    """What keeping an index current came to.

    Attributes:
        cases: case files below the folder.
        read, removed: those read again, and those that are gone.
        whole: whether all that changed was read; False where it was stopped.
        on_disk: whether the index is kept, or lasts for now alone.
    """

    cases: int
    read: int
    removed: int
    whole: bool
    on_disk: bool


def with_current_shelf(
    folder: Path,
    doing: Callable[[Shelf, Kept], _Answer],
    progress: Progress = lambda done, all_: True,
    workers: Executor | None = None,
) -> _Answer:
    """Bring the index of a folder up to date and use it; AuditError where there is no folder.

    ``workers`` read cases where there are many to read; they are other processes.
    """
    if not folder.is_dir():
        raise AuditError(Problem("no-folder", str(folder), *_NO_FOLDER))

    def used(shelf: Shelf) -> _Answer:
        return doing(shelf, _keep_current(shelf, folder, progress, workers))

    return on_shelf(folder, __version__, used)


_NO_FOLDER = (message("There is no such folder."), message("Name a folder that holds cases."))


def forget(folder: Path, case: Path) -> None:
    """Let the index of a folder know nothing more of a case; without another one it is removed.

    Whoever deletes a case calls this; an index that is not there holds nothing.
    """
    if not has_shelf(folder) or not case.resolve().is_relative_to(folder.resolve()):
        return
    name = case.resolve().relative_to(folder.resolve()).as_posix()

    def forgotten(shelf: Shelf) -> bool:
        shelf.forget([name])
        return bool(shelf.known())

    if not on_shelf(folder, __version__, forgotten):
        remove_shelf(folder)


def forget_everywhere(case: Path) -> None:
    """Let every index that may know of a case know nothing more: those of all folders it lies in.

    One that is busy forgets when it is next brought up to date.
    """
    for folder in case.resolve().parents:
        with suppress(ShelfError):
            forget(folder, case)


def cases_below(folder: Path) -> Mapping[str, Stamp]:
    """Every case file of a folder and of those in it, by its path below; what is hidden is left out."""
    return dict(sorted(_cases_in(folder, "")))


def _cases_in(folder: Path, before: str) -> Iterator[tuple[str, Stamp]]:
    try:
        listed = list(os.scandir(folder))
    except OSError:
        return
    for one in listed:
        if one.name.startswith("."):
            continue
        if one.is_dir(follow_symlinks=False):
            yield from _cases_in(Path(one.path), f"{before}{one.name}/")
        elif one.name.lower().endswith(SUFFIX) and one.is_file():
            found = one.stat()
            yield _told(f"{before}{one.name}"), Stamp(found.st_mtime_ns, found.st_size)


def _told(name: str) -> str:
    """The name of a file; what is no text in it is spelled out, and such a case then cannot be read."""
    return name.encode("utf-8", "backslashreplace").decode()


def _keep_current(shelf: Shelf, folder: Path, progress: Progress, workers: Executor | None) -> Kept:
    known, there = shelf.known(), cases_below(folder)
    gone = sorted(known.keys() - there.keys())
    restamped: dict[str, Stamp] = {}
    anew: dict[str, Stamp] = {}
    for name, stamp in there.items():
        if name not in known or known[name][0] != stamp:
            same = name in known and _has_bytes(folder / name, known[name][1])
            (restamped if same else anew)[name] = stamp
    if restamped:
        shelf.restamp(restamped)
    read = _read(shelf, _shelved(folder, anew, progress, workers if len(anew) >= MANY else None))
    if gone or not known.keys().isdisjoint(anew):
        shelf.forget(gone)
    return Kept(len(there), read, len(gone), read == len(anew), shelf.kept)


def _has_bytes(path: Path, digest: str) -> bool:
    """Whether a file that was touched or copied has the bytes that were read before."""
    try:
        return bool(digest) and fingerprint_of(path) == digest
    except OSError:
        return False


def _read(shelf: Shelf, cases: Iterator[CaseRows]) -> int:
    """Keep these cases, some at a time; how many there were."""
    read = 0
    while batch := list(islice(cases, TOGETHER)):
        shelf.keep(batch)
        read += len(batch)
    return read


def _shelved(
    folder: Path, anew: Mapping[str, Stamp], progress: Progress, workers: Executor | None
) -> Iterator[CaseRows]:
    """Read these cases, here or by others; no more of them once it is to be stopped."""
    names = iter(anew.items())
    parts = iter(lambda: dict(islice(names, TOGETHER)), {})
    read = partial(read_cases, folder)
    found = map(read, parts) if workers is None else workers.map(read, parts)
    for done, case in enumerate(chain.from_iterable(found)):
        if not progress(done, len(anew)):
            return
        yield case


def read_cases(folder: Path, names: Mapping[str, Stamp]) -> Iterable[CaseRows]:
    """Cases of a folder as the index keeps them; another process may do this."""
    return [rows_of(shelved_case(folder / name, name, stamp)) for name, stamp in names.items()]
