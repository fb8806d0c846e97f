"""How quickly the routines of a large meet are scored again, with the scores that their marks allow.

Twenty thousand routines of fifteen elements and twenty-five faults, ten of them arguable, two casts that
straddle a limit; no two alike. By two spawned processes, as the command line does, and here alone.
"""

from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from multiprocessing import get_context
from random import Random

from reviewer import rules
from reviewer.actions.meetrescoring import Job, rescored
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.posted import PostedSheet
from reviewer.terms.provisions import Fault
from reviewer.terms.rulebook import RuleBook
from tests.benchmarks.clips import Setting
from tests.benchmarks.figures import Figure, timed
from tests.benchmarks.scoring import TYPICAL, routine

EDITION, ROUTINES, PROCESSES = "demo-bars-2", 20_000, 2
_COSTS = (100, 1000, 10_000)


def figures(setting: Setting, _: str) -> Iterator[Figure]:
    """Seconds for all, and what one costs among few and among many."""
    book = rules.load(rules.find(EDITION))
    number = 400 if setting.quick else ROUTINES
    work = jobs(book, number)
    with ProcessPoolExecutor(PROCESSES, mp_context=get_context("spawn")) as workers:
        list(rescored(work[:100], workers, many=1))  # started and warm
        taken = timed(lambda: sum(1 for _ in rescored(work, workers, many=1)))
    beside = {
        f"a routine among {count}, here alone, ms": 1000 * timed(lambda: list(rescored(work[:count]))) / count  # noqa: B023
        for count in _COSTS
        if count <= number
    }
    what = f"{number} routines scored with their reachable scores, two processes"
    yield Figure(what, taken, "s", 1, taken, taken, None, 60, beside)


def jobs(book: RuleBook, number: int) -> list[Job]:
    """So many routines of the typical kind, with faults and amounts by chance."""
    chance, typical = Random(3), routine(book, TYPICAL)
    posted = PostedSheet(Points(9500), (("A", Points(8000)),), Points(0), Points(8000), Points(8000))
    return [
        Job(str(at), "", book.text, frozenset(), _varied(typical, book, chance), ("A",), posted)
        for at in range(number)
    ]


def _varied(typical: tuple[Mark, ...], book: RuleBook, chance: Random) -> tuple[Mark, ...]:
    several = [one for one in book.faults if not one.flat]
    return tuple(_other(mark, several, chance) if mark.kind == "fault" else mark for mark in typical)


def _other(mark: Mark, faults: Sequence[Fault], chance: Random) -> Mark:
    fault = chance.choice(faults)
    return replace(mark, code=fault.code, amount=chance.choice(fault.amounts))
