"""How quickly a routine is scored, its reachable scores are found, and a rule book and a table are read.

Beside ours stands the shortest loop in plain Python that comes to the same figure: no ledger, no reasons, no
notes, no problems, and the rule book already in whole numbers.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product
from statistics import median

import yaml

from reviewer import rules, scoring
from reviewer.rules.book import parse_anew
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.marks import CastAngle, Mark
from reviewer.terms.posted import PostedRow
from reviewer.terms.rulebook import RuleBook
from tests.benchmarks.clips import Setting
from tests.benchmarks.figures import OURS, Figure, Seconds, interleaved, timed

PLAIN, SETTLED = "plain Python", "ours, all settled"
ROUNDS, TABLE = 30, 500
Menus = Sequence[Sequence[int]]


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of routine: elements and faults, arguable ones and casts that straddle a limit among them."""

    elements: int
    faults: int
    arguable: int
    straddling: int


USUAL = Kind(15, 25, 10, 0)
TYPICAL = Kind(15, 25, 10, 2)
MANY = Kind(20, 40, 40, 8)


def figures(_: Setting, edition: str) -> Iterator[Figure]:
    """Everything of one edition."""
    book = rules.load(rules.find(edition))
    yield _routines(book)
    yield _reachable(book, TYPICAL, at_most=2)
    yield _reachable(book, MANY, at_most=50)
    yield _loading(edition)
    yield _table(book)


def routine(book: RuleBook, kind: Kind) -> tuple[Mark, ...]:
    """Always the same routine of a kind: elements in turn with casts among them, faults in turn over them."""
    casts = [one.code for one in book.elements if one.decides]
    others = [one.code for one in book.elements if not one.decides and one.status == "listed"]
    codes = [*casts * kind.straddling, *(one for _ in range(kind.elements) for one in others)][
        : kind.elements
    ]
    straddling = CastAngle("protractor", book.cast.at_least, Degrees(1000))
    elements = [
        Mark(f"e{n}", "element", code, order=n, called=str(n), angle=straddling if code in casts else None)
        for n, code in enumerate(codes)
    ]
    several = [one for one in book.faults if not one.flat]
    faults = []
    for n in range(kind.faults):
        fault = several[n % len(several)] if n < kind.arguable else book.faults[n % len(book.faults)]
        name, on = f"f{n}", f"e{n % kind.elements}"
        amount, arguable = fault.amounts[0], n < kind.arguable
        faults.append(Mark(name, "fault", fault.code, element=on, amount=amount, arguable=arguable))
    return (*elements, *faults)


def _routines(book: RuleBook) -> Figure:
    marks, ten = routine(book, USUAL), range(10)
    plain = _Plain(book, marks)
    seconds = _in_turns(
        {
            OURS: lambda: [scoring.score(marks, book) for _ in ten],
            PLAIN: lambda: [plain.score() for _ in ten],
        }
    )
    rates = [10 / one for one in seconds[OURS]]
    what = f"routines a second, {USUAL.elements} elements and {USUAL.faults} faults, {book.id}"
    beside = {f"{PLAIN}, routines/s": 10 / median(seconds[PLAIN]), **_over_plain(seconds)}
    return Figure(what, median(rates), "1/s", ROUNDS, min(rates), max(rates), 1000, None, beside)


def _reachable(book: RuleBook, kind: Kind, at_most: float) -> Figure:
    """What the reachable scores add to a score of the same marks with everything settled."""
    marks = routine(book, kind)
    settled = [_settled(mark) for mark in marks]
    plain = _Plain(book, marks)
    seconds = _in_turns(
        {
            OURS: lambda: scoring.score(marks, book),
            SETTLED: lambda: scoring.score(settled, book),
            PLAIN: plain.reachable,
        }
    )
    added = [1000 * (one - two) for one, two in zip(seconds[OURS], seconds[SETTLED], strict=True)]
    what = f"reachable scores, {kind.arguable} choices and {kind.straddling} straddling casts, {book.id}"
    beside = {f"{name}, ms": 1000 * median(each) for name, each in seconds.items()} | _over_plain(seconds)
    return Figure(what, median(added), "ms", ROUNDS, min(added), max(added), None, at_most, beside)


