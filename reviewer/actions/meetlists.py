"""A meet begun from its table, and its routines matched with recordings."""

import os
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from reviewer import rules
from reviewer.actions.meetholding import held_meet, starts_named
from reviewer.actions.meetmatching import PATTERN, matched
from reviewer.actions.meetrecordings import folder_of_recordings, recordings_below, recordings_folder
from reviewer.actions.meettables import starts_of
from reviewer.actions.opening import is_film
from reviewer.exchange.meets import NAME, write_meet
from reviewer.terms.meets import Meet, Start
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem

_LONGEST = 80
"""Letters of a meet's title."""


@dataclass(frozen=True, slots=True)
class Begun:
    """A meet that was begun, and the headers of columns that were not read."""

    meet: Meet
    unread: tuple[str, ...]


def begin_meet(
    table: Path,
    folder: Path,
    *,
    rule_book: str,
    recordings: Path | None = None,
    pattern: str = PATTERN,
    title: str = "",
) -> Begun:
    """Begin a meet in a folder, which is made.

    A DocumentError with every fault of the table, or where an edition or a folder is not there, or a meet is
    there already; nothing is written then.
    """
    _refuse_taken(folder)
    place, called = rules.find(rule_book), _title(title)
    starts, unread = starts_of(table, rules.load(place))
    if recordings is None:
        _refuse_recordings(starts, table)
    films = (path for path, _ in recordings_below(folder_of_recordings(recordings) if recordings else None))
    found = matched(starts, films, pattern)
    book = rule_book if place.stem == rule_book else str(place.resolve())
    meet = Meet(book, _from(folder, recordings), pattern, found, title=called)
    folder.mkdir(parents=True, exist_ok=True)
    write_meet(folder, meet)
    return Begun(meet, unread)


def _refuse_taken(folder: Path) -> None:
    if folder.exists() and not folder.is_dir():
        said, remedy = message("This is a file."), message("Name a folder.")
        raise DocumentError(Problem("a-file", str(folder), said, remedy))
    if (folder / NAME).exists():
        said, remedy = message("This folder holds a meet already."), message("Name another folder.")
        raise DocumentError(Problem("meet-exists", str(folder), said, remedy))


def _title(said: str) -> str:
    """What a meet is called, in one line; a DocumentError for what is too long to stand above a report."""
    found = " ".join(said.split())
    if len(found) > _LONGEST or not found.isprintable():
        what, remedy = message("This is no title of a meet."), message("Write up to 80 letters, in one line.")
        raise DocumentError(Problem("no-title", "title", what, remedy))
    return found


def match_again(folder: Path, *, pattern: str | None = None, recordings: Path | None = None) -> Meet:
    """Look for recordings anew, by another pattern or in another folder where one is given.

    What was matched by hand stays.
    """
    with held_meet(folder) as meet:
        if recordings is not None:
            meet = replace(meet, recordings=_from(folder, folder_of_recordings(recordings)))
        pattern = pattern or meet.pattern
        films = (path for path, _ in recordings_below(recordings_folder(folder, meet)))
        found = replace(meet, pattern=pattern, starts=matched(meet.starts, films, pattern))
        write_meet(folder, found)
    return found


def match_by_hand(folder: Path, start: str, recordings: Sequence[Path]) -> Start:
    """Give a routine these recordings, or with none say that it has none; a DocumentError for others.

    What a pattern had found for another routine goes to this one.
    """
    with held_meet(folder) as meet:
        (one,) = starts_named(meet, [start])
        inside = recordings_folder(folder, meet)
        paths = tuple(dict.fromkeys(_below(path, inside) for path in recordings))
        given = replace(one, recordings=paths, by_hand=True)
        starts = tuple(given if old is one else _without(old, paths) for old in meet.starts)
        write_meet(folder, replace(meet, starts=starts))
    return given


def _without(start: Start, paths: Sequence[str]) -> Start:
    if start.by_hand or not set(start.recordings) & set(paths):
        return start
    return replace(start, recordings=tuple(path for path in start.recordings if path not in paths))


def _below(path: Path, inside: Path | None) -> str:
    """A recording's path below the folder of recordings: as it is said from there, or from here."""
    if not is_film(path):
        said = message("It is not named as recordings are.")
        remedy = message("Name a recording, such as one that `reviewer meet show` lists.")
        raise DocumentError(Problem("no-recording", str(path), said, remedy))
    for place in () if inside is None else (inside / path, Path.cwd() / path):
        real = place.parent.resolve() / place.name
        if inside is not None and place.is_file() and real.is_relative_to(inside.resolve()):
            return real.relative_to(inside.resolve()).as_posix()
    said = message("There is no such recording below the folder of recordings.")
    remedy = message("Name a file in it; `reviewer meet match --again --recordings` names another folder.")
    raise DocumentError(Problem("no-recording", str(path), said, remedy))


def _refuse_recordings(starts: Sequence[Start], table: Path) -> None:
    named = next((one for one in starts if one.recordings), None)
    if named is not None:
        said = message("The table names recordings, and no folder is given that they lie in.")
        remedy = message("Name it with --recordings.")
        raise DocumentError(Problem("no-folder", f"{table.name}:{named.line}", said, remedy))


def _from(folder: Path, recordings: Path | None) -> str | None:
    """The folder of recordings as a meet's folder sees it, so that both may be moved together."""
    if recordings is None:
        return None
    try:
        return Path(os.path.relpath(recordings.resolve(), folder.resolve())).as_posix()
    except ValueError:  # on another drive
        return str(recordings.resolve())
