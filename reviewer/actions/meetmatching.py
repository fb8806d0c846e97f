"""Which recording is of which routine, by the names of files; what is not plain is not guessed.

A routine's name must stand in a path as a whole word, so that start 1 is not found in ``12.mp4``. Capitals do
not matter, nor do leading zeros where no other start is named so. Where one name holds another, as B-7
does 7, the longer one is meant.
"""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from reviewer.terms.meets import Start
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem

PATTERN = "*{start}*"
"""Finds a routine's name anywhere in the path."""
_PLACE, _ANY = "{start}", "*"
_WORDS = re.compile(r"[A-Za-z0-9_-]+")
_ZEROS = re.compile(r"(?<![0-9])0+(?=[0-9])")
_LONGEST = 40
"""Letters of a name in a path, with leading zeros."""


@dataclass(frozen=True, slots=True)
class Fits:
    """Which recordings fit which routines.

    Attributes:
        of_start: recordings that fit each routine; those without any are left out.
        of_recording: the routines that each recording fits; those that fit none are left out.
    """

    of_start: Mapping[str, Sequence[str]]
    of_recording: Mapping[str, Sequence[str]]

    def only(self, start: str) -> str | None:
        """The one recording of a routine; None where there is none, or it is not plain which."""
        fitting = self.of_start.get(start, ())
        return fitting[0] if len(fitting) == 1 and len(self.of_recording[fitting[0]]) == 1 else None


def fits_of(starts: Iterable[str], recordings: Iterable[str], pattern: str) -> Fits:
    """What fits what; a DocumentError for a pattern that names no place of the routine's name."""
    wanted, of_start, of_recording = _Pattern(pattern, starts), dict[str, list[str]](), dict[str, list[str]]()
    for recording in recordings:
        found = sorted(set(wanted.starts_in(recording)))
        if found:
            of_recording[recording] = found
        for start in found:
            of_start.setdefault(start, []).append(recording)
    return Fits(of_start, of_recording)


def matched(starts: Sequence[Start], recordings: Iterable[str], pattern: str) -> tuple[Start, ...]:
    """The routines with those recordings that are plainly theirs; what was matched by hand stays.

    A recording that somebody gave to one routine is not found for another.
    """
    taken = {path for one in starts if one.by_hand for path in one.recordings}
    fits = fits_of((one.name for one in starts), (path for path in recordings if path not in taken), pattern)
    return tuple(one if one.by_hand else replace(one, recordings=_plain(fits, one.name)) for one in starts)


def _plain(fits: Fits, start: str) -> tuple[str, ...]:
    found = fits.only(start)
    return () if found is None else (found,)


class _Pattern:
    """Finds routines in paths."""

    def __init__(self, pattern: str, starts: Iterable[str]) -> None:
        before, place, after = pattern.partition(_PLACE)
        if not place or _PLACE in after:
            said = message("The pattern must hold {place} once.", place=repr(_PLACE))
            remedy = message("Write where the routine's name stands, such as {pattern}.", pattern=PATTERN)
            raise DocumentError(Problem("bad-pattern", pattern, said, remedy))
        self._before, self._after = _compiled(before), _compiled(after)
        self._own_word = not before or before.endswith(_ANY), not after or after.startswith(_ANY)
        self._named: dict[str, str] = {}
        self._nearly: dict[str, list[str]] = {}
        for start in starts:
            self._named[start.lower()] = start
            self._nearly.setdefault(_plainly(start), []).append(start)

    def starts_in(self, path: str) -> Iterator[str]:
        """Every routine whose name stands in a path where the pattern wants it."""
        found = [
            (start, end, names)
            for start, end, names in self._names_in(path)
            if self._before.fullmatch(path, 0, start) and self._after.fullmatch(path, end)
        ]
        for start, end, names in found:
            if not any(a <= start and end <= z and z - a > end - start for a, z, _ in found):
                yield from names

    def _names_in(self, path: str) -> Iterator[tuple[int, int, Sequence[str]]]:
        left, right = self._own_word
        for word in _WORDS.finditer(path):
            for start in range(word.start(), word.end()):
                if left and start and path[start - 1].isalnum():
                    continue
                for end in range(start + 1, min(word.end(), start + _LONGEST) + 1):
                    if right and end < len(path) and path[end].isalnum():
                        continue
                    if names := self._called(path[start:end]):
                        yield start, end, names

    def _called(self, said: str) -> Sequence[str]:
        exactly = self._named.get(said.lower())
        return (exactly,) if exactly is not None else self._nearly.get(_plainly(said), ())


def _compiled(part: str) -> re.Pattern[str]:
    """A part of a pattern, on one side of the routine's name."""
    parts = re.split(r"\*+", part)
    return re.compile(".*".join(map(re.escape, parts)), re.IGNORECASE | re.DOTALL)


def _plainly(name: str) -> str:
    """A name in small letters without leading zeros."""
    return _ZEROS.sub("", name.lower())
