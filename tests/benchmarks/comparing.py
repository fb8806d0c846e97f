"""How quickly the sheets of several judges are held against each other: ten judges, two hundred routines.

The whole is what is promised: from marks in memory to the figures of agreement, and each judge's sheet
against the first of its routine, thing by thing with what each thing costs on either. Its parts stand beside.
"""

import random
from collections.abc import Iterator, Sequence
from dataclasses import replace
from statistics import median

from reviewer import auditing, rules, scoring
from reviewer.actions.agreement import agreement_document
from reviewer.actions.comparing import compare_with_first
from reviewer.actions.samplesheets import Judged, sample_of
from reviewer.actions.sheets import Sheet
from reviewer.terms.marks import Mark
from reviewer.terms.rulebook import RuleBook
from tests.benchmarks.clips import Setting
from tests.benchmarks.figures import Figure, timed
from tests.benchmarks.scoring import USUAL, routine

JUDGES, ROUTINES, ROUNDS = "ABCDEFGHIJ", 200, 3
LEFT_OUT, OTHER_AMOUNT = 0.12, 0.15
"""How often a judge does not take a fault that another took, or takes another amount."""


def figures(setting: Setting, edition: str) -> Iterator[Figure]:
    """Agreement of all judges on all routines; each judge against the first, thing by thing."""
    book = rules.load(rules.find(edition))
    routines = ROUTINES // 20 if setting.quick else ROUTINES
    views = [[_view(book, number, judge) for judge in JUDGES] for number in range(routines)]
    yield _whole(views, book)


def _whole(views: Sequence[Sequence[Sequence[Mark]]], book: RuleBook) -> Figure:
    """Every sheet scored, all laid together, the figures, and all things of all routines."""
    parts = ("scoring, s", "figures of agreement, s", "thing by thing, s")
    seconds: dict[str, list[float]] = {part: [] for part in parts}
    for _ in range(ROUNDS):
        scored: list[Judged] = []
        things: list[int] = []
        works = (
            lambda: scored.extend(_judged(views, book)),  # noqa: B023
            lambda: agreement_document(sample_of(scored)),  # noqa: B023
            lambda: things.extend(_differing(scored)),  # noqa: B023
        )
        for taken, work in zip(seconds.values(), works, strict=True):
            taken.append(timed(work))
    whole = [sum(each) for each in zip(*seconds.values(), strict=True)]
    beside = {name: median(each) for name, each in seconds.items()}
    beside["things that differ, a sheet"] = sum(things) / (len(views) * (len(JUDGES) - 1))
    what = f"sheets of {len(JUDGES)} judges on {len(views)} routines compared, {book.id}"
    return Figure(what, median(whole), "s", ROUNDS, min(whole), max(whole), None, 5, beside)


def _differing(scored: Sequence[Judged]) -> Iterator[int]:
    """How many things differ on each routine between the first judge and each other."""
    for begin in range(0, len(scored), len(JUDGES)):
        first, *others = [one.sheet for one in scored[begin : begin + len(JUDGES)]]
        found = compare_with_first(first, others)
        yield sum(thing.state != auditing.AGREED for one in found for thing in one.things)


def _view(book: RuleBook, number: int, judge: str) -> tuple[Mark, ...]:
    """A routine as one judge marked it: always the same."""
    chance = random.Random(f"{number} {judge}")
    seen = (mark for mark in routine(book, USUAL) if mark.kind != "fault" or chance.random() > LEFT_OUT)
    return tuple(_otherwise(mark, book, chance) for mark in seen)


def _otherwise(mark: Mark, book: RuleBook, chance: random.Random) -> Mark:
    if mark.kind != "fault" or chance.random() > OTHER_AMOUNT:
        return mark
    return replace(mark, amount=chance.choice(book.fault_of[mark.code].amounts))


def _judged(views: Sequence[Sequence[Sequence[Mark]]], book: RuleBook) -> list[Judged]:
    return [
        Judged(str(number), _sheet(marks, book), {"A": judge})
        for number, own in enumerate(views)
        for judge, marks in zip(JUDGES, own, strict=True)
    ]


def _sheet(marks: Sequence[Mark], book: RuleBook) -> Sheet:
    sheet = scoring.score(marks, book)
    return Sheet("", tuple(marks), {}, book, {}, (), sheet, None, {})
