"""How the frozen case of a settlement with a line opened again was made, once; never again.

python -m tests.frozen.freeze_settled
"""

from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path
from typing import Any

from reviewer.casefile import create_case

HERE = Path(__file__).parent
CAST = {"id": "m1", "kind": "element", "code": "cast", "order": 1}
FALL = {"id": "m2", "kind": "fault", "code": "fall", "element": "m1", "amount": "0.500"}


def sheet(judge: str, *marks: dict[str, Any]) -> dict[str, Any]:
    """A sealed sheet as a settlement keeps it."""
    return {"judge": judge, "case": judge.lower() * 64, "head": "0" * 64, "marks": list(marks)}


def main() -> None:
    """Write the case beside this script; a file that is there is refused."""
    start, seconds = datetime(2026, 3, 18, 9, 0, tzinfo=UTC), count()
    with create_case(
        HERE / "settled.v1.case", "C", "G-11", "given", lambda: start + timedelta(seconds=next(seconds))
    ) as case:
        case.append(
            "settlement-begun", {"sheets": [sheet("A", CAST, FALL), sheet("B", CAST)], "agreed": [CAST]}
        )
        case.append("line-settled", {"line": "L2", "taken": "first", "marks": [FALL]})
        why = case.keep_text("She stood.")
        case.append("line-reopened", {"line": "L2", "because": why, "marks": ["m2"]})
        case.append("line-settled", {"line": "L2", "taken": "neither", "marks": []})
        why = case.keep_text("It was no cast.")
        case.append("line-reopened", {"line": "L1", "because": why, "marks": ["m1"]})


if __name__ == "__main__":
    main()
