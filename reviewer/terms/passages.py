"""Marks as they leave the house in open forms: codes and times, no path and no name of a person."""

from dataclasses import dataclass

from reviewer.terms.exact import Points
from reviewer.terms.times import TimeBase


@dataclass(frozen=True, slots=True)
class Footage:
    """A recording as others are told of it.

    Attributes:
        sha256: of its bytes.
        source: what it is called there: a URN of its fingerprint, or a bare file name.
        base: length of a tick.
        first: tick of the first picture, from which others count.
        last: tick at which the last picture leaves the screen.
    """

    sha256: str
    source: str
    base: TimeBase
    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Passage:
    """One mark that counts.

    Attributes:
        id: of the mark.
        event: SHA-256 of the event of the case that last said it.
        kind: ``element``, ``fault`` or ``fact``.
        code, name: of the rule book's element, fault or fact.
        clauses: ids of those that decided over it.
        recording: SHA-256 of the recording it is about, or None where the case cites none.
        start, end: ticks of that recording, the end no longer part of it; None where it has no time.
        amount: what the judge takes (faults).
        judge: a letter, or None when there is one judge.
        seen: ``full-speed`` or ``slowed``, or None when not said.
    """

    id: str
    event: str
    kind: str
    code: str
    name: str
    clauses: tuple[str, ...]
    recording: str | None
    start: int | None
    end: int | None
    amount: Points | None
    judge: str | None
    seen: str | None
