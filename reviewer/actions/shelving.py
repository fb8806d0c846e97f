"""A case as the shelf keeps it: what was marked, what each mark costs, and what is left open of it.

A case is opened with every check of its chain and scored; only the text of a rule book, which many cases
share, is read once.
"""

from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from hashlib import sha256
from pathlib import Path
from typing import Any

from reviewer import casefile
from reviewer.actions.audit import Audit
from reviewer.actions.passages import passages_of
from reviewer.scoring.deductions import menu
from reviewer.terms.consents import WITHDRAWN
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message
from reviewer.terms.passages import Passage
from reviewer.terms.problems import Problem, ReviewerError
from reviewer.terms.sheets import CastDecided
from reviewer.terms.shelving import (
    LOCKED,
    UNREADABLE,
    VERDICTS,
    Moment,
    Shelved,
    ShelvedCase,
    Stamp,
    Stretch,
    Subject,
)
from reviewer.words import LANGUAGES, saying

_SAID = {"met": VERDICTS[0], "within": VERDICTS[1], "short": VERDICTS[2], "not seen": VERDICTS[3]}
"""A cast's state as the score sheet names it, and as a judge says it."""
_OPEN = VERDICTS[4]


def fingerprint_of(path: Path) -> str:
    """SHA-256 of a case's file; OSError where it cannot be read."""
    return sha256(path.read_bytes()).hexdigest()


def shelved_case(path: Path, name: str, stamp: Stamp) -> ShelvedCase:
    """A case as the shelf keeps it under a name; one that cannot be read, with the reason."""
    digest = ""
    try:
        digest = fingerprint_of(path)
        with casefile.open_case(path, None) as case:
            if case.state.consent == WITHDRAWN:
                return ShelvedCase(name, stamp, digest, LOCKED)
            return _shelved(Audit(case), ShelvedCase(name, stamp, digest))
    except ReviewerError as error:
        problem = replace(error.problems[0], where=name)
    except OSError as fault:
        said = message("This case cannot be read: {why}.", why=fault.strerror or fault)
        problem = Problem("cannot-read", name, said, message("See that you may read it."))
    return ShelvedCase(name, stamp, digest, UNREADABLE, problem)


def verdict_of(cast: CastDecided) -> str:
    """How a cast was counted, as a judge says it; ``cannot tell`` where that is left open."""
    return _SAID[cast.state] if len(cast.left_open) == 1 else _OPEN


def _shelved(audit: Audit, case: ShelvedCase) -> ShelvedCase:
    aside = set(audit.set_aside)
    marks = {mark.id: mark for mark in audit.marks if mark.id not in aside}
    told = _Telling(audit, marks)
    passages = tuple(
        told.passage(mark, one) for mark, one in zip(marks.values(), passages_of(audit), strict=True)
    )
    book, day = audit.book, audit.case.events[0].at[:10]
    return replace(case, day=day, edition=book.id, division=book.division, passages=passages)


class _Telling:
    """Tells the marks of one case."""

    def __init__(self, audit: Audit, marks: Mapping[str, Mark]) -> None:
        self._marks, self._book = marks, audit.book
        self._names = {one.code: one.name for one in (*self._book.roles, *self._book.conditions)}
        sheet = audit.sheet
        self._casts = {one.mark: one for one in sheet.casts}
        self._unsound = {one.where for one in sheet.problems}
        self._contested = {one.where for one in audit.state.conflicts if one.what == "mark"}
        self._measured = dict(_measured(audit))
        self._recordings = {
            one.sha256: (number, one.time_base, one.pts)
            for number, one in enumerate(audit.state.recordings, start=1)
        }
        self._largest: dict[str, int] = {}
        for line in sheet.lines:
            for mark in line.marks:
                self._largest[mark] = max(self._largest.get(mark, 0), -line.points.thousandths)

    def passage(self, mark: Mark, told: Passage) -> Shelved:
        """A mark as the shelf keeps it; ``told`` is the same as it leaves the house."""
        angle = mark.angle if mark.kind == "element" else None
        verdict = self._verdict(mark)
        return Shelved(
            mark=told.id,
            subject=self._subject(mark, told, verdict),
            amount=self._amount(mark),
            angle=angle.value if angle else None,
            uncertainty=angle.uncertainty if angle else None,
            by=angle.by if angle else None,
            verdict=verdict,
            settled=self._is_settled(mark, verdict),
            judge=told.judge,
            seen=told.seen,
            stretch=self._stretch(mark, told),
        )

    def _verdict(self, mark: Mark) -> str | None:
        cast = self._casts.get(mark.id)
        return None if cast is None else verdict_of(cast)

    def _amount(self, mark: Mark) -> Points | None:
        if mark.kind == "fault":
            return mark.amount
        largest = self._largest.get(mark.id, 0)
        return Points(largest) if largest else None

    def _is_settled(self, mark: Mark, verdict: str | None) -> bool:
        if mark.id in self._unsound | self._contested or verdict == _OPEN:
            return False
        return mark.kind != "fault" or len(menu(mark, self._book)) == 1

    def _subject(self, mark: Mark, told: Passage, verdict: str | None) -> Subject:
        on = self._marks.get(mark.element or "")
        own = None if on is None else self._book.named("element", on.code)
        on_code, on_name = ("", "") if on is None else (on.code, own.name if own else on.code)
        said = [self._names.get(one, one) for one in (*mark.roles, *mark.conditions)]
        words = (told.name, on_name, *said, *mark.roles, *mark.conditions, verdict or "")
        codes = (mark.code, on_code, *told.clauses, mark.called or "")
        searched = " ".join((*codes, _in_all_languages(words)))
        return Subject(told.kind, told.code, told.name, on_code, on_name, told.clauses, searched)

    def _stretch(self, mark: Mark, told: Passage) -> Stretch | None:
        if told.recording is None or told.start is None or told.end is None:
            return None
        number, time_base, pts = self._recordings[told.recording]
        found = self._measured.get((mark.angle.reading or "") if mark.angle else "")
        tick = found[1] if found is not None and found[0] == told.recording else mark.moment()
        ticks = (told.start, told.end - 1, told.start if tick is None else tick)
        first, last, deciding = (max(0, bisect_right(pts, one) - 1) for one in ticks)
        moments = (Moment(frame, pts[frame]) for frame in (first, max(first, last), deciding))
        return Stretch(told.recording, number, time_base, *moments)


def _measured(audit: Audit) -> Iterator[tuple[str, tuple[str, int]]]:
    """Where each reading and each top of a track was found, by its id: recording and tick."""
    first = audit.state.recording
    for one in (*audit.state.readings, *audit.state.tracks):
        pts = _tick_of(one)
        recording = one.get("recording") or (first.sha256 if first else None)
        if pts is not None and recording is not None:
            yield one["id"], (recording, pts)


def _tick_of(record: Mapping[str, Any]) -> int | None:
    top = record["track"]["top"] if "track" in record else record
    pts = top.get("pts") if isinstance(top, Mapping) else None
    return pts if isinstance(pts, int) else None


@lru_cache(maxsize=4096)
def _in_all_languages(words: Sequence[str]) -> str:
    """Words of a rule book and of the program, and the same in every language that has others for them."""
    told = (saying(language).word(word) for language in LANGUAGES for word in words if word)
    return " ".join(dict.fromkeys(told))
