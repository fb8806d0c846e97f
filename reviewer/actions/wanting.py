"""What is looked for, as it was typed: read, or refused with the name of what makes no sense."""

import re
from collections.abc import Callable, Iterator
from typing import TypeVar

from reviewer.actions.audit import AuditError
from reviewer.terms.callwords import VERDICT_WORDS, with_point
from reviewer.terms.consents import is_day
from reviewer.terms.exact import Degrees, Points, Thousandths
from reviewer.terms.messages import Message, message
from reviewer.terms.problems import Problem
from reviewer.terms.shelving import Wanted

Ends = tuple[str, str]
"""The two ends of a range as they were typed, in either order; one that is blank is open."""
Naming = Callable[[str], str]
"""What a door calls a field."""
Said = tuple[Message, Message]
"""What is wrong, and what mends it."""
_Size = TypeVar("_Size", bound=Thousandths)

MOST_POINTS, MOST_DEGREES = "100", "180"
_NO_AMOUNT = (
    message("This is no amount of points from 0 to 100."),
    message("Give the least and the most, such as 0.100 and 0.300."),
)
_NO_ANGLE = (
    message("This is no angle from -180 to 180 degrees."),
    message("Give both ends, negative below horizontal: -55 and -35."),
)
_NO_VERDICT = (
    message("This is no verdict on a cast."),
    message("Say met, within, not-met, not-seen or cannot-tell."),
)
_NO_DAY = (message("This is no day."), message("Write it as 2027-06-30."))
_NO_DAYS = (message("The last day lies before the first."), message("Exchange the two."))
_NO_WORDS = (message("No word stands here."), message("Write letters or digits, or leave it out."))
_LESS = (message("This is too few or too many to show."), message("Say a number from 1 to 100000."))
_SKIP = (message("Passages are counted from 0."), message("Say 0, or a whole number."))
MOST_SHOWN = 100_000


def wanted(
    *,
    words: str = "",
    element: str = "",
    fault: str = "",
    clause: str = "",
    amount: Ends = ("", ""),
    angle: Ends = ("", ""),
    verdict: str = "",
    settled: bool | None = None,
    rule_book: str = "",
    division: str = "",
    since: str = "",
    until: str = "",
    naming: Naming = "--{}".format,
) -> Wanted:
    """What was typed as what is looked for; an AuditError names every field that makes no sense."""
    problems = [
        *_no_word(words, naming("words")),
        *_outside(amount, Points, ("0", MOST_POINTS), naming("amount"), _NO_AMOUNT),
        *_outside(angle, Degrees, (f"-{MOST_DEGREES}", MOST_DEGREES), naming("angle"), _NO_ANGLE),
        *_no_verdict(verdict, naming("verdict")),
        *_no_days(since, until, naming),
    ]
    if problems:
        raise AuditError(problems)
    return Wanted(
        words=words,
        element=element.strip(),
        fault=fault.strip(),
        clause=clause.strip(),
        amount=_span(amount, Points, ("0", MOST_POINTS)),
        angle=_span(angle, Degrees, (f"-{MOST_DEGREES}", MOST_DEGREES)),
        verdict=VERDICT_WORDS.get(verdict, ""),
        settled=settled,
        edition=rule_book.strip(),
        division=division.strip(),
        since=since,
        until=until,
    )


def refuse_senseless_page(limit: int, skip: int, naming: Naming = "--{}".format) -> None:
    """An AuditError for a part of the results that cannot be shown."""
    problems = []
    if not 1 <= limit <= MOST_SHOWN:
        problems.append(Problem("no-limit", f"{naming('limit')} {limit}", *_LESS))
    if skip < 0:
        problems.append(Problem("no-place", f"{naming('skip')} {skip}", *_SKIP))
    if problems:
        raise AuditError(problems)


def _no_word(typed: str, name: str) -> Iterator[Problem]:
    if typed.strip() and not re.search(r"[^\W_]", typed):
        yield Problem("no-word", f"{name} {typed}", *_NO_WORDS)


def _outside(typed: Ends, kind: type[Thousandths], ends: Ends, name: str, why: Said) -> Iterator[Problem]:
    least, most = map(kind.parse, ends)
    try:
        span = _span(typed, kind, ends)
        sound = span is None or least <= span[0] <= span[1] <= most
    except ValueError:
        sound = False
    if not sound:
        yield Problem("no-range", " ".join((name, *filter(None, typed))), *why)


def _span(typed: Ends, kind: type[_Size], ends: Ends) -> tuple[_Size, _Size] | None:
    """The lesser and the greater end; None where neither was typed, a ValueError for what is no number."""
    if not any(one.strip() for one in typed):
        return None
    low, high = sorted(
        kind.parse(with_point(one.strip().replace("−", "-"))) if one.strip() else kind.parse(end)
        for one, end in zip(typed, ends, strict=True)
    )
    return low, high


def _no_verdict(typed: str, name: str) -> Iterator[Problem]:
    if typed and typed not in VERDICT_WORDS:
        yield Problem("no-verdict", f"{name} {typed}", *_NO_VERDICT)


def _no_days(since: str, until: str, naming: Naming) -> Iterator[Problem]:
    for name, typed in (("since", since), ("until", until)):
        if typed and not is_day(typed):
            yield Problem("no-day", f"{naming(name)} {typed}", *_NO_DAY)
    if is_day(since) and is_day(until) and since > until:
        yield Problem("no-days", f"{naming('until')} {until}", *_NO_DAYS)
