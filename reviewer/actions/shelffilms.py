"""Where the recordings of found passages lie: only those that are shown are looked for.

A recording is known by its fingerprint, and reading that takes a while: it is kept in the index under a word
made of the file's path, size and time, so that no path stands there.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from reviewer import casefile, video
from reviewer.actions.opening import is_film
from reviewer.shelf import Shelf
from reviewer.terms.problems import ReviewerError
from reviewer.terms.shelving import Hit

HERE, CHANGED, MISSING = "here", "changed", "missing"
"""What a recording is found to be: the file that the case cites; another one in its place; not there."""


@dataclass(frozen=True, slots=True)
class Whereabouts:
    """Where a recording lies: ``state`` is `HERE`, `CHANGED` or `MISSING`, ``path`` the file that is here."""

    state: str
    path: Path | None = None


def whereabouts(shelf: Shelf, folder: Path, hits: Iterable[Hit]) -> dict[tuple[str, str], Whereabouts]:
    """Where the recordings of passages lie, by case and fingerprint.

    Looked for where the case remembers it, and beside the case under the case's own name; opening the case
    looks farther.
    """
    wanted = {(hit.case.path, hit.passage.stretch.recording) for hit in hits if hit.passage.stretch}
    return {key: _lies(shelf, folder / key[0], key[1]) for key in sorted(wanted)}


def _lies(shelf: Shelf, case: Path, recording: str) -> Whereabouts:
    files = [one for one in _places(case, recording) if one.is_file()]
    for file in files:
        if _fingerprint(shelf, file) == recording:
            return Whereabouts(HERE, file)
    return Whereabouts(CHANGED if files else MISSING)


def _places(case: Path, recording: str) -> Iterator[Path]:
    try:
        with casefile.open_case(case, None) as opened:
            remembered = opened.place(recording)
    except ReviewerError:
        return
    if remembered is not None:
        yield remembered
    yield from (one for one in sorted(case.parent.glob(f"{_literal(case.stem)}.*")) if is_film(one))


def _fingerprint(shelf: Shelf, file: Path) -> str | None:
    try:
        found = file.stat()
        said = f"{file.resolve()}\0{found.st_mtime_ns}\0{found.st_size}"
        place = sha256(said.encode("utf-8", "surrogateescape")).hexdigest()
        known = shelf.film(place)
        if known is None:
            known = video.fingerprint(file)
            shelf.keep_film(place, known)
        return known
    except (ReviewerError, OSError):
        return None


def _literal(name: str) -> str:
    """A name as a pattern of files takes it."""
    return "".join(f"[{sign}]" if sign in "*?[" else sign for sign in name)
