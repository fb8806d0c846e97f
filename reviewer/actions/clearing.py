"""Deleting what is past its date; what is left of a case is its ledger."""

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from reviewer import casefile
from reviewer.actions.expiring import RECORDING, Expired
from reviewer.actions.meetforgetting import forget_in_meets
from reviewer.actions.remembering import recall, remember
from reviewer.actions.shelfkeeping import forget_everywhere
from reviewer.terms.messages import message, reason
from reviewer.terms.problems import Problem, ReviewerError


def clear_expired(found: Iterable[Expired], author: str) -> tuple[Problem, ...]:
    """Delete what goes of each case, its texts last; what could not be deleted.

    A case of which something could not be deleted keeps its places, so that it is found again next time.
    """
    return tuple(problem for one in found for problem in _clear(one, author))


def _clear(one: Expired, author: str) -> list[Problem]:
    problems = [problem for file in one.files if (problem := _deleted(file.path)) is not None]
    forget_everywhere(one.case)
    recordings = {file.path for file in one.files if file.what == RECORDING}
    problems += forget_in_meets(one.case, recordings)
    _remember_no_more({one.case, *recordings})
    if not problems and one.texts:
        try:
            with casefile.open_case(one.case, author) as case:
                case.erase_texts()
        except ReviewerError as fault:
            problems += fault.problems
    return problems


def _deleted(path: Path) -> Problem | None:
    try:
        path.unlink(missing_ok=True)
    except OSError as fault:
        said = message("It could not be deleted: {reason}.", reason=reason(fault))
        return Problem("not-deleted", str(path), said, message("See that you may, then do it again."))
    return None


def _remember_no_more(paths: Iterable[Path]) -> None:
    gone, known = {path.resolve() for path in paths}, recall()
    left = tuple(one for one in known.recent if Path(one.path).resolve() not in gone)
    if left != known.recent:
        remember(replace(known, recent=left))
