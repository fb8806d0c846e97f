"""Where a stored report and a derived one differ, named as precisely as a reader needs."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from hashlib import sha256
from itertools import zip_longest
from typing import Any

from reviewer.reports.page import pictures_in


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that is stored otherwise than it derives.

    Attributes:
        what: kind of thing: ``file event rule clause recording reading track length pool ledger picture
            page``.
        where: which one.
        stored, derived: both as text.
    """

    what: str
    where: str
    stored: str
    derived: str

    def to_json(self) -> dict[str, str]:
        """As the contract writes it."""
        return {"what": self.what, "where": self.where, "stored": self.stored, "derived": self.derived}


def compare_ledgers(stored: Mapping[str, Any], derived: Mapping[str, Any]) -> tuple[Difference, ...]:
    """Every value of two findings that differs; the bytes of pictures are left to `compare_pages`."""
    found = _walk(stored, derived, "")
    return tuple(Difference("ledger", f"report.json: {where}", old, new) for where, old, new in found)


def compare_pages(stored: str, derived: str, finding: Mapping[str, Any]) -> tuple[Difference, ...]:
    """Pictures that are not the finding's, then the first line of the page that differs."""
    carried = pictures_in(stored)
    pictures = tuple(
        Difference("picture", f"report.html: {place_of(still)}", digest, still["jpeg_sha256"])
        for still in finding["stills"]
        if (digest := sha256(carried.get(still["id"], b"")).hexdigest()) != still["jpeg_sha256"]
    )
    if pictures or stored == derived:
        return pictures
    return (_first_line(stored, derived),)


def place_of(still: Mapping[str, Any]) -> str:
    """Where a still stands, such as ``frame 77``, with its recording where there are several."""
    of = f" of recording {still['recording']}" if "recording" in still else ""
    return f"frame {still['frame']}{of}"


def _first_line(stored: str, derived: str) -> Difference:
    pairs = zip_longest(stored.splitlines(), derived.splitlines(), fillvalue="")
    for number, (old, new) in enumerate(pairs, start=1):
        if old != new:
            return Difference("page", f"report.html: line {number}", old.strip()[:200], new.strip()[:200])
    return Difference("page", "report.html: line ends", "", "")


def _walk(old: Any, new: Any, where: str) -> Iterator[tuple[str, str, str]]:
    if isinstance(old, Mapping) and isinstance(new, Mapping):
        for name in sorted(old.keys() | new.keys()):
            place = f"{where}.{name}" if where else name
            yield from _walk(old.get(name, _ABSENT), new.get(name, _ABSENT), place)
    elif isinstance(old, list) and isinstance(new, list):
        for number, (first, second) in enumerate(zip_longest(old, new, fillvalue=_ABSENT)):
            yield from _walk(first, second, f"{where}[{number}]")
    elif old != new:
        yield where, str(old)[:200], str(new)[:200]


_ABSENT = "(absent)"
