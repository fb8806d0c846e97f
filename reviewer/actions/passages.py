"""The marks that count as passages of their recordings, fit to leave the house."""

import re
from bisect import bisect_right
from collections.abc import Iterable, Mapping, Sequence
from urllib.parse import quote

from reviewer.actions.audit import Audit, AuditError
from reviewer.casefile import RecordingCited
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message
from reviewer.terms.passages import Footage, Passage
from reviewer.terms.problems import Problem
from reviewer.terms.rulebook import RuleBook

_ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def footage_of(audit: Audit, recording: str, name: str | None = None) -> Footage:
    """A recording as others are told of it: by a file name, or else by a URN of its fingerprint.

    An AuditError for a name with a path in it.
    """
    cited = audit.cited(recording)
    if name is not None and (not name.strip() or set("/\\") & set(name) or name in (".", "..")):
        said = message("{name} is no bare file name.", name=repr(name))
        raise AuditError(
            Problem("no-file-name", "--name", said, message("Give it without folders, such as a.mp4."))
        )
    source = f"urn:sha256:{cited.sha256}" if name is None else quote(name, safe="")
    return Footage(cited.sha256, source, cited.base, cited.pts[0], cited.on_screen(cited.pts[-1])[1])


def passages_of(audit: Audit) -> tuple[Passage, ...]:
    """Every mark of the attempt that counts, in routine order; each judge is a letter."""
    aside, clauses, book = set(audit.set_aside), _deciding(audit), audit.book
    counting = [mark for mark in audit.marks if mark.id not in aside]
    judges = judges_of(audit)
    return tuple(_passage(audit, book, mark, counting, clauses.get(mark.id, ()), judges) for mark in counting)


def judges_of(audit: Audit) -> Mapping[str, str]:
    """A letter for everybody who wrote in the case or deducts in it."""
    named = {mark.judge for mark in audit.marks if mark.judge is not None}
    return letters(named | {event.author for event in audit.case.events})


def id_outside(name: str, judges: Mapping[str, str]) -> str:
    """An id with the letters of those whose codes stand before it, as after a merge: ``B.m3``."""
    *before, last = name.split(".")
    return ".".join((*(judges.get(one, one) for one in before), last))


def marks_told(audit: Audit, told: str) -> tuple[str, ...]:
    """The ids, in the case, of the marks that are told outside by this one."""
    judges = judges_of(audit)
    return tuple(mark.id for mark in audit.marks if id_outside(mark.id, judges) == told)


def letters(judges: Iterable[str]) -> Mapping[str, str]:
    """A letter for each judge: their own where they go by one, else the next that is free."""
    names = sorted(set(judges))
    own = {name: name for name in names if re.fullmatch("[A-Z]", name)}
    free = (f"{letter}{number or ''}" for number in range(len(names) + 1) for letter in _ALPHABET)
    spare = (letter for letter in free if letter not in own)
    return own | {name: next(spare) for name in names if name not in own}


def _deciding(audit: Audit) -> Mapping[str, tuple[str, ...]]:
    """The clauses of the sheet that cite a mark, by its id."""
    sheet, found = audit.sheet, dict[str, dict[str, None]]()
    citing = [(one.clause, one.marks) for one in sheet.lines]
    citing += [(one.clause, one.marks) for one in sheet.not_earned]
    citing += [(one.clause, one.marks) for one in sheet.not_taken]
    for clause, marks in citing:
        for mark in marks:
            found.setdefault(mark, {})[clause] = None
    return {mark: tuple(clauses) for mark, clauses in found.items()}


def _passage(
    audit: Audit,
    book: RuleBook,
    mark: Mark,
    marks: Sequence[Mark],
    decided: tuple[str, ...],
    judges: Mapping[str, str],
) -> Passage:
    own = book.named(mark.kind, mark.code)
    start, end = _span(audit, mark, marks)
    return Passage(
        id=id_outside(mark.id, judges),
        event=audit.state.events_of[mark.id],
        kind=mark.kind,
        code=mark.code,
        name=own.name if own else mark.code,
        clauses=tuple(dict.fromkeys((*([own.clause] if own else ()), *decided))),
        recording=audit.cited(mark.recording).sha256 if audit.state.recordings else None,
        start=start,
        end=end,
        amount=mark.amount,
        judge=None if mark.judge is None else judges[mark.judge],
        seen=mark.seen,
    )


def _span(audit: Audit, mark: Mark, marks: Sequence[Mark]) -> tuple[int | None, int | None]:
    """From which tick, and up to which, a mark is about its recording; of one without a time, nothing.

    A moment lasts while its picture is on screen, an element without an end until the next one begins. A
    fault without a time is about its element's.
    """
    begins = mark.start if mark.start is not None else mark.at
    if begins is None:
        element = next((one for one in marks if one.id == mark.element), None)
        return _span(audit, element, marks) if element is not None else (None, None)
    if not audit.state.recordings:
        return None, None
    cited = audit.cited(mark.recording)
    shown, gone = cited.on_screen(begins)
    ends = mark.end if mark.start is not None else None
    if ends is None and mark.kind == "element" and mark.start is not None:
        ends = _next_start(mark, marks)
    last = cited.on_screen(cited.pts[-1])[1]
    begin, end = max(shown, cited.pts[0]), min(max(_whole(cited, ends), gone), last)
    return (begin, end) if begin < end else (None, None)


def _whole(cited: RecordingCited, tick: int | None) -> int:
    """The beginning of the picture on screen at a tick; before the first for no tick."""
    return cited.pts[max(bisect_right(cited.pts, tick) - 1, 0)] if tick is not None else cited.pts[0]


def _next_start(mark: Mark, marks: Sequence[Mark]) -> int | None:
    """Where the next element on the same recording begins."""
    later = [
        one.start
        for one in marks
        if one.kind == "element" and one.recording == mark.recording and one.start is not None
    ]
    return min((start for start in later if start > (mark.start or 0)), default=None)
