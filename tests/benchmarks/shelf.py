"""How quickly many cases are indexed, and passages found among them.

Five thousand cases of forty marks each, in one folder. Indexing opens every case with all checks and scores
it; by processes beside it is what the command line and the desk do. Each search includes the look at every
file, whether it changed; beside it stands that look alone, and the same found by opening case after case.
"""

from collections.abc import Iterator
from concurrent.futures import Executor, ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from statistics import median

from reviewer import actions
from reviewer.actions.shelfkeeping import with_current_shelf
from reviewer.shelf import FILE, remove_shelf
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.shelving import Wanted
from tests.benchmarks.clips import Setting
from tests.benchmarks.figures import Figure, timed
from tests.shelf.drawn_cases import draw_cases
from tests.shelf.plain_scan import everything, scan

CASES, FAULTS, ROUNDS = 5000, 30, 7
CLEAR_CASTS = Wanted(element="cast*", angle=(Degrees(-55_000), Degrees(-35_000)), settled=True)
QUERIES = {
    "clear casts between 35 and 55 below": CLEAR_CASTS,
    "a fault at a cast": Wanted(fault="arms-bent", element="cast*"),
    "a clause": Wanted(clause="fault.legs-bent"),
    "words": Wanted(words="bent cast"),
    "amounts": Wanted(amount=(Points(100), Points(300))),
    "what is arguable": Wanted(settled=False),
    "everything": Wanted(),
}


def figures(setting: Setting, about: str) -> Iterator[Figure]:
    """``indexing``, or ``searching``."""
    folder = draw_cases(setting.scratch / about, 100 if setting.quick else CASES, faults=FAULTS)
    yield from {"indexing": _indexing, "searching": _searching}[about](folder)


def _indexing(folder: Path) -> Iterator[Figure]:
    cases = sum(1 for _ in folder.rglob("*.case"))
    with ProcessPoolExecutor(mp_context=get_context("spawn")) as workers:
        beside = [cases / _index(folder, workers) for _ in range(3)]
    alone = [cases / _index(folder, None) for _ in range(2)]
    told = {"in this process alone, cases/s": median(alone), "cases": cases}
    told["megabytes of index"] = (folder / FILE).stat().st_size / 1e6
    what = "cases of 40 marks indexed a second"
    yield Figure(what, median(beside), "1/s", len(beside), min(beside), max(beside), 200, None, told)


def _index(folder: Path, workers: Executor | None) -> float:
    remove_shelf(folder)
    return timed(lambda: with_current_shelf(folder, lambda *_: None, workers=workers))


def _searching(folder: Path) -> Iterator[Figure]:
    _index(folder, None)
    looking = [1000 * timed(lambda: with_current_shelf(folder, lambda *_: None)) for _ in range(ROUNDS)]
    for name, wanted in QUERIES.items():
        taken = [1000 * timed(lambda: _search(folder, wanted)) for _ in range(ROUNDS)]  # noqa: B023
        beside = {"found": _search(folder, wanted), "the look at every file alone, ms": median(looking)}
        if wanted is CLEAR_CASTS:
            beside["case after case, ms"] = 1000 * timed(lambda: scan(everything(folder), CLEAR_CASTS))
        what = f"search: {name}"
        yield Figure(what, median(taken), "ms", ROUNDS, min(taken), max(taken), None, 100, beside)


def _search(folder: Path, wanted: Wanted) -> int:
    return actions.search_shelf(folder, wanted, recordings=False).found.total
