"""How the frozen files of version 2 were made, once; never again: later versions must open them.

python -m tests.frozen.freeze_rule_book_2
"""

import re
from datetime import UTC, datetime, timedelta
from hashlib import sha256
from itertools import count
from pathlib import Path
from typing import Any

from reviewer import rules
from reviewer.casefile import Case, create_case
from reviewer.rules import clause_data, find, parse

HERE = Path(__file__).parent

MARKS: list[dict[str, Any]] = [
    {"id": "m1", "kind": "element", "code": "pullover", "roles": ["mount"], "order": 1},
    {"id": "m2", "kind": "element", "code": "cast", "order": 2,
     "angle": {"deg": "-52.000", "u_deg": None, "by": "eye"}},
    {"id": "m3", "kind": "element", "code": "drop-kip", "order": 3, "called": "2.105", "credit": "withheld"},
    {"id": "m4", "kind": "element", "code": "sole-circle-dismount", "roles": ["dismount"],
     "with": ["spotted"], "order": 4},
    {"id": "m5", "kind": "fault", "code": "arms-bent", "element": "m2", "amount": "0.100", "judge": "A"},
    {"id": "m6", "kind": "fault", "code": "fall", "element": "m3", "amount": "0.500", "judge": "A",
     "seen": "slowed", "clock": "46.2 s"},
    {"id": "m7", "kind": "fact", "code": "extra-matting", "length": "10 in"},
    {"id": "m8", "kind": "fact", "code": "springboard-left"},
]  # fmt: skip
"""A routine with everything said that version 1 could not say."""


def main() -> None:
    """Write the books and the case beside this script; a file that is there is refused."""
    freeze("demo-bars-2.v2.yaml", find("demo-bars-2").read_text(encoding="utf-8"))
    own_book = Path(rules.__file__).with_name("own-book.yaml").read_text(encoding="utf-8")
    freeze("own-book.v2.yaml", re.sub(r"(?m)^#: ", "", own_book))  # every example in it switched on
    start, seconds = datetime(2026, 11, 25, 9, 0, tzinfo=UTC), count()
    with create_case(
        HERE / "rules.v2.case", "judge-1", "G-07", "given", lambda: start + timedelta(seconds=next(seconds))
    ) as case:
        fill(case)


def freeze(name: str, text: str) -> None:
    with (HERE / name).open("x", encoding="utf-8") as file:
        file.write(text)


def fill(case: Case) -> None:
    """Readings chosen, one of them undone; a panel before and after a conference; an edition tried out."""
    choose_book(case, "demo-bars-2.v2.yaml")
    for mark in MARKS:
        case.append("mark-placed", {"mark": mark})
    case.append("interpretation-chosen", {"clause": "few-value-parts", "reading": "other"})
    case.append("interpretation-chosen", {"clause": "restricted-element", "reading": "other"})
    case.undo()
    case.append("panel-entered", {"when": "before", "scores": {"A": "8.400", "B": "7.900"}})
    case.append("panel-entered", {"when": "after", "scores": {"A": "8.300", "B": "8.000"}})
    case.append("posted-entered", {"score": "7.550"})
    choose_book(case, "own-book.v2.yaml")
    case.undo()
    case.author = "judge-2"
    case.append("interpretation-chosen", {"clause": "credit.lower-division", "reading": "stated"})
    case.append("report-written", {"files": {"report.html": "ab" * 32, "report.json": "cd" * 32}})


def choose_book(case: Case, name: str) -> None:
    book = parse((HERE / name).read_text(encoding="utf-8"), name)
    clauses = {one: sha256(text.encode()).hexdigest() for one, text in clause_data(book).items()}
    case.append("rule-book-chosen", {"id": book.id, "sha256": case.keep_book(book.text), "clauses": clauses})


if __name__ == "__main__":
    main()
