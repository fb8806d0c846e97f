"""How the frozen case of several recordings was made, once; never again: later versions must open it.

python tests/frozen/freeze_several_recordings.py
"""

from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path
from typing import Any

from reviewer.casefile import Case, create_case

HERE = Path(__file__).parent
TABLE, STAND, RAFTERS, AGAIN = (digit * 64 for digit in "1234")
"""Cameras at the judges' table, in the stand and under the roof; and one on the second attempt."""


def main() -> None:
    """Write the case beside this script; a file that is there is refused."""
    start, seconds = datetime(2026, 3, 15, 9, 0, tzinfo=UTC), count()
    place = HERE / "several.v1.case"
    with create_case(
        place, "judge-1", "G-08", "given", lambda: start + timedelta(seconds=next(seconds))
    ) as case:
        fill(case)


def fill(case: Case) -> None:
    """Two cameras joined twice, a third through the second, and two attempts of which the first counts."""
    cite(case, TABLE, "1/25", 1, 500)
    cite(case, STAND, "1/30000", 1001, 600)
    cite(case, RAFTERS, "1/90000", 1500, 900, attempt=2)
    cite(case, AGAIN, "1/25", 1, 300, attempt=2)
    case.append("attempt-assigned", {"sha256": RAFTERS, "attempt": 1})
    join(case, TABLE, 100, STAND, 1001, 3_969_950, 15_037)
    join(case, STAND, 30030, TABLE, 50, -1_002_317, 15_037)
    join(case, RAFTERS, 4500, STAND, 60060, -1_960_350, 10_767)
    place(case, "mount", "pullover", start=40)
    place(case, "cast", "cast", start=27027, end=36036, recording=STAND)
    place(case, "circle", "back-hip-circle", start=13500, recording=RAFTERS)
    place(case, "again", "pullover", start=3, recording=AGAIN)
    place(case, "untimed", "cast", order=1)
    case.append("attempt-counted", {"attempt": 2})
    case.append("attempt-counted", {"attempt": 1})
    join(case, TABLE, 0, STAND, 0, 3_317, 15_037)
    case.undo()


def cite(case: Case, sha256: str, base: str, step: int, frames: int, **also: Any) -> None:
    ticks = {"first_pts": 0, "last_pts": step * (frames - 1), "pts_runs": [[0, step, frames]]}
    case.append("recording-cited", {"sha256": sha256, "frames": frames, "time_base": base, **ticks, **also})


def join(case: Case, a: str, a_pts: int, b: str, b_pts: int, offset_us: int, u_us: int) -> None:
    said = {"a": a, "a_pts": a_pts, "b": b, "b_pts": b_pts, "offset_us": offset_us, "u_us": u_us}
    case.append("recordings-joined", said)


def place(case: Case, name: str, code: str, **also: Any) -> None:
    case.append("mark-placed", {"mark": {"id": name, "kind": "element", "code": code, **also}})


if __name__ == "__main__":
    main()
