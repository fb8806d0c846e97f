"""How quickly the sheets of several judges are held against each other: ten judges, two hundred routines.

Beside the figures of agreement stand their parts: scoring every sheet, laying them together, the figures.
What each single thing costs is asked of one routine at a time; that is measured apart.
"""

import random
from collections.abc import Iterator, Sequence
from dataclasses import replace
from statistics import median

from reviewer import auditing, rules, scoring
from reviewer.actions.agreement import agreement_document
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
    yield _agreement(views, book)
    yield _thing_by_thing(views, book)


def _agreement(views: Sequence[Sequence[Sequence[Mark]]], book: RuleBook) -> Figure:
    """From marks in memory to the document: every sheet scored, laid together, all figures."""
    scored: list[Judged] = []
    seconds: dict[str, list[float]] = {"scoring, s": [], "laying together and figures, s": []}
    for _ in range(ROUNDS):
        scored.clear()
        seconds["scoring, s"].append(timed(lambda: scored.extend(_judged(views, book))))
        seconds["laying together and figures, s"].append(timed(lambda: agreement_document(sample_of(scored))))
    taken = [sum(parts) for parts in zip(*seconds.values(), strict=True)]
    what = f"agreement of {len(JUDGES)} judges on {len(views)} routines, {book.id}"
    beside = {name: median(each) for name, each in seconds.items()}
    return Figure(what, median(taken), "s", ROUNDS, min(taken), max(taken), None, 5, beside)


def _thing_by_thing(views: Sequence[Sequence[Sequence[Mark]]], book: RuleBook) -> Figure:
    """All judges of one routine against the first, with what each thing costs on either sheet."""
    taken, things = [], 0
    for own in views:
        first, *others = [_sheet(marks, book) for marks in own]
        found: list[auditing.Comparison] = []
        taken.append(1000 * timed(lambda: found.extend(_compared(first, other) for other in others)))  # noqa: B023
        things += sum(thing.state != auditing.AGREED for one in found for thing in one.things)
    beside = {
        "things that differ, a sheet": things / len(taken) / (len(JUDGES) - 1),
        "all routines, s": sum(taken) / 1000,
    }
    what = f"one routine of {len(JUDGES)} judges, thing by thing with costs, {book.id}"
    return Figure(what, median(taken), "ms", len(taken), min(taken), max(taken), None, None, beside)


def _compared(first: Sheet, other: Sheet) -> auditing.Comparison:
    return auditing.compare(first.side(other), other.side(first), (first.total, other.total))


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
