"""A case for each routine of a meet: made once, then left alone but for recordings that are found later."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from reviewer import casefile
from reviewer.actions.audit import Audit
from reviewer.actions.marking import enter_posted
from reviewer.actions.opening import choose_book, cite
from reviewer.actions.panelposted import enter_posted_sheet
from reviewer.terms.consents import WITHDRAWN
from reviewer.terms.meets import Start
from reviewer.terms.messages import message
from reviewer.terms.posted import PostedSheet
from reviewer.terms.problems import DocumentError, Problem
from reviewer.terms.rulebook import RuleBook

Films = Mapping[Path, Mapping[str, Any]]
"""Recordings of one routine: where each lies, and how an event cites it."""


@dataclass(frozen=True, slots=True)
class Beginning:
    """How the cases of a meet begin: by which edition, by whom, and with which consent."""

    book: RuleBook
    author: str
    consent: str


def make_case(path: Path, start: Start, beginning: Beginning, films: Films) -> None:
    """Make the case of a routine, whole or not at all; a CaseError where it cannot be written.

    The file takes its name when all is in it, so that a stop leaves none that is half made.
    """
    part = path.with_name(f".{path.name}")
    part.unlink(missing_ok=True)  # of a run that was stopped
    case = casefile.create_case(part, beginning.author, start.athlete, beginning.consent)
    try:
        with case.together():
            choose_book(case, beginning.book)
            for place, how in films.items():
                cite(case, how, place)
            _keep_posted(Audit(case), start.posted)
        case.close()
        part.rename(path)
    except BaseException:
        case.close()
        part.unlink(missing_ok=True)
        raise


def _keep_posted(audit: Audit, posted: PostedSheet) -> None:
    if posted != PostedSheet():
        enter_posted_sheet(audit, posted)
    if posted.final is not None:
        enter_posted(audit, posted.final)


def cite_later(path: Path, author: str, films: Films) -> bool:
    """Let a case that is there cite those recordings that it does not; whether there were any.

    A ReviewerError where something forbids it: the case is sealed, consent was withdrawn, somebody writes to
    it, or it cites another recording, which may be of somebody else.
    """
    wanted = {how["sha256"]: (how, place) for place, how in films.items()}
    with casefile.open_case(path, None) as case:
        known, sealed = {one.sha256 for one in case.state.recordings}, case.state.sealed is not None
    lacking = wanted.keys() - known
    remedy = message("See which is right; `reviewer recordings add` adds one.")
    if lacking and known - wanted.keys():
        said = message("It cites another recording than the list of the meet says.")
        raise DocumentError(Problem("other-recording", str(path), said, remedy))
    if lacking and sealed:
        said = message("This sheet is sealed, so no recording is added to it unasked.")
        raise DocumentError(Problem("sealed", str(path), said, remedy))
    if lacking:
        with casefile.open_case(path, author) as case, case.together():
            for digest in (one for one in wanted if one in lacking):
                cite(case, *wanted[digest])
    return bool(lacking)


def is_locked(path: Path) -> bool:
    """Whether consent was withdrawn for a case; one that cannot be read, or is not there, is not locked."""
    try:
        with casefile.open_case(path, None) as case:
            return case.state.consent == WITHDRAWN
    except casefile.CaseError:
        return False