def _loading(edition: str) -> Figure:
    text = rules.find(edition).read_text(encoding="utf-8")
    loader = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
    seconds = _in_turns(
        {OURS: lambda: parse_anew(text, edition), "bare YAML": lambda: yaml.load(text, loader)}
    )
    taken = [1000 * one for one in seconds[OURS]]
    beside = {"bare YAML, ms": 1000 * median(seconds["bare YAML"])}
    what = f"loading and checking a rule book, {edition}"
    return Figure(what, median(taken), "ms", ROUNDS, min(taken), max(taken), None, None, beside)


def _table(book: RuleBook) -> Figure:
    """Totals and ranks of a published table."""
    scores = [(5000 + 7 * n % 1500, 7000 + 37 * n % 2500, 100 * (n % 3)) for n in range(TABLE)]
    rows = [PostedRow(Points(d), (), Points(e), Points(p)) for d, e, p in scores]
    seconds = _in_turns(
        {
            OURS: lambda: ([scoring.total(row, book) for row in rows], scoring.ranks(rows, book)),
            PLAIN: lambda: sorted(((d + e - p, e, d) for d, e, p in scores), reverse=True),
        }
    )
    rates = [TABLE / one for one in seconds[OURS]]
    what = f"published rows a second, totals and ranks, {book.id}"
    beside = {f"{PLAIN}, rows/s": TABLE / median(seconds[PLAIN]), **_over_plain(seconds)}
    return Figure(what, median(rates), "1/s", ROUNDS, min(rates), max(rates), None, None, beside)


class _Plain:
    """The shortest loop: value parts counted, amounts added, and every sum of the amounts that are open."""

    def __init__(self, book: RuleBook, marks: Sequence[Mark]) -> None:
        self.codes = [mark.code for mark in marks if mark.kind == "element"]
        self.worth = {one.code: 100 for one in book.elements}
        self.faults = [(mark.code, mark.element, _size(mark)) for mark in marks if mark.kind == "fault"]
        several = {one.code: [size.thousandths for size in one.amounts] for one in book.faults}
        self.menus: Menus = [
            several[m.code] if m.arguable else [_size(m)] for m in marks if m.kind == "fault"
        ]
        self.straddling = sum(mark.angle is not None for mark in marks)

    def score(self) -> int:
        """Elements twice at most, faults once an element, what is missing and taken off in thousandths."""
        times: dict[str, int] = {}
        parts = 0
        for code in self.codes:
            times[code] = times.get(code, 0) + 1
            parts += self.worth[code] if times[code] <= 2 else 0
        largest: dict[tuple[str, str | None], int] = {}
        for code, on, size in self.faults:
            largest[code, on] = max(size, largest.get((code, on), 0))
        return 10_000 - max(0, 500 - parts) - sum(largest.values())

    def reachable(self) -> set[int]:
        """Every score that some amounts and some states of the casts come to."""
        sums = {0}
        for menu in self.menus:
            sums = {total + size for total in sums for size in menu}
        losses = {600 * sum(states) for states in product((0, 1), repeat=self.straddling)}
        return {10_000 - total - loss for total in sums for loss in losses}


def _size(mark: Mark) -> int:
    return mark.amount.thousandths if mark.amount else 0


def _settled(mark: Mark) -> Mark:
    angle = mark.angle and replace(mark.angle, uncertainty=None)
    return replace(mark, arguable=False, angle=angle)


def _in_turns(works: Mapping[str, Callable[[], object]]) -> Seconds:
    turns = {name: lambda _, work=work: timed(work) for name, work in works.items()}
    return interleaved(turns, ROUNDS)


def _over_plain(seconds: Seconds) -> dict[str, float]:
    return {"ours / plain Python, x": median(seconds[OURS]) / median(seconds[PLAIN])}
