"""How quickly a bag is derived again without its pictures, and a case of many events opens.

The bag holds a report of forty stills and its recording. Hashing its bytes stands beside, as it is to come on
top. The long case is a routine whose marks were placed, changed, measured, undone and redone over and over.
"""

import json
import random
from collections.abc import Callable, Iterator, Mapping
from datetime import UTC, datetime, timedelta
from itertools import product
from pathlib import Path
from statistics import median
from typing import Any

from reviewer import actions, casefile, exchange
from reviewer.casefile.chain import Event, hash_of, make_body, read_event
from reviewer.terms.exact import Points
from tests.benchmarks.clips import Setting
from tests.benchmarks.figures import Figure, timed

ROUNDS = 5
EVENTS, MARKS, STILLS = 20_000, 300, 40
CODES = ("arms-bent", "legs-bent", "legs-apart", "feet", "arch", "rhythm")
DAY = "2026-11-26"


def figures(setting: Setting, about: str) -> Iterator[Figure]:
    """``verify`` of a bag, or opening a case of many events."""
    yield from {"verify": _verify, "opening": _opening}[about](setting)


def _verify(setting: Setting) -> Iterator[Figure]:
    bag = _bag(setting.scratch)
    files = [path for path in bag.rglob("*") if path.is_file()]
    hashing = _rounds(lambda: [exchange.digest(path) for path in files])
    stills = len(json.loads((bag / "data/report/report.json").read_bytes())["stills"])
    plain = _rounds(lambda: actions.verify(bag))
    beside = {
        "hashing its bytes once, s": median(hashing),
        "megabytes": sum(path.stat().st_size for path in files) / 1e6,
        "packing, s": timed(lambda: _packed(bag, setting.scratch / "again")),
        "with its pictures, s": timed(lambda: actions.verify(bag, pictures=True)),
    }
    what = f"verify of a bag with {stills} stills, without pictures"
    yield Figure(what, median(plain), "s", ROUNDS, min(plain), max(plain), None, 2, beside)


def _opening(setting: Setting) -> Iterator[Figure]:
    path = setting.scratch / "long.case"
    casefile.write_copy(path, tuple(_history(EVENTS // 20 if setting.quick else EVENTS)), {})
    taken = _rounds(lambda: casefile.open_case(path, None).close())
    events = casefile.read_events(path)
    beside = {
        "reading and checking each event, s": median(_rounds(lambda: casefile.read_events(path))),
        "checking the chain, s": median(_rounds(lambda: casefile.check_chain(events))),
        "what it comes to, s": median(_rounds(lambda: casefile.fold(events))),
        "megabytes": path.stat().st_size / 1e6,
    }
    what = f"opening a case of {len(events)} events"
    yield Figure(what, median(taken), "s", ROUNDS, min(taken), max(taken), None, 0.5, beside)


def _rounds(work: Callable[[], object]) -> list[float]:
    return [timed(work) for _ in range(ROUNDS)]


def _bag(folder: Path) -> Path:
    """A bag of the demo's case, with as many faults more as make the stills."""
    actions.run_demo(folder / "demo")
    with actions.open_case(folder / "demo" / "square-on.case", author="A") as audit:
        marked = {(mark.element, mark.code) for mark in audit.marks}
        elements = [mark.id for mark in audit.marks if mark.kind == "element"]
        faults = [one for one in product(elements, CODES) if one not in marked][: STILLS - 5]
        for frame, (element, code) in enumerate(faults, start=300):
            actions.place_mark(
                audit,
                kind="fault",
                code=code,
                element=element,
                at=audit.cited_pts[frame],
                amount=Points(50),
                judge="A",
            )
    _packed(folder / "demo", folder / "bag")
    return folder / "bag"


def _packed(source: Path, target: Path) -> None:
    case = next(source.rglob("*.case"))
    recording = next(source.rglob("*.mp4"))
    with actions.open_case(case, author=None, recording=recording) as audit:
        wanted = tuple(audit.recording_paths)
        actions.pack_case(audit, target, use="inquiry", today=DAY, recordings=wanted)


def _history(length: int) -> Iterator[Event]:
    """A long working history of one routine: always the same."""
    chance, parents, clock = random.Random(7), list[str](), datetime(2026, 3, 14, 9, tzinfo=UTC)
    placed: list[str] = []
    for number in range(1, length + 1):
        kind, payload = _gesture(chance, number, placed, parents)
        body = make_body(kind, "A", clock + timedelta(seconds=number), parents, payload)
        event = read_event(number, hash_of(body), body)
        parents = [event.hash]
        yield event


def _gesture(
    chance: random.Random, number: int, placed: list[str], before: list[str]
) -> tuple[str, Mapping[str, Any]]:
    if number == 1:
        return "case-opened", {"athlete_code": "G-07", "consent": "given"}
    name = f"m{number}"
    if len(placed) < MARKS:
        placed.append(name)
        return "mark-placed", {"mark": _mark(chance, name)}
    what = chance.random()
    if what < 0.05:
        return "undone", {"event": before[0]}
    if what < 0.08:
        return "mark-withdrawn", {"id": placed.pop(chance.randrange(len(placed)))}
    return "mark-changed", {"mark": _mark(chance, chance.choice(placed))}


def _mark(chance: random.Random, name: str) -> dict[str, Any]:
    amount = str(Points(50 * chance.randrange(1, 7)))
    said = {"id": name, "kind": "fault", "code": "arms-bent", "element": "m2", "judge": "A", "amount": amount}
    return said | {"at": chance.randrange(1_000_000), "seen": chance.choice(["full-speed", "slowed"])}
