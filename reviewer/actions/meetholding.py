"""The meet of a folder, held while it is changed: read, changed and written by one at a time."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from time import sleep

from reviewer import casefile
from reviewer.exchange.meets import NAME, read_meet
from reviewer.terms.meets import Meet
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem

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
