"""Many audited routines scored again, each a job of its own that any executor may do.

What travels to whoever does it are marks and figures: no picture, no path, no recording, no name. Elements
that a judge gave a name of their own keep only that some have the same one.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import chain, islice

from reviewer import __version__, rules, scoring
from reviewer.auditing.meets import AuditedRoutine
from reviewer.scoring.panel import average
from reviewer.scoring.startgap import explanations
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message
from reviewer.terms.posted import PostedSheet
from reviewer.terms.problems import DocumentError, Problem
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import FullSpeed, ScoreSheet

TOGETHER = 50
"""Routines that are handed over in one go: their edition travels with them once."""
MANY_ROUTINES = 400
"""Routines from which on other processes are worth their start."""
_NOUGHT = Points(0)


@dataclass(frozen=True, slots=True)
class Job:
    """A routine to be scored again.

    Attributes:
        name: of the routine.
        stratum: the value by which it was drawn; empty in a simple sample.
        text: the edition, as it is written.
        others: ids of the clauses that are read otherwise.
        marks: those that count, on one line of time.
        judges: who scores, where no fault says whose it is.
        posted: what the panel posted.
    """

    name: str
    stratum: str
    text: str
    others: frozenset[str]
    marks: tuple[Mark, ...]
    judges: tuple[str, ...]
    posted: PostedSheet


def rescored(
    jobs: Iterable[Job], workers: Executor | None = None, many: int = MANY_ROUTINES
) -> Iterator[AuditedRoutine]:
    """What each routine comes to, in the order of the jobs; ``workers`` do it where there are ``many``.

    A DocumentError where the workers have another version of this program, whose figures may be others.
    """
    waiting = iter(jobs)
    first = list(islice(waiting, many))
    if workers is None or len(first) < many:
        yield from map(_rescored, chain(first, waiting))
        return
    _refuse_other_version(workers)
    together = chain(first, waiting)
    parts = iter(lambda: tuple(islice(together, TOGETHER)), ())
    for part in workers.map(_together, map(_packed, parts)):
        yield from part


def bare(mark: Mark, names: dict[str, str]) -> Mark:
    """A mark with nothing in it that somebody wrote, and of no recording; ``names``: what stood for which."""
    called = None if mark.called is None else names.setdefault(mark.called, str(len(names) + 1))
    return replace(mark, called=called, recording=None)


def _refuse_other_version(workers: Executor) -> None:
    theirs = workers.submit(_version).result()
    if theirs != __version__:
        said = message(
            "The workers have version {theirs} of this program, and this is {own}.",
            theirs=theirs,
            own=__version__,
        )
        remedy = message("Install the same version there, or score on this machine.")
        raise DocumentError(Problem("other-version", "workers", said, remedy))


def _version() -> str:
    return __version__


_Packed = tuple[tuple[str, ...], tuple[Job, ...]]


def _packed(jobs: Sequence[Job]) -> _Packed:
    """Jobs with each edition once: the texts, and jobs that name theirs by its place."""
    texts = tuple(dict.fromkeys(one.text for one in jobs))
    places = {text: str(place) for place, text in enumerate(texts)}
    return texts, tuple(replace(one, text=places[one.text]) for one in jobs)


def _together(packed: _Packed) -> tuple[AuditedRoutine, ...]:
    texts, jobs = packed
    return tuple(_rescored(replace(one, text=texts[int(one.text)])) for one in jobs)


@lru_cache(maxsize=16)
def _edition(text: str, others: frozenset[str]) -> RuleBook:
    return rules.parse(text, "rule book").read_as(others)


def _rescored(job: Job) -> AuditedRoutine:
    book, posted = _edition(job.text, job.others), job.posted
    sheet = scoring.score(job.marks, book, job.judges)
    final = posted.final
    return AuditedRoutine(
        name=job.name,
        stratum=job.stratum,
        posted_start=posted.start_value,
        audited_start=sheet.start_value,
        posted_final=final,
        audited_final=sheet.final_score,
        reachable=None if final is None else _reachable(sheet, job, book, final),
        judges=dict(posted.judges),
        audited=sheet.panel_average,
        at_full_speed=_at_full_speed(sheet, sheet.full_speed, book),
        final_at_full_speed=(sheet.full_speed or sheet).final_score,
        misapplied=dict(_misapplied(sheet, posted, book)),
    )


def _reachable(sheet: ScoreSheet, job: Job, book: RuleBook, final: Points) -> bool | None:
    return scoring.held_against_panel(sheet, job.marks, book, len(job.posted.judges), final)[0]


def _at_full_speed(sheet: ScoreSheet, seen: FullSpeed | None, book: RuleBook) -> Points:
    """What a judge's score comes to without what only slow motion shows."""
    if seen is None:
        return sheet.panel_average
    return average([one.score for one in seen.judges], book)


def _misapplied(sheet: ScoreSheet, posted: PostedSheet, book: RuleBook) -> Iterator[tuple[str, bool]]:
    """The clauses that explain a wrong start value or wrong neutral deductions: whether certainly so."""
    found: dict[str, bool] = {}
    for some in (_of_start(sheet, posted, book), _of_neutral(sheet, posted)):
        for clause, certain in some.items():
            found[clause] = found.get(clause, False) or certain
    yield from sorted(found.items())


def _of_start(sheet: ScoreSheet, posted: PostedSheet, book: RuleBook) -> Mapping[str, bool]:
    """A clause is certain where every way that explains the start value takes it."""
    if posted.start_value is None or posted.start_value == sheet.start_value:
        return {}
    ways = [{one.clause for one in way} for way in explanations(sheet, posted.start_value, book)]
    named = set().union(*ways)
    return {clause: all(clause in way for way in ways) for clause in named}


def _of_neutral(sheet: ScoreSheet, posted: PostedSheet) -> Mapping[str, bool]:
    """Lines that the panel did not take, where it took less: certain where that is all of them."""
    lines = [line for line in sheet.lines if line.stage == "neutral"]
    derived = Points(-sum(line.points.thousandths for line in lines))
    if posted.neutral is None or posted.neutral >= derived:
        return {}
    return {line.clause: posted.neutral == _NOUGHT for line in lines}
