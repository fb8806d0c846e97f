"""Many cases as one shelf knows them: what stands in each, and what may be looked for among them."""

from dataclasses import dataclass
from typing import NamedTuple

from reviewer.terms.exact import Degrees, Points
from reviewer.terms.problems import Problem

OPEN, LOCKED, UNREADABLE = "open", "locked", "unreadable"
"""What a case is to the shelf: it is searched, consent was withdrawn, or it cannot be read."""

VERDICTS = ("met", "within tolerance", "not met", "not seen", "cannot tell")
"""What may be said of a cast that decides; the last where its angle or verdict leaves more than one open."""


class Stamp(NamedTuple):
    """What a file was when it was read last: when it was changed (nanoseconds), and its size in bytes."""

    changed: int
    size: int


@dataclass(frozen=True, slots=True)
class Moment:
    """A frame of a recording: its number, from 0, and its tick."""

    frame: int
    pts: int


@dataclass(frozen=True, slots=True)
class Stretch:
    """Where a mark lies on a recording.

    Attributes:
        recording: SHA-256.
        number: the recording's place among those the case cites, from 1.
        time_base: length of a tick, as text.
        first, last: of the passage, both part of it.
        deciding: the frame that it is shown at: that of the reading, of the mark's moment, or the first.
    """

    recording: str
    number: int
    time_base: str
    first: Moment
    last: Moment
    deciding: Moment


@dataclass(frozen=True, slots=True)
class Subject:
    """What a passage is about, shared by many: all that can be looked for in words.

    Attributes:
        kind: ``element``, ``fault`` or ``fact``.
        code, name: of the rule book's element, fault or fact.
        on_code, on_name: of the element that a fault belongs to; empty where there is none.
        clauses: ids of those that decided over it.
        words: everything it can be found by in words, in each language there is.
    """

    kind: str
    code: str
    name: str
    on_code: str = ""
    on_name: str = ""
    clauses: tuple[str, ...] = ()
    words: str = ""


@dataclass(frozen=True, slots=True)
class Shelved:
    """One mark that counts.

    Attributes:
        mark: its id, as it is told outside.
        subject: what it is about.
        amount: what the judge deducts (faults); of another mark the most that one line takes for it, or None.
        angle, uncertainty: of a cast, where one is known; the standard uncertainty.
        by: ``eye`` or ``protractor``, or None.
        verdict: one of `VERDICTS` for a cast that decides, else None.
        settled: whether nothing of it is left open: no amount, no verdict, no conflict of merged cases.
        judge: a letter, or None when there is one judge.
        seen: ``full-speed`` or ``slowed``, or None when not said.
        stretch: where it lies; None where it has no time, or the case no recording.
    """

    mark: str
    subject: Subject
    amount: Points | None = None
    angle: Degrees | None = None
    uncertainty: Degrees | None = None
    by: str | None = None
    verdict: str | None = None
    settled: bool = True
    judge: str | None = None
    seen: str | None = None
    stretch: Stretch | None = None


@dataclass(frozen=True, slots=True)
class ShelvedCase:
    """One case file.

    Attributes:
        path: below the shelf's folder, parts joined by ``/``.
        stamp, sha256: of the file as it was read; no fingerprint where it could not be.
        state: `OPEN`, `LOCKED` or `UNREADABLE`. All that follows is empty but of an open case.
        problem: why it cannot be read, else None.
        day: on which it was begun, ``YYYY-MM-DD`` in UTC.
        edition, division: of its rule book.
        passages: in routine order.
    """

    path: str
    stamp: Stamp
    sha256: str = ""
    state: str = OPEN
    problem: Problem | None = None
    day: str = ""
    edition: str = ""
    division: str = ""
    passages: tuple[Shelved, ...] = ()


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is looked for: a passage must fit all that is said. What is empty or None asks for nothing.

    Attributes:
        words: beginnings of words, all of which must stand in what it can be found by.
        element: code or name; ``*`` stands for anything, capitals do not matter. Elements alone are meant,
            but beside ``fault``: then the element that the fault belongs to.
        fault, clause, edition, division: likewise, of faults, of any clause that decided, of the rule book.
        amount: least and most.
        angle: least and most elevation.
        verdict: one of `VERDICTS`.
        settled: only what is settled, or only what is arguable.
        since, until: first and last day on which the case was begun.
    """

    words: str = ""
    element: str = ""
    fault: str = ""
    clause: str = ""
    amount: tuple[Points, Points] | None = None
    angle: tuple[Degrees, Degrees] | None = None
    verdict: str = ""
    settled: bool | None = None
    edition: str = ""
    division: str = ""
    since: str = ""
    until: str = ""


@dataclass(frozen=True, slots=True)
class Hit:
    """One passage that was found, and the case it stands in (without that one's other passages)."""

    case: ShelvedCase
    passage: Shelved


@dataclass(frozen=True, slots=True)
class Found:
    """What a search comes to.

    Attributes:
        total, cases: passages that fit, and cases they stand in.
        hits: those asked for, the newest case first, each in routine order.
    """

    total: int
    cases: int
    hits: tuple[Hit, ...]
