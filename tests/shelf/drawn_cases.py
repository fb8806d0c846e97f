"""Folders of invented cases: routines drawn by chance from a seed, begun on several days, by two editions."""

from datetime import UTC, datetime, timedelta
from pathlib import Path
from random import Random

from reviewer import casefile, rules
from reviewer.actions.opening import chosen_book
from reviewer.terms.exact import Degrees
from reviewer.terms.marks import EYE_VERDICTS, CastAngle, Mark
from reviewer.terms.rulebook import RuleBook

EDITIONS = ("demo-bars-2", "international-bars")
FIRST_DAY = datetime(2026, 3, 1, 9, 0, tzinfo=UTC)
TICK, FRAMES = 3000, 3600
"""Ticks of a frame, in a time base of 1/90000: thirty frames a second for two minutes."""


def draw_cases(folder: Path, number: int, seed: int = 7, faults: int = 12) -> Path:
    """So many cases in a folder and in one below it."""
    chance, books = Random(seed), [rules.load(rules.find(one)) for one in EDITIONS]
    (folder / "second session").mkdir(parents=True, exist_ok=True)
    for at in range(number):
        book = books[at % 5 == 4]
        place = folder / "second session" if at % 3 == 2 else folder
        begun = FIRST_DAY + timedelta(days=at % 9)
        draw_case(place / f"start {at:05}.case", book, routine(book, chance, faults), begun, f"{at:064x}")
    return folder


def draw_case(path: Path, book: RuleBook, marks: tuple[Mark, ...], begun: datetime, recording: str) -> Path:
    """A case with these marks, that cites a recording nobody has."""
    cited = {
        "sha256": recording,
        "frames": FRAMES,
        "time_base": "1/90000",
        "first_pts": 0,
        "last_pts": TICK * (FRAMES - 1),
        "pts_runs": [[0, TICK, FRAMES]],
    }
    with casefile.create_case(path, "A", "G-7", "given", lambda: begun) as case, case.together():
        case.keep_book(book.text)
        case.append("rule-book-chosen", chosen_book(book))
        case.append("recording-cited", cited)
        for mark in marks:
            case.append("mark-placed", {"mark": mark.to_json()})
    return path


def routine(book: RuleBook, chance: Random, faults: int) -> tuple[Mark, ...]:
    """Elements one after the other, some of them casts, and faults over them."""
    casts = [one for one in book.elements if one.decides]
    others = [one for one in book.elements if one.status == "listed"]
    elements = []
    for at in range(10):
        chosen = chance.choice(casts or others) if at % 3 == 1 else chance.choice(others)
        when = {"start": at * 60 * TICK, "end": at * 60 * TICK + 45 * TICK} if at != 5 else {"order": 6}
        said = ("spotted",) if chance.random() < 0.1 and book.id == EDITIONS[0] else ()
        angle = _angle(chance) if chosen in casts else None
        elements.append(
            Mark(f"m{at + 1}", "element", chosen.code, conditions=said, angle=angle, called=str(at), **when)
        )
    return (*elements, *_faults(book, elements, chance, faults))


def _angle(chance: Random) -> CastAngle:
    if chance.random() < 0.4:
        return CastAngle("eye", verdict=chance.choice(EYE_VERDICTS))
    uncertainty = Degrees(chance.randrange(100, 3000)) if chance.random() < 0.7 else None
    by = "protractor" if uncertainty else "eye"
    return CastAngle(by, Degrees(500 * chance.randrange(-160, 20)), uncertainty)


def _faults(book: RuleBook, elements: list[Mark], chance: Random, number: int) -> list[Mark]:
    found = []
    for at in range(number):
        fault, on = chance.choice(book.faults), chance.choice(elements)
        when = None if on.start is None else on.start + TICK * chance.randrange(40)
        seen = chance.choice((None, "full-speed", "slowed"))
        judge, settled = chance.choice(("A", "B")), chance.random() < 0.5
        amount = chance.choice(fault.amounts)
        found.append(
            Mark(f"m{at + 11}", "fault", fault.code, at=when, element=on.id, amount=amount,
                 arguable=not settled, seen=seen, judge=judge)
        )  # fmt: skip
    return found
