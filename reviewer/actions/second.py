"""A second judge works blind: a case of their own, the first one's marks closed until both are sealed.

Blindness is procedural: nothing here keeps anybody from opening a file. What is held is that sheets meet only
once neither can change any more.
"""

from collections.abc import Sequence
from pathlib import Path

from reviewer import casefile
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.consenting import carry_consent
from reviewer.actions.opening import open_case
from reviewer.terms.codes import no_code
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem

SET_UP = (
    "rule-book-chosen",
    "interpretation-chosen",
    "recording-cited",
    "recordings-joined",
    "attempt-assigned",
    "attempt-counted",
)
"""What a second judge needs to know of a case; none of it says what the first one saw."""


def begin_second(first: Path, path: Path, author: str) -> Audit:
    """Begin the case of a second judge on the same recordings and edition, without a mark or a score.

    An AuditError where the author is a name and no code, or has marked the routine already.
    """
    named = no_code(author, "author")
    if named is not None:
        raise AuditError(named)
    with open_case(first, author=None) as audit:
        return second_of(audit, path, author)


def second_of(audit: Audit, path: Path, author: str) -> Audit:
    """The same of a case that is open."""
    _refuse_same_judge(audit, author)
    events = audit.case.events
    second = casefile.create_case(path, author, audit.athlete_code, audit.consent)
    for text in audit.case.books().values():
        second.keep_book(text)
    gone = casefile.undone_by(events)
    for event in events:
        if event.kind in SET_UP and event.hash not in gone:
            second.append(event.kind, event.payload)
    for sha256, place in audit.recording_paths.items():
        second.remember_place(sha256, place.resolve())
    carry_consent(audit.permission, second)
    second.append("second-begun", {"of": events[0].hash})
    return Audit(second, audit.recording_paths)


def refuse_unsealed(audits: Sequence[Audit]) -> None:
    """An AuditError where sheets that were judged blind of each other meet before all are sealed."""
    sheets = [
        (str(one.path), one.case.events[0].hash, one.state.second_of, one.state.sealed is not None)
        for one in audits
    ]
    problems = tuple(map(unsealed_problem, not_sealed(sheets)))
    if problems:
        raise AuditError(problems)


def not_sealed(sheets: Sequence[tuple[str, str | None, str | None, bool]]) -> list[str]:
    """Paths of the sheets that must be sealed before these may be seen together.

    Each is its path, its own first event, that of the case it judges again, and whether it is sealed.
    """
    begun = {origin for _, origin, _, _ in sheets}
    judged = [second_of for _, _, second_of, _ in sheets if second_of is not None]
    if not set(judged) & begun and len(set(judged)) == len(judged):
        return []
    return [name for name, _, _, sealed in sheets if not sealed]


def unsealed_problem(path: str) -> Problem:
    """The problem of such a sheet."""
    said = message("Judges who work blind see each other's sheets only once both are sealed.")
    return Problem(
        "not-sealed", path, said, message("Seal it when it is done: `reviewer seal {path}`.", path=path)
    )


def _refuse_same_judge(audit: Audit, author: str) -> None:
    wrote = {event.author for event in audit.case.events if event.kind.startswith("mark-")}
    if author in wrote or author == audit.letter:
        said = message("Judge {author} has marked this routine already.", author=author)
        if author not in wrote:
            said = message("The case is judge {author}'s own.", author=author)
        raise AuditError(Problem("same-judge", author, said, message("Let somebody else judge it again.")))
