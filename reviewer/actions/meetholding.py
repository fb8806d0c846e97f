"""The folder of a meet: where its cases lie, its routines by their names, and the right to change it.

It is read, changed and written by one at a time.
"""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from time import sleep

from reviewer import casefile
from reviewer.exchange.meets import NAME, read_meet
from reviewer.terms.meets import Meet, Start, Task
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem

CASES, AUDITED, SENT = "cases", "audited", "sent"
"""Folders in that of a meet: its own cases, those of blind auditors that came home, all that were sent."""
SETTLED = "settled"
"""What stands for the auditor in the name of a case that settles two blind ones."""
_TRIES, _BETWEEN_S = 50, 0.1


@contextmanager
def held_meet(folder: Path) -> Iterator[Meet]:
    """A meet that nobody else changes until this ends; what comes of it goes to `write_meet` within.

    Others wait some seconds for their turn; a DocumentError where there is no meet or no turn comes.
    """
    read_meet(folder)  # so that no lock is laid into a folder that holds no meet
    hold = _hold(folder / NAME)
    try:
        yield read_meet(folder)
    finally:
        hold.release()


def _hold(place: Path) -> casefile.Hold:
    for _ in range(_TRIES):
        try:
            return casefile.Hold(place, "reviewer")
        except casefile.CaseError as fault:
            if fault.problems[0].code != "case-held":
                raise
        sleep(_BETWEEN_S)
    said = message("Another command is changing this meet.")
    remedy = message("Wait until it is done, then do it again.")
    raise DocumentError(Problem("meet-held", str(place), said, remedy))


def meet_case(folder: Path, start: str) -> Path:
    """Where the meet's own case of a routine lies."""
    return folder / CASES / f"{start}.case"


def auditors_case(folder: Path, start: str, auditor: str) -> Path:
    """Where the case of an auditor who worked blind lies once it came home."""
    return folder / AUDITED / f"{start}.{auditor}.case"


def task_case(folder: Path, task: Task) -> Path:
    """Where the case of a task lies at home: a blind auditor's own, or the meet's."""
    if task.blind:
        return auditors_case(folder, task.start, task.auditor)
    return meet_case(folder, task.start)


def starts_named(meet: Meet, names: Sequence[str]) -> tuple[Start, ...]:
    """The routines of these names, whatever the case of their letters; a DocumentError names all unknown."""
    known = {one.name.casefold(): one for one in meet.starts}
    unknown = [name for name in names if name.casefold() not in known]
    if unknown:
        remedy = message("See `reviewer meet show`.")
        said = message("The meet has no such routine.")
        raise DocumentError(Problem("unknown-start", repr(name), said, remedy) for name in unknown)
    return tuple(known[name] for name in dict.fromkeys(name.casefold() for name in names))
