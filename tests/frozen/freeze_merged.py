"""How the frozen case that was merged was made, once; never again: later versions must open it.

python -m tests.frozen.freeze_merged
"""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from reviewer.casefile import Case, create_case, merge, open_case

HERE = Path(__file__).parent
RECORDING = {
    "sha256": "3" * 64, "frames": 300, "time_base": "1/30", "first_pts": 0, "last_pts": 299,
    "pts_runs": [[0, 1, 300]],
}  # fmt: skip
OTHER = RECORDING | {"sha256": "4" * 64}


def main() -> None:
    """Write the case beside this script; a file that is there is refused."""
    start, seconds = datetime(2026, 3, 18, 9, 0, tzinfo=UTC), count()

    def clock() -> datetime:
        return start + timedelta(seconds=next(seconds))

    with TemporaryDirectory() as made:
        a, b = Path(made) / "a.case", Path(made) / "b.case"
        judged(a, "A", clock, first=RECORDING, posted="8.900", at=120)
        judged(b, "B", clock, first=OTHER, posted="8.800", at=125)
        with open_case(a, None) as first, open_case(b, None) as second:
            merge(first, second, HERE / "merged.v1.case", "C", clock)
    with open_case(HERE / "merged.v1.case", "B", clock) as both:
        changed = fault("B.m2", "B.m1", "0.300", 125)["mark"] | {"recording": OTHER["sha256"]}
        both.append("mark-changed", {"mark": changed})
        both.append("mark-withdrawn", {"id": "m2"})


def judged(
    path: Path, author: str, clock: Callable[[], datetime], *, first: dict[str, Any], posted: str, at: int
) -> None:
    """A small case; the second judge cites another camera first, and marks what names no recording on it."""
    with create_case(path, author, "G-10", "given", clock) as case:
        case.append("consent-changed", {"consent": "given", "for": ["inquiry", "teaching"][: 2 - at % 2]})
        for recording in (first, RECORDING):
            cite(case, recording)
        case.append("mark-placed", {"mark": {"id": "m1", "kind": "element", "code": "cast", "start": 90}})
        case.append("mark-placed", fault("m2", "m1", "0.100", at))
        case.append("posted-entered", {"score": posted})


def cite(case: Case, recording: dict[str, Any]) -> None:
    """Cite a recording once."""
    if all(one.sha256 != recording["sha256"] for one in case.state.recordings):
        case.append("recording-cited", recording)


def fault(name: str, element: str, amount: str, at: int) -> dict[str, Any]:
    """What a judge deducts."""
    mark = {"id": name, "kind": "fault", "code": "arms-bent", "element": element, "amount": amount, "at": at}
    return {"mark": mark}


if __name__ == "__main__":
    main()
