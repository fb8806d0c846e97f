"""The recordings of a meet: files named as recordings are, in one folder and in those in it."""

import os
from collections.abc import Iterator
from pathlib import Path

from reviewer.actions.opening import is_film
from reviewer.terms.meets import Meet
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem
from reviewer.terms.shelving import Stamp


def recordings_folder(folder: Path, meet: Meet) -> Path | None:
    """Where the recordings of a meet lie; None where it has none. DocumentError where it is gone."""
    return None if meet.recordings is None else folder_of_recordings(folder / meet.recordings)


def folder_of_recordings(folder: Path) -> Path:
    """The folder itself; a DocumentError where there is none."""
    if folder.is_dir():
        return folder
    said = message("There is no such folder of recordings.")
    remedy = message("Name it with --recordings.")
    raise DocumentError(Problem("no-folder", str(folder), said, remedy))


def recordings_below(folder: Path | None) -> Iterator[tuple[str, Stamp]]:
    """Every recording, by its path below with ``/``, in the order of names; what is hidden is left out."""
    if folder is not None:
        yield from _below(folder, "")


def _below(folder: Path, before: str) -> Iterator[tuple[str, Stamp]]:
    for one in sorted(os.scandir(folder), key=lambda one: one.name):
        if one.name.startswith("."):
            continue
        if one.is_dir(follow_symlinks=False):
            yield from _below(Path(one.path), f"{before}{one.name}/")
        elif is_film(Path(one.name)) and one.is_file():
            found = one.stat()
            yield _told(f"{before}{one.name}"), Stamp(found.st_mtime_ns, found.st_size)


def _told(name: str) -> str:
    """A path as text; bytes that are no text are spelled out, and such a file cannot be read by this name."""
    return name.encode("utf-8", "backslashreplace").decode()
