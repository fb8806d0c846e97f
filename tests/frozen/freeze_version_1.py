"""How the frozen files of version 1 were made, once. They are not made again: later versions must open them.

python tests/frozen/freeze_version_1.py
"""

import json
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from hashlib import sha256
from itertools import count
from pathlib import Path
from typing import Any

from reviewer.casefile import Case, create_case
from reviewer.measuring import measure, reading_to_record
from reviewer.rules import clause_data, find, load
from reviewer.terms.marks import CastAngle
from reviewer.terms.readings import Clicks

HERE = Path(__file__).parent
RECORDING = "5f" * 32
CLICKS = {
    "format": "reviewer.clicks/1",
    "picture": [1280, 720],
    "frame": 77,
    "line": "shoulder-ankle",
    "side": "near",
    "body": {"shoulder": [["680.500", "247.200"]], "ankle": [["612.100", "371.000"]]},
    "points": {"low-rail-near": ["643.700", "339.100"], "low-foot-near": ["646.200", "687.500"]},
    "click_sd_px": "1.500",
}

MARKS: list[dict[str, Any]] = [
    {"id": "m1", "kind": "element", "code": "pullover", "roles": ["mount"], "order": 1},
    {"id": "m2", "kind": "element", "code": "cast", "order": 2,
     "angle": {"deg": "-52", "u_deg": None, "by": "eye"}},
    {"id": "m3", "kind": "element", "code": "sole-circle-dismount", "roles": ["dismount"],
     "with": ["spotted"], "order": 3},
    {"id": "m4", "kind": "fault", "code": "arms-bent", "element": "m2", "amount": "0.100",
     "seen": "full-speed", "judge": "A"},
    {"id": "m5", "kind": "fact", "code": "springboard-left"},
    {"id": "m6", "kind": "element", "code": "cast", "order": 4, "start": 900, "end": 1400, "at": 1200,
     "angle": {"by": "eye", "verdict": "within tolerance"}, "later": "an unknown key"},
    {"id": "m7", "kind": "fault", "code": "legs-bent", "element": "m6", "amount": "0.2", "at": 1300,
     "seen": "slowed", "judge": "B", "arguable": False},
]  # fmt: skip
"""The pinned example of a marks document, and two marks with everything said."""
DOCUMENT = {
    "format": "reviewer.marks/1",
    "rule_book": "demo-bars-2",
    "recording_sha256": None,
    "time_base": "1/1000",
    "marks": MARKS,
    "later": {"an unknown key": [1.5]},
}


def main() -> None:
    """Write the case and the marks beside this script; a file that is there is refused."""
    start, seconds = datetime(2026, 3, 14, 9, 0, tzinfo=UTC), count()
    with create_case(
        HERE / "case.v1.case", "judge-1", "G-07", "given", lambda: start + timedelta(seconds=next(seconds))
    ) as case:
        fill(case)
    with (HERE / "marks.v1.json").open("x", encoding="utf-8") as file:
        file.write(json.dumps(DOCUMENT, indent=1, ensure_ascii=False) + "\n")


def fill(case: Case) -> None:
    """One event of every kind, by two judges."""
    book = load(find("demo-bars-2"))
    clauses = {name: sha256(text.encode()).hexdigest() for name, text in clause_data(book).items()}
    chosen = {"id": book.id, "sha256": case.keep_book(book.text), "clauses": clauses}
    case.append("rule-book-chosen", chosen)
    ticks = {"first_pts": 1001, "last_pts": 303_302, "pts_runs": [[1001, 1001, 300], [303_302, 0, 1]]}
    case.append("recording-cited", {"sha256": RECORDING, "frames": 301, "time_base": "1/30000", **ticks})
    for mark in MARKS:
        case.append("mark-placed", {"mark": mark})
    measure_the_cast(case)
    case.append("mark-withdrawn", {"id": "m5"})
    case.append("posted-entered", {"score": "8.900"})
    note = case.keep_text("Second kip: ask the panel – größer als 45°?")
    case.append("note-written", {"sha256": note, "at": 1001})
    case.append("consent-changed", {"consent": "given"})
    case.author = "judge-2"
    place_undo_and_redo(case)
    case.append("report-written", {"files": {"report.html": "ab" * 32, "report.json": "cd" * 32}})
    case.remember_place(RECORDING, Path("/recordings/routine.mp4"))
    case.keep_name("G-07", "An invented athlete of the Harbour Club League")


def measure_the_cast(case: Case) -> None:
    """A reading, and the mark that rests on it."""
    reading = replace(measure(Clicks.from_json(CLICKS), 78_078), id="r1")
    case.append("reading-taken", {"reading": reading_to_record(reading)})
    angle = CastAngle("protractor", reading.value, reading.uncertainty, reading="r1")
    case.append("mark-changed", {"mark": MARKS[1] | {"at": 78_078, "angle": angle.to_json()}})


def place_undo_and_redo(case: Case) -> None:
    """One mark undone and redone, and one left undone."""
    feet = {"id": "m9", "kind": "fault", "code": "feet", "element": "m2", "amount": "0.050"}
    case.append("mark-placed", {"mark": feet})
    case.undo()
    case.redo()
    case.append("mark-placed", {"mark": feet | {"id": "m10", "code": "arch", "amount": "0.100"}})
    case.undo()


if __name__ == "__main__":
    main()
