"""Words and seconds that may stand in any open form, whatever a mark or a rule book holds."""

import re
import unicodedata

from reviewer.terms.passages import Passage
from reviewer.terms.times import TimeBase

_LONGEST = 300
_NANO = 10**9
_TURNING = re.compile("[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]")


def plain(text: str) -> str:
    """One line of text: no control characters, nothing that turns the direction of writing, not endless."""
    spaced = "".join(" " if unicodedata.category(one) in ("Cc", "Zl", "Zp") else one for one in text)
    whole = " ".join(_TURNING.sub("", spaced).split())
    return whole if len(whole) <= _LONGEST else f"{whole[: _LONGEST - 1]}…"


def said(passage: Passage) -> str:
    """A mark in one line: name, code, amount, judge, clauses."""
    amount = "" if passage.amount is None else f" {passage.amount}"
    judge = "" if passage.judge is None else f", judge {passage.judge}"
    clauses = f", clause {', '.join(passage.clauses)}" if passage.clauses else ""
    return plain(f"{passage.name} ({passage.code}){amount}{judge}{clauses}")


def nanoseconds(ticks: int, base: TimeBase, *, up: bool) -> int:
    """Whole nanoseconds of some ticks, rounded up or down where they are not whole."""
    exact = ticks * base.numerator * _NANO
    return -(-exact // base.denominator) if up else exact // base.denominator


def npt(ticks: int, base: TimeBase, *, up: bool) -> str:
    """Seconds as normal play time (RFC 2326): exact where nine places are enough, such as ``1.5``."""
    whole, rest = divmod(nanoseconds(ticks, base, up=up), _NANO)
    return f"{whole}.{rest:09d}".rstrip("0").rstrip(".")
