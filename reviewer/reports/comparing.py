"""Where a stored report and a derived one differ, named as precisely as a reader needs."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from difflib import SequenceMatcher
from hashlib import sha256
from itertools import zip_longest
from typing import Any

from reviewer.reports.page import pictures_in
from reviewer.reports.telling import shortened, told_apart

NAMED = 5
"""Differences of one file that are named; the others are counted."""
_ALIGNED = 1000
"""Lines between the first and the last that differ which are aligned; more are held pair by pair."""
_ABSENT = "(absent)"


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that is stored otherwise than it derives.

    Attributes:
        what: kind of thing: ``file event rule clause recording reading track length pool ledger picture
            page``.
        where: which one.
        stored, derived: both as text, of any length.
    """

    what: str
    where: str
    stored: str
    derived: str

    def to_json(self) -> dict[str, str]:
        """As the contract writes it; what is long is cut where the two part."""
        stored, derived = shortened(self.stored, self.derived)
        return {"what": self.what, "where": shortened(self.where)[0], "stored": stored, "derived": derived}


def compare_ledgers(stored: Mapping[str, Any], derived: Mapping[str, Any]) -> tuple[Difference, ...]:
    """Every value of two findings that differs; the bytes of pictures are left to `compare_pages`."""
    found = _walk(stored, derived, "")
    return tuple(Difference("ledger", f"report.json: {where}", old, new) for where, old, new in found)


def compare_files(name: str, stored: Any, derived: Any) -> tuple[Difference, ...]:
    """The first values in which two JSON documents differ that are not the same bytes."""
    found = [
        Difference("file", f"{name}: {where}", old, new) for where, old, new in _walk(stored, derived, "")
    ]
    form = Difference("file", name, "the same, written in another form", "as this program writes it")
    return _first(found, "file", name, "values") or (form,)


def compare_pages(stored: str, derived: str, finding: Mapping[str, Any]) -> tuple[Difference, ...]:
    """Pictures that are not the finding's, then the first lines of the page that differ."""
    carried = pictures_in(stored)
    pictures = tuple(
        Difference("picture", f"report.html: {place_of(still)}", digest, still["jpeg_sha256"])
        for still in finding["stills"]
        if (digest := sha256(carried.get(still["id"], b"")).hexdigest()) != still["jpeg_sha256"]
    )
    return pictures if stored == derived else (*pictures, *_lines(stored, derived))


def place_of(still: Mapping[str, Any]) -> str:
    """Where a still stands, such as ``frame 77``, with its recording where there are several."""
    of = f" of recording {still['recording']}" if "recording" in still else ""
    return f"frame {still['frame']}{of}"


def _lines(stored: str, derived: str) -> tuple[Difference, ...]:
    found = [
        Difference("page", f"report.html: line {number}", old.strip(), new.strip())
        for number, old, new in _unlike(stored.splitlines(), derived.splitlines())
    ]
    ends = Difference("page", "report.html: line ends", "other white space", "as this program writes it")
    return _first(found, "page", "report.html", "lines") or (ends,)


def _first(found: list[Difference], what: str, name: str, kind: str) -> tuple[Difference, ...]:
    """As many as are named, and how many more there are."""
    rest = len(found) - NAMED
    if rest <= 0:
        return tuple(found)
    more = Difference(what, f"{name}: further {kind}", f"{rest} more", "(not named)")
    return (*found[:NAMED], more)


def _unlike(old: list[str], new: list[str]) -> Iterator[tuple[int, str, str]]:
    """Line number in ``old`` from 1, and both lines, wherever two texts differ."""
    alike = next(
        (place for place, (a, b) in enumerate(zip(old, new, strict=False)) if a != b), min(len(old), len(new))
    )
    old, new = old[alike:], new[alike:]
    while old and new and old[-1] == new[-1]:
        old.pop()
        new.pop()
    for start, was, now in _runs(old, new):
        pairs = zip_longest(was, now, fillvalue=_ABSENT)
        yield from ((alike + start + number, *pair) for number, pair in enumerate(pairs, start=1))


def _runs(old: list[str], new: list[str]) -> Iterable[tuple[int, list[str], list[str]]]:
    """Where each run of lines that differ begins in ``old``, and the lines on both sides."""
    if max(len(old), len(new)) > _ALIGNED:
        pairs = enumerate(zip_longest(old, new, fillvalue=_ABSENT))
        return ((number, [a], [b]) for number, (a, b) in pairs if a != b)
    steps = SequenceMatcher(None, old, new, autojunk=False).get_opcodes()
    return ((a, old[a:b], new[c:d]) for kind, a, b, c, d in steps if kind != "equal")


def _walk(old: Any, new: Any, where: str) -> Iterator[tuple[str, str, str]]:
    if isinstance(old, Mapping) and isinstance(new, Mapping):
        for name in sorted(old.keys() | new.keys()):
            place = f"{where}.{name}" if where else name
            yield from _walk(old.get(name, _ABSENT), new.get(name, _ABSENT), place)
    elif isinstance(old, list) and isinstance(new, list):
        for number, (first, second) in enumerate(zip_longest(old, new, fillvalue=_ABSENT)):
            yield from _walk(first, second, f"{where}[{number}]")
    elif old != new or isinstance(old, bool) is not isinstance(new, bool):
        yield where, *told_apart(old, new)
