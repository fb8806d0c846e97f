"""An invented meet: routines drawn by chance, judges with known leanings, cases that one auditor marked."""

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from random import Random

from reviewer import casefile, rules, scoring
from reviewer.actions.opening import chosen_book
from reviewer.exchange.meets import write_meet
from reviewer.scoring.panel import average
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.marks import CastAngle, Mark
from reviewer.terms.meets import BY_LOT, BY_TRIGGER, Choice, Meet, Start
from reviewer.terms.posted import PostedSheet
from reviewer.terms.rulebook import RuleBook

ROOT = Path(__file__).resolve().parents[2]
EDITION = "demo-bars-2"
DIVISIONS = ("junior", "senior")
LEANS = {"A": 0, "B": 100, "C": -50}
"""Thousandths by which each judge lies above the audit on the average."""
_FIRST = datetime(2026, 3, 1, 9, 0, tzinfo=UTC)


def draw_meet(folder: Path, routines: int, audited: int, seed: int = 7, by: str | None = None) -> Meet:
    """A meet of so many routines, of which those drawn first are audited, and two more for a reason."""
    chance, book = Random(seed), rules.load(rules.find(EDITION))
    (folder / "cases").mkdir(parents=True)
    drawn = [routine(chance, book) for _ in range(routines)]
    starts = tuple(start(at + 1, marks, chance, book) for at, marks in enumerate(drawn))
    lot = tuple(one.name for one in starts[:audited])
    others = tuple(one.name for one in starts[audited : audited + 2])
    for at, one in enumerate(starts[: audited + 2]):
        draw_case(folder / "cases" / f"{one.name}.case", book, drawn[at], _FIRST + timedelta(minutes=at))
    choices = (
        Choice(BY_LOT, lot, routines, seed="autumn", by=by),
        Choice(BY_TRIGGER, others, routines, triggers=("inquiry",)),
    )
    meet = Meet(EDITION, None, "*{start}*", starts, choices)
    write_meet(folder, meet)
    return meet


def routine(chance: Random, book: RuleBook) -> tuple[Mark, ...]:
    """The routine of a sample clip with other casts and other faults; some seen in slow motion alone."""
    document = json.loads((ROOT / "annotations" / "square-on.marks.json").read_bytes())
    marks = [Mark.from_json(one) for one in document["marks"]]
    elements = [_with_cast(one, chance) for one in marks if one.kind == "element"]
    if chance.random() < 0.2:
        del elements[chance.randrange(1, len(elements) - 1)]
    return (*elements, *_faults(elements, chance, book))


def _with_cast(mark: Mark, chance: Random) -> Mark:
    if mark.angle is None:
        return mark
    value = Degrees(-1000 * chance.randrange(20, 62))
    return replace(mark, angle=CastAngle("protractor", value, Degrees(700)))


def _faults(elements: list[Mark], chance: Random, book: RuleBook) -> Iterator[Mark]:
    several = [one for one in book.faults if not one.flat]
    for at in range(chance.randrange(4, 14)):
        fault, on = chance.choice(several), chance.choice(elements)
        seen = "slowed" if chance.random() < 0.15 else "full-speed"
        amount = chance.choice(fault.amounts)
        yield Mark(f"f{at}", "fault", fault.code, at=on.start, element=on.id, amount=amount, seen=seen)


def start(number: int, marks: tuple[Mark, ...], chance: Random, book: RuleBook) -> Start:
    """What a panel that errs posts of a routine."""
    sheet = scoring.score(marks, book, ("K",))
    begins = sheet.start_value.thousandths - (500 if chance.random() < 0.1 else 0)
    judges = tuple((letter, _score(sheet.panel_average, lean, chance)) for letter, lean in LEANS.items())
    mean = average([score for _, score in judges], book)
    neutral = Points(-sum(one.points.thousandths for one in sheet.lines if one.stage == "neutral"))
    posted = PostedSheet(Points(begins), judges, neutral, mean, mean - neutral)
    groups = {"division": chance.choice(DIVISIONS), "session": str(1 + number // 40)}
    return Start(str(number), number + 1, f"G-{number}", groups, posted, requested=Points(10_000))


def _score(audited: Points, lean: int, chance: Random) -> Points:
    found = audited.thousandths + lean + round(chance.gauss(0, 120))
    return Points(max(0, min(10_000, round(found / 50) * 50)))


def draw_case(path: Path, book: RuleBook, marks: tuple[Mark, ...], begun: datetime) -> None:
    """A case with these marks."""
    with casefile.create_case(path, "K", "G-1", "given", lambda: begun) as case, case.together():
        case.keep_book(book.text)
        case.append("rule-book-chosen", chosen_book(book))
        for mark in marks:
            case.append("mark-placed", {"mark": mark.to_json()})
