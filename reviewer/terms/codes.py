"""What judges, authors and athletes go by: letters and short codes, never names of people."""

import re

from reviewer.terms.messages import message
from reviewer.terms.problems import Problem

_CODE = re.compile(r"(?:judge-)?(?:[A-Za-z][0-9]{0,2}|[A-Z]{2}[0-9]{0,2}|[0-9]{1,2})", re.ASCII)


def is_code(said: str) -> bool:
    """Whether this is a letter or short code: ``A``, ``E3``, ``SJ``, ``4``, ``judge-2``."""
    return _CODE.fullmatch(said) is not None


def no_code(said: str, where: str) -> Problem | None:
    """The problem of what may be a name, which it does not repeat; None for a code."""
    if is_code(said):
        return None
    what = (
        message("A judge has no letter here.")
        if not said.strip()
        else message("Judges are letters here, and this is none.")
    )
    remedy = message("Give a letter or a short code, such as A, E3 or judge-2; names of people are not kept.")
    return Problem("no-letter", where, what, remedy)


UNNAMED = "unnamed"
"""What stands for an athlete to whom nobody has given a code."""
_ATHLETE = re.compile(r"(?=[^0-9]*[0-9])[A-Za-z0-9][A-Za-z0-9_/-]{0,19}", re.ASCII)
_NO_ATHLETE = (
    message("An athlete has a code here, and this is none."),
    message(
        "Give up to 20 letters and digits, a digit among them, such as G-07; names of people are not kept."
    ),
)


def no_athlete_code(said: str, where: str) -> Problem | None:
    """The problem of what may be an athlete's name, which it does not repeat; None for a code.

    A code is what start lists and bibs have: letters, digits, ``-``, ``_`` and ``/``, a digit among them.
    """
    if said == UNNAMED or _ATHLETE.fullmatch(said) is not None:
        return None
    return Problem("no-athlete-code", where, *_NO_ATHLETE)
