"""How the frozen case of consent, a posted sheet and one audited part was made, once; never again.

python -m tests.frozen.freeze_posted_sheet
"""

from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path

from reviewer.casefile import create_case

HERE = Path(__file__).parent
SHEET = {
    "start_value": "9.200",
    "judges": [{"judge": "A", "score": "9.000"}, {"judge": "B", "score": "8.800"}],
    "neutral": "0.300",
    "average": "8.900",
    "final": "8.600",
    "deductions": [
        {"judge": "A", "element": "2", "code": "arms-bent", "amount": "0.200"},
        {"judge": "B", "code": "legs-bent", "amount": "0.100"},
    ],
}


def main() -> None:
    """Write the case beside this script; a file that is there is refused."""
    start, seconds = datetime(2026, 3, 17, 9, 0, tzinfo=UTC), count()
    with create_case(
        HERE / "posted.v1.case", "A", "G-10", "given", lambda: start + timedelta(seconds=next(seconds))
    ) as case:
        case.append("posted-entered", {"score": "8.500"})
        case.append("posted-sheet-entered", {"sheet": SHEET})
        case.append("posted-sheet-entered", {"sheet": {"final": "8.900"}})
        case.undo()
        case.append("audit-limited", {"parts": ["start-value"]})
        said = {"consent": "given", "for": ["inquiry", "teaching"], "until": "2027-06-30"}
        case.append("consent-changed", said)


if __name__ == "__main__":
    main()
