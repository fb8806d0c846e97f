"""How the frozen case of covered heads was made, once; never again.

python -m tests.frozen.freeze_covers
"""

from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path

from reviewer.casefile import create_case

HERE = Path(__file__).parent
RECORDING = "5" * 64


def main() -> None:
    """Write the case beside this script; a file that is there is refused."""
    start, seconds = datetime(2026, 11, 26, 9, 0, tzinfo=UTC), count()
    with create_case(
        HERE / "covers.v1.case", "A", "G-11", "given", lambda: start + timedelta(seconds=next(seconds))
    ) as case:
        runs = {"first_pts": 0, "last_pts": 9_000, "pts_runs": [[0, 1000, 10]]}
        case.append("recording-cited", {"sha256": RECORDING, "frames": 10, "time_base": "1/30000"} | runs)
        case.append("consent-changed", {"consent": "given", "for": ["teaching"], "by": "parent"})
        where = {"recording": RECORDING}
        cover = {"at": ["612.100", "371.000"], "across": "30.000", "down": "33.500"}
        case.append("cover-placed", where | {"head": "a", "frame": 2, "pts": 2000, "cover": cover})
        case.append("cover-placed", where | {"head": "b", "frame": 0, "pts": 0, "cover": cover})
        case.append("cover-placed", where | {"head": "a", "frame": 8, "pts": 8000, "cover": None})
        case.append("cover-removed", where | {"head": "b", "frame": 0, "pts": 0})
        covers = [[610 + frame, 371, 36, 41] for frame in range(8)] + [None, None]
        placed = "29823805403dfa37f715a9ae6d313734c1036ff043154ace584e68dc237193eb"
        trail = {"head": "a", "placed": placed, "covers": covers, "lost": [[4, 5]]}
        case.append("head-followed", where | trail)
        case.append("covers-reviewed", where | {"first": 0, "last": 7, "sha256": "c" * 64})


if __name__ == "__main__":
    main()
